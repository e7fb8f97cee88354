//! The fact that a check lacks, said by the clause it names: a word to choose, or a blank for whoever knows the site.

use super::ask::{Ask, On};
use super::draft::Round;
use super::{BLANK, Mend};
use crate::schema::{self, Element, Row, SlotKind};
use crate::syntax::Item;

/// Facts that say nothing to this check in most of their words.
const NOT_HERE: &[(&str, &str)] = &[
    ("metal.on_treated_wood", "finish"),
    ("fastener.wrong_finish", "finish"),
    ("flashing.fixed_in_wet_leg", "fasten"),
];

/// The clauses that the missing fact names, each on the first statement that takes it.
pub(super) fn of(ask: &Ask<'_>) -> Vec<Mend> {
    let Some(missing) = ask.finding.missing.as_deref().filter(|_| ask.cannot_tell()) else { return Vec::new() };
    let quoted = quoted(missing);
    let places = places(ask, &quoted);
    let marks = quoted.contains(&"marks");
    let mut found = Vec::new();
    for text in quoted.iter().rev() {
        let mut words = text.split(' ');
        let word = schema::canonical(words.next().unwrap_or_default());
        if NOT_HERE.contains(&(ask.finding.rule, word)) || marks && ["every", "first"].contains(&word) {
            continue;
        }
        let second = words.next();
        let studs = word == "marks" && missing.contains("studs");
        let takes = |round: &&Round<'_>| {
            let Some(row) = round.last().and_then(|(_, row)| schema::find((*row)?.body, word)) else { return false };
            let of_studs = round.last().is_some_and(|(one, _)| &*one.keyword.text == "frame");
            // A name may look like a clause that has clauses of its own.
            let is_name = row.many && !row.body.is_empty();
            !is_name && may_say(row, second) && (!studs || of_studs)
        };
        if let Some(round) = places.iter().find(takes) {
            found.extend(said(ask, round, text, word));
        }
    }
    found
}

/// Whether the second word of a clause can stand there.
fn may_say(row: &Row, second: Option<&str>) -> bool {
    let Some(second) = second else { return true };
    let known = |element: &Element| match element {
        Element::Word(word) => *word == second,
        Element::Slot(_, SlotKind::Choice(words) | SlotKind::Choices(words)) => words.contains(&second),
        _ => false,
    };
    let plain = second.chars().all(|letter| letter.is_ascii_lowercase() || letter == '_');
    !plain || row.parsed().elements.iter().any(known)
}

/// The fact by its words, or as the check itself asks for it where it takes more than one.
fn said<'g>(ask: &Ask<'g>, round: &Round<'g>, text: &str, word: &str) -> Vec<Mend> {
    let row = round.last().and_then(|(_, row)| schema::find((*row)?.body, word));
    let slots = |row: &Row| {
        let needed = row.parsed().elements.iter().filter(|one| matches!(one, Element::Slot(..)));
        needed.count()
    };
    let more = text.matches('…').count() + usize::from(text.contains("… ") || text.split(' ').count() > 2) > 1;
    if more
        && row.is_some_and(|row| slots(row) > 1 || text.matches('…').count() > slots(row))
        && !text.contains(char::is_numeric)
    {
        let clause = text.replace('…', BLANK);
        return ask
            .said(round, &clause, row.map_or("", |row| row.help.split([',', ';', ':']).next().unwrap_or("")))
            .into_iter()
            .collect();
    }
    ask.facts(round, word)
}

/// What stands between backticks.
fn quoted(text: &str) -> Vec<&str> {
    text.split('`').skip(1).step_by(2).collect()
}

/// Statements in which the fact may belong: where the finding stands, its clauses, what is round it, what else it shows,
/// what it names, the site.
fn places<'g>(ask: &Ask<'g>, quoted: &[&str]) -> Vec<Round<'g>> {
    let mut found: Vec<Round<'g>> = Vec::new();
    let with_clauses = |round: Round<'g>, found: &mut Vec<Round<'g>>| {
        if let Some(&(statement, row)) = round.last() {
            for clause in &statement.clauses {
                let row = row.and_then(|row| schema::find(row.body, &clause.keyword.text));
                found.push(round.iter().copied().chain([(clause, row)]).collect());
            }
        }
        let at = found.len() - round.last().map_or(0, |(statement, _)| statement.clauses.len());
        found.insert(at, round);
    };
    // A name is nearer to its fact than the place where it is used.
    for kind in ["product", "material", "floor_line"] {
        for name in quoted {
            found.extend(ask.named(kind, name.rsplit('.').next().unwrap_or(name)));
        }
    }
    // Layers of the assembly that the finding names.
    let stands_at = |round: &Round<'_>| round.last().is_some_and(|(one, _)| &*one.keyword.text == "assembly");
    if let Some(assembly) = ask.round(On::At).filter(stands_at).or_else(|| ask.assembly())
        && let Some(&(statement, row)) = assembly.last()
    {
        let named = |name: &Item| name.word().is_some_and(|word| quoted.contains(&&*word.text));
        let layers = statement.clauses.iter().filter(|one| one.arguments.first().is_some_and(named));
        for layer in layers {
            let row = row.and_then(|row| schema::find(row.body, &layer.keyword.text));
            found.push(assembly.iter().copied().chain([(layer, row)]).collect());
        }
    }
    let mut at = ask.round(On::At);
    while let Some(round) = at {
        let outer: Round<'g> = round.iter().copied().take(round.len() - 1).collect();
        with_clauses(round, &mut found);
        at = (!outer.is_empty()).then_some(outer);
    }
    for (span, _) in &ask.finding.others {
        if let Some(round) = super::draft::round(ask.glance, *span) {
            with_clauses(round, &mut found);
        }
    }
    for round in [ask.round(On::Detail), ask.round(On::Gap), ask.assembly()].into_iter().flatten() {
        with_clauses(round, &mut found);
    }
    for building in &ask.glance.model.buildings {
        if let Some(round) = ask.named("building", &building.name) {
            with_clauses(round, &mut found);
        }
    }
    let site = ask.glance.model.site.as_ref().map(|site| site.name.as_str()).unwrap_or_default();
    found.extend(ask.named("site", site));
    found
}
