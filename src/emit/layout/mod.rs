//! What the bench and the lift mark by: holes of every trim, templates, furring, the story pole, the base line.

mod furring;
mod holes;
mod pole;
mod strips;
mod tables;
#[cfg(test)]
mod tests;
mod walls;

use super::drawing::{Paper, Sheet};
use super::papers::{self, printed};
use super::table::{self, Table};
use super::{Emitter, Output, footer_line, titles};
use crate::layout::story_pole;
use crate::layout::trims;
use crate::model::FaceId;
use crate::session::Checked;

/// Writes `layout/`.
pub struct LayoutSheets;

impl Emitter for LayoutSheets {
    fn id(&self) -> &'static str {
        "layout"
    }

    fn title(&self) -> &'static str {
        "Layout: holes, templates, furring, story pole, base line"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let (model, made) = (&checked.model, checked.trims());
        let templates = trims::templates(&made.list);
        let mut outputs = Vec::new();
        let mut all: Vec<Table> = Vec::new();
        for at in 0..model.faces.len() {
            let id = FaceId(at as u32);
            let name = model.face(id).map_or("", |face| face.name.as_str());
            let drawn = holes::sheets(checked, made, id);
            outputs.extend(printed(&format!("layout/holes-{name}"), &format!("holes, {name} wall"), &drawn));
        }
        let mut add = |path: &str, title: &str, tables: Vec<Table>| {
            let tables: Vec<Table> = tables.into_iter().filter(|table| !table.rows.is_empty()).collect();
            let sheets = tables
                .iter()
                .flat_map(|table| table::sheets(table, &table.id, Paper::A4, &titles::block(checked, &table.title)));
            let sheets: Vec<Sheet> = sheets.collect();
            all.extend(tables);
            printed(path, title, &sheets)
        };
        let faces = || (0..model.faces.len()).map(|at| FaceId(at as u32));
        outputs.extend(add(
            "layout/trims",
            "trims to cut",
            faces().map(|id| tables::trims(checked, made, id)).collect(),
        ));
        outputs.extend(add("layout/templates", "bench templates", tables::bench(checked, made, &templates)));
        outputs.extend(add("layout/furring", "furring", faces().map(|id| tables::furring(checked, id)).collect()));
        outputs.extend(add(
            "layout/base-line",
            "base lines",
            faces().flat_map(|id| [tables::base(checked, id), tables::base_choices(checked, id)]).collect(),
        ));
        let poles = story_pole::poles(&checked.model, &checked.plan);
        let listed = poles.iter().enumerate().map(|(at, one)| tables::pole(checked, one, at)).collect();
        outputs.extend(add("layout/story-pole", "marks of the story pole", listed));
        let drawn: Vec<Sheet> = poles.iter().enumerate().flat_map(|(at, one)| pole::sheets(checked, one, at)).collect();
        outputs.extend(printed("layout/pole", "story pole, drawn", &drawn));
        outputs.extend(printed("layout/strips", "strips at full size", &strips::sheets(checked, made, &templates)));
        let walls: Vec<Sheet> = faces().filter_map(|id| walls::sheet(checked, checked.pieces(), made, id)).collect();
        outputs.extend(printed("layout/walls", "walls with the mark of every piece", &walls));
        let maps: Vec<Sheet> = faces().filter_map(|id| furring::sheet(checked, id)).collect();
        outputs.extend(printed("layout/furring-map", "furring maps", &maps));
        let line = footer_line(checked);
        all.insert(0, tables::holes(made));
        outputs.extend(papers::listed("layout", &all, &line));
        outputs.push(papers::for_programs("layout/layout.json", "layout for programs", &all, &line));
        outputs.extend(papers::workbook("layout/layout.xlsx", "layout as a workbook", "Layout", &all, &line));
        outputs
    }
}
