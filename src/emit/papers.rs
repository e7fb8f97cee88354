//! Files of one set of sheets and tables: PDF and SVG of the sheets; CSV, JSON and a workbook of the tables.

use super::Output;
use super::drawing::{Sheet, pdf};
use super::schemas;
use super::table::{self, Table};

fn file(path: &str, title: &str, bytes: Vec<u8>) -> Output {
    Output { path: path.to_owned(), bytes, title: title.to_owned(), schema: None }
}

/// One PDF of all sheets for the printer, and each as SVG for a screen.
pub(super) fn printed(path: &str, title: &str, sheets: &[Sheet]) -> Vec<Output> {
    let mut outputs: Vec<Output> = Vec::new();
    if !sheets.is_empty() {
        let pdf = pdf::write(title, sheets);
        outputs.extend(pdf.map(|bytes| file(&format!("{path}.pdf"), &format!("{title}, to print"), bytes)));
    }
    for (at, sheet) in sheets.iter().enumerate() {
        outputs.push(Output::text(format!("{path}-{}.svg", at + 1), sheet.title.title.clone(), sheet.to_svg()));
    }
    outputs
}

/// Each table as `FOLDER/ID.csv`.
pub(super) fn listed(folder: &str, tables: &[Table], line: &str) -> Vec<Output> {
    let csv = |table: &Table| {
        Output::text(format!("{folder}/{}.csv", table.id), table.title.clone(), table::csv(table, line))
    };
    tables.iter().map(csv).collect()
}

/// All tables as one JSON file for programs.
pub(super) fn for_programs(path: &str, title: &str, tables: &[Table], line: &str) -> Output {
    let json: Vec<serde_json::Value> = tables.iter().map(|table| table::json(table, line)).collect();
    let text = serde_json::to_string_pretty(&json).unwrap_or_default() + "\n";
    Output { schema: Some(schemas::of_tables(tables)), ..Output::text(path, title, text) }
}

/// All tables as one workbook with a name of its own.
pub(super) fn workbook(path: &str, title: &str, name: &str, tables: &[Table], line: &str) -> Option<Output> {
    table::workbook(name, tables, line).map(|bytes| file(path, title, bytes))
}
