//! Figures for a terminal, and for programs.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use super::rows::{self, Depth, Notes, Row, Shown, Told};
use super::words::{self, Group};
use crate::emit::footer_line;
use crate::figures::{Figure, STUDIES, Value};
use crate::session::Checked;
use crate::units::System;

/// Version of the layout of the JSON; raised when a field changes its meaning.
const SCHEMA: u32 = 1;

/// How wide titles are before the values beside them.
const TITLE: usize = 40;
/// How wide values are before the names of faces beside them.
const VALUE: usize = 22;
/// Where a line of names is broken.
const WIDE: usize = 112;

/// What walls come to, each by itself; then faces, what is the same on several told once; then plane cuts. Both units, and the
/// number of the note at the end that says what a figure is by and how sure it is.
pub fn text(checked: &Checked, depth: Depth) -> String {
    let lead = checked.model.project.units;
    let mut shown = String::new();
    let mut notes = Notes::default();
    let told = words::groups(&checked.model, checked.figures());
    if told.is_empty() {
        shown.push_str("no wall to work figures out for\n\n");
    }
    let asked = (lead, depth);
    told.walls.iter().for_each(|wall| alone(&mut shown, wall, asked, &mut notes));
    faces(&mut shown, &told.faces, asked, &mut notes);
    told.houses.iter().for_each(|house| alone(&mut shown, house, asked, &mut notes));
    told.cuts.iter().for_each(|cut| alone(&mut shown, cut, asked, &mut notes));
    by(&mut shown, &notes, depth);
    let _ = writeln!(shown, "{}", footer_line(checked));
    shown
}

/// A wall type or plane cut by itself.
fn alone(shown: &mut String, group: &Group<'_>, (lead, depth): (System, Depth), notes: &mut Notes) {
    let place = if group.place.is_empty() { String::new() } else { format!(": {}", group.place) };
    let _ = writeln!(shown, "── {}{place}", group.title);
    for studied in group.studies {
        let rows = rows::rows(studied, lead, depth, notes);
        if !rows.is_empty() {
            let _ = writeln!(shown, "  {}", words::study(studied.study));
        }
        rows.iter().for_each(|row| line(shown, &row.name(), &row.told, ""));
    }
    shown.push('\n');
}

/// `U of the wall      0.21 W/(m²·K) (0.038 Btu/(ft²·h·°F))  [1]`, and where that is so.
fn line(shown: &mut String, title: &str, told: &Told, place: &str) {
    let told = format!("{}{}", told_words(told), mark(told));
    let place = if place.is_empty() { String::new() } else { format!("  {place}") };
    let _ = writeln!(shown, "    {title:TITLE$} {told}{place}");
}

fn told_words(told: &Told) -> String {
    match told {
        Told::Value(Shown { value, other, word, .. }) => {
            let other = if other.is_empty() { String::new() } else { format!(" ({other})") };
            let word = if word.is_empty() { String::new() } else { format!(", {word}") };
            format!("{value}{other}{word}")
        }
        Told::Missing(fact) => format!("can't tell; missing: {fact}"),
    }
}

/// `  [3]`, behind a figure or behind the title of several that are known the same way.
fn mark(told: &Told) -> String {
    match told {
        Told::Value(shown) => format!("  [{}]", shown.note),
        Told::Missing(_) => String::new(),
    }
}

/// The values of one figure, each with the faces that have it.
type Named<'n> = Vec<(Row, Vec<&'n str>)>;

/// Faces together: what is the same on all of them in one line, else each value with the faces that have it.
fn faces(shown: &mut String, faces: &[Group<'_>], (lead, depth): (System, Depth), notes: &mut Notes) {
    if faces.is_empty() {
        return;
    }
    let names: Vec<&str> = faces.iter().map(|face| face.place.as_str()).collect();
    let _ = writeln!(shown, "── walls by face: {}", names.join(", "));
    for study in STUDIES {
        let mut told: Vec<(&str, Named<'_>)> = Vec::new();
        for (face, name) in faces.iter().zip(&names) {
            let own = face.studies.iter().find(|studied| studied.study == study.id());
            for row in own.map(|studied| rows::rows(studied, lead, depth, notes)).unwrap_or_default() {
                let at = told.iter().position(|(title, _)| *title == row.title).unwrap_or_else(|| {
                    told.push((row.title, Vec::new()));
                    told.len() - 1
                });
                let Some((_, values)) = told.get_mut(at) else { continue };
                match values.iter_mut().find(|(known, _)| *known == row) {
                    Some((_, named)) => named.push(name),
                    None => values.push((row, vec![name])),
                }
            }
        }
        if !told.is_empty() {
            let _ = writeln!(shown, "  {}", study.title());
        }
        for (title, values) in &told {
            each(shown, title, values, names.len());
        }
    }
    shown.push('\n');
}

/// One figure on all faces.
fn each(shown: &mut String, title: &str, values: &[(Row, Vec<&str>)], all: usize) {
    if let [(row, named)] = values {
        let place = if named.len() == all { String::new() } else { named.join(", ") };
        return line(shown, &row.name(), &row.told, &place);
    }
    // Where all are known the same way, the mark stands once.
    let marks: Vec<String> = values.iter().map(|(row, _)| mark(&row.told)).collect();
    let alike = marks.windows(2).all(|pair| pair.first() == pair.last());
    let missing = values.iter().all(|(row, _)| matches!(row.told, Told::Missing(_)));
    let head = if alike { marks.first().map_or("", String::as_str) } else { "" };
    let head = if missing { ": can't tell; missing" } else { head };
    let _ = writeln!(shown, "    {title}{head}");
    // Of several things with one value, and of one thing on several faces: the value once.
    let mut seen: Vec<&Told> = Vec::new();
    for (row, _) in values {
        if seen.contains(&&row.told) {
            continue;
        }
        seen.push(&row.told);
        let same = values.iter().filter(|(other, _)| other.told == row.told);
        let places = same.map(|(other, named)| {
            let named = if named.len() == all { String::new() } else { named.join(", ") };
            match (other.of.is_empty(), named.is_empty()) {
                (true, _) => named,
                (false, true) => other.of.clone(),
                (false, false) => format!("{}: {named}", other.of),
            }
        });
        let places = places.collect::<Vec<_>>().join("; ");
        let told = match &row.told {
            Told::Missing(fact) if missing => fact.clone(),
            told if alike => told_words(told),
            told => format!("{}{}", told_words(told), mark(told)),
        };
        let wide = told.chars().count().max(VALUE) + places.chars().count();
        if wide > WIDE {
            let _ = writeln!(shown, "      {told}\n          {places}");
        } else {
            let _ = writeln!(shown, "      {told:VALUE$}  {places}");
        }
    }
}

/// The notes, and where the rest is.
fn by(shown: &mut String, notes: &Notes, depth: Depth) {
    if notes.lines.is_empty() {
        return;
    }
    shown.push_str("By what, and how sure\n");
    for (at, note) in notes.lines.iter().enumerate() {
        let _ = writeln!(shown, "  [{}] {note}", at + 1);
    }
    shown.push_str("A missing fact stands with the clause that gives it, in brackets.\n");
    if depth == Depth::Few {
        shown.push_str("Bounds and residuals of the sums, and what they are made of: `--all`, or `--report json`.\n");
    }
    shown.push('\n');
}

#[derive(JsonSchema, Serialize)]
struct Report<'r> {
    schema: u32,
    line: String,
    project: &'r str,
    walls: Vec<Entity<'r>>,
    faces: Vec<Entity<'r>>,
    /// Buildings of which anything is known.
    houses: Vec<Entity<'r>>,
    /// Plane cuts that heat is reckoned through.
    cuts: Vec<Entity<'r>>,
}

/// A wall type, a face, a building or a plane cut.
#[derive(JsonSchema, Serialize)]
struct Entity<'r> {
    name: String,
    place: String,
    figures: Vec<Entry<'r>>,
    missing: Vec<Unknown<'r>>,
}

#[derive(JsonSchema, Serialize)]
struct Entry<'r> {
    study: &'r str,
    key: &'r str,
    title: &'r str,
    of: &'r str,
    /// In SI units; both alike where it is known. Absent for a word.
    low: Option<f64>,
    high: Option<f64>,
    /// SI base units of both.
    unit: String,
    word: Option<&'r str>,
    metric: String,
    imperial: String,
    source: String,
    sure: &'r str,
    doubt: &'r str,
}

#[derive(JsonSchema, Serialize)]
struct Unknown<'r> {
    study: &'r str,
    key: &'r str,
    title: &'r str,
    of: &'r str,
    fact: &'r str,
}

/// The shape of what [`json`] gives, as JSON Schema.
pub fn json_schema() -> serde_json::Value {
    crate::emit::schemas::of::<Report<'_>>()
}

/// For programs.
pub fn json(checked: &Checked) -> String {
    let figures = checked.figures();
    let groups = words::groups(&checked.model, figures);
    let report = Report {
        schema: SCHEMA,
        line: footer_line(checked),
        project: &checked.model.project.name,
        walls: groups.walls.iter().map(entity).collect(),
        faces: groups.faces.iter().map(entity).collect(),
        houses: groups.houses.iter().map(entity).collect(),
        cuts: groups.cuts.iter().map(entity).collect(),
    };
    serde_json::to_string_pretty(&report).unwrap_or_default() + "\n"
}

fn entity<'r>(group: &Group<'r>) -> Entity<'r> {
    let figures = group
        .studies
        .iter()
        .flat_map(|studied| studied.found.figures.iter().map(|figure| entry(studied.study, figure)));
    let missing = group.studies.iter().flat_map(|studied| {
        studied.found.missing.iter().map(|missing| Unknown {
            study: studied.study,
            key: missing.what.key,
            title: missing.what.title,
            of: &missing.of,
            fact: &missing.fact,
        })
    });
    Entity {
        name: group.id.clone(),
        place: if group.is_face { String::new() } else { group.place.clone() },
        figures: figures.collect(),
        missing: missing.collect(),
    }
}

fn entry<'r>(study: &'r str, figure: &'r Figure) -> Entry<'r> {
    let (range, word) = match &figure.value {
        Value::Number(range) => (Some(*range), None),
        Value::Word(word) => (None, Some(word.as_str())),
    };
    // Nine digits are more than any of them deserves, and the same on every machine.
    let digits = |value: f64| format!("{value:.8e}").parse().ok();
    let shown = |system| range.map_or_else(String::new, |range| words::number(figure.what, range, system));
    Entry {
        study,
        key: figure.what.key,
        title: figure.what.title,
        of: &figure.of,
        low: range.and_then(|range| digits(range.low)),
        high: range.and_then(|range| digits(range.high)),
        unit: if range.is_some() { figure.what.dimension.base_units() } else { String::new() },
        word,
        metric: shown(System::Metric),
        imperial: shown(System::Imperial),
        source: words::source(figure.source),
        sure: figure.sure.phrase(),
        doubt: &figure.doubt,
    }
}
