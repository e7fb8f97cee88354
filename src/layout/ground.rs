//! How far the lower edge of a wall stays above the ground, a roof or a deck, along the whole of it.

use crate::geometry::{Bounds, Point, Segment};
use crate::model::{Face, Where};
use crate::units::Length;

/// A stretch of a wall's lower edge that is too near to what lies below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Near {
    /// Its left end, on the edge of the wall.
    pub from: Point,
    /// Its right end.
    pub to: Point,
    /// The worst place, on the edge of the wall.
    pub worst: Point,
    /// Clearance there; negative where the wall lies below the ground.
    pub clearance: Length,
}

/// The ground in front of a face: measured places from left to right, one for each x (the higher of two). Between them it is
/// straight, beyond them level. Empty if nothing was said.
pub fn ground_line(face: &Face) -> Vec<Point> {
    let mut points: Vec<Point> = face.ground.iter().flat_map(|ground| ground.points.iter().copied()).collect();
    points.sort_by_key(|point| (point.x, -point.y));
    points.dedup_by_key(|point| point.x);
    points
}

/// What will lie on the ground later: from, to and how much it adds.
pub fn planned(face: &Face) -> Vec<(Length, Length, Length)> {
    let bounds = face.outline.as_ref().and_then(|ring| ring.bounds()).unwrap_or_default();
    let all = face.ground.iter().flat_map(|ground| &ground.planned);
    all.map(|planned| {
        let from = planned.from.map_or(bounds.left, |place| x_of(place, bounds));
        let to = planned.to.map_or(bounds.right, |place| x_of(place, bounds));
        (from.min(to), from.max(to), planned.depth)
    })
    .collect()
}

fn x_of(place: Where, bounds: Bounds) -> Length {
    match place {
        Where::Left => bounds.left,
        Where::Right => bounds.right,
        Where::Centre => (bounds.left + bounds.right) / 2,
        Where::At(x) => x,
    }
}

/// Height of a line of points at `x`; level beyond its ends. `None` without points.
pub fn height(points: &[Point], x: Length) -> Option<Length> {
    let (first, last) = (points.first()?, points.last()?);
    if x <= first.x {
        return Some(first.y);
    }
    if x >= last.x {
        return Some(last.y);
    }
    points.windows(2).find_map(|pair| match pair {
        [a, b] if a.x <= x && x <= b.x => Segment::new(*a, *b).y_at(x),
        _ => None,
    })
}

/// Stretches of a lower edge that stay less than `wanted` above what lies below (`below`, raised by `raises`), left to right.
/// Neighbouring stretches are one. Plumb edges have none.
pub fn too_near(edge: Segment, below: &[Point], raises: &[(Length, Length, Length)], wanted: Length) -> Vec<Near> {
    let (left, right) = (edge.from.x.min(edge.to.x), edge.from.x.max(edge.to.x));
    let mut marks = vec![left, right];
    marks.extend(below.iter().map(|point| point.x));
    marks.extend(raises.iter().flat_map(|&(from, to, _)| [from, to]));
    marks.retain(|&x| left <= x && x <= right);
    marks.sort_unstable();
    marks.dedup();
    let mut found: Vec<Near> = Vec::new();
    for pair in marks.windows(2) {
        let [a, b] = pair else { continue };
        let middle = *a + (*b - *a) / 2;
        let raise: Length = raises.iter().filter(|r| r.0 <= middle && middle <= r.1).map(|r| r.2).sum();
        let at = |x: Length| Some((edge.y_at(x)?, edge.y_at(x)? - height(below, x)? - raise));
        let (Some(start), Some(end)) = (at(*a), at(*b)) else { continue };
        if let Some(near) = piece((*a, start), (*b, end), wanted) {
            join(&mut found, near);
        }
    }
    found
}

/// The part of one straight piece that is too near: clearances at both ends are known and change evenly between.
fn piece(a: (Length, (Length, Length)), b: (Length, (Length, Length)), wanted: Length) -> Option<Near> {
    let ((xa, (ya, ca)), (xb, (yb, cb))) = (a, b);
    if ca >= wanted && cb >= wanted {
        return None;
    }
    let crossing = |value: Length, other: Length| value + (other - value).scale((wanted - ca).0, (cb - ca).0.max(1));
    let back = |value: Length, other: Length| value + (other - value).scale((wanted - cb).0, (ca - cb).0.max(1));
    let from = if ca >= wanted { Point::new(back(xb, xa), back(yb, ya)) } else { Point::new(xa, ya) };
    let to = if cb >= wanted { Point::new(crossing(xa, xb), crossing(ya, yb)) } else { Point::new(xb, yb) };
    let (worst, clearance) = if ca <= cb { (Point::new(xa, ya), ca) } else { (Point::new(xb, yb), cb) };
    (from.x < to.x).then_some(Near { from, to, worst, clearance })
}

fn join(found: &mut Vec<Near>, near: Near) {
    match found.last_mut() {
        Some(last) if last.to.x == near.from.x => {
            last.to = near.to;
            if near.clearance < last.clearance {
                (last.worst, last.clearance) = (near.worst, near.clearance);
            }
        }
        _ => found.push(near),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn edge(y0: i64, y1: i64) -> Segment {
        Segment::new(Point::mm(0, y0), Point::mm(10_000, y1))
    }

    #[test]
    fn ground_that_rises_to_the_right_is_too_near_from_where_it_crosses_the_limit() {
        // 300 below at the left, 100 below at the right: 200 at the middle.
        let ground = [Point::mm(0, -300), Point::mm(10_000, -100)];
        let found = too_near(edge(0, 0), &ground, &[], Length::mm(200));
        let wanted = Near {
            from: Point::mm(5_000, 0),
            to: Point::mm(10_000, 0),
            worst: Point::mm(10_000, 0),
            clearance: Length::mm(100),
        };
        assert_eq!(found, [wanted]);
    }

    #[test]
    fn a_wall_that_falls_with_its_ground_keeps_its_clearance() {
        let ground = [Point::mm(0, -200), Point::mm(10_000, -700)];
        assert!(too_near(edge(0, -500), &ground, &[], Length::mm(200)).is_empty());
        let found = too_near(edge(0, -500), &ground, &[], Length::mm(201));
        assert_eq!((found[0].from.x, found[0].to.x), (Length::ZERO, Length::mm(10_000)));
    }

    #[test]
    fn a_hump_and_a_bed_are_two_stretches_or_one() {
        let ground = [Point::mm(0, -400), Point::mm(2_000, -400), Point::mm(3_000, -100), Point::mm(4_000, -400)];
        let bed = [(Length::mm(6_000), Length::mm(8_000), Length::mm(250))];
        let found = too_near(edge(0, 0), &ground, &bed, Length::mm(200));
        let ends: Vec<_> = found.iter().map(|near| (near.from.x.as_mm(), near.to.x.as_mm(), near.clearance)).collect();
        // The hump is 200 below at 2667 and at 3333: a third of the way from its top.
        assert!((ends[0].0 - 2666.667).abs() < 0.001 && (ends[0].1 - 3333.333).abs() < 0.001, "{ends:?}");
        assert_eq!(ends[0].2, Length::mm(100));
        assert_eq!(ends[1], (6000.0, 8000.0, Length::mm(150)));
        assert_eq!(too_near(edge(0, 0), &ground, &[], Length::mm(401)).len(), 1, "level beyond the last place");
        assert!(too_near(edge(0, 0), &[], &[], Length::mm(200)).is_empty(), "nothing is known");
    }
}
