//! Edits of statements: a clause set, added or taken out, and what was touched brought into the one form of the text.

use super::super::formatting::difference;
use super::super::rename::Edits;
use super::super::spot::Spot;
use crate::schema::{self, Row};
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Statement, format, pieces};

/// A statement with those round it, outermost first, each with its row of the schema.
pub(in crate::ide) type Round<'g> = Vec<(&'g Statement, Option<&'static Row>)>;

/// The statements round a place.
pub(in crate::ide) fn round(glance: &Glance, at: Span) -> Option<Round<'_>> {
    let round = Spot::at(glance, at.file, at.start).round;
    (!round.is_empty()).then_some(round)
}

/// Changes of one file that belong together.
pub(in crate::ide) struct Draft<'g> {
    glance: &'g Glance,
    file: FileId,
    cuts: Vec<(Span, String)>,
}

impl<'g> Draft<'g> {
    /// Nothing changed yet. `None` for a file of the library, which nobody can mend here.
    pub fn new(glance: &'g Glance, file: FileId) -> Option<Self> {
        (!glance.project.files.is_std(file)).then(|| Self { glance, file, cuts: Vec::new() })
    }

    /// Puts a text in the place of another.
    pub fn cut(mut self, span: Span, text: impl Into<String>) -> Self {
        self.cuts.push((span, text.into()));
        self
    }

    /// Sets a clause of the innermost statement: in the place of the one that says the same, or as a new one. Clauses and
    /// block of the old one stay.
    pub fn put(self, round: &Round<'g>, clause: &str) -> Self {
        let Some(&(statement, row)) = round.last() else { return self };
        match same(self.glance, statement, row, clause) {
            Some(old) if is_plain(clause) => self.cut(old.head_span(), clause),
            Some(old) => self.take_out(statement, old).add(round, clause),
            None => self.add(round, clause),
        }
    }

    /// Takes a clause out of a statement.
    pub fn take_out(self, statement: &Statement, clause: &Statement) -> Self {
        let text = self.glance.project.files.text(self.file);
        let span = clause.span;
        let span = if behind_comma(statement, clause) {
            Span { start: end_before(statement, clause), ..span }
        } else {
            let before = text.get(..span.start as usize).unwrap_or_default();
            let after = text.get(span.end as usize..).unwrap_or_default();
            let start = before.rfind('\n').map_or(0, |at| at + 1);
            let end = after.find('\n').map_or(text.len(), |at| span.end as usize + at + 1);
            Span::new(span.file, start, end)
        };
        self.cut(span, "")
    }

    /// Adds a clause to the innermost statement.
    pub fn add(self, round: &Round<'g>, clause: &str) -> Self {
        let Some((&(statement, _), outer)) = round.split_last() else { return self };
        if let Some(block) = statement.block {
            return self.into_block(block, clause);
        }
        let ending = if is_plain(clause) { format!(", {clause}") } else { format!(" {{\n{clause}\n}}") };
        let behind = outer.last().filter(|(parent, _)| behind_comma(parent, statement));
        let Some((parent, _)) = behind else {
            let at = Span { start: statement.span.end, ..statement.span };
            return self.cut(at, ending);
        };
        // Nothing can be added to a clause behind a comma: it moves to a line of its own.
        let whole = format!("{}{ending}", self.glance.project.files.slice(statement.span));
        let open = Span { start: end_before(parent, statement), ..statement.span };
        match parent.block {
            Some(block) => self.cut(open, "").into_block(block, &whole),
            None => {
                let at = Span { start: parent.span.end, ..parent.span };
                self.cut(open, "").cut(at, format!(" {{\n{whole}\n}}"))
            }
        }
    }

    fn into_block(self, block: Span, clause: &str) -> Self {
        let text = self.glance.project.files.text(self.file);
        let close = (block.end as usize).saturating_sub(1);
        let inside = text.get(block.start as usize..close).unwrap_or_default();
        let line = inside.rfind('\n').map(|at| block.start as usize + at + 1);
        let (at, clause) = line.map_or_else(|| (close, format!("\n{clause}\n")), |at| (at, format!("    {clause}\n")));
        self.cut(Span::new(block.file, at, at), clause)
    }

    /// The edits, one for each declaration they touch.
    pub fn edits(mut self) -> Option<Edits> {
        let text = self.glance.project.files.text(self.file);
        self.cuts.sort_by_key(|(span, _)| (span.start, span.end));
        let mut edits = Edits::new();
        for piece in pieces(text) {
            let within = |span: &Span| piece.start <= span.start as usize && (span.start as usize) < piece.end.max(1);
            let cuts = self.cuts.iter().filter(|(span, _)| within(span));
            let mut new = text.get(piece.clone())?.to_owned();
            let mut touched = false;
            for (span, put) in cuts.rev() {
                let (from, to) = (span.start as usize - piece.start, span.end as usize - piece.start);
                new.get(from..to)?;
                new.replace_range(from..to, put);
                touched = true;
            }
            if touched {
                let old = text.get(piece.clone())?.trim_end();
                edits.extend(difference(self.file, piece.start, old, &in_form(text, new.trim_end())));
            }
        }
        (!edits.is_empty()).then_some(edits)
    }
}

/// A declaration in its one form, with the line ends of its file.
fn in_form(file: &str, text: &str) -> String {
    let windows = file.find('\n').is_some_and(|at| file.get(..at).is_some_and(|line| line.ends_with('\r')));
    let new = format(text).unwrap_or_else(|| text.to_owned()).replace('\r', "");
    let new = new.trim_end();
    if windows { new.replace('\n', "\r\n") } else { new.to_owned() }
}

/// Whether a clause can stand behind a comma.
fn is_plain(clause: &str) -> bool {
    let mut quoted = false;
    let mut open = 0;
    !clause.chars().any(|letter| {
        quoted ^= letter == '"';
        open += i32::from(letter == '(') - i32::from(letter == ')');
        !quoted && (letter == '{' || letter == '\n' || letter == ',' && open == 0)
    })
}

/// Whether a clause stands behind a comma, not on a line of its own.
fn behind_comma(statement: &Statement, clause: &Statement) -> bool {
    statement.block.is_none_or(|block| clause.span.start < block.start)
}

/// Where what stands before a clause behind a comma ends.
fn end_before(statement: &Statement, clause: &Statement) -> u32 {
    let before = statement.clauses.iter().filter(|one| one.span.end <= clause.span.start);
    before.map(|one| one.span.end).max().unwrap_or(statement.head_span().end)
}

/// Words in which two clauses about the same thing may differ.
const SIDES: [&str; 4] = ["under", "over", "open", "closed"];

/// The clause that says what a new one says: the one with its keyword, or, of those that may repeat, the one that also
/// says it of the same thing.
pub(in crate::ide) fn same<'g>(
    glance: &Glance,
    statement: &'g Statement,
    row: Option<&'static Row>,
    clause: &str,
) -> Option<&'g Statement> {
    let mut words = clause.split([' ', ',']);
    let keyword = words.next()?;
    let found = schema::find(row?.body, keyword)?;
    let mut alike = statement.clauses.iter().filter(|one| schema::canonical(&one.keyword.text) == found.word);
    if !found.many {
        return alike.next();
    }
    let of = |text: &str| -> Vec<String> {
        let said = text.split([' ', ',']).filter(|word| !word.is_empty() && !SIDES.contains(word));
        let plain = |word: &&str| !(["by", "with"].contains(word) || word.starts_with(|l: char| l.is_ascii_digit()));
        said.take_while(plain).map(str::to_owned).collect()
    };
    alike.find(|one| of(glance.project.files.slice(one.head_span())) == of(clause))
}
