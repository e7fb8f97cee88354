//! Edits that leave the wall as it is and say it otherwise: another unit, a parameter for what is said twice, a parameter or
//! a base put back in its place, a stretch split in two.

mod inline;
mod parameter;
mod stretch;
mod unit;

use super::rename::Edits;
use super::spot::Spot;
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, Item, ItemKind, Statement};

/// What sort of change it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReworkKind {
    /// Said otherwise in its place.
    Rewrite,
    /// Pulled out under a name.
    Extract,
    /// Put back in its place.
    Inline,
}

/// A change that leaves the wall as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Rework {
    /// In the words of the trade.
    pub title: String,
    /// What sort of change.
    pub kind: ReworkKind,
    /// The edits.
    pub edits: Edits,
}

/// Everything that can be said otherwise at a place of a file.
pub fn reworks(glance: &Glance, file: FileId, offset: u32) -> Vec<Rework> {
    if glance.project.files.is_std(file) {
        return Vec::new();
    }
    let spot = Spot::at(glance, file, offset);
    let found = unit::convert(glance, &spot).into_iter();
    let found = found.chain(parameter::extract(glance, &spot)).chain(inline::parameter(glance, &spot));
    found.chain(inline::base(glance, &spot)).chain(stretch::split(glance, &spot)).collect()
}

/// Every argument below a statement, with what it is made of, but not the parameters of a declaration.
fn items(statement: &Statement) -> Vec<&Item> {
    fn within<'t>(item: &'t Item, found: &mut Vec<&'t Item>) {
        found.push(item);
        let entries = |entries: &'t [Entry], found: &mut Vec<&'t Item>| {
            entries.iter().for_each(|entry| within(&entry.value, found));
        };
        match &item.kind {
            ItemKind::Tuple(all) | ItemKind::Call(_, all) => entries(all, found),
            ItemKind::Size(all) => all.iter().for_each(|item| within(item, found)),
            ItemKind::Range(low, high) => [low, high].into_iter().for_each(|item| within(item, found)),
            ItemKind::Sum(first, rest) => {
                within(first, found);
                rest.iter().for_each(|(_, item)| within(item, found));
            }
            ItemKind::Path(_)
            | ItemKind::Text(_)
            | ItemKind::Date(..)
            | ItemKind::Quantity(_)
            | ItemKind::FeetInches(..)
            | ItemKind::Pitch(..) => {}
        }
    }
    let mut found = Vec::new();
    for clause in &statement.clauses {
        clause.arguments.iter().for_each(|item| within(item, &mut found));
        found.extend(items(clause));
    }
    found
}

/// An empty place.
fn at(span: Span, offset: u32) -> Span {
    Span { start: offset, end: offset, ..span }
}
