//! One sheet for the lead: the sections in their order, with moves, hours, weights and stop lines.

use super::{hours, masses, words};
use crate::emit::table::{Cell, Kind, Table, column};
use crate::kits::{Kit, Kits, Route, Verdict, kit_hours, moving};
use crate::model::Model;
use crate::session::Checked;

/// The sections, one a row.
pub(super) fn table(checked: &Checked, kits: &Kits) -> Table {
    let model = &checked.model;
    let columns = vec![
        column("done", "done", Kind::Tick),
        column("number", "no.", Kind::Count),
        column("section", "section", Kind::Mark),
        column("moves", "moves", Kind::Count),
        column("settings", "decks", Kind::Count),
        column("pieces", "pieces", Kind::Count),
        column("kit", "kit", Kind::Mass),
        column("loads", "loads", Kind::Count),
        column("platform", "platform", Kind::Mass),
        column("hours", "hours", Kind::Number(1)),
        column("verdict", "load", Kind::Text),
    ];
    let mut table = Table::new("sections_in_order", "Sections in order", columns);
    table.notes = notes(model, kits);
    for (at, kit) in kits.list.iter().enumerate() {
        let section = kit.section.and_then(|at| model.sections.get(at));
        let moved = kit.section.and(kits.route.each.get(at).copied());
        let time = kit_hours(model, kit).filter(|hours| hours.missing.is_empty()).map(|hours| hours.time / 3600.0);
        let whole = !kit.pieces.iter().any(|piece| piece.mass.is_err());
        table.row([
            Cell::Nothing,
            (at as u64 + 1).into(),
            kit.name.replace('_', " ").into(),
            moved.into(),
            section.map(|section| section.decks.len() as u64).into(),
            (kit.pieces.len() as u64).into(),
            Some(kit.load.kit).filter(|_| whole).into(),
            Some(kit.load.loads).filter(|_| kit.section.is_some()).into(),
            Some(kit.load.total()).filter(|_| section.is_some() && kit.load.missing.is_empty()).into(),
            time.into(),
            verdict(kit).into(),
        ]);
    }
    table
}

/// Whether the platform may carry it, in few words.
pub(super) fn verdict(kit: &Kit) -> String {
    match kit.load.verdict() {
        _ if kit.section.is_none() => "in no section".to_owned(),
        Verdict::Within(room) => format!("{} left", masses(room)),
        Verdict::Over(over) => format!("TOO MUCH by {}", masses(over)),
        Verdict::CannotTell(missing) => format!("can't tell: {}", missing.join(", ")),
        Verdict::NoRating => "no rating is told".to_owned(),
    }
}

fn notes(model: &Model, kits: &Kits) -> Vec<String> {
    let mut notes = vec![order_words(&kits.route)];
    notes.extend(wrong_words(model, &kits.route));
    notes.extend(time_words(model, kits));
    notes.push("a move brings the machine to another place, the first place is no move; weights are of the heaviest load with people, tools and sundries; ratings are indicative, the machine's own load chart rules".to_owned());
    if let Some(words) = unreached(model, kits) {
        notes.push(words);
    }
    notes
}

/// `yours 14 moves, fewest 11 (proven): west low, west high, …`
fn order_words(route: &Route) -> String {
    let proven = if route.fewest == route.bound {
        "proven".to_owned()
    } else {
        format!("not proven: no order needs fewer than {}", route.bound)
    };
    let same = route.moves == route.fewest;
    match (route.is_leads, same) {
        (true, true) => format!("the lead's order: {} moves, as few as can be ({proven})", route.moves),
        (true, false) => format!("the lead's order: yours {} moves, fewest {} ({proven})", route.moves, route.fewest),
        (false, _) => {
            format!("proposed order: {} moves ({proven}); as written in the files {}", route.fewest, route.as_written)
        }
    }
}

fn wrong_words(model: &Model, route: &Route) -> Vec<String> {
    let name = |at: usize| model.sections.get(at).map_or(String::new(), |section| section.name.replace('_', " "));
    let mut words = Vec::new();
    if route.is_leads && route.moves > route.fewest {
        let names: Vec<String> = route.proposed.iter().map(|at| name(*at)).collect();
        words.push(format!("with the fewest moves: {}", names.join(", ")));
    }
    for (first, then) in &route.wrong {
        words.push(format!("upside down: {} comes before {}, on which it stands", name(*first), name(*then)));
    }
    if !route.left_out.is_empty() {
        let names: Vec<String> = route.left_out.iter().map(|at| name(*at)).collect();
        words.push(format!("not in the lead's order, and put last: {}", names.join(", ")));
    }
    words
}

/// The hours of everything, or what the crew did not time.
fn time_words(model: &Model, kits: &Kits) -> Vec<String> {
    let Some(crew) = &model.crew else {
        return vec!["hours: can't tell, no `crew` with its `pace` is declared".to_owned()];
    };
    let times: Vec<_> = kits.list.iter().filter_map(|kit| kit_hours(model, kit)).collect();
    let mut missing: Vec<String> = times.iter().flat_map(|hours| hours.missing.clone()).collect();
    missing.sort();
    missing.dedup();
    if times.is_empty() {
        missing.push("`pace`".to_owned());
    }
    let moves = moving(crew, kits.route.moves);
    if moves.is_none() {
        missing.push("`move`".to_owned());
    }
    if !missing.is_empty() {
        return vec![format!("hours: can't tell, the crew did not say {}", missing.join(", "))];
    }
    let fixing: f64 = times.iter().map(|hours| hours.time).sum();
    let moving = moves.unwrap_or(0.0);
    vec![format!(
        "by the crew's own watch: {} of fixing and setting the platform and {} of moving the machine, {} in all",
        hours(fixing),
        hours(moving),
        hours(fixing + moving)
    )]
}

/// What the machine does not reach, by place.
fn unreached(model: &Model, kits: &Kits) -> Option<String> {
    let crew = model.crew.as_ref()?;
    let mut words = Vec::new();
    for (at, zone) in crew.out_of_reach.iter().enumerate() {
        let pieces = kits.list.iter().flat_map(|kit| kit.pieces.iter().map(move |piece| (kit, piece)));
        let own: Vec<_> = pieces.filter(|(_, piece)| piece.unreached == Some(at)).collect();
        let marks: Vec<&str> = own.iter().map(|(_, piece)| piece.mark.as_str()).collect();
        let mut sections: Vec<String> = own.iter().map(|(kit, _)| super::words(kit)).collect();
        sections.dedup();
        let by = zone.by.map_or_else(|| "not by the machine".to_owned(), |by| format!("by {by}"));
        let why = zone.why.as_ref().map_or_else(String::new, |why| format!(" ({why})"));
        if marks.is_empty() {
            words.push(format!("{by}{why}: no piece lies there"));
        } else {
            words.push(format!("{by}{why}, in {}: {}", sections.join(" and "), marks.join(" ")));
        }
    }
    (!words.is_empty()).then(|| words.join("; "))
}

/// The words of one section for its card: hours and moves.
pub(super) fn time_of(model: &Model, kit: &Kit) -> String {
    match kit_hours(model, kit) {
        None => "hours: can't tell, the crew did not say its `pace`".to_owned(),
        Some(time) if !time.missing.is_empty() => {
            format!("hours: can't tell, the crew did not say {}", time.missing.join(", "))
        }
        Some(time) => format!("{} by the crew's own watch, without moving the machine", hours(time.time)),
    }
}

/// What stands at the head of a card.
pub(super) fn heading(kit: &Kit, number: usize) -> String {
    format!("Kit {}, {}", number + 1, words(kit))
}
