//! What a builder reads when pointing at a word: values in both units, what a wall comes to, what a rule demands and whose
//! number it is.

mod gap;
mod rules;
mod things;
mod wall;

pub(super) use things::slope;
pub(super) use wall::sums;

use super::shown;
use super::spot::Spot;
use crate::checks::Settled;
use crate::eval::{Bound, Instance};
use crate::resolve::{Binding, DeclarationId};
use crate::schema::{Row, usage};
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{ItemKind, Statement};
use crate::units::{Number, System, display};

/// What is shown beside a word.
#[derive(Clone, Debug, PartialEq)]
pub struct Hover {
    /// The word it is about.
    pub span: Span,
    /// Short markdown.
    pub text: String,
}

/// What there is to say about a byte offset of a file; `None` for a blank.
pub fn hover(glance: &Glance, file: FileId, offset: u32) -> Option<Hover> {
    let desk = Desk { glance, spot: Spot::at(glance, file, offset), units: glance.model.project.units };
    let (span, lines) = desk.lines()?;
    let text = lines.into_iter().filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n\n");
    (!text.is_empty()).then_some(Hover { span, text })
}

struct Desk<'g> {
    glance: &'g Glance,
    spot: Spot<'g>,
    units: System,
}

impl<'g> Desk<'g> {
    fn lines(&self) -> Option<(Span, Vec<String>)> {
        let statement = self.spot.statement()?;
        if statement.keyword.span.touches(self.spot.offset) {
            return Some((statement.keyword.span, self.keyword(statement)));
        }
        let item = self.spot.item?;
        if let Some(number) = shown::number_of(item) {
            return Some((item.span, self.number(number)));
        }
        if let Some(lines) = rules::at(self, statement) {
            return Some((item.span, lines));
        }
        if let Some(named) = self.spot.names {
            return Some((named.span, self.declaration(named.declaration)));
        }
        if let Some(lines) = self.pointed_at(statement) {
            return Some((item.span, lines));
        }
        if let Some(lines) = self.parameter() {
            return Some((item.span, lines));
        }
        let first = statement.arguments.first().is_some_and(|first| first.span.touches(self.spot.offset));
        if first {
            let span = statement.arguments.first().map_or(item.span, |first| first.span);
            if let (true, Some(id)) = (self.spot.round.len() == 1, self.spot.declaration(self.glance)) {
                return Some((span, self.declaration(id)));
            }
            let found = self.things(statement);
            if !found.is_empty() {
                return Some((span, found));
            }
        }
        let row = self.spot.row()?;
        Some((item.span, vec![form(row)]))
    }

    /// A statement by its keyword: its form, and what it comes to.
    fn keyword(&self, statement: &'g Statement) -> Vec<String> {
        let Some(row) = self.spot.row() else { return Vec::new() };
        let mut lines = vec![form(row)];
        match (self.spot.round.len(), self.spot.declaration(self.glance)) {
            (1, Some(id)) => lines.extend(self.computed(id)),
            _ => lines.extend(self.things(statement)),
        }
        lines
    }

    /// A number: the other unit, and for a slope the other ways to say it.
    fn number(&self, number: Number) -> Vec<String> {
        let row = self.spot.row();
        let free_area = row.is_some_and(|row| row.word == "floor");
        let leakage = row.is_some_and(|row| row.word == "air_leakage");
        let mut text = match number {
            Number::Length(length) if free_area => display::area_per_metre(length),
            Number::Quantity(value) if leakage => display::leakage(value.value),
            _ => shown::both(number, self.units),
        };
        if let Some(slope) = number.slope().filter(|_| row.is_some_and(|row| row.form.contains("slope"))) {
            let ways = [display::slope_percent(slope), display::slope_in_12(slope), display::slope_degrees(slope)];
            text = ways.join(" · ");
        }
        if let Number::Length(length) = number {
            let exact = display::source(length, System::Imperial);
            if exact.ends_with("in") && !text.contains(exact.trim_end_matches("in")) {
                text = format!("{text} · exactly {exact}");
            }
        }
        let clause = row.map(|row| format!("`{}`: {}", row.word, row.help));
        std::iter::once(text).chain(clause).collect()
    }

    /// What a name of a `use` brings in, and faces that others name.
    fn pointed_at(&self, statement: &Statement) -> Option<Vec<String>> {
        let word = self.spot.word?;
        match &*statement.keyword.text {
            "use" => {
                let module = self.glance.project.modules.iter().find(|module| module.file == self.spot.file)?;
                match module.names.get(&word.text)?.0 {
                    Binding::Declaration(id) => Some(self.declaration(id)),
                    Binding::Module(_) => None,
                }
            }
            "meets" | "faces" | "section" | "out_of_reach" => {
                let lines = things::face(self, &word.text);
                (!lines.is_empty()).then(|| [vec![format!("**{}** (face)", word.text)], lines].concat())
            }
            _ => None,
        }
    }

    /// A parameter of the declaration round the place.
    fn parameter(&self) -> Option<Vec<String>> {
        let word = self.spot.item?.word()?;
        let (outermost, _) = self.spot.round.first()?;
        let entries = crate::eval::parameters(Some(outermost));
        let entry = entries.iter().find(|entry| {
            entry.name.as_ref().or_else(|| entry.value.word()).is_some_and(|own| own.text == word.text)
        })?;
        let default = entry.name.as_ref().map(|_| self.glance.project.files.slice(entry.value.span));
        let told = default.map_or("must be given".to_owned(), |default| format!("`{default}` unless given otherwise"));
        let number = shown::number_of(&entry.value).map(|number| shown::both(number, self.units));
        let own = format!("parameter `{}` of `{}`: {told}", word.text, self.name_of(outermost));
        Some(std::iter::once(own).chain(number).collect())
    }

    fn name_of(&self, statement: &Statement) -> String {
        let first = statement.arguments.first();
        match first.map(|item| &item.kind) {
            Some(ItemKind::Path(words) | ItemKind::Call(words, _)) => {
                words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".")
            }
            _ => String::new(),
        }
    }

    /// A declared thing: name, doc comment, values.
    fn declaration(&self, id: DeclarationId) -> Vec<String> {
        let Some(declaration) = self.glance.project.declaration(id) else { return Vec::new() };
        let module = self.glance.project.module(declaration.module);
        let from = module.filter(|module| module.is_std).map(|module| {
            let name = module.path.trim_start_matches("std/").trim_end_matches(".wythe");
            format!(", of the library's {name}")
        });
        let mut lines = vec![format!("**{}** ({}{})", declaration.name, declaration.kind, from.unwrap_or_default())];
        lines.extend(self.glance.project.statement(id).and_then(|one| one.doc.as_deref()).map(str::to_owned));
        lines.extend(self.computed(id));
        lines
    }

    /// What a declaration comes to.
    fn computed(&self, id: DeclarationId) -> Vec<String> {
        let Some(declaration) = self.glance.project.declaration(id) else { return Vec::new() };
        let Some(statement) = self.glance.project.statement(id) else { return Vec::new() };
        match declaration.kind {
            "assembly" => wall::assembly(self, statement.keyword.span),
            "detail" => things::detail(self, statement.keyword.span),
            "face" => things::face(self, &declaration.name),
            "limits" => self.bound(id).map(|bound| rules::set(self, bound)).unwrap_or_default(),
            "material" | "product" | "climate" | "site" | "project" | "crew" => {
                let values = match self.bound(id) {
                    Some(bound) => shown::values(bound, self.units, &self.glance.evaluated),
                    None => self.as_written(statement),
                };
                vec![list(&values)]
            }
            _ => Vec::new(),
        }
    }

    /// Clauses of something that nothing uses yet, as they are written.
    fn as_written(&self, statement: &Statement) -> Vec<String> {
        let heads = statement.clauses.iter().map(|clause| self.glance.project.files.slice(clause.head_span()));
        heads.map(|head| format!("`{head}`")).collect()
    }

    fn bound(&self, id: DeclarationId) -> Option<&'g Bound> {
        let found = self.glance.evaluated.instances.iter().find(|one: &&Instance| one.declaration == id);
        found.map(|one| &*one.bound)
    }

    /// What stands on a face or in a wall, by its statement.
    fn things(&self, statement: &'g Statement) -> Vec<String> {
        let outer = self.spot.round.first().map(|(outer, _)| *outer);
        match outer.map(|outer| &*outer.keyword.text) {
            Some("face") => things::on_face(self, statement),
            Some("assembly") => outer.map(|outer| wall::layer(self, outer, statement)).unwrap_or_default(),
            _ => Vec::new(),
        }
    }

    /// Findings whose place is a thing, or on it.
    fn findings(&self, subject: &str) -> Vec<String> {
        let on = |settled: &&Settled| {
            let rest = settled.finding.subject.strip_prefix(subject);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        let found: Vec<String> = self
            .glance
            .findings
            .iter()
            .filter(on)
            .map(|settled| {
                let accepted = if settled.accepted.is_some() { ", accepted" } else { "" };
                format!("{}{accepted}: {}", settled.finding.rule, settled.finding.message)
            })
            .collect();
        match found.len() {
            0 => vec!["no fault found here".to_owned()],
            _ => vec![list(&found)],
        }
    }
}

/// A row: how it is written, what it says, whose habit its default is.
fn form(row: &Row) -> String {
    let basis = if row.basis.is_empty() { String::new() } else { format!("\n\nif left out: {}", row.basis) };
    format!("`{}`\n\n{}{basis}", usage(row), row.help)
}

/// Lines as a list.
fn list(lines: &[String]) -> String {
    lines.iter().map(|line| format!("- {line}")).collect::<Vec<_>>().join("\n")
}

/// Whether something was made by a statement.
pub(super) fn made_by(origin: Span, statement: Span) -> bool {
    origin.file == statement.file && origin.start == statement.start
}

#[cfg(test)]
mod tests;
