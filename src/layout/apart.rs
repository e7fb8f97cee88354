//! How far apart things on a face are, edge to edge.

use crate::geometry::{Bounds, Point, Vector};
use crate::model::Service;
use crate::units::Length;

/// The box around the hole of a service: its sleeve where it has one, else what passes. `None` if no size was said.
pub fn hole(service: &Service) -> Option<Bounds> {
    let width = service.sleeve.or(service.width)?;
    let height = service.sleeve.or(service.height).unwrap_or(width);
    let (x, y) = (service.at.x, service.at.y);
    Some(Bounds { left: x - width / 2, bottom: y - height / 2, right: x + width / 2, top: y + height / 2 })
}

/// The clear distance between two boxes; zero where they touch or overlap.
pub fn clear(one: Bounds, other: Bounds) -> Length {
    let across = (other.left - one.right).max(one.left - other.right).max(Length::ZERO);
    let up = (other.bottom - one.top).max(one.bottom - other.top).max(Length::ZERO);
    let step: Vector = Point::new(across, up) - Point::new(Length::ZERO, Length::ZERO);
    step.length()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: i64, y: i64) -> Bounds {
        let [left, bottom, right, top] = [x, y, x + 10, y + 10].map(Length::mm);
        Bounds { left, bottom, right, top }
    }

    #[test]
    fn between_edges_and_across_corners() {
        assert_eq!(clear(square(0, 0), square(50, 0)), Length::mm(40));
        assert_eq!(clear(square(0, 0), square(40, 50)), Length::mm(50)); // 30, 40, 50
        assert_eq!(clear(square(0, 0), square(5, 5)), Length::ZERO);
    }
}
