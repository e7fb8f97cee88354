//! The elevation of a face, true to scale: the wall as it will be seen, measured both ways in both units, with the
//! faults chalked where they are; and a second sheet with its furring.

mod air;
mod canvas;
mod chalk;
mod faults;
mod figures;
mod furring;
mod near;
mod openings;
mod things;
mod traced;
mod wall;

#[cfg(test)]
mod tests;

use super::drawing::{Item, Sheet};
use super::{Emitter, Output};
use crate::model::FaceId;
use crate::session::{Checked, Wall};
use canvas::Canvas;

pub use air::air;
pub(super) use canvas::capital;
pub(super) use figures::spread;
pub use near::{Thing, near, small};
pub use traced::traced;

/// Draws `elevations/NAME.svg` for every face with an outline, `elevations/NAME-furring.svg` where there are strips, and
/// `elevations/NAME-faults.svg` where the faults do not fit beside the wall.
pub struct Elevations;

impl Emitter for Elevations {
    fn id(&self) -> &'static str {
        "elevations"
    }

    fn title(&self) -> &'static str {
        "Elevations"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let sheets = (0..checked.model.faces.len()).flat_map(|face| sheets(checked, FaceId(face as u32)));
        sheets.map(|sheet| output(&sheet)).collect()
    }

    fn schema(&self) -> Option<serde_json::Value> {
        None
    }
}

/// The sheets of one face; none for a face whose outline could not be made.
pub fn sheets<'w>(wall: impl Into<Wall<'w>>, face: FaceId) -> Vec<Sheet> {
    let (wall, mut sheets) = (wall.into(), Vec::new());
    let Some(canvas) = Canvas::new(wall, face, "") else { return sheets };
    let (sheet, rest) = elevation(canvas);
    sheets.push(sheet);
    sheets.extend(Canvas::new(wall, face, "furring").and_then(furring::sheet));
    sheets.extend(faults::rest(wall, face, rest));
    sheets
}

/// The elevation of a face by itself; `None` if its outline could not be made.
pub fn sheet<'w>(wall: impl Into<Wall<'w>>, face: FaceId) -> Option<Sheet> {
    Some(elevation(Canvas::new(wall.into(), face, "")?).0)
}

fn output(sheet: &Sheet) -> Output {
    Output::text(format!("elevations/{}.svg", sheet.id), sheet.title.title.to_lowercase(), sheet.to_svg())
}

/// The sheet, and how many faults had room beside the wall.
fn elevation(mut canvas: Canvas<'_>) -> (Sheet, usize) {
    let faults = faults::of_face(canvas.wall, canvas.id);
    // Words take their places in the order of their weight; lines are laid from back to front.
    canvas.reserve();
    let figures = figures::draw(&mut canvas);
    chalk::reserve(&mut canvas, &faults);
    let openings = openings::draw(&mut canvas);
    let chalk = chalk::draw(&mut canvas, &faults);
    let things = things::draw(&mut canvas);
    let corners = figures::corners(&mut canvas);
    let names = wall::names(&mut canvas);
    let shown = faults::list(&mut canvas, &faults, "on this wall");
    let ground = wall::ground(&mut canvas);
    for item in ground.into_iter().chain(wall::surface(&canvas)) {
        canvas.sheet.push(item);
    }
    let outline = wall::outline(&canvas);
    for item in [vec![figures.behind], openings, vec![outline], things, names, figures.front, corners, chalk].concat() {
        canvas.sheet.push(item);
    }
    canvas.sheet.push(Item::group("list", shown.items));
    (canvas.sheet, shown.count)
}
