//! What the saw works from: the list of pieces wall by wall, and the boards they come from, drawn with their cuts.

mod board;
mod bored;
mod drawn;
mod list;
mod lists;
pub(super) mod sheet;
mod sheets;
mod stock;
#[cfg(test)]
mod tests;

use super::drawing::{Paper, Sheet};
use super::papers::{self, printed};
use super::table::{self, Table};
use super::{Emitter, Output, footer_line, titles};
use crate::layout::cut_plans::ProductPlan;
use crate::layout::pieces::{Piece, Pieces, written};
use crate::layout::sheet_plans;
use crate::model::{FaceId, Model};
use crate::session::Checked;

/// Writes `cutting/`.
pub struct Cutting;

impl Emitter for Cutting {
    fn id(&self) -> &'static str {
        "cutting"
    }

    fn title(&self) -> &'static str {
        "Cutting: pieces and the boards they come from"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let (pieces, plans) = (checked.pieces(), checked.cut_plans());
        let line = footer_line(checked);
        let lists: Vec<Table> = faces(pieces).map(|face| list::of_face(&checked.model, pieces, face)).collect();
        let loose = lists::plans(checked);
        let sheet_plans = sheet_plans::of_building(&checked.model, &checked.plan, pieces);
        if lists.is_empty() && plans.products.is_empty() && loose.is_empty() && sheet_plans.is_empty() {
            return Vec::new();
        }
        let mut plan_tables: Vec<Table> =
            plans.products.iter().map(|plan| stock::table(&checked.model, &plans.parts, plan)).collect();
        plan_tables.extend(loose.iter().map(|(list, plan)| lists::table(list, plan)));
        let mut outputs = Vec::new();
        let sheets = list_sheets(checked, &lists);
        outputs.extend(printed("cutting/cut-list", "cut list, all walls", &sheets));
        let mut drawn: Vec<Sheet> =
            plans.products.iter().flat_map(|plan| stock::sheets(checked, &plans.parts, plan)).collect();
        drawn.extend(loose.iter().flat_map(|(list, plan)| lists::sheets(checked, list, plan)));
        let bored = bored::sheets(checked, pieces);
        if !bored.is_empty() {
            outputs.extend(printed("cutting/holes", "holes and notches in boards", &bored));
        }
        outputs.extend(printed("cutting/cut-plan", "boards and their cuts", &drawn));
        plan_tables.extend(sheet_plans.iter().map(|plan| sheets::table(&checked.model, plan)));
        let drawn: Vec<Sheet> = sheet_plans.iter().flat_map(|plan| sheets::sheets(checked, plan)).collect();
        outputs.extend(printed("cutting/sheet-layout", "sheets and their cuts", &drawn));
        let all: Vec<Table> = lists.into_iter().chain(plan_tables).collect();
        outputs.extend(papers::listed("cutting", &all, &line));
        let (json, book) = ("cut list and cut plan for programs", "cut list and cut plan as a workbook");
        outputs.push(papers::for_programs("cutting/cutting.json", json, &all, &line));
        outputs.extend(papers::workbook("cutting/cutting.xlsx", book, "Cutting", &all, &line));
        outputs
    }
}

fn list_sheets(checked: &Checked, lists: &[Table]) -> Vec<Sheet> {
    let sheets =
        lists.iter().flat_map(|list| table::sheets(list, &list.id, Paper::A4, &titles::block(checked, &list.title)));
    sheets.collect()
}

fn faces(pieces: &Pieces) -> impl Iterator<Item = FaceId> {
    let mut faces: Vec<FaceId> = pieces.list.iter().map(|piece| piece.face).collect();
    faces.dedup();
    faces.into_iter()
}

pub(super) fn face_name(model: &Model, face: FaceId) -> &str {
    model.face(face).map_or("", |face| face.name.as_str())
}

/// The mark with its hand, as it is written on the piece.
fn mark(piece: &Piece) -> String {
    written(&piece.mark, piece.hand)
}

/// What a plan is of.
fn product_name(model: &Model, plan: &ProductPlan) -> String {
    model.product(plan.product).map_or_else(String::new, |product| product.name.replace('_', " "))
}
