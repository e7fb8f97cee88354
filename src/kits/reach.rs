//! Where the machine cannot go, as rectangles on the faces.

use crate::continuity::along;
use crate::geometry::Bounds;
use crate::model::{FaceId, Model};
use crate::plan::Plan;

/// The places the machine does not reach, with their index in what the crew says.
pub(super) fn zones(model: &Model, plan: &Plan) -> Vec<(usize, FaceId, Bounds)> {
    let told = model.crew.iter().flat_map(|crew| crew.out_of_reach.iter().enumerate());
    let placed = told.filter_map(|(at, zone)| {
        let face = zone.face?;
        let wall = plan.face(face)?.outline.bounds()?;
        let (one, other) = (along(zone.from, wall, wall.left), along(zone.to, wall, wall.right));
        let (low, high) = (zone.above.unwrap_or(wall.bottom), zone.up_to.unwrap_or(wall.top));
        let bounds = Bounds { left: one.min(other), right: one.max(other), bottom: low.min(high), top: low.max(high) };
        Some((at, face, bounds))
    });
    placed.collect()
}

/// The first place out of reach that a piece lies in with more than its edge.
pub(super) fn unreached(zones: &[(usize, FaceId, Bounds)], face: FaceId, piece: Bounds) -> Option<usize> {
    let inside = |(low, high): (crate::units::Length, crate::units::Length), (from, to)| {
        low < to && from < high || low == high && from < low && low < to
    };
    let meets = |zone: Bounds| {
        inside((piece.left, piece.right), (zone.left, zone.right))
            && inside((piece.bottom, piece.top), (zone.bottom, zone.top))
    };
    zones.iter().find(|(_, on, zone)| *on == face && meets(*zone)).map(|(at, ..)| *at)
}
