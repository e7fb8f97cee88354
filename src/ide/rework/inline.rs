//! A parameter that nobody hands in, and a base that only one declaration is like, put back in their places.

use super::super::mend::draft::Draft;
use super::super::spot::Spot;
use super::{Rework, ReworkKind, items};
use crate::ide::names::parameters;
use crate::session::Glance;
use crate::source::Span;
use crate::syntax::{Entry, Item, ItemKind, Statement};

/// The value of the parameter under the cursor in every place that names it.
pub fn parameter(glance: &Glance, spot: &Spot<'_>) -> Option<Rework> {
    let (declared, _) = *spot.round.first()?;
    let under = |word: &Span, entry: &Entry| word.to(entry.value.span).touches(spot.offset);
    let (name, entry) = parameters(declared).find(|(word, entry)| entry.name.is_some() && under(&word.span, entry))?;
    let name = &name.text;
    if spot.round.len() != 1 || !["assembly", "detail", "product"].contains(&&*declared.keyword.text) {
        return None;
    }
    let head = declared.arguments.first()?;
    let ItemKind::Call(words, entries) = &head.kind else { return None };
    let own = words.last()?.text.clone();
    let handed = |item: &&Item| match &item.kind {
        ItemKind::Call(path, given) => {
            let here = path.last().is_some_and(|word| word.text == own);
            here && given.iter().any(|one| one.name.as_ref().is_some_and(|word| word.text == *name))
        }
        _ => false,
    };
    let everywhere = glance.project.modules.iter().flat_map(|module| &module.tree.statements);
    if everywhere.flat_map(items).any(|item| handed(&item)) {
        return None;
    }
    let value = glance.project.files.slice(entry.value.span);
    let mut draft = Draft::new(glance, spot.file)?;
    for item in items(declared).into_iter().filter(|item| item.word().is_some_and(|word| word.text == *name)) {
        draft = draft.cut(item.span, value);
    }
    let said = |one: &&Entry| one.value.span != entry.value.span;
    let left: Vec<&str> = entries
        .iter()
        .filter(said)
        .map(|one| {
            let start = one.name.as_ref().map_or(one.value.span, |word| word.span);
            glance.project.files.slice(start.to(one.value.span))
        })
        .collect();
    let after = if left.is_empty() { own.to_string() } else { format!("{own}({})", left.join(", ")) };
    draft = draft.cut(head.span, after);
    let title = format!("Put {value} in the place of the parameter `{name}`");
    Some(Rework { title, kind: ReworkKind::Inline, edits: draft.edits()? })
}

/// The clauses of a base in the place of `like`, where nothing else is like it or names it, and nothing here replaces any of
/// them.
pub fn base(glance: &Glance, spot: &Spot<'_>) -> Option<Rework> {
    let [(declared, _), (like, _)] = spot.round.as_slice() else { return None };
    if &*like.keyword.text != "like" || like.arguments.first()?.word().is_none() || !like.clauses.is_empty() {
        return None;
    }
    let named = glance.evaluated.references.iter().find(|one| {
        one.span.file == like.span.file && like.span.start <= one.span.start && one.span.end <= like.span.end
    })?;
    let base = glance.project.statement(named.declaration)?;
    let uses = glance.evaluated.references.iter().filter(|one| one.declaration == named.declaration);
    let places: std::collections::BTreeSet<Span> = uses.map(|one| one.span).collect();
    let plain = |one: &Statement| parameters(one).next().is_none();
    if base.span.file != spot.file || places.len() != 1 || !plain(base) || base.broken {
        return None;
    }
    let said = |one: &Statement| {
        (one.keyword.text.clone(), one.arguments.first().and_then(Item::word).map(|word| word.text.clone()))
    };
    let alone = |own: &Statement| {
        let changes = ["without", "after"].contains(&&*own.keyword.text);
        !changes
            && base
                .clauses
                .iter()
                .all(|other| said(other) != said(own) && (other.keyword.text != own.keyword.text || is_thing(own)))
    };
    if !declared.clauses.iter().filter(|one| one.span != like.span).all(alone) {
        return None;
    }
    let slice = |span| glance.project.files.slice(span);
    let text: Vec<&str> = base.clauses.iter().map(|one| slice(one.span)).collect();
    // The declaration goes with its `///` lines, and with the empty lines behind it.
    let all = glance.project.files.text(spot.file);
    let (before, after) = (all.get(..base.span.start as usize)?, all.get(base.span.end as usize..)?);
    let docs =
        before.lines().rev().take_while(|line| line.starts_with("///")).map(|line| line.len() + 1).sum::<usize>();
    let blank = after.len() - after.trim_start().len();
    let whole = Span::new(spot.file, before.len() - docs, base.span.end as usize + blank);
    let mut edits = Draft::new(glance, spot.file)?.cut(like.span, text.join("\n")).edits()?;
    edits.push((whole, String::new()));
    edits.sort_by_key(|(span, _)| *span);
    let name = like.arguments.first()?.word()?.text.clone();
    let title = format!("Put `{name}`, which nothing else is like, in its place");
    Some(Rework { title, kind: ReworkKind::Inline, edits })
}

/// Whether a clause is a thing with a name of its own, of which there may be several.
fn is_thing(clause: &Statement) -> bool {
    ["layer", "existing", "gap", "frame", "part"].contains(&&*clause.keyword.text)
}
