//! What to buy, counted from areas, strips, stretches of edge and parts: each thing once, with its basis beside it.
//!
//! A take-off, not an order: nothing is packed into stock lengths here.

mod areas;
pub mod arithmetic;
mod edges;
mod fasteners;
mod points;
pub mod price;
mod row;
mod sheets;

#[cfg(test)]
mod tests;

pub use row::{Amount, Group, Row, Total, qualified};

use crate::model::{Face, FaceId, Model};
use crate::plan::{FacePlan, Plan};

/// What all counting reads.
struct Counting<'m> {
    model: &'m Model,
    plan: &'m Plan,
    rows: Vec<Row>,
}

/// A face being counted.
#[derive(Clone, Copy)]
struct Wall<'m> {
    id: FaceId,
    face: &'m Face,
    plan: &'m FacePlan,
}

/// Every row of the take-off: by face, then areas, edges, openings and holes, in the order of the files.
pub fn take_off(model: &Model, plan: &Plan) -> Vec<Row> {
    let mut counting = Counting { model, plan, rows: Vec::new() };
    for (index, (face, face_plan)) in model.faces.iter().zip(&plan.faces).enumerate() {
        let wall = Wall { id: FaceId(index as u32), face, plan: face_plan };
        areas::count(&mut counting, wall);
        edges::count(&mut counting, wall);
        points::count(&mut counting, wall);
    }
    row::merge(counting.rows)
}

/// Rows of one thing added up, sorted by group, supplier and name; measures of areas are no goods and are left out.
pub fn totals(rows: &[Row]) -> Vec<Total> {
    row::totals(rows)
}
