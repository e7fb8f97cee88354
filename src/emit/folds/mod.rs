//! What the bench and the brake work from: cards of jigs, of folded metal, and of the gaps of the day.

pub(super) mod column;
mod flat;
mod folding;
mod gaps;
mod jigs;
#[cfg(test)]
mod tests;

pub use folding::Folding;
pub use gaps::Gaps;
pub use jigs::Jigs;

use super::Output;
use super::drawing::Sheet;
use super::papers::{self, printed};
use super::table::Table;
use crate::session::Checked;

/// The sheets of a kind as PDF and SVG, and its tables as CSV, workbook and JSON.
pub(super) fn written(checked: &Checked, folder: &str, title: &str, sheets: &[Sheet], tables: &[Table]) -> Vec<Output> {
    let line = super::footer_line(checked);
    let mut outputs = printed(&format!("{folder}/{folder}"), title, sheets);
    outputs.extend(papers::listed(folder, tables, &line));
    let json = (format!("{folder}/{folder}.json"), format!("{title}, for programs"));
    outputs.push(papers::for_programs(&json.0, &json.1, tables, &line));
    let book = (format!("{folder}/{folder}.xlsx"), format!("{title}, as a workbook"));
    outputs.extend(papers::workbook(&book.0, &book.1, title, tables, &line));
    outputs
}
