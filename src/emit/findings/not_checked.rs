//! What was not checked, told as loudly as what was found: facts that are missing, failures that nobody looks for, what only
//! eyes can see, and numbers that nobody confirmed.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use super::doubts;
use crate::checks::catalogue::{Failure, How, On, failures};
use crate::checks::{Grade, RULES};
use crate::diagnose::Severity;
use crate::emit::footer::{count, footer_line};
use crate::model::{FaceId, Sureness};
use crate::session::Checked;

/// Missing facts named in the report; the rest are counted, and stand in the full list.
const FACTS_SHOWN: usize = 6;
/// Places named behind a missing fact.
const PLACES_SHOWN: usize = 3;
/// Widest line.
const WIDTH: usize = 78;

/// Everything that was not checked. Empty for a project without walls, where nothing was.
#[derive(Clone, Debug, Default, JsonSchema, Serialize)]
pub struct NotChecked {
    /// Facts that checks miss, each once.
    pub missing: Vec<Missing>,
    /// Failures that neither rules nor eyes look for, of those that these walls can have.
    pub not_claimed: Vec<NotClaimed>,
    /// Numbers of failures that only eyes find, of those that these walls can have.
    pub for_eyes: Vec<&'static str>,
    /// Limits in force that rules read and that are from memory or habit.
    pub numbers: Vec<Doubt>,
    /// Values of materials and products in use that are from memory or habit.
    pub values: Vec<Doubt>,
}

/// A fact that is missing.
#[derive(Clone, Debug, JsonSchema, Serialize)]
pub struct Missing {
    /// The fact.
    pub fact: String,
    /// Rules that ask for it.
    pub rules: BTreeSet<&'static str>,
    /// One of them is of stop grade.
    pub stop: bool,
    /// Where it belongs.
    pub places: BTreeSet<Spot>,
}

/// A line of a text.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, JsonSchema, Serialize)]
pub struct Spot {
    /// Path within the project.
    pub file: String,
    /// Counted from one.
    pub line: u32,
}

/// A failure that nothing looks for.
#[derive(Clone, Copy, Debug, JsonSchema, Serialize)]
pub struct NotClaimed {
    /// Its number in the trade reference.
    pub id: &'static str,
    /// What goes wrong.
    pub title: &'static str,
    /// Why nothing looks for it.
    pub why: &'static str,
}

/// A value that nobody confirmed.
#[derive(Clone, Debug, JsonSchema, Serialize)]
pub struct Doubt {
    /// Name of a limit, or of a thing and its property: `larch.conductivity`.
    pub name: String,
    /// As shown; absent for what is no single number.
    pub shown: Option<String>,
    /// "from memory" or "common practice".
    pub how: &'static str,
    /// Where it was read.
    pub source: String,
}

/// What was not checked in this project.
pub fn not_checked(checked: &Checked) -> NotChecked {
    if checked.model.faces.is_empty() {
        return NotChecked::default();
    }
    NotChecked {
        missing: missing(checked),
        not_claimed: not_claimed(checked),
        for_eyes: for_eyes(checked).map(|row| row.id).collect(),
        numbers: numbers(checked),
        values: doubts::values(&checked.model),
    }
}

fn missing(checked: &Checked) -> Vec<Missing> {
    let mut found: BTreeMap<&str, Missing> = BTreeMap::new();
    for settled in checked.findings.iter().filter(|one| one.accepted.is_none()) {
        let finding = &settled.finding;
        if finding.severity != Severity::Unknown {
            continue;
        }
        let fact = finding.missing.as_deref().unwrap_or(&finding.message);
        let files = &checked.project.files;
        let line = files.position(finding.at.file, finding.at.start).line;
        let spot = Spot { file: files.path(finding.at.file).to_owned(), line };
        let entry = found.entry(fact).or_insert_with(|| Missing {
            fact: fact.to_owned(),
            rules: BTreeSet::new(),
            stop: false,
            places: BTreeSet::new(),
        });
        entry.rules.insert(finding.rule);
        entry.stop |= finding.grade == Grade::S1;
        entry.places.insert(spot);
    }
    let mut found: Vec<Missing> = found.into_values().collect();
    found.sort_by_key(|one| (!one.stop, std::cmp::Reverse(one.places.len())));
    found
}

/// Whether any face of the project has what a line is about.
fn applies(checked: &Checked, on: On) -> bool {
    (0..checked.model.faces.len()).any(|at| on.places(&checked.model, FaceId(at as u32)).is_some())
}

fn not_claimed(checked: &Checked) -> Vec<NotClaimed> {
    let rows = failures().filter_map(|row| match row.how {
        How::NotClaimed { why, on } => applies(checked, on).then_some(NotClaimed { id: row.id, title: row.title, why }),
        _ => None,
    });
    rows.collect()
}

fn for_eyes(checked: &Checked) -> impl Iterator<Item = &'static Failure> {
    failures().filter(|row| row.how == How::HoldPoint && row.look.is_some_and(|line| applies(checked, line.on)))
}

/// Each limit that a rule names, as it is in force.
fn numbers(checked: &Checked) -> Vec<Doubt> {
    let names: BTreeSet<&str> = RULES.iter().flat_map(|rule| rule.meta().limits).copied().collect();
    let units = checked.model.project.units;
    let weak = names.into_iter().filter_map(|name| {
        let limit = checked.model.limit(name).filter(|limit| !limit.sure.is_firm())?;
        Some(Doubt {
            name: name.to_owned(),
            shown: Some(limit.shown(name, units)),
            how: limit.sure.phrase(),
            source: limit.citation(),
        })
    });
    weak.collect()
}

/// The short list that stands below a report: counts, and the facts that are missing.
pub fn summary(checked: &Checked) -> String {
    let found = not_checked(checked);
    let mut out = String::new();
    if checked.model.faces.is_empty() {
        return out;
    }
    out.push_str("Not checked:\n");
    if !found.missing.is_empty() {
        let facts = count(found.missing.len(), "fact is missing", "facts are missing");
        let _ = writeln!(out, "  {facts} that checks ask for:");
        for one in found.missing.iter().take(FACTS_SHOWN) {
            out.push_str(&wrapped(&fact(one), 4));
        }
        if let Some(more @ 1..) = found.missing.len().checked_sub(FACTS_SHOWN) {
            let _ = writeln!(out, "    and {more} more");
        }
    }
    for line in counts(&found) {
        out.push_str(&wrapped(&line, 2));
    }
    out.push_str("  `wythe emit` writes the whole list, not-checked.txt\n");
    out
}

/// "stop: the `clearance` of `larch` (north.wythe:12, west.wythe:40)".
fn fact(one: &Missing) -> String {
    let stop = if one.stop { "stop: " } else { "" };
    let mut places: Vec<String> =
        one.places.iter().take(PLACES_SHOWN).map(|spot| format!("{}:{}", spot.file, spot.line)).collect();
    if let Some(more @ 1..) = one.places.len().checked_sub(PLACES_SHOWN) {
        places.push(format!("{more} more"));
    }
    format!("{stop}{} ({})", one.fact, places.join(", "))
}

/// One line for each sort of thing that was not checked, where there is any.
pub fn counts(found: &NotChecked) -> Vec<String> {
    let mut lines = Vec::new();
    if !found.not_claimed.is_empty() {
        let ids: Vec<&str> = found.not_claimed.iter().map(|row| row.id).collect();
        let ways = count(ids.len(), "way to fail that nothing looks for", "ways to fail that nothing looks for");
        lines.push(format!("{ways}: {}", ids.join(", ")));
    }
    if !found.for_eyes.is_empty() {
        let ways = count(found.for_eyes.len(), "way to fail that only eyes find", "ways to fail that only eyes find");
        lines.push(format!("{ways}: the hold-point sheets ask for them"));
    }
    if !found.numbers.is_empty() {
        let numbers = count(found.numbers.len(), "number of the rules is", "numbers of the rules are");
        lines.push(format!("{numbers} not published: {}", by_sureness(&found.numbers)));
    }
    if !found.values.is_empty() {
        let values = count(found.values.len(), "value", "values");
        lines.push(format!("{values} of materials and products not confirmed: {}", by_sureness(&found.values)));
    }
    lines
}

fn by_sureness(doubts: &[Doubt]) -> String {
    let parts = [Sureness::Memory.phrase(), Sureness::Habit.phrase()].into_iter().filter_map(|how| {
        let number = doubts.iter().filter(|doubt| doubt.how == how).count();
        (number > 0).then(|| format!("{number} {how}"))
    });
    parts.collect::<Vec<_>>().join(", ")
}

/// The whole list as a text.
pub fn full(checked: &Checked) -> String {
    let found = not_checked(checked);
    let mut out = format!("What was not checked\n{}\n", footer_line(checked));
    let mut part = |heading: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            let _ = writeln!(out, "\n{heading} ({})", lines.len());
            lines.iter().for_each(|line| out.push_str(&wrapped(line, 2)));
        }
    };
    let all = |one: &Missing| {
        let rules: Vec<&str> = one.rules.iter().copied().collect();
        let places: Vec<String> = one.places.iter().map(|spot| format!("{}:{}", spot.file, spot.line)).collect();
        let stop = if one.stop { "stop: " } else { "" };
        format!("{stop}{}, for {}, at {}", one.fact, rules.join(", "), places.join(", "))
    };
    part("Facts that are missing", found.missing.iter().map(all).collect());
    let row = |row: &NotClaimed| format!("{} {}: {}", row.id, row.title, row.why);
    part("Ways to fail that nothing looks for", found.not_claimed.iter().map(row).collect());
    let eyes = for_eyes(checked).map(|row| format!("{} {}", row.id, row.title));
    part("Ways to fail that only eyes find: see the hold-point sheets", eyes.collect());
    let number = |one: &Doubt| format!("{} {}: {}", one.name, one.shown.as_deref().unwrap_or(""), one.source);
    part("Numbers of the rules that are not published", found.numbers.iter().map(number).collect());
    let value = |one: &Doubt| format!("{}: {}, {}", one.name, one.source, one.how);
    part("Values of materials and products that nobody confirmed", found.values.iter().map(value).collect());
    out
}

/// A line broken at blanks so that it stays readable on a narrow screen; what follows is set in by two more.
pub fn wrapped(text: &str, indent: usize) -> String {
    let mut out = String::new();
    let mut line = " ".repeat(indent);
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            out.push_str(&line);
            out.push('\n');
            line = " ".repeat(indent + 2);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    out.push_str(&line);
    out.push('\n');
    out
}
