//! Computed figures: one small page for each wall type and each face, a table, a file for programs; plots of studies beside them.

mod heat_cut;
mod hourly;
mod moisture;
mod text;
mod words;

pub use text::{json, json_schema, text};

use super::drawing::{Paper, Sheet};
use super::table::{self, Cell, Kind, Table, column};
use super::{Emitter, Output, footer_line, papers, titles};
use crate::figures::Value;
use crate::session::Checked;
use crate::units::System;
use words::Group;

/// Sheets that a study draws beside its figures: file name without ending, title, sheets.
type Pages = fn(&Checked) -> Vec<(String, String, Vec<Sheet>)>;

/// What studies draw. One line each.
const PAGES: &[Pages] = &[hourly::pages, heat_cut::pages, moisture::pages];

/// Writes `figures/`.
pub struct FigureSheets;

impl Emitter for FigureSheets {
    fn id(&self) -> &'static str {
        "figures"
    }

    fn title(&self) -> &'static str {
        "Figures: what the walls come to, each with its source"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let groups = words::groups(&checked.model, checked.figures());
        if groups.is_empty() {
            return Vec::new();
        }
        let line = footer_line(checked);
        let mut outputs = Vec::new();
        for group in &groups {
            let name = format!("figures/{}", file_name(&group.id));
            outputs.extend(papers::printed(&name, &format!("figures, {}", group.title), &sheets(checked, group)));
        }
        for (name, title, sheets) in PAGES.iter().flat_map(|pages| pages(checked)) {
            outputs.extend(papers::printed(&format!("figures/{name}"), &title, &sheets));
        }
        let all = all(&groups);
        outputs.push(Output::text("figures/figures.csv", "figures as a table", table::csv(&all, &line)));
        outputs.push(Output::text("figures/figures.json", "figures for programs", json(checked)));
        let tables = std::slice::from_ref(&all);
        outputs.extend(papers::workbook("figures/figures.xlsx", "figures as a workbook", "Figures", tables, &line));
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

/// A page a person reads: few numbers, large, each with what it is by and how sure it is.
fn sheets(checked: &Checked, group: &Group<'_>) -> Vec<Sheet> {
    let lead = checked.model.project.units;
    let columns = vec![
        column("figure", "figure", Kind::Text),
        column("value", "", Kind::Mark),
        column("other", "or", Kind::Mark),
        column("source", "by, and how sure", Kind::Text),
    ];
    let id = file_name(&group.id);
    let mut table = Table::new(id.clone(), format!("Figures, {}", group.title), columns);
    if !group.place.is_empty() {
        table.notes.push(format!("stands on: {}", group.place));
    }
    for studied in group.studies {
        for figure in &studied.found.figures {
            let (title, value) = (words::title(figure.what, &figure.of), words::value(figure, lead, lead));
            // Words in large letters would leave no room for the columns beside them.
            let in_words = matches!(figure.value, Value::Word(_));
            let (title, value) = if in_words { (format!("{title}: {value}"), String::new()) } else { (title, value) };
            table.row([
                title.into(),
                value.into(),
                words::value(figure, lead.other(), lead).into(),
                format!("{}; {}", words::source(figure.source), words::sure(figure)).into(),
            ]);
        }
        for missing in &studied.found.missing {
            table.row([
                words::title(missing.what, &missing.of).into(),
                "can't tell".into(),
                Cell::Nothing,
                format!("missing: {}", missing.fact).into(),
            ]);
        }
    }
    table::sheets(&table, &format!("figures-{id}"), Paper::A4, &titles::block(checked, &table.title))
}

/// Every figure, one a row, for a sheet of sums.
fn all(groups: &[Group<'_>]) -> Table {
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
    for group in groups {
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
