//! How far the holes of a row stay from the furring strips beside them, and what shift would clear them.

use super::holes::{Hole, Support, strips_along, trim_line};
use crate::model::{Face, FaceId, HoleRow, Trim};
use crate::plan::{Plan, Run};
use crate::units::Length;

/// Strips that stand over a trim, left to right; none if nothing is known of its edge.
pub fn strips_over(plan: &Plan, id: FaceId, face: &Face, trim: &Trim) -> Vec<Support> {
    let runs: Vec<&Run> = plan.runs_of(id).map(|(_, run)| run).collect();
    trim_line(face, &runs, trim).map_or_else(Vec::new, |line| strips_along(plan, id, line))
}

/// From the edge of a hole to the nearest strip; negative where it lies on one. `None` without strips.
pub fn clearance(strips: &[Support], x: Length, row: &HoleRow) -> Option<Length> {
    let half = row.slot.unwrap_or(row.height) / 2;
    strips.iter().map(|strip| (strip.centre - x).abs() - strip.half - half).min()
}

/// The least shift to the right, in whole millimetres and less than the spacing, that keeps every hole `clear` of all strips.
pub fn shift(strips: &[Support], holes: &[Hole], row: &HoleRow, clear: Length) -> Option<Length> {
    let steps = (row.spacing?.0 / Length::MM.0).clamp(0, 2000);
    (1..steps)
        .map(Length::mm)
        .find(|&by| holes.iter().all(|hole| clearance(strips, hole.at.x + by, row).is_none_or(|left| left >= clear)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::source::Span;

    fn row(spacing: i64) -> HoleRow {
        HoleRow {
            purpose: "weep",
            height: Length::mm(8),
            slot: None,
            leg: None,
            on: None,
            between: None,
            spacing: Some(Length::mm(spacing)),
            first: None,
            end_distance: None,
            drilled: None,
            lip: None,
            origin: Span::default(),
        }
    }

    #[test]
    fn a_hole_on_a_strip_is_negative_and_a_shift_clears_it() {
        let strips = [0, 400, 800].map(|x| Support { centre: Length::mm(x), half: Length::mm(32) });
        let holes = [400, 800].map(|x| Hole { along: Length::mm(x), at: Point::mm(x, 0) });
        assert_eq!(clearance(&strips, Length::mm(400), &row(400)), Some(Length::mm(-36)));
        assert_eq!(clearance(&strips, Length::mm(600), &row(400)), Some(Length::mm(164)));
        assert_eq!(shift(&strips, &holes, &row(400), Length::mm(5)), Some(Length::mm(41)));
        assert_eq!(shift(&strips, &holes, &row(40), Length::mm(5)), None, "the spacing is less than a strip");
    }
}
