//! The take-off as tables: one row a thing and place, and the sums by supplier, in both units.

use schemars::JsonSchema;
use serde::Serialize;

use super::{Emitter, Output, footer_line, schemas};
use crate::quantities::{Amount, Row, Total, take_off, totals};
use crate::session::Checked;

/// The words at the head of every table.
const HEAD: &str = "take-off, not an order";
/// Version of the layout of the JSON file; raised when a field changes its meaning.
const SCHEMA: u32 = 1;

/// Writes `quantities.csv`, `quantities-totals.csv` and `quantities.json`.
pub struct Quantities;

impl Emitter for Quantities {
    fn id(&self) -> &'static str {
        "quantities"
    }

    fn title(&self) -> &'static str {
        "Quantities: take-off, not an order"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let rows = take_off(&checked.model, &checked.plan);
        let sums = totals(&rows);
        let line = footer_line(checked);
        let all = table(&line, &ROWS, rows.iter().map(row_cells));
        let total = table(&line, &TOTALS, sums.iter().map(total_cells));
        vec![
            Output::text("quantities.csv", "take-off by place", all),
            Output::text("quantities-totals.csv", "take-off, sums by supplier", total),
            Output::text("quantities.json", "take-off for programs", json(checked, &line, &rows, &sums)),
        ]
    }

    fn schema(&self) -> Option<serde_json::Value> {
        Some(schemas::of::<Report<'_>>())
    }
}

const ROWS: [&str; 21] = [
    "group",
    "what",
    "item",
    "face",
    "place",
    "net",
    "unit",
    "net imperial",
    "unit imperial",
    "laid with laps and folds",
    "laid imperial",
    "waste %",
    "with waste",
    "with waste imperial",
    "stock count",
    "stock",
    "note",
    "basis",
    "can't tell",
    "supplier",
    "bought",
];

const TOTALS: [&str; 10] = [
    "supplier",
    "group",
    "item",
    "with waste",
    "unit",
    "with waste imperial",
    "unit imperial",
    "net",
    "rows",
    "rows not counted",
];

/// A table with its head, the line every output carries, and its columns.
fn table<const N: usize>(line: &str, columns: &[&str; N], rows: impl Iterator<Item = [String; N]>) -> String {
    let mut writer =
        csv::WriterBuilder::new().flexible(true).terminator(csv::Terminator::Any(b'\n')).from_writer(Vec::new());
    // A writer into memory never fails.
    let mut write = |cells: &[&str]| drop(writer.write_record(cells));
    write(&[HEAD]);
    write(&[line]);
    write(columns);
    for row in rows {
        write(&row.each_ref().map(String::as_str));
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// m and m² to the thousandth, ft and ft² to the hundredth, pieces whole; empty where it is not known.
fn figure(amount: Option<Amount>) -> String {
    match amount {
        Some(Amount::Count(count)) => count.to_string(),
        Some(amount) => format!("{:.3}", amount.si()),
        None => String::new(),
    }
}

fn imperial(amount: Option<Amount>) -> String {
    match amount {
        Some(Amount::Count(count)) => count.to_string(),
        Some(amount) => format!("{:.2}", amount.imperial()),
        None => String::new(),
    }
}

fn row_cells(row: &Row) -> [String; 21] {
    let unit = |words: fn(Amount) -> &'static str| row.net.map(words).unwrap_or_default().to_owned();
    let (count, stock) = row.stock.clone().map_or_else(Default::default, |(count, stock)| (count.to_string(), stock));
    [
        row.group.word().to_owned(),
        row.what.clone(),
        row.item.clone(),
        row.face.clone(),
        row.place.clone(),
        figure(row.net),
        unit(Amount::unit),
        imperial(row.net),
        unit(Amount::imperial_unit),
        figure(row.laid),
        imperial(row.laid),
        row.waste.map_or_else(String::new, |waste| format!("{:.1}", waste * 100.0)),
        figure(row.wanted()),
        imperial(row.wanted()),
        count,
        stock,
        row.note.clone(),
        row.basis.clone(),
        row.missing.clone().unwrap_or_default(),
        row.supplier.to_string(),
        String::new(),
    ]
}

fn total_cells(total: &Total) -> [String; 10] {
    [
        total.supplier.to_string(),
        total.group.word().to_owned(),
        total.item.clone(),
        figure(Some(total.wanted)),
        total.wanted.unit().to_owned(),
        imperial(Some(total.wanted)),
        total.wanted.imperial_unit().to_owned(),
        figure(Some(total.net)),
        total.rows.to_string(),
        total.uncounted.to_string(),
    ]
}

#[derive(JsonSchema, Serialize)]
struct Report<'r> {
    schema: u32,
    head: &'static str,
    line: &'r str,
    project: &'r str,
    rows: Vec<Entry<'r>>,
    totals: Vec<Sum<'r>>,
}

/// A quantity in both units.
#[derive(JsonSchema, Serialize)]
struct Quantity {
    value: f64,
    unit: &'static str,
    imperial: f64,
    imperial_unit: &'static str,
}

#[derive(JsonSchema, Serialize)]
struct Entry<'r> {
    group: &'static str,
    what: &'r str,
    item: Option<&'r str>,
    face: &'r str,
    place: &'r str,
    net: Option<Quantity>,
    laid: Option<Quantity>,
    waste: Option<f64>,
    with_waste: Option<Quantity>,
    stock_count: Option<u64>,
    stock: Option<&'r str>,
    note: Option<&'r str>,
    basis: &'r str,
    missing: Option<&'r str>,
    supplier: Option<&'r str>,
}

#[derive(JsonSchema, Serialize)]
struct Sum<'r> {
    supplier: Option<&'r str>,
    group: &'static str,
    item: &'r str,
    net: Quantity,
    with_waste: Quantity,
    rows: usize,
    rows_not_counted: usize,
}

/// To the millionth, which is finer than any tape.
fn quantity(amount: Amount) -> Quantity {
    let round = |value: f64| (value * 1e6).round() / 1e6;
    Quantity {
        value: round(amount.si()),
        unit: amount.unit(),
        imperial: round(amount.imperial()),
        imperial_unit: amount.imperial_unit(),
    }
}

fn some(words: &str) -> Option<&str> {
    (!words.is_empty()).then_some(words)
}

fn entry(row: &Row) -> Entry<'_> {
    Entry {
        group: row.group.word(),
        what: &row.what,
        item: some(&row.item),
        face: &row.face,
        place: &row.place,
        net: row.net.map(quantity),
        laid: row.laid.map(quantity),
        waste: row.waste,
        with_waste: row.wanted().map(quantity),
        stock_count: row.stock.as_ref().map(|(count, _)| *count),
        stock: row.stock.as_ref().map(|(_, stock)| stock.as_str()),
        note: some(&row.note),
        basis: &row.basis,
        missing: row.missing.as_deref(),
        supplier: some(&row.supplier),
    }
}

fn sum(total: &Total) -> Sum<'_> {
    Sum {
        supplier: some(&total.supplier),
        group: total.group.word(),
        item: &total.item,
        net: quantity(total.net),
        with_waste: quantity(total.wanted),
        rows: total.rows,
        rows_not_counted: total.uncounted,
    }
}

fn json(checked: &Checked, line: &str, rows: &[Row], sums: &[Total]) -> String {
    let report = Report {
        schema: SCHEMA,
        head: HEAD,
        line,
        project: &checked.model.project.name,
        rows: rows.iter().map(entry).collect(),
        totals: sums.iter().map(sum).collect(),
    };
    let text = serde_json::to_string_pretty(&report).unwrap_or_default();
    format!("{text}\n")
}
