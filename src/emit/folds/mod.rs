//! What the bench and the brake work from: cards of jigs, of folded metal, of mounting blocks, and of the gaps of the day.

mod column;
mod folding;
mod gaps;
mod jigs;
#[cfg(test)]
mod tests;

pub use folding::Folding;
pub use gaps::Gaps;
pub use jigs::Jigs;

use super::Output;
use super::cutting::{file, printed};
use super::drawing::Sheet;
use super::table::{self, Table};
use crate::session::Checked;

/// The sheets of a kind as PDF and SVG, and its tables as CSV, workbook and JSON.
fn written(checked: &Checked, folder: &str, title: &str, sheets: &[Sheet], tables: &[Table]) -> Vec<Output> {
    let line = super::footer_line(checked);
    let mut outputs = printed(&format!("{folder}/{folder}"), title, sheets);
    for table in tables {
        outputs.push(Output::text(format!("{folder}/{}.csv", table.id), table.title.clone(), table::csv(table, &line)));
    }
    let json: Vec<serde_json::Value> = tables.iter().map(|table| table::json(table, &line)).collect();
    let text = serde_json::to_string_pretty(&json).unwrap_or_default() + "\n";
    outputs.push(Output::text(format!("{folder}/{folder}.json"), format!("{title}, for programs"), text));
    let book = table::workbook(title, tables, &line);
    let path = format!("{folder}/{folder}.xlsx");
    outputs.extend(book.map(|bytes| file(&path, &format!("{title}, as a workbook"), bytes)));
    outputs
}
