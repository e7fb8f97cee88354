//! Points and directions on a face, and the exact side-of-a-line test everything else rests on.

use std::cmp::Ordering;
use std::ops::{Add, Neg, Sub};

use crate::units::Length;

/// The farthest a coordinate may lie from the origin: 2^50 nm, about 1 126 km. Well inside the 2^62 limit of the polygon
/// engine, and small enough that every product and sum of products fits in `i128`.
pub const REACH: Length = Length(1 << 50);

/// A place on a face. Ordered by x, then y.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point {
    /// To the right along the wall, seen from outside.
    pub x: Length,
    /// Up.
    pub y: Length,
}

/// A step from one point to another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Vector {
    /// To the right.
    pub dx: Length,
    /// Up.
    pub dy: Length,
}

impl Point {
    /// From its two coordinates.
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }

    /// From whole millimetres.
    pub const fn mm(x: i64, y: i64) -> Self {
        Self { x: Length::mm(x), y: Length::mm(y) }
    }

    /// In millimetres, for the page.
    pub fn as_mm(self) -> (f64, f64) {
        (self.x.as_mm(), self.y.as_mm())
    }

    /// Whether both coordinates lie within [`REACH`].
    pub fn within_reach(self) -> bool {
        self == self.pulled_in()
    }

    /// Pulled back to within [`REACH`]; the same point for anything the size of a building.
    pub(super) fn pulled_in(self) -> Self {
        Self { x: self.x.clamp(-REACH, REACH), y: self.y.clamp(-REACH, REACH) }
    }
}

impl Vector {
    /// From its two parts.
    pub const fn new(dx: Length, dy: Length) -> Self {
        Self { dx, dy }
    }

    /// Twice the signed area of the triangle the two span: positive when `other` points to the left of `self`.
    pub fn cross(self, other: Vector) -> i128 {
        times(self.dx, other.dy).saturating_sub(times(self.dy, other.dx))
    }

    /// The scalar product, in nm².
    pub fn dot(self, other: Vector) -> i128 {
        times(self.dx, other.dx).saturating_add(times(self.dy, other.dy))
    }

    /// Whether it leads nowhere.
    pub fn is_zero(self) -> bool {
        self == Self::default()
    }

    /// A quarter turn to the left: from the direction of an edge to the direction of the interior.
    pub fn left(self) -> Vector {
        Vector { dx: Length(self.dy.0.saturating_neg()), dy: self.dx }
    }

    /// Its length rounded to the nearest nanometre.
    pub fn length(self) -> Length {
        let square = self.dot(self);
        let root = square.isqrt();
        let rounded = if square - root * root > root { root + 1 } else { root };
        Length(i64::try_from(rounded).unwrap_or(i64::MAX))
    }

    /// Its length in millimetres.
    pub fn length_mm(self) -> f64 {
        let (dx, dy) = (self.dx.as_mm(), self.dy.as_mm());
        (dx * dx + dy * dy).sqrt()
    }
}

impl Sub for Point {
    type Output = Vector;
    fn sub(self, from: Point) -> Vector {
        Vector { dx: Length(self.x.0.saturating_sub(from.x.0)), dy: Length(self.y.0.saturating_sub(from.y.0)) }
    }
}

impl Add<Vector> for Point {
    type Output = Point;
    fn add(self, step: Vector) -> Point {
        Point { x: Length(self.x.0.saturating_add(step.dx.0)), y: Length(self.y.0.saturating_add(step.dy.0)) }
    }
}

impl Neg for Vector {
    type Output = Vector;
    fn neg(self) -> Vector {
        Vector { dx: Length(self.dx.0.saturating_neg()), dy: Length(self.dy.0.saturating_neg()) }
    }
}

/// A product of two lengths, in nm².
pub(super) fn times(a: Length, b: Length) -> i128 {
    i128::from(a.0) * i128::from(b.0)
}

/// On which side of the line from `a` to `b` the point `c` lies: `Greater` left, `Less` right, `Equal` on it. Exact.
pub fn orient(a: Point, b: Point, c: Point) -> Ordering {
    (b - a).cross(c - a).cmp(&0)
}

/// `numerator ÷ denominator` put on the grid, half away from zero: the one place where an oblique crossing is rounded.
/// A zero denominator gives zero; a quotient too large for a length gives the largest.
pub fn snap(numerator: i128, denominator: i128) -> Length {
    if denominator == 0 {
        return Length::ZERO;
    }
    let negative = (numerator < 0) != (denominator < 0);
    let (over, under) = (numerator.unsigned_abs(), denominator.unsigned_abs());
    let (whole, rest) = (over / under, over % under);
    let rounded = if rest >= under - rest { whole + 1 } else { whole };
    let size = i64::try_from(rounded).unwrap_or(i64::MAX);
    Length(if negative { -size } else { size })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn side_of_a_line_is_exact_far_from_the_origin() {
        // Three points one nanometre off a line of 1 000 km: a float would call them collinear.
        let (a, b) = (Point::mm(0, 0), Point::mm(1_000_000_000, 1_000_000_000));
        let c = Point::new(Length::mm(500_000_000), Length(Length::mm(500_000_000).0 + 1));
        assert_eq!(orient(a, b, c), Ordering::Greater);
        assert_eq!(orient(b, a, c), Ordering::Less);
        assert_eq!(orient(a, b, Point::mm(7, 7)), Ordering::Equal);
    }

    #[test]
    fn lengths_are_rounded_to_the_nearest_nanometre() {
        assert_eq!(Vector::new(Length(3), Length(4)).length(), Length(5));
        // √2 = 1.414, √3 is not reachable; √(1+4) = 2.236; √(4+4) = 2.828 → 3.
        assert_eq!(Vector::new(Length(1), Length(1)).length(), Length(1));
        assert_eq!(Vector::new(Length(2), Length(2)).length(), Length(3));
        assert_eq!(Vector::new(Length::mm(-300), Length::mm(400)).length(), Length::mm(500));
        assert_eq!(Vector::new(Length::mm(-300), Length::mm(400)).length_mm(), 500.0);
    }

    #[test]
    fn snapping_rounds_half_away_from_zero() {
        assert_eq!(snap(5, 2), Length(3));
        assert_eq!(snap(-5, 2), Length(-3));
        assert_eq!(snap(5, -2), Length(-3));
        assert_eq!(snap(4, 3), Length(1));
        assert_eq!(snap(5, 3), Length(2));
        assert_eq!(snap(1, 0), Length::ZERO);
        assert_eq!(snap(i128::MAX, 1), Length(i64::MAX));
        assert_eq!(snap(i128::MIN, i128::MAX), Length(-1));
    }

    #[test]
    fn absurd_coordinates_do_not_overflow() {
        let far = Point::new(Length(i64::MAX), Length(i64::MIN));
        let near = Point::new(Length(i64::MIN), Length(i64::MAX));
        assert!(!far.within_reach());
        assert!((far - near).length() > Length::ZERO);
        let _ = (orient(far, near, Point::default()), near + (far - near), -(near - far), (near - far).left());
    }
}
