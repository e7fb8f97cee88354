//! Straight stretches between two points: how they meet, where they overlap, and what lies along a run.

use std::cmp::Ordering;

use super::point::{Point, Vector, orient, snap};
use crate::units::Length;

/// A straight stretch with a direction. On the boundary of a polygon the interior lies to its left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Segment {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

/// How two segments meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meeting {
    /// Not at all.
    Apart,
    /// Each passes through the other; the place is snapped to the grid.
    Cross(Point),
    /// In one point that is an end of at least one of them.
    Touch(Point),
    /// Along a stretch, given in the direction of the first.
    Overlap(Segment),
}

/// A part of a run, and the index of the segment it lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// The part, in the direction of the run.
    pub part: Segment,
    /// The first of the given segments that lies along it; `None` where none does.
    pub over: Option<usize>,
}

impl Segment {
    /// From its two ends.
    pub const fn new(from: Point, to: Point) -> Self {
        Self { from, to }
    }

    /// The step from start to end.
    pub fn vector(self) -> Vector {
        self.to - self.from
    }

    /// Its length rounded to the nearest nanometre.
    pub fn length(self) -> Length {
        self.vector().length()
    }

    /// Its length in millimetres.
    pub fn length_mm(self) -> f64 {
        self.vector().length_mm()
    }

    /// End for start.
    pub fn reversed(self) -> Self {
        Self { from: self.to, to: self.from }
    }

    /// Level, and not a mere point.
    pub fn is_horizontal(self) -> bool {
        self.from.y == self.to.y && self.from != self.to
    }

    /// Plumb, and not a mere point.
    pub fn is_vertical(self) -> bool {
        self.from.x == self.to.x && self.from != self.to
    }

    /// Neither level nor plumb.
    pub fn is_oblique(self) -> bool {
        self.from.x != self.to.x && self.from.y != self.to.y
    }

    /// As an edge with the interior to its left: whether the interior lies above it (a floor, level or sloped).
    pub fn is_floor(self) -> bool {
        self.to.x > self.from.x
    }

    /// As an edge with the interior to its left: whether the interior lies below it (a ceiling, level or sloped).
    pub fn is_ceiling(self) -> bool {
        self.to.x < self.from.x
    }

    /// The lower end; the left one when level.
    pub fn lower_end(self) -> Point {
        if (self.to.y, self.to.x) < (self.from.y, self.from.x) { self.to } else { self.from }
    }

    /// The middle, snapped to the grid.
    pub fn midpoint(self) -> Point {
        let middle = |a: Length, b: Length| snap(i128::from(a.0) + i128::from(b.0), 2);
        Point::new(middle(self.from.x, self.to.x), middle(self.from.y, self.to.y))
    }

    /// Whether the point lies on it, ends included. Exact.
    pub fn holds(self, point: Point) -> bool {
        within(self.from.x, self.to.x, point.x)
            && within(self.from.y, self.to.y, point.y)
            && orient(self.from, self.to, point) == Ordering::Equal
    }

    /// The height at `x`, snapped; `None` outside its stretch or when plumb.
    pub fn y_at(self, x: Length) -> Option<Length> {
        crossing((self.from.x, self.from.y), (self.to.x, self.to.y), x)
    }

    /// The distance along the wall at height `y`, snapped; `None` outside its stretch or when level.
    pub fn x_at(self, y: Length) -> Option<Length> {
        crossing((self.from.y, self.from.x), (self.to.y, self.to.x), y)
    }

    /// The point `distance` along it from its start, snapped, held within its ends.
    pub fn along(self, distance: Length) -> Point {
        let (step, length) = (self.vector(), self.length());
        let distance = distance.clamp(Length::ZERO, length);
        let part = |whole: Length| snap(super::point::times(whole, distance), i128::from(length.0));
        self.from + Vector::new(part(step.dx), part(step.dy))
    }

    /// How it meets another segment. Exact but for the place of an oblique crossing.
    pub fn meets(self, other: Segment) -> Meeting {
        if !self.may_meet(other) {
            return Meeting::Apart;
        }
        let (a, b) = (orient(self.from, self.to, other.from), orient(self.from, self.to, other.to));
        let (c, d) = (orient(other.from, other.to, self.from), orient(other.from, other.to, self.to));
        let splits = |one: Ordering, two: Ordering| one.is_ne() && one == two.reverse();
        if splits(a, b) && splits(c, d) {
            return Meeting::Cross(self.crossing_point(other));
        }
        if let Some(stretch) = self.overlap(other) {
            return Meeting::Overlap(stretch);
        }
        let on_self = [other.from, other.to].into_iter().find(|&end| self.holds(end));
        let on_other = [self.from, self.to].into_iter().find(|&end| other.holds(end));
        on_self.or(on_other).map_or(Meeting::Apart, Meeting::Touch)
    }

    /// Whether their boxes touch.
    fn may_meet(self, other: Segment) -> bool {
        let apart = |a: Length, b: Length, c: Length, d: Length| a.max(b) < c.min(d) || c.max(d) < a.min(b);
        !apart(self.from.x, self.to.x, other.from.x, other.to.x)
            && !apart(self.from.y, self.to.y, other.from.y, other.to.y)
    }

    /// Where two segments known to cross do so: on the grid, by way of the level or plumb one where there is one.
    fn crossing_point(self, other: Segment) -> Point {
        for (straight, slant) in [(self, other), (other, self)] {
            if straight.is_vertical() {
                let x = straight.from.x;
                return Point::new(x, slant.y_at(x).unwrap_or(slant.from.y));
            }
            if straight.is_horizontal() {
                let y = straight.from.y;
                return Point::new(slant.x_at(y).unwrap_or(slant.from.x), y);
            }
        }
        // Both oblique: `from + step × part ÷ whole`, the share reduced first so that the product fits.
        let (step, slant) = (self.vector(), other.vector());
        let (part, whole) = ((other.from - self.from).cross(slant), step.cross(slant));
        let shift = 128u32.saturating_sub(whole.unsigned_abs().leading_zeros()).saturating_sub(70);
        let share = |size: Length| {
            if shift == 0 {
                snap(i128::from(size.0) * part, whole)
            } else {
                snap(i128::from(size.0).saturating_mul(part >> shift), whole >> shift)
            }
        };
        self.from + Vector::new(share(step.dx), share(step.dy))
    }

    /// The stretch two collinear segments share, in the direction of `self`. Exact; `None` when they share a point at most.
    pub fn overlap(self, other: Segment) -> Option<Segment> {
        let collinear =
            [other.from, other.to].into_iter().all(|end| orient(self.from, self.to, end) == Ordering::Equal);
        if !collinear || self.from == self.to || other.from == other.to {
            return None;
        }
        self.shared(other, Length::ZERO)
    }

    /// As [`Segment::overlap`], for edges whose ends were snapped: every end of the shared stretch must lie within
    /// `tolerance` of the other segment's line, and the stretch be longer than the tolerance. The ends returned are ends
    /// of the two segments, those of `self` where both are near.
    pub fn overlap_near(self, other: Segment, tolerance: Length) -> Option<Segment> {
        if let Some(exact) = self.overlap(other) {
            return Some(exact);
        }
        if self.from == self.to || other.from == other.to || tolerance < Length::ZERO {
            return None;
        }
        let stretch = self.shared(other, tolerance)?;
        let near = |point| self.is_near_line(point, tolerance) && other.is_near_line(point, tolerance);
        (near(stretch.from) && near(stretch.to)).then_some(stretch)
    }

    /// Whether the point lies within `tolerance` of the line through both ends.
    fn is_near_line(self, point: Point, tolerance: Length) -> bool {
        let off = self.vector().cross(point - self.from).unsigned_abs();
        off <= i128::from(tolerance.0).saturating_mul(i128::from(self.length().0)).unsigned_abs()
    }

    /// The stretch of `self` that `other` lies beside, measured along `self`; longer than `tolerance`.
    fn shared(self, other: Segment, tolerance: Length) -> Option<Segment> {
        let step = self.vector();
        let length = i128::from(self.length().0);
        let slack = i128::from(tolerance.0).saturating_mul(length);
        let measure = |point: Point| step.dot(point - self.from);
        let whole = measure(self.to);
        let forward = if measure(other.from) <= measure(other.to) { other } else { other.reversed() };
        let from = if measure(forward.from) > slack { forward.from } else { self.from };
        let to = if measure(forward.to) < whole.saturating_sub(slack) { forward.to } else { self.to };
        let begins = measure(from).max(measure(forward.from));
        let ends = measure(to).min(measure(forward.to));
        (ends.saturating_sub(begins) > slack).then_some(Segment { from, to })
    }
}

/// Whether `value` lies between two bounds given in any order, both included.
fn within(a: Length, b: Length, value: Length) -> bool {
    a.min(b) <= value && value <= a.max(b)
}

/// The other coordinate where a line between two (key, value) pairs passes `key`.
fn crossing(from: (Length, Length), to: (Length, Length), key: Length) -> Option<Length> {
    let (from, to) = (from.min(to), from.max(to));
    if key < from.0 || key > to.0 || from.0 == to.0 {
        return None;
    }
    let wide = |length: Length| i128::from(length.0);
    let rise = (wide(to.1) - wide(from.1)).saturating_mul(wide(key) - wide(from.0));
    let run = wide(to.0) - wide(from.0);
    // The whole figure is rounded, not the rise alone, so that half away from zero means the coordinate itself.
    Some(snap(wide(from.1).saturating_mul(run).saturating_add(rise), run))
}

/// Cuts a run where the given segments begin and end along it, and says which of them each part lies on (the first, where
/// several do). Parts shorter than `tolerance` are left to their neighbours; tolerance zero asks for exact contact.
pub fn split_run(run: Segment, others: &[Segment], tolerance: Length) -> Vec<Piece> {
    if run.from == run.to {
        return Vec::new();
    }
    let stretches: Vec<(usize, Segment)> = others
        .iter()
        .enumerate()
        .filter_map(|(index, &other)| Some((index, run.overlap_near(other, tolerance)?)))
        .collect();
    let step = run.vector();
    let measure = |point: Point| step.dot(point - run.from);
    let slack = i128::from(tolerance.0.max(0)).saturating_mul(i128::from(run.length().0));
    let mut cuts: Vec<Point> = stretches.iter().flat_map(|(_, part)| [part.from, part.to]).collect();
    cuts.sort_by_key(|&cut| (measure(cut), cut));
    let mut pieces: Vec<Piece> = Vec::new();
    let mut from = run.from;
    for to in cuts.into_iter().chain([run.to]) {
        if measure(to).saturating_sub(measure(from)) <= slack {
            continue;
        }
        let near_end = measure(run.to).saturating_sub(measure(to)) <= slack;
        let part = Segment { from, to: if near_end { run.to } else { to } };
        let (begins, ends) = (measure(part.from), measure(part.to));
        let covers = |stretch: &Segment| {
            measure(stretch.from) <= begins.saturating_add(slack) && ends <= measure(stretch.to).saturating_add(slack)
        };
        let over = stretches.iter().find(|(_, stretch)| covers(stretch)).map(|(index, _)| *index);
        match pieces.last_mut() {
            Some(last) if last.over == over => last.part.to = part.to,
            _ => pieces.push(Piece { part, over }),
        }
        from = part.to;
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(x0: i64, y0: i64, x1: i64, y1: i64) -> Segment {
        Segment::new(Point::mm(x0, y0), Point::mm(x1, y1))
    }

    #[test]
    fn segments_cross_touch_and_overlap() {
        assert_eq!(line(0, 0, 10, 10).meets(line(0, 10, 10, 0)), Meeting::Cross(Point::mm(5, 5)));
        assert_eq!(line(0, 0, 10, 0).meets(line(5, 0, 5, 9)), Meeting::Touch(Point::mm(5, 0)));
        assert_eq!(line(0, 0, 10, 0).meets(line(10, 0, 20, 0)), Meeting::Touch(Point::mm(10, 0)));
        assert_eq!(line(0, 0, 10, 0).meets(line(20, 0, 5, 0)), Meeting::Overlap(line(5, 0, 10, 0)));
        assert_eq!(line(0, 0, 10, 0).meets(line(0, 1, 10, 1)), Meeting::Apart);
        assert_eq!(line(0, 0, 10, 0).meets(line(4, 1, 4, 9)), Meeting::Apart);
    }

    #[test]
    fn a_crossing_is_snapped() {
        // y = x/3 at x = 1 mm: 333 333.33… nm.
        let slope = line(0, 0, 3, 1);
        assert_eq!(slope.y_at(Length::mm(1)), Some(Length(333_333)));
        assert_eq!(slope.y_at(Length::mm(2)), Some(Length(666_667)));
        assert_eq!(slope.reversed().y_at(Length::mm(2)), Some(Length(666_667)));
        assert_eq!(slope.y_at(Length::mm(4)), None);
        assert_eq!(line(1, 0, 1, 5).y_at(Length::mm(1)), None);
        assert_eq!(line(1, 0, 1, 5).x_at(Length::mm(2)), Some(Length::mm(1)));
        let place = Point::new(Length::mm(1), Length(333_333));
        assert_eq!(slope.meets(line(1, -5, 1, 5)), Meeting::Cross(place));
        // x/3 = 1 − x/3 at x = 1.5, y = 0.5, both oblique.
        let meeting = slope.meets(line(0, 1, 3, 0));
        assert_eq!(meeting, Meeting::Cross(Point::new(Length(1_500_000), Length(500_000))));
    }

    #[test]
    fn a_crossing_of_long_obliques_stays_right() {
        // 400 km long: the products pass 2^127 unless the share is reduced.
        let far = 400_000_000;
        let meeting = line(-far, -far, far, far).meets(line(-far, far, far, -far));
        assert_eq!(meeting, Meeting::Cross(Point::mm(0, 0)));
    }

    #[test]
    fn overlaps_follow_the_first_direction() {
        assert_eq!(line(10, 0, 0, 0).overlap(line(2, 0, 7, 0)), Some(line(7, 0, 2, 0)));
        assert_eq!(line(0, 0, 9, 3).overlap(line(3, 1, 30, 10)), Some(line(3, 1, 9, 3)));
        assert_eq!(line(0, 0, 9, 3).overlap(line(3, 1, 30, 11)), None);
        assert_eq!(line(0, 0, 9, 0).overlap(line(9, 0, 12, 0)), None);
        assert_eq!(line(0, 0, 0, 9).overlap(line(0, 4, 0, 5)), Some(line(0, 4, 0, 5)));
    }

    #[test]
    fn near_overlaps_bear_snapped_ends() {
        let slope = line(0, 0, 3_000, 1_000);
        let snapped = Segment::new(
            Point::new(Length::mm(1_000), Length(333_333_333)),
            Point::new(Length::mm(2_000), Length(666_666_667)),
        );
        assert_eq!(slope.overlap(snapped), None);
        assert_eq!(slope.overlap_near(snapped, Length(2)), Some(snapped));
        assert_eq!(slope.overlap_near(snapped.reversed(), Length(2)), Some(snapped));
        // Three nanometres aside is outside a tolerance of two.
        let aside = Segment::new(snapped.from + Vector::new(Length::ZERO, Length(4)), snapped.to);
        assert_eq!(slope.overlap_near(aside, Length(2)), None);
        // A corner is no overlap, however near.
        assert_eq!(line(0, 0, 10, 0).overlap_near(line(10, 0, 10, 5), Length(1_000)), None);
        assert_eq!(line(0, 0, 10, 0).overlap_near(line(10, 0, 20, 0), Length(1_000)), None);
    }

    #[test]
    fn a_run_is_cut_where_neighbours_begin_and_end() {
        let run = line(0, 0, 100, 0);
        let others = [line(60, 0, 100, 0), line(0, 5, 100, 5), line(30, 0, 10, 0), line(100, 0, 100, 9)];
        let found = split_run(run, &others, Length::ZERO);
        let wanted = [
            Piece { part: line(0, 0, 10, 0), over: None },
            Piece { part: line(10, 0, 30, 0), over: Some(2) },
            Piece { part: line(30, 0, 60, 0), over: None },
            Piece { part: line(60, 0, 100, 0), over: Some(0) },
        ];
        assert_eq!(found, wanted);
        assert_eq!(split_run(run, &[], Length::ZERO), [Piece { part: run, over: None }]);
        let nearly = Segment::new(Point::new(Length(3), Length(2)), Point::mm(100, 0));
        assert_eq!(split_run(run, &[nearly], Length(5)), [Piece { part: run, over: Some(0) }]);
    }

    #[test]
    fn a_point_along_a_run() {
        assert_eq!(line(0, 0, 30, 40).along(Length::mm(25)), Point::mm(15, 20));
        assert_eq!(line(0, 0, 30, 40).along(Length::mm(99)), Point::mm(30, 40));
        assert_eq!(line(3, 3, 3, 3).along(Length::mm(9)), Point::mm(3, 3));
        assert_eq!(line(0, 0, 30, 40).midpoint(), Point::mm(15, 20));
    }
}
