//! A length that an assembly or a detail says more than once becomes one of its parameters.

use super::super::mend::draft::Draft;
use super::super::spot::Spot;
use super::{Rework, ReworkKind, at, items};
use crate::ide::names::parameters;
use crate::session::Glance;
use crate::syntax::{Item, ItemKind, Statement};

/// The length under the cursor as a parameter, wherever the declaration says it.
pub fn extract(glance: &Glance, spot: &Spot<'_>) -> Option<Rework> {
    let item = spot.item?;
    if !matches!(item.kind, ItemKind::Quantity(_) | ItemKind::FeetInches(..)) {
        return None;
    }
    let (declared, _) = *spot.round.first()?;
    if spot.round.len() < 2 || !["assembly", "detail"].contains(&&*declared.keyword.text) {
        return None;
    }
    let slice = |item: &Item| glance.project.files.slice(item.span);
    let said = slice(item);
    let same: Vec<&Item> = items(declared).into_iter().filter(|one| slice(one) == said).collect();
    if same.len() < 2 {
        return None;
    }
    let name = name(declared, &spot.statement()?.keyword.text);
    let head = declared.arguments.first()?;
    let mut draft = Draft::new(glance, spot.file)?;
    draft = match &head.kind {
        ItemKind::Call(_, entries) => {
            draft.cut(at(head.span, entries.last()?.value.span.end), format!(", {name} = {said}"))
        }
        ItemKind::Path(_) => draft.cut(at(head.span, head.span.end), format!("({name} = {said})")),
        _ => return None,
    };
    for one in &same {
        draft = draft.cut(one.span, name.as_str());
    }
    let title = format!("Make {said}, said {} times here, the parameter `{name}`", same.len());
    Some(Rework { title, kind: ReworkKind::Extract, edits: draft.edits()? })
}

/// A name for it that nothing here has yet.
fn name(declared: &Statement, keyword: &str) -> String {
    let base = match keyword {
        "gap" | "furring" => "depth",
        "every" | "corner_every" => "spacing",
        "layer" | "existing" => "thickness",
        _ if crate::syntax::SMALL_WORDS.contains(&keyword) => "measure",
        _ => keyword,
    };
    let taken = |name: &str| {
        let word = |item: &Item| item.word().is_some_and(|word| &*word.text == name);
        parameters(declared).any(|(word, _)| &*word.text == name) || items(declared).into_iter().any(word)
    };
    let numbered = (2..100).map(|number| format!("{base}_{number}"));
    [base.to_owned()].into_iter().chain(numbered).find(|name| !taken(name)).unwrap_or_else(|| base.to_owned())
}
