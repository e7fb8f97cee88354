//! Where water rests and where air rises to: floors, ceilings, low points and high points of a polygon's boundary.

use super::point::{Point, Vector, orient};
use super::polygon::{Edge, Polygon, Ring};
use super::segment::Segment;
use crate::units::Length;

/// A lowest (or highest) piece of boundary: from it the boundary rises (falls) both ways and the interior lies above
/// (below). A corner, or a level stretch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LevelPoint {
    /// 0 for the outline, 1 for the first hole and so on.
    pub ring: usize,
    /// The corner, or the left end of the level stretch.
    pub at: Point,
    /// The level edges, each as it runs on the boundary; empty for a mere corner.
    pub level: Vec<Edge>,
}

impl LevelPoint {
    /// Its stretch from left to right; from and to the same point for a corner.
    pub fn span(&self) -> (Length, Length) {
        let xs = || self.level.iter().flat_map(|edge| [edge.segment.from.x, edge.segment.to.x]);
        (xs().min().unwrap_or(self.at.x), xs().max().unwrap_or(self.at.x))
    }

    /// Its height.
    pub fn y(&self) -> Length {
        self.at.y
    }
}

/// Edges with the interior above them, level or sloped but not plumb, in order of ring and index.
pub fn floors(polygon: &Polygon) -> Vec<Edge> {
    polygon.edges().filter(|edge| edge.segment.is_floor()).collect()
}

/// Edges with the interior below them, level or sloped but not plumb, in order of ring and index.
pub fn ceilings(polygon: &Polygon) -> Vec<Edge> {
    polygon.edges().filter(|edge| edge.segment.is_ceiling()).collect()
}

/// Where water that runs down inside the polygon comes to rest: every corner or level stretch with interior above from
/// which the boundary rises both ways. The flat top of a hole is none, its ends drop away; a notch in the top of a hole is.
pub fn low_points(polygon: &Polygon) -> Vec<LevelPoint> {
    points(polygon, |vector| vector)
}

/// Where air that rises inside the polygon is held: the mirror image of [`low_points`].
pub fn high_points(polygon: &Polygon) -> Vec<LevelPoint> {
    // Half a turn, which keeps the interior to the left.
    points(polygon, |vector| -vector)
}

fn points(polygon: &Polygon, turn: fn(Vector) -> Vector) -> Vec<LevelPoint> {
    let mut found: Vec<LevelPoint> =
        polygon.rings().enumerate().flat_map(|(index, ring)| ring_points(index, ring, turn)).collect();
    found.sort_by_key(|point| (point.ring, point.at));
    found
}

/// Walks a ring once, from an edge that goes down, and closes a chain at each edge that goes up again.
fn ring_points(index: usize, ring: &Ring, turn: fn(Vector) -> Vector) -> Vec<LevelPoint> {
    let edges: Vec<Edge> =
        ring.edges().enumerate().map(|(edge, segment)| Edge { ring: index, index: edge, segment }).collect();
    let step = |edge: &Edge| turn(edge.segment.vector());
    let Some(start) = edges.iter().position(|edge| step(edge).dy < Length::ZERO) else { return Vec::new() };
    let mut found = Vec::new();
    let mut down: Option<Segment> = None;
    let mut level: Vec<Edge> = Vec::new();
    for edge in edges.iter().cycle().skip(start).take(edges.len()) {
        let vector = step(edge);
        if vector.is_zero() {
            continue;
        }
        if vector.dy < Length::ZERO {
            down = Some(edge.segment);
            level.clear();
        } else if vector.dy == Length::ZERO {
            level.push(*edge);
        } else if let Some(before) = down.take() {
            let level = std::mem::take(&mut level);
            found.extend(chain(index, before, level, edge.segment, turn));
        }
    }
    found
}

/// The level point between an edge that goes down and one that goes up, if the interior lies on the right side of it.
fn chain(
    ring: usize,
    before: Segment,
    level: Vec<Edge>,
    after: Segment,
    turn: fn(Vector) -> Vector,
) -> Option<LevelPoint> {
    let holds = if level.is_empty() {
        orient(before.from, before.to, after.to).is_gt()
    } else {
        level.iter().all(|edge| turn(edge.segment.vector()).dx > Length::ZERO)
    };
    let left = level.iter().flat_map(|edge| [edge.segment.from, edge.segment.to]).min().unwrap_or(before.to);
    holds.then_some(LevelPoint { ring, at: left, level })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(corners: &[(i64, i64)]) -> Ring {
        Ring::new(corners.iter().map(|&(x, y)| Point::mm(x, y)).collect())
    }

    fn places(points: &[LevelPoint]) -> Vec<(usize, Point, usize)> {
        points.iter().map(|point| (point.ring, point.at, point.level.len())).collect()
    }

    #[test]
    fn a_rectangle_has_one_floor_and_one_ceiling() {
        let wall = Polygon::rectangle(Length::ZERO, Length::ZERO, Length::mm(10), Length::mm(5));
        assert_eq!(places(&low_points(&wall)), [(0, Point::mm(0, 0), 1)]);
        assert_eq!(places(&high_points(&wall)), [(0, Point::mm(0, 5), 1)]);
        assert_eq!(low_points(&wall)[0].span(), (Length::ZERO, Length::mm(10)));
        assert_eq!(floors(&wall).len(), 1);
        assert_eq!(ceilings(&wall)[0].segment, Segment::new(Point::mm(10, 5), Point::mm(0, 5)));
    }

    #[test]
    fn a_stepped_base_has_a_low_point_a_step() {
        // Two pits either side of a hump: floors at 0 (x 0–4), hump at 3 (x 4–6), floor at 1 (x 6–10).
        let wall = Polygon::new(ring(&[(0, 0), (4, 0), (4, 3), (6, 3), (6, 1), (10, 1), (10, 9), (0, 9)]), vec![]);
        assert_eq!(places(&low_points(&wall)), [(0, Point::mm(0, 0), 1), (0, Point::mm(6, 1), 1)]);
        assert_eq!(floors(&wall).len(), 3);
        // A single step down to the right: only the lower floor holds water.
        let step = Polygon::new(ring(&[(0, 2), (5, 2), (5, 0), (10, 0), (10, 9), (0, 9)]), vec![]);
        assert_eq!(places(&low_points(&step)), [(0, Point::mm(5, 0), 1)]);
    }

    #[test]
    fn a_gable_holds_air_in_its_peak_and_a_sloped_base_water_in_its_corner() {
        let gable = Polygon::new(ring(&[(0, 1), (10, 0), (10, 5), (5, 9), (0, 5)]), vec![]);
        assert_eq!(places(&low_points(&gable)), [(0, Point::mm(10, 0), 0)]);
        assert_eq!(places(&high_points(&gable)), [(0, Point::mm(5, 9), 0)]);
        assert_eq!(floors(&gable).len(), 1);
        assert_eq!(ceilings(&gable).len(), 2);
        // A notch from above into the wall is no low point of the wall, but makes two high points.
        let notched = Polygon::new(ring(&[(0, 0), (10, 0), (10, 5), (5, 2), (0, 5)]), vec![]);
        assert_eq!(places(&low_points(&notched)), [(0, Point::mm(0, 0), 1)]);
        assert_eq!(places(&high_points(&notched)), [(0, Point::mm(0, 5), 0), (0, Point::mm(10, 5), 0)]);
    }

    #[test]
    fn a_flat_head_sheds_water_and_a_notch_in_it_holds_some() {
        let outline = ring(&[(0, 0), (20, 0), (20, 20), (0, 20)]);
        let window = Polygon::new(outline.clone(), vec![ring(&[(5, 5), (10, 5), (10, 12), (5, 12)])]);
        assert_eq!(places(&low_points(&window)), [(0, Point::mm(0, 0), 1)]);
        assert_eq!(places(&high_points(&window)), [(0, Point::mm(0, 20), 1)]);
        assert_eq!(floors(&window).iter().filter(|edge| edge.ring == 1).count(), 1);
        let notched = ring(&[(5, 5), (11, 5), (11, 12), (8, 10), (5, 12)]);
        let window = Polygon::new(outline.clone(), vec![notched]);
        assert_eq!(places(&low_points(&window)), [(0, Point::mm(0, 0), 1), (1, Point::mm(8, 10), 0)]);
        // A flat-bottomed trough in the head, and an upstand at one end only.
        let trough = ring(&[(5, 5), (13, 5), (13, 12), (11, 12), (11, 10), (7, 10), (7, 12), (5, 12)]);
        let window = Polygon::new(outline.clone(), vec![trough]);
        let found = low_points(&window);
        assert_eq!(places(&found), [(0, Point::mm(0, 0), 1), (1, Point::mm(7, 10), 1)]);
        assert_eq!(found[1].span(), (Length::mm(7), Length::mm(11)));
        let upstand = ring(&[(5, 5), (13, 5), (13, 12), (11, 12), (11, 10), (5, 10)]);
        assert_eq!(low_points(&Polygon::new(outline, vec![upstand])).len(), 1);
    }

    #[test]
    fn floors_in_several_level_edges_are_one_low_point() {
        let wall = Polygon::new(ring(&[(0, 0), (3, 0), (7, 0), (9, 0), (9, 4), (0, 4)]), vec![]);
        let found = low_points(&wall);
        assert_eq!(places(&found), [(0, Point::mm(0, 0), 3)]);
        assert_eq!(found[0].span(), (Length::ZERO, Length::mm(9)));
    }
}
