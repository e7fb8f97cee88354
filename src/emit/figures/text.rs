//! Figures for a terminal, and for programs.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use super::words::{self, Group};
use crate::emit::footer_line;
use crate::figures::{Figure, Studied, Value};
use crate::session::Checked;
use crate::units::System;

/// Version of the layout of the JSON; raised when a field changes its meaning.
const SCHEMA: u32 = 1;

/// Wall types, then faces, each with its figures in both units, what each is by and how sure it is.
pub fn text(checked: &Checked) -> String {
    let lead = checked.model.project.units;
    let mut shown = String::new();
    let groups = words::groups(&checked.model, checked.figures());
    if groups.is_empty() {
        shown.push_str("no wall to work figures out for\n\n");
    }
    for group in &groups {
        let place = if group.place.is_empty() { String::new() } else { format!("  ({})", group.place) };
        let _ = writeln!(shown, "── {}{place}", group.title);
        group.studies.iter().for_each(|studied| study(&mut shown, studied, lead));
        shown.push('\n');
    }
    let _ = writeln!(shown, "{}", footer_line(checked));
    shown
}

fn study(shown: &mut String, studied: &Studied, lead: System) {
    let _ = writeln!(shown, "  {}", words::study(studied.study));
    let mut figures = studied.found.figures.iter().peekable();
    while let Some(figure) = figures.next() {
        let second = words::value(figure, lead.other(), lead);
        let second = if second.is_empty() { String::new() } else { format!(" ({second})") };
        let title = words::title(figure.what, &figure.of);
        let _ = writeln!(shown, "    {title}: {}{second}", words::value(figure, lead, lead));
        // Neighbours that are known the same way say so once.
        if figures.peek().is_none_or(|next| by(next) != by(figure)) {
            let _ = writeln!(shown, "      {}", by(figure));
        }
    }
    for missing in &studied.found.missing {
        let title = words::title(missing.what, &missing.of);
        let _ = writeln!(shown, "    {title}: cannot tell, missing: {}", missing.fact);
    }
}

/// Whose method it is, and how well it is known.
fn by(figure: &Figure) -> String {
    format!("by {} · {}", words::source(figure.source), words::sure(figure))
}

#[derive(JsonSchema, Serialize)]
struct Report<'r> {
    schema: u32,
    line: String,
    project: &'r str,
    walls: Vec<Told<'r>>,
    faces: Vec<Told<'r>>,
    /// Buildings whose leakage was measured.
    houses: Vec<Told<'r>>,
    /// Plane cuts that heat is reckoned through.
    cuts: Vec<Told<'r>>,
}

/// A wall type, a face, a building or a plane cut.
#[derive(JsonSchema, Serialize)]
struct Told<'r> {
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
    let walls = figures.walls.iter().filter(|wall| !wall.studies.is_empty()).count();
    let (walls, others) = groups.split_at(walls.min(groups.len()));
    let (others, cuts) = others.split_at(others.len().saturating_sub(figures.cuts.len()));
    let (faces, houses) = others.split_at(others.len().saturating_sub(figures.houses.len()));
    let report = Report {
        schema: SCHEMA,
        line: footer_line(checked),
        project: &checked.model.project.name,
        walls: walls.iter().map(told).collect(),
        faces: faces.iter().map(told).collect(),
        houses: houses.iter().map(told).collect(),
        cuts: cuts.iter().map(told).collect(),
    };
    serde_json::to_string_pretty(&report).unwrap_or_default() + "\n"
}

fn told<'r>(group: &Group<'r>) -> Told<'r> {
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
    Told { name: group.id.clone(), place: group.place.clone(), figures: figures.collect(), missing: missing.collect() }
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
