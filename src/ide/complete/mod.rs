//! What may be written at a place: statements and clauses by the schema, names of the right kind, units of the right
//! dimension. Works from the text before the place, so that broken text is no hindrance.

mod names;
mod places;
mod slots;
mod statements;
mod units;
mod whole;

use super::form_at::{Wanted, wanted};
use super::pen::{Pen, first_word};
use crate::eval::parameters;
use crate::resolve::{Module, ModuleId};
use crate::schema::Row;
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, Statement};

/// What sort of thing is offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CompletionKind {
    /// A statement of the outer level.
    Statement,
    /// A clause.
    Clause,
    /// A word of the language.
    Word,
    /// A declared thing.
    Name,
    /// A place of the wall: a face, an area, an opening.
    Place,
    /// A parameter.
    Parameter,
    /// A unit.
    Unit,
    /// A file or a part of the library.
    Module,
    /// A rule or a limit.
    Rule,
    /// A value to fill in.
    Value,
    /// Several lines at once.
    Whole,
}

/// One thing that may be written.
#[derive(Clone, Debug, PartialEq)]
pub struct Completion {
    /// As shown in the list.
    pub label: String,
    /// What sort of thing.
    pub kind: CompletionKind,
    /// Beside the label: values, what it is of.
    pub detail: String,
    /// A sentence about it.
    pub doc: String,
    /// What is written; with places to fill in (`${1:name}`, `$0`) if `snippet`.
    pub insert: String,
    /// `insert` has places to fill in.
    pub snippet: bool,
    /// What it is written over.
    pub replace: Span,
    /// Further edits, such as a `use` line.
    pub also: Vec<(Span, String)>,
    /// Lower stands higher in the list.
    pub order: u8,
}

/// A place with all that the search for completions looks at.
pub(in crate::ide) struct Desk<'g> {
    /// The project.
    pub glance: &'g Glance,
    file: FileId,
    offset: usize,
    text: &'g str,
    /// Where somebody writes.
    pub pen: Pen<'g>,
    module: Option<(ModuleId, &'g Module)>,
    found: Vec<Completion>,
}

/// What may be written at a byte offset of a file, the likeliest first.
pub fn complete(glance: &Glance, file: FileId, offset: u32) -> Vec<Completion> {
    let Some(mut desk) = Desk::at(glance, file, offset) else { return Vec::new() };
    desk.all();
    let mut found = desk.found;
    found.sort_by(|one, other| (one.order, &one.label).cmp(&(other.order, &other.label)));
    found.dedup_by(|one, other| one.label == other.label && one.insert == other.insert);
    found
}

impl<'g> Desk<'g> {
    /// What lies round a byte offset; `None` inside a quoted text or a comment.
    pub fn at(glance: &'g Glance, file: FileId, offset: u32) -> Option<Self> {
        let text = glance.project.files.text(file);
        let offset = offset as usize;
        let pen = Pen::at(text, offset);
        let modules = glance.project.modules.iter().enumerate();
        let mut own = modules.filter(|(_, module)| module.file == file);
        let module = own.next().map(|(at, module)| (ModuleId(at as u32), module));
        (!pen.quiet).then_some(Self { glance, file, offset, text, pen, module, found: Vec::new() })
    }

    fn all(&mut self) {
        let word = self.word();
        let number = word.trim_start_matches('-').starts_with(|letter: char| letter.is_ascii_digit());
        let brackets = self.pen.brackets.clone();
        if let Some(bracket) = brackets.last().filter(|bracket| !bracket.name.is_empty()) {
            return self.in_call(bracket.name, bracket.within, number);
        }
        let Some(row) = self.pen.row() else {
            let begins = self.pen.clause().trim().is_empty();
            if brackets.is_empty() && !number && begins {
                self.statements();
            }
            return;
        };
        let wanted = self.wanted(row);
        let slots = self.next_slots(&wanted);
        if number {
            return self.units_of(&slots);
        }
        if !brackets.is_empty() {
            return self.in_brackets(row, &slots);
        }
        self.slots(row, &slots);
    }

    /// The word, path or number in hand.
    fn word(&self) -> &'g str {
        self.text.get(self.pen.word..self.offset).unwrap_or_default()
    }

    /// Span of the last word of the path in hand.
    fn last_word(&self) -> Span {
        let from = self.word().rfind('.').map_or(self.pen.word, |at| self.pen.word + at + 1);
        Span::new(self.file, from, self.offset)
    }

    /// Span of all that is in hand.
    fn whole_word(&self) -> Span {
        Span::new(self.file, self.pen.word, self.offset)
    }

    /// What the row of the clause in hand wants behind the arguments that stand there.
    pub fn wanted(&self, row: &'static Row) -> Wanted {
        let own = self.parameter_names();
        let statement = self.pen.statement();
        let mut items = statement.map(|statement| statement.arguments).unwrap_or_default();
        let mut again = false;
        let before = self.pen.clause().trim_end();
        // `4ft x` and `rain and` go on with the slot before them.
        for joint in [" x", " and", ".."] {
            if before.ends_with(joint) {
                again = true;
                items.retain(|item| item.word().is_none_or(|word| !matches!(&*word.text, "x")));
            }
        }
        if items.last().and_then(|item| item.word()).is_some_and(|word| &*word.text == "and") {
            items.pop();
            again = true;
        }
        let mut wanted = wanted(row.parsed(), &items, &|word| own.iter().any(|own| &**own == word));
        if again {
            wanted.next = wanted.last.into_iter().collect();
        }
        wanted
    }

    /// The declaration in whose text the place lies.
    fn declaration(&self) -> Option<&'g Statement> {
        let (_, module) = self.module?;
        let start = self.pen.open.first().map_or(self.pen.line, |opened| opened.start);
        let reaches = |one: &&Statement| (one.span.start as usize) <= self.offset && one.span.end as usize >= start;
        module.tree.statements.iter().rfind(reaches)
    }

    /// Parameters of the declaration round the place.
    fn parameters(&self) -> &'g [Entry] {
        parameters(self.declaration())
    }

    fn parameter_names(&self) -> Vec<Box<str>> {
        self.parameters()
            .iter()
            .filter_map(|entry| entry.name.as_ref().or_else(|| entry.value.word()))
            .map(|word| word.text.clone())
            .collect()
    }

    /// The statement whose clauses are being written, and the keywords that stand in it.
    fn given(&self) -> Vec<&'g str> {
        let in_head = self.pen.clauses.len() > 1 && self.pen.head_row().is_some_and(|row| !row.body.is_empty());
        let start = if in_head { Some(self.pen.line) } else { self.pen.open.last().map(|opened| opened.start) };
        let (Some(start), Some((_, module))) = (start, self.module) else { return Vec::new() };
        let start = start + self.text.get(start..).map_or(0, |rest| rest.len() - rest.trim_start().len());
        let Some(owner) = find_from(&module.tree.statements, start as u32) else { return Vec::new() };
        let elsewhere = owner.clauses.iter().filter(|clause| !clause.keyword.span.touches(self.offset as u32));
        elsewhere.map(|clause| &*clause.keyword.text).collect()
    }

    /// Name of the face round the place.
    fn face(&self) -> Option<&'g str> {
        let head = self.pen.open.iter().find(|opened| first_word(opened.head) == "face")?.head;
        head.split_whitespace().nth(1)
    }

    fn offer(&mut self, label: impl Into<String>, kind: CompletionKind, replace: Span) -> &mut Completion {
        let label = label.into();
        let insert = label.clone();
        let (detail, doc) = (String::new(), String::new());
        let also = Vec::new();
        self.found.push(Completion { label, kind, detail, doc, insert, snippet: false, replace, also, order: 5 });
        let last = self.found.len() - 1;
        &mut self.found[last]
    }
}

impl Completion {
    fn detail(&mut self, text: impl Into<String>) -> &mut Self {
        self.detail = text.into();
        self
    }
    fn doc(&mut self, text: impl Into<String>) -> &mut Self {
        self.doc = text.into();
        self
    }
    fn insert(&mut self, text: impl Into<String>) -> &mut Self {
        self.insert = text.into();
        self
    }
    fn snippet(&mut self, text: impl Into<String>) -> &mut Self {
        self.snippet = true;
        self.insert(text)
    }
    fn order(&mut self, order: u8) -> &mut Self {
        self.order = order;
        self
    }
}

/// The statement that begins at an offset.
fn find_from(statements: &[Statement], start: u32) -> Option<&Statement> {
    let one = statements
        .iter()
        .find(|one| one.keyword.span.start <= start && start < one.span.end.max(one.keyword.span.end))?;
    if one.keyword.span.start == start { Some(one) } else { find_from(&one.clauses, start) }
}

#[cfg(test)]
mod tests;
