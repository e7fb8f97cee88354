//! Where a name is given, and where it is used.

use super::names::{Names, Symbol, statement_at};
use crate::checks;
use crate::resolve::DeclarationId;
use crate::session::Glance;
use crate::source::{FileId, Span};

/// A place to go to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The name, or the keyword where there is none.
    pub name: Span,
    /// All of the statement; its file says which file.
    pub whole: Span,
}

/// Where the name under the cursor is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Definition {
    /// The name that was asked about.
    pub from: Span,
    /// Where it is given; several for a limit, or for a rule that reads several.
    pub to: Vec<Place>,
}

/// A use of a name in the file that is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Highlight {
    /// The word.
    pub span: Span,
    /// It gives the name.
    pub declares: bool,
}

/// Where the name at a place is given.
pub fn definition(glance: &Glance, file: FileId, offset: u32) -> Option<Definition> {
    let names = Names::of(glance);
    let here = names.at(file, offset)?;
    let to = match &here.symbol {
        Symbol::Limit(name) => {
            let all = limits(glance, &names, name);
            let others: Vec<Place> = all.iter().filter(|place| place.name != here.span).copied().collect();
            if others.is_empty() { all } else { others }
        }
        Symbol::Rule(id) => {
            let read = checks::rule(id).map_or(&[][..], |rule| rule.meta().limits);
            read.iter().filter_map(|name| limits(glance, &names, name).first().copied()).collect()
        }
        other => place_of(glance, other).into_iter().collect(),
    };
    Some(Definition { from: here.span, to }).filter(|definition| !definition.to.is_empty())
}

/// All uses of the name at a place, in all files; with the places where it is given, if wanted.
pub fn references(glance: &Glance, file: FileId, offset: u32, with_declaration: bool) -> Vec<Span> {
    let names = Names::of(glance);
    let Some(here) = names.at(file, offset) else { return Vec::new() };
    let mut found = names.places_of(&here.symbol);
    found.retain(|one| with_declaration || !one.declares);
    let mut spans: Vec<Span> = found.iter().map(|one| one.span).collect();
    if let (true, Symbol::Clause(span)) = (with_declaration, &here.symbol) {
        spans.push(*span);
    }
    spans.sort_unstable();
    spans.dedup();
    spans
}

/// All places of this file at which the name under the cursor stands.
pub fn highlights(glance: &Glance, file: FileId, offset: u32) -> Vec<Highlight> {
    let names = Names::of(glance);
    let Some(here) = names.at(file, offset) else { return Vec::new() };
    let all = names.in_file(file).into_iter().filter(|one| one.symbol == here.symbol);
    let mut found: Vec<Highlight> = all.map(|one| Highlight { span: one.span, declares: one.declares }).collect();
    if let Symbol::Clause(span) = here.symbol
        && span.file == file
    {
        found.push(Highlight { span, declares: true });
    }
    found.sort_by_key(|one| one.span);
    found
}

/// The place of a declaration.
pub fn place_of_declaration(glance: &Glance, id: DeclarationId) -> Option<Place> {
    let name = glance.project.declaration(id)?.name_span;
    Some(Place { name, whole: glance.project.statement(id)?.span })
}

fn place_of(glance: &Glance, symbol: &Symbol) -> Option<Place> {
    match symbol {
        Symbol::Declaration(id) => place_of_declaration(glance, *id),
        Symbol::Module(id) => {
            let start = Span::new(glance.project.module(*id)?.file, 0, 0);
            Some(Place { name: start, whole: start })
        }
        Symbol::Parameter(id, name) => {
            let statement = glance.project.statement(*id)?;
            let (word, entry) = super::names::parameters(statement).find(|(word, _)| word.text == *name)?;
            Some(Place { name: word.span, whole: word.span.to(entry.value.span) })
        }
        Symbol::Member(span) | Symbol::Clause(span) => {
            let whole = statement_at(&glance.project, *span).map_or(*span, |statement| statement.span);
            Some(Place { name: *span, whole })
        }
        Symbol::Limit(_) | Symbol::Rule(_) => None,
    }
}

/// Where a limit or an option is given: the one in force first, the others in the order of the files.
fn limits(glance: &Glance, names: &Names<'_>, name: &str) -> Vec<Place> {
    let model = &glance.model;
    let in_force = model.limit(name).or_else(|| model.option(name)).map(|limit| limit.origin);
    let symbol = Symbol::Limit(name.to_owned());
    let place = |span: Span| {
        let whole = statement_at(&glance.project, span).map_or(span, |statement| statement.span);
        Place { name: span, whole }
    };
    let mut found: Vec<Place> = names.places_of(&symbol).iter().map(|one| place(one.span)).collect();
    let holds =
        |place: &Place| in_force.is_some_and(|span| span.file == place.whole.file && place.whole.touches(span.start));
    found.sort_by_key(|place| !holds(place));
    found
}
