//! What the saw works from: the list of pieces wall by wall, and the boards they come from, drawn with their cuts.

mod board;
mod list;
mod lists;
mod stock;
#[cfg(test)]
mod tests;

use super::drawing::{Paper, Sheet, pdf};
use super::table::{self, Table};
use super::{Emitter, Output, footer_line, titles};
use crate::layout::cut_plans::{self, ProductPlan};
use crate::layout::pieces::{self, Piece, Pieces};
use crate::model::{FaceId, Model};
use crate::session::Checked;

/// Surface temperature for which pieces are cut, °C; the card of gaps says what to change on other days.
pub const CUT_FOR: f64 = 10.0;

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
        let pieces = pieces::cut(&checked.model, &checked.plan, CUT_FOR);
        let plans = cut_plans::of_pieces(&checked.model, &pieces);
        let line = footer_line(checked);
        let lists: Vec<Table> = faces(&pieces).map(|face| list::of_face(&checked.model, &pieces, face)).collect();
        let loose = lists::plans(checked);
        if lists.is_empty() && loose.is_empty() {
            return Vec::new();
        }
        let mut plan_tables: Vec<Table> =
            plans.iter().map(|plan| stock::table(&checked.model, &pieces, plan)).collect();
        plan_tables.extend(loose.iter().map(|(list, plan)| lists::table(list, plan)));
        let mut outputs = Vec::new();
        let sheets = list_sheets(checked, &lists);
        outputs.extend(printed("cutting/cut-list", "cut list, all walls", &sheets));
        let mut drawn: Vec<Sheet> = plans.iter().flat_map(|plan| stock::sheets(checked, &pieces, plan)).collect();
        drawn.extend(loose.iter().flat_map(|(list, plan)| lists::sheets(checked, list, plan)));
        outputs.extend(printed("cutting/cut-plan", "boards and their cuts", &drawn));
        for list in lists.iter().chain(&plan_tables) {
            outputs.push(Output::text(format!("cutting/{}.csv", list.id), list.title.clone(), table::csv(list, &line)));
        }
        let all: Vec<Table> = lists.into_iter().chain(plan_tables).collect();
        let json: Vec<serde_json::Value> = all.iter().map(|table| table::json(table, &line)).collect();
        let text = serde_json::to_string_pretty(&json).unwrap_or_default() + "\n";
        outputs.push(Output::text("cutting/cutting.json", "cut list and cut plan for programs", text));
        let book = table::workbook("Cutting", &all, &line);
        outputs.extend(book.map(|bytes| file("cutting/cutting.xlsx", "cut list and cut plan as a workbook", bytes)));
        outputs
    }
}

pub(super) fn file(path: &str, title: &str, bytes: Vec<u8>) -> Output {
    Output { path: path.to_owned(), bytes, title: title.to_owned() }
}

/// One PDF of all sheets for the printer, and each as SVG for a screen.
pub(super) fn printed(path: &str, title: &str, sheets: &[Sheet]) -> Vec<Output> {
    let mut outputs: Vec<Output> = Vec::new();
    if !sheets.is_empty() {
        outputs.extend(
            pdf::write(title, sheets).map(|bytes| file(&format!("{path}.pdf"), &format!("{title}, to print"), bytes)),
        );
    }
    for (at, sheet) in sheets.iter().enumerate() {
        outputs.push(Output::text(format!("{path}-{}.svg", at + 1), sheet.title.title.clone(), sheet.to_svg()));
    }
    outputs
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
    format!("{}{}", piece.mark, piece.hand.map_or("", |hand| hand.letter()))
}

/// What a plan is of.
fn product_name(model: &Model, plan: &ProductPlan) -> String {
    model.product(plan.product).map_or_else(String::new, |product| product.name.replace('_', " "))
}
