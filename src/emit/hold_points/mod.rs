//! The sheet for hold points: one page a face, with all that must be mended, found out and seen before each piece of work.
//! Only what stands on the face is asked for. A line that nobody has ticked is not a fault; it was not yet seen.

mod markup;
mod points;

#[cfg(test)]
mod tests;

use super::{Emitter, Output};
use crate::model::FaceId;
use crate::session::Checked;

pub use points::{Ask, Point, points};

/// Writes `hold-points/NAME.html` for every face, and `hold-points/building.html` where something is to be mended or found
/// out that belongs to no face.
pub struct HoldPoints;

impl Emitter for HoldPoints {
    fn id(&self) -> &'static str {
        "hold_points"
    }

    fn title(&self) -> &'static str {
        "Hold points: what eyes must see"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let faces = (0..checked.model.faces.len()).map(|at| FaceId(at as u32));
        let mut made: Vec<Output> = faces.filter_map(|face| page(checked, Some(face))).collect();
        made.extend(page(checked, None));
        made
    }

    fn schema(&self) -> Option<serde_json::Value> {
        None
    }
}

/// The page of a face; without one, of what belongs to no face, if there is anything.
fn page(checked: &Checked, face: Option<FaceId>) -> Option<Output> {
    let points = points(checked, face);
    let (file, title) = match face {
        Some(face) => {
            let name = checked.model.face(face)?.name.as_str();
            (name, format!("{name} wall, hold points"))
        }
        None if points.is_empty() => return None,
        None => ("building", "whole building, hold points".to_owned()),
    };
    let html = markup::page(checked, face, &title, &points).into_string();
    // A face may be called `building`; the page of the whole then stands aside.
    let taken = face.is_none() && checked.model.face_named(file).is_some();
    let path = format!("hold-points/{}{file}.html", if taken { "whole-" } else { "" });
    Some(Output::text(path, title, html))
}
