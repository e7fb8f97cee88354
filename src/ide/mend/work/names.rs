//! Fixes that name something: a detail, an authority, a rule.

use super::super::ask::{Ask, On, last};
use super::super::draft::Draft;
use super::super::{BLANK, Mend};
use crate::checks::Remedy;
use crate::resolve::{Binding, DeclarationId};
use crate::syntax::Item;

/// Names a detail that this file knows and that is for such a place, or leaves the name to be said.
pub fn detail(ask: &Ask<'_>) -> Vec<Mend> {
    let Some(round) = ask.round(On::At) else { return Vec::new() };
    let Some(statement) = last(&round) else { return Vec::new() };
    let project = &ask.glance.project;
    let kinds = match &*statement.keyword.text {
        "between" => vec!["transition"],
        "window" => vec!["window", "opening"],
        "door" => vec!["door", "opening"],
        "left" | "right" => vec!["left", "right", "corner", "outside_corner", "inside_corner"],
        word => vec![word],
    };
    let file = project.modules.iter().find(|one| one.file == statement.span.file);
    let known = |id: &DeclarationId| {
        let declared = project.declaration(*id).filter(|one| one.kind == "detail")?;
        ask.glance.model.details.iter().find(|one| one.name == *declared.name)
    };
    let names = file.into_iter().flat_map(|file| &file.names).filter_map(|(name, (binding, _))| match binding {
        Binding::Declaration(id) => known(id).map(|detail| (name, detail)),
        Binding::Module(_) => None,
    });
    let fitting = names.filter(|(_, detail)| kinds.iter().any(|kind| detail.places.contains(kind)));
    let mut made: Vec<Mend> = fitting
        .take(4)
        .filter_map(|(name, _)| ask.say(On::At, &format!("detail {name}"), &format!("Build it as `{name}`")))
        .collect();
    made.extend(ask.say(On::At, &format!("detail {BLANK}"), "Say how it is built: `detail …`"));
    made
}

/// Names whoever stands behind accepting a stop.
pub fn authority(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let round = ask.round(On::At)?;
        let accept = last(&round)?;
        let wanted = [
            ("authority", format!("authority of \"{BLANK}\"")),
            ("reference", format!("reference \"{BLANK}\"")),
            ("dated", format!("dated {BLANK}")),
        ];
        let missing = wanted.iter().filter(|(word, _)| accept.all(word).next().is_none());
        let text: Vec<&str> = missing.map(|(_, text)| text.as_str()).collect();
        if text.is_empty() {
            return None;
        }
        let draft = Draft::new(ask.glance, accept.span.file)?.add(&round, &text.join("\n"));
        ask.mend("Say on whose authority, by which letter, of which day", draft)
    };
    made().into_iter().collect()
}

/// Takes an acceptance out that accepts nothing.
pub fn take_out(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let round = ask.round(On::At)?;
        let accept = last(&round)?;
        let draft = Draft::new(ask.glance, accept.span.file)?;
        let draft = match round.as_slice() {
            [.., (outer, _), (accept, _)] => draft.take_out(outer, accept),
            _ => draft.cut(accept.span, ""),
        };
        ask.mend("Take the acceptance out", draft)
    };
    made().into_iter().collect()
}

/// Takes the name that was probably meant.
pub fn advised_name(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::Word(name)) = &ask.finding.remedy else { return None };
        let rule: &Item = last(&ask.round(On::At)?)?.arguments.first()?;
        ask.mend(format!("Write `{name}`"), Draft::new(ask.glance, rule.span.file)?.cut(rule.span, name.as_str()))
    };
    made().into_iter().collect()
}
