//! The order for a terminal, and for programs.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use super::{Line, imperial, metric, note, notes};
use crate::emit::footer_line;
use crate::session::Checked;
use crate::units::System;

/// Version of the layout of the JSON; raised when a field changes its meaning.
const SCHEMA: u32 = 1;

/// Columns of a terminal that nobody has widened.
const WIDE: usize = 80;
/// Before each row, and between its columns.
const STEP: usize = 2;
const BETWEEN: usize = 2;

/// As a table no wider than 80 columns, one heading for each supplier. What does not fit beside a row goes on the line below.
pub fn text(checked: &Checked, lines: &[Line]) -> String {
    let lead = checked.model.project.units;
    let cells: Vec<[String; 5]> = lines.iter().map(|line| cells(line, lead)).collect();
    let widths: [usize; 4] = std::array::from_fn(|column| width(&cells, column));
    let mut shown = String::new();
    let mut supplier: Option<&str> = None;
    for (line, row) in lines.iter().zip(&cells) {
        if supplier != Some(line.supplier.as_str()) {
            let gap = if supplier.is_some() { "\n" } else { "" };
            let name = if line.supplier.is_empty() { "no supplier said" } else { line.supplier.as_str() };
            let _ = writeln!(shown, "{gap}── {name}");
            supplier = Some(&line.supplier);
        }
        row_of(&mut shown, row, widths);
    }
    let notes = if lines.is_empty() { vec!["nothing to buy was found".to_owned()] } else { notes(checked, lines) };
    let words = notes.into_iter().chain([footer_line(checked)]);
    let words: Vec<String> = words.map(|words| folded(&words, WIDE).join("\n  ")).collect();
    let _ = writeln!(shown, "\n{}", words.join("\n"));
    shown
}

/// The widest cell of a column; of names, no wider than leaves room for the figures.
fn width(cells: &[[String; 5]], column: usize) -> usize {
    let widest = |column: usize| cells.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    if column > 0 {
        return widest(column);
    }
    let figures: usize = (1..4).map(|column| widest(column) + BETWEEN).sum();
    widest(0).min(WIDE.saturating_sub(STEP + figures))
}

fn row_of(shown: &mut String, [item, first, second, cost, note]: &[String; 5], [a, b, c, d]: [usize; 4]) {
    let mut name = folded(item, a);
    let last = name.pop().unwrap_or_default();
    for part in name {
        let _ = writeln!(shown, "{:STEP$}{part}", "");
    }
    let written = format!("{:STEP$}{last:<a$}  {first:>b$}  {second:>c$}  {cost:>d$}", "");
    let written = written.trim_end();
    if written.chars().count() + BETWEEN + note.chars().count() <= WIDE && !note.is_empty() {
        let _ = writeln!(shown, "{written}  {note}");
        return;
    }
    let _ = writeln!(shown, "{written}");
    for part in folded(note, WIDE - 3 * STEP).iter().filter(|part| !part.is_empty()) {
        let _ = writeln!(shown, "{:>indent$}{part}", "", indent = 3 * STEP);
    }
}

/// Words on lines of at most so many characters, of which those after the first are indented; a longer word stands alone.
fn folded(words: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        let indent = if lines.len() > 1 { STEP } else { 0 };
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() + indent <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

fn cells(line: &Line, lead: System) -> [String; 5] {
    let (first, second) = match lead {
        System::Imperial if !imperial(line).is_empty() => (imperial(line), metric(line)),
        _ => (metric(line), imperial(line)),
    };
    let cost = line.cost.map_or_else(|| "no price".to_owned(), |cost| format!("{cost:.2}"));
    [line.item.replace('_', " "), first, second, cost, note(line)]
}

#[derive(JsonSchema, Serialize)]
struct Report<'r> {
    schema: u32,
    line: String,
    project: &'r str,
    lines: Vec<Entry<'r>>,
    cost_of_priced: f64,
    lines_without_price: usize,
}

#[derive(JsonSchema, Serialize)]
struct Entry<'r> {
    supplier: Option<&'r str>,
    group: &'static str,
    item: &'r str,
    amount: f64,
    unit: &'static str,
    imperial: f64,
    imperial_unit: &'static str,
    stock_mm: Option<f64>,
    packs: Option<u64>,
    packs_are: Option<&'r str>,
    cost: Option<f64>,
    spare: bool,
    rows_not_counted: usize,
}

/// The shape of what [`json`] gives, as JSON Schema.
pub fn json_schema() -> serde_json::Value {
    crate::emit::schemas::of::<Report<'_>>()
}

/// For programs.
pub fn json(checked: &Checked, lines: &[Line]) -> String {
    let round = |value: f64, to: f64| (value * to).round() / to;
    let report = Report {
        schema: SCHEMA,
        line: footer_line(checked),
        project: &checked.model.project.name,
        lines: lines.iter().map(entry).collect(),
        cost_of_priced: round(lines.iter().filter_map(|line| line.cost).sum(), 100.0),
        lines_without_price: lines.iter().filter(|line| line.cost.is_none()).count(),
    };
    serde_json::to_string_pretty(&report).unwrap_or_default() + "\n"
}

fn entry(line: &Line) -> Entry<'_> {
    let round = |value: f64, to: f64| (value * to).round() / to;
    Entry {
        supplier: (!line.supplier.is_empty()).then_some(line.supplier.as_str()),
        group: line.group.word(),
        item: &line.item,
        amount: round(line.amount.si(), 1e6),
        unit: line.amount.unit(),
        imperial: round(line.amount.imperial(), 1e6),
        imperial_unit: line.amount.imperial_unit(),
        stock_mm: line.stock.map(|length| length.as_mm()),
        packs: line.packs.as_ref().map(|packs| packs.count),
        packs_are: line.packs.as_ref().map(|packs| packs.words.as_str()),
        cost: line.cost.map(|cost| round(cost, 100.0)),
        spare: line.spare,
        rows_not_counted: line.uncounted,
    }
}
