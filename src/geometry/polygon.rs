//! Rings and polygons with holes: area, bounds, what lies inside, and edges that know where the interior is.

use std::cmp::Ordering;

use super::point::{Point, Vector, orient, times};
use super::segment::Segment;
use crate::units::{Area, Length};

/// A closed ring of points; the first is not repeated at the end. Counter-clockwise as an outline, clockwise as a hole.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ring {
    points: Vec<Point>,
}

/// A simple outline less its holes. The interior lies to the left of every edge.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Polygon {
    outline: Ring,
    holes: Vec<Ring>,
}

/// One edge of a polygon's boundary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edge {
    /// 0 for the outline, 1 for the first hole and so on.
    pub ring: usize,
    /// Which edge of that ring; edge `n` starts at point `n`.
    pub index: usize,
    /// Its stretch, with the interior to the left.
    pub segment: Segment,
}

/// Where a point lies with respect to a polygon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Strictly inside.
    Inside,
    /// On an edge or a corner.
    Boundary,
    /// Strictly outside, or inside a hole.
    Outside,
}

/// The upright rectangle that just holds a shape.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Bounds {
    /// Least x.
    pub left: Length,
    /// Least y.
    pub bottom: Length,
    /// Greatest x.
    pub right: Length,
    /// Greatest y.
    pub top: Length,
}

impl Bounds {
    /// Around points; `None` when there are none.
    pub fn around(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        points.into_iter().map(|at| Self { left: at.x, bottom: at.y, right: at.x, top: at.y }).reduce(Self::with)
    }

    /// The box that holds both.
    pub fn with(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            bottom: self.bottom.min(other.bottom),
            right: self.right.max(other.right),
            top: self.top.max(other.top),
        }
    }

    /// Along the wall.
    pub fn width(self) -> Length {
        Length(self.right.0.saturating_sub(self.left.0))
    }

    /// Up.
    pub fn height(self) -> Length {
        Length(self.top.0.saturating_sub(self.bottom.0))
    }
}

impl Ring {
    /// Takes points as they are; see [`super::check_simple`] for points a person gave.
    pub fn new(points: Vec<Point>) -> Self {
        Self { points }
    }

    /// Its corners in order.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// Its edges in order; edge `n` starts at point `n`.
    pub fn edges(&self) -> impl Iterator<Item = Segment> + Clone + '_ {
        let ends = self.points.iter().cycle().skip(1);
        self.points.iter().zip(ends).map(|(&from, &to)| Segment { from, to })
    }

    /// The edge that starts at point `index`.
    pub fn edge(&self, index: usize) -> Option<Segment> {
        let from = *self.points.get(index)?;
        let to = *self.points.get(index + 1).or_else(|| self.points.first())?;
        Some(Segment { from, to })
    }

    /// Twice its signed area in nm²: positive when counter-clockwise. Doubled, because half a square nanometre is not whole.
    pub fn doubled_area(&self) -> i128 {
        let Some(&origin) = self.points.first() else { return 0 };
        self.edges().fold(0, |sum, edge| sum.saturating_add((edge.from - origin).cross(edge.to - origin)))
    }

    /// The area it encloses, without sign.
    pub fn area(&self) -> Area {
        Area(self.doubled_area().saturating_abs() / 2)
    }

    /// Whether it turns counter-clockwise.
    pub fn is_counter_clockwise(&self) -> bool {
        self.doubled_area() > 0
    }

    /// The box around it.
    pub fn bounds(&self) -> Option<Bounds> {
        Bounds::around(self.points.iter().copied())
    }

    /// The sum of its edges' lengths, each rounded to the nanometre.
    pub fn perimeter(&self) -> Length {
        Length(self.edges().fold(0, |sum: i64, edge| sum.saturating_add(edge.length().0)))
    }

    /// Where the point lies with respect to what the ring encloses, whichever way it turns. Exact.
    pub fn place(&self, point: Point) -> Place {
        let mut inside = false;
        for edge in self.edges() {
            if edge.holds(point) {
                return Place::Boundary;
            }
            if (edge.from.y > point.y) != (edge.to.y > point.y) {
                let upward = edge.to.y > edge.from.y;
                let side = orient(edge.from, edge.to, point);
                inside ^= side == if upward { Ordering::Greater } else { Ordering::Less };
            }
        }
        if inside { Place::Inside } else { Place::Outside }
    }

    /// Turned counter-clockwise (an outline) or clockwise (a hole), starting at its lowest point, the leftmost of those.
    fn turned(mut self, counter_clockwise: bool) -> Self {
        if self.is_counter_clockwise() != counter_clockwise {
            self.points.reverse();
        }
        let lowest = self.points.iter().enumerate().min_by_key(|(_, at)| (at.y, at.x)).map_or(0, |(index, _)| index);
        self.points.rotate_left(lowest);
        self
    }
}

impl Polygon {
    /// An outline less holes that lie inside it and apart from each other. Winding is mended, each ring starts at its
    /// lowest point (the leftmost of those), and holes are sorted, so that equal shapes compare equal.
    pub fn new(outline: Ring, holes: Vec<Ring>) -> Self {
        let mut holes: Vec<Ring> = holes.into_iter().map(|hole| hole.turned(false)).collect();
        holes.sort_by_cached_key(|hole| (hole.bounds().map(|bounds| (bounds.left, bounds.bottom)), hole.clone()));
        Self { outline: outline.turned(true), holes }
    }

    /// An upright rectangle between two opposite corners, given in any order.
    pub fn rectangle(x0: Length, y0: Length, x1: Length, y1: Length) -> Self {
        let (left, right, bottom, top) = (x0.min(x1), x0.max(x1), y0.min(y1), y0.max(y1));
        let corners = [(left, bottom), (right, bottom), (right, top), (left, top)];
        Self { outline: Ring::new(corners.map(|(x, y)| Point { x, y }).to_vec()), holes: Vec::new() }
    }

    /// The outer ring, counter-clockwise.
    pub fn outline(&self) -> &Ring {
        &self.outline
    }

    /// The holes, clockwise.
    pub fn holes(&self) -> &[Ring] {
        &self.holes
    }

    /// The outline, then the holes.
    pub fn rings(&self) -> impl Iterator<Item = &Ring> + Clone {
        std::iter::once(&self.outline).chain(&self.holes)
    }

    /// Every edge of the outline and the holes, with the interior to its left.
    pub fn edges(&self) -> impl Iterator<Item = Edge> + Clone + '_ {
        self.rings().enumerate().flat_map(|(ring, points)| {
            points.edges().enumerate().map(move |(index, segment)| Edge { ring, index, segment })
        })
    }

    /// Twice its area in nm²: exact for any whole coordinates.
    pub fn doubled_area(&self) -> i128 {
        self.rings().fold(0, |sum, ring| sum.saturating_add(ring.doubled_area()))
    }

    /// Its area, holes taken off. Exact for upright edges; a left-over half nm² of an oblique shape is dropped.
    pub fn area(&self) -> Area {
        Area(self.doubled_area() / 2)
    }

    /// The box around it; all zero for an empty polygon.
    pub fn bounds(&self) -> Bounds {
        self.outline.bounds().unwrap_or_default()
    }

    /// The length of its boundary, holes included.
    pub fn perimeter(&self) -> Length {
        Length(self.rings().fold(0, |sum: i64, ring| sum.saturating_add(ring.perimeter().0)))
    }

    /// Where the point lies. Exact.
    pub fn place(&self, point: Point) -> Place {
        let outer = self.outline.place(point);
        if outer != Place::Inside {
            return outer;
        }
        for hole in &self.holes {
            match hole.place(point) {
                Place::Inside => return Place::Outside,
                Place::Boundary => return Place::Boundary,
                Place::Outside => {}
            }
        }
        Place::Inside
    }

    /// Centre of area in millimetres (x, y); the middle of the bounds for a polygon of no area.
    pub fn centroid_mm(&self) -> (f64, f64) {
        let bounds = self.bounds();
        let origin = Point::new(bounds.left, bounds.bottom);
        let (mut doubled, mut sum_x, mut sum_y) = (0.0, 0.0, 0.0);
        for edge in self.edges() {
            let (a, b) = (edge.segment.from - origin, edge.segment.to - origin);
            let cross = a.cross(b) as f64 / 1e12;
            doubled += cross;
            sum_x += (a.dx.as_mm() + b.dx.as_mm()) * cross;
            sum_y += (a.dy.as_mm() + b.dy.as_mm()) * cross;
        }
        let (dx, dy) = if doubled == 0.0 {
            (bounds.width().as_mm() / 2.0, bounds.height().as_mm() / 2.0)
        } else {
            (sum_x / (3.0 * doubled), sum_y / (3.0 * doubled))
        };
        (origin.x.as_mm() + dx, origin.y.as_mm() + dy)
    }

    /// A place well inside for a label: of the middles of level and plumb cuts, the one farthest from the boundary (the
    /// lowest, then leftmost, of equals). At most 24 cuts each way are tried.
    pub fn label_point(&self) -> Point {
        let cuts = |values: Vec<Length>| middles(values, 24);
        let corners = || self.rings().flat_map(|ring| ring.points().iter());
        let mut candidates = Vec::new();
        for y in cuts(corners().map(|at| at.y).collect()) {
            let middle = |(left, right): (Length, Length)| Segment::new(Point::new(left, y), Point::new(right, y));
            candidates.extend(self.x_intervals_at(y).into_iter().map(|span| middle(span).midpoint()));
        }
        for x in cuts(corners().map(|at| at.x).collect()) {
            let middle = |(low, high): (Length, Length)| Segment::new(Point::new(x, low), Point::new(x, high));
            candidates.extend(self.y_intervals_at(x).into_iter().map(|span| middle(span).midpoint()));
        }
        let clear = |at: Point| self.edges().map(|edge| distance_mm(edge.segment, at)).fold(f64::INFINITY, f64::min);
        let best = candidates.into_iter().map(|at| (clear(at), at)).reduce(|best, next| {
            let lower = (next.1.y, next.1.x) < (best.1.y, best.1.x);
            if next.0 > best.0 || (next.0 == best.0 && lower) { next } else { best }
        });
        best.map_or_else(Point::default, |(_, at)| at)
    }

    /// The stretches of the polygon at height `y`, left to right; see [`super::Region::x_intervals_at`].
    pub fn x_intervals_at(&self, y: Length) -> Vec<(Length, Length)> {
        super::region::intervals(self.edges().map(|edge| edge.segment), y)
    }

    /// The stretches of the polygon at `x`, bottom to top; see [`super::Region::y_intervals_at`].
    pub fn y_intervals_at(&self, x: Length) -> Vec<(Length, Length)> {
        super::region::intervals(self.edges().map(|edge| super::region::swapped(edge.segment)), x)
    }
}

impl Edge {
    /// The direction of the interior: a quarter turn to the left of the edge, of the edge's own length.
    pub fn inward(&self) -> Vector {
        self.segment.vector().left()
    }
}

/// The middles between neighbouring distinct values, at most `limit` of them, spread evenly.
fn middles(mut values: Vec<Length>, limit: usize) -> Vec<Length> {
    values.sort_unstable();
    values.dedup();
    let pairs = values.iter().zip(values.iter().skip(1));
    let between = pairs.map(|(low, high)| Length((low.0.saturating_add(high.0)) / 2));
    between.step_by(values.len() / limit.max(1) + 1).collect()
}

/// From a point to a segment, in millimetres.
fn distance_mm(segment: Segment, point: Point) -> f64 {
    let (step, off) = (segment.vector(), point - segment.from);
    let along = off.dot(step);
    if along <= 0 {
        return off.length_mm();
    }
    if along >= times(step.dx, step.dx).saturating_add(times(step.dy, step.dy)) {
        return (point - segment.to).length_mm();
    }
    step.cross(off).abs() as f64 / 1e12 / step.length_mm()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(corners: &[(i64, i64)]) -> Ring {
        Ring::new(corners.iter().map(|&(x, y)| Point::mm(x, y)).collect())
    }

    fn framed() -> Polygon {
        Polygon::new(ring(&[(0, 0), (0, 10), (20, 10), (20, 0)]), vec![ring(&[(4, 2), (8, 2), (8, 6), (4, 6)])])
    }

    #[test]
    fn a_wall_less_a_window() {
        let wall = framed();
        assert!(wall.outline().is_counter_clockwise());
        assert!(!wall.holes()[0].is_counter_clockwise());
        // 20 × 10 − 4 × 4 mm² = 184 mm².
        assert_eq!(wall.area(), Area(184_000_000_000_000));
        assert_eq!(wall.perimeter(), Length::mm(60 + 16));
        assert_eq!(wall.bounds().width(), Length::mm(20));
        assert_eq!(wall.outline().points()[0], Point::mm(0, 0));
        assert_eq!(wall.holes()[0].points()[0], Point::mm(4, 2));
    }

    #[test]
    fn gable_area_and_centroid() {
        // A triangle 6 wide, 4 high: 12 mm², centroid a third up.
        let gable = Polygon::new(ring(&[(0, 0), (6, 0), (3, 4)]), vec![]);
        assert_eq!(gable.area(), Area(12_000_000_000_000));
        let (x, y) = gable.centroid_mm();
        assert!((x - 3.0).abs() < 1e-12 && (y - 4.0 / 3.0).abs() < 1e-12);
        // (200 × 10 − 16 × 6) ÷ 184 = 10.348; (200 × 5 − 16 × 4) ÷ 184 = 5.087.
        let (x, y) = framed().centroid_mm();
        assert!((x - 1904.0 / 184.0).abs() < 1e-12 && (y - 936.0 / 184.0).abs() < 1e-12);
    }

    #[test]
    fn half_a_square_nanometre_is_kept_doubled() {
        let sliver =
            Ring::new(vec![Point::default(), Point::new(Length(1), Length(0)), Point::new(Length(0), Length(1))]);
        assert_eq!(sliver.doubled_area(), 1);
        assert_eq!(sliver.area(), Area(0));
    }

    #[test]
    fn places() {
        let wall = framed();
        assert_eq!(wall.place(Point::mm(1, 1)), Place::Inside);
        assert_eq!(wall.place(Point::mm(10, 4)), Place::Inside);
        assert_eq!(wall.place(Point::mm(6, 4)), Place::Outside);
        assert_eq!(wall.place(Point::mm(4, 4)), Place::Boundary);
        assert_eq!(wall.place(Point::mm(0, 10)), Place::Boundary);
        assert_eq!(wall.place(Point::mm(-1, 2)), Place::Outside);
        assert_eq!(wall.place(Point::mm(30, 0)), Place::Outside);
        let diamond = Polygon::new(ring(&[(0, -5), (5, 0), (0, 5), (-5, 0)]), vec![]);
        assert_eq!(diamond.place(Point::mm(0, 0)), Place::Inside);
        assert_eq!(diamond.place(Point::mm(-9, 0)), Place::Outside);
        assert_eq!(diamond.place(Point::mm(-5, 0)), Place::Boundary);
    }

    #[test]
    fn the_interior_is_to_the_left_of_every_edge() {
        for edge in framed().edges() {
            let middle = edge.segment.midpoint();
            let unit = |length: Length| Length(length.0.signum());
            let inward = edge.inward();
            let inside = middle + Vector::new(unit(inward.dx), unit(inward.dy));
            assert_eq!(framed().place(inside), Place::Inside, "{edge:?}");
        }
    }

    #[test]
    fn a_label_sits_clear_of_the_edges() {
        assert_eq!(
            Polygon::rectangle(Length::ZERO, Length::ZERO, Length::mm(10), Length::mm(4)).label_point(),
            Point::mm(5, 2)
        );
        // The widest clear field beside the window: x from 8 to 20, 5 from floor and ceiling.
        let at = framed().label_point();
        assert_eq!(at, Point::mm(14, 5));
        assert_eq!(Polygon::default().label_point(), Point::default());
        // An angle piece: the label stays on it, its centre of area does not.
        let angle = Polygon::new(ring(&[(0, 0), (10, 0), (10, 1), (1, 1), (1, 10), (0, 10)]), vec![]);
        assert_eq!(angle.place(angle.label_point()), Place::Inside);
    }

    #[test]
    fn empty_shapes_are_harmless() {
        let empty = Polygon::default();
        assert_eq!((empty.area(), empty.perimeter(), empty.edges().count()), (Area(0), Length::ZERO, 0));
        assert_eq!(empty.place(Point::default()), Place::Outside);
        assert_eq!(empty.outline().edge(0), None);
        let one = Ring::new(vec![Point::mm(1, 1)]);
        assert_eq!((one.area(), one.edges().count()), (Area(0), 1));
    }
}
