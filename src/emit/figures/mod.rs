//! Computed figures: one small page for each wall type and each face, a table, a file for programs; plots of studies beside them.

mod air;
mod heat_cut;
mod hourly;
mod moisture;
mod page;
mod rows;
mod text;
mod words;

pub use air::AirSheets;
pub use rows::Depth;
pub use text::{json, json_schema, text};

use super::drawing::Sheet;
use super::table::{self, Cell, Kind, Table, column};
use super::{Emitter, Output, footer_line, papers};
use crate::session::Checked;
use crate::units::System;
use words::Groups;

/// Sheets that a study draws beside its figures: file name without ending, title, sheets.
type Pages = fn(&Checked) -> Vec<(String, String, Vec<Sheet>)>;

/// What studies draw. One line each.
const PAGES: &[Pages] = &[air::pages, hourly::pages, heat_cut::pages, moisture::pages];

/// Writes `figures/`.
pub struct FigureSheets;

impl Emitter for FigureSheets {
    fn id(&self) -> &'static str {
        "figures"
    }

    fn title(&self) -> &'static str {
        "Numbers: what the walls come to, each with its source"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let groups = words::groups(&checked.model, checked.figures());
        if groups.is_empty() {
            return Vec::new();
        }
        let line = footer_line(checked);
        let mut outputs = Vec::new();
        for group in groups.iter() {
            let name = format!("figures/{}", file_name(&group.id));
            outputs.extend(papers::printed(&name, &format!("numbers, {}", group.title), &page::sheets(checked, group)));
        }
        for (name, title, sheets) in PAGES.iter().flat_map(|pages| pages(checked)) {
            outputs.extend(papers::printed(&format!("figures/{name}"), &title, &sheets));
        }
        let all = all(&groups);
        outputs.push(Output::text("figures/figures.csv", "numbers as a table", table::csv(&all, &line)));
        outputs.push(Output::text("figures/figures.json", "numbers for programs", json(checked)));
        let tables = std::slice::from_ref(&all);
        outputs.extend(papers::workbook("figures/figures.xlsx", "numbers as a workbook", "Numbers", tables, &line));
        outputs
    }

    fn schema(&self) -> Option<serde_json::Value> {
        Some(json_schema())
    }
}

/// Small letters, figures and `_`: `panel_wall(depth = 10 mm)` is `panel_wall_depth_10_mm`.
fn file_name(id: &str) -> String {
    let words = id.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join("_").to_lowercase()
}

/// Every figure, one a row, for a sheet of sums.
fn all(groups: &Groups<'_>) -> Table {
    let columns = vec![
        column("wall", "wall or face", Kind::Text),
        column("study", "of", Kind::Text),
        column("figure", "figure", Kind::Text),
        column("metric", "metric", Kind::Text),
        column("imperial", "imperial", Kind::Text),
        column("source", "by", Kind::Text),
        column("sure", "how sure", Kind::Text),
        column("missing", "missing", Kind::Text),
    ];
    let mut table = Table::new("figures", "Figures of walls and faces", columns);
    for group in groups.iter() {
        for studied in group.studies {
            let start = |title: String| [group.title.as_str().into(), words::study(studied.study).into(), title.into()];
            for figure in &studied.found.figures {
                let cells = [
                    words::value(figure, System::Metric, System::Metric).into(),
                    words::value(figure, System::Imperial, System::Metric).into(),
                    words::source(figure.source).into(),
                    words::sure(figure).into(),
                    Cell::Nothing,
                ];
                table.row(start(words::title(figure.what, &figure.of)).into_iter().chain(cells));
            }
            for missing in &studied.found.missing {
                let cells = [Cell::Nothing, Cell::Nothing, Cell::Nothing, Cell::Nothing, missing.fact.clone().into()];
                table.row(start(words::title(missing.what, &missing.of)).into_iter().chain(cells));
            }
        }
    }
    table
}
