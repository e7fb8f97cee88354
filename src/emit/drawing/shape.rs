//! Points and boxes on paper, in millimetres with y down, and the cutting of lines by outlines.

/// A place on paper: millimetres from the top left corner, y down.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right, mm.
    pub x: f64,
    /// Downwards, mm.
    pub y: f64,
}

/// A place on paper, short to write.
pub const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// Moved by millimetres to the right and down.
    pub fn shift(self, right: f64, down: f64) -> Point {
        at(self.x + right, self.y + down)
    }

    /// The place a share `t` of the way to `other`.
    pub fn towards(self, other: Point, t: f64) -> Point {
        at(self.x + (other.x - self.x) * t, self.y + (other.y - self.y) * t)
    }

    /// In millimetres of paper.
    pub fn distance(self, other: Point) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }

    /// Turned about `centre`, in degrees clockwise as seen on paper.
    pub fn turned(self, centre: Point, degrees: f64) -> Point {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let (x, y) = (self.x - centre.x, self.y - centre.y);
        at(centre.x + x * cos - y * sin, centre.y + x * sin + y * cos)
    }

    /// The unit vector towards `other`; to the right when the two coincide.
    pub fn heading(self, other: Point) -> Point {
        let length = self.distance(other);
        if length > 1e-9 { at((other.x - self.x) / length, (other.y - self.y) / length) } else { at(1.0, 0.0) }
    }
}

/// An upright box on paper, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub x: f64,
    /// Top edge.
    pub y: f64,
    /// Across.
    pub width: f64,
    /// Down.
    pub height: f64,
}

impl Rect {
    /// From its left, top, right and bottom edges, in any order.
    pub fn edges(left: f64, top: f64, right: f64, bottom: f64) -> Rect {
        Rect { x: left.min(right), y: top.min(bottom), width: (right - left).abs(), height: (bottom - top).abs() }
    }

    /// The smallest box around some points; an empty box for none.
    pub fn around(points: impl IntoIterator<Item = Point>) -> Rect {
        let mut points = points.into_iter();
        let Some(first) = points.next() else { return Rect::default() };
        let (mut low, mut high) = (first, first);
        for point in points {
            low = at(low.x.min(point.x), low.y.min(point.y));
            high = at(high.x.max(point.x), high.y.max(point.y));
        }
        Rect::edges(low.x, low.y, high.x, high.y)
    }

    /// Right edge.
    pub fn right(&self) -> f64 {
        self.x + self.width
    }

    /// Bottom edge.
    pub fn bottom(&self) -> f64 {
        self.y + self.height
    }

    /// The middle.
    pub fn centre(&self) -> Point {
        at(self.x + self.width / 2.0, self.y + self.height / 2.0)
    }

    /// Larger by `by` on all four sides; smaller when negative, never below nothing.
    pub fn grow(&self, by: f64) -> Rect {
        Rect {
            x: self.x - by,
            y: self.y - by,
            width: (self.width + 2.0 * by).max(0.0),
            height: (self.height + 2.0 * by).max(0.0),
        }
    }

    /// The box around both.
    pub fn join(&self, other: &Rect) -> Rect {
        Rect::edges(
            self.x.min(other.x),
            self.y.min(other.y),
            self.right().max(other.right()),
            self.bottom().max(other.bottom()),
        )
    }

    /// The shared area, mm².
    pub fn overlap(&self, other: &Rect) -> f64 {
        let across = self.right().min(other.right()) - self.x.max(other.x);
        let down = self.bottom().min(other.bottom()) - self.y.max(other.y);
        if across > 0.0 && down > 0.0 { across * down } else { 0.0 }
    }

    /// Whether the point lies in the box or on its edge.
    pub fn contains(&self, point: Point) -> bool {
        (self.x..=self.right()).contains(&point.x) && (self.y..=self.bottom()).contains(&point.y)
    }

    /// The four corners, clockwise from the top left.
    pub fn corners(&self) -> [Point; 4] {
        [at(self.x, self.y), at(self.right(), self.y), at(self.right(), self.bottom()), at(self.x, self.bottom())]
    }
}

/// Whether a point lies inside rings by the even-odd rule, so that a ring within a ring is a hole.
pub fn inside(rings: &[Vec<Point>], point: Point) -> bool {
    let mut within = false;
    for (a, b) in rings.iter().flat_map(|ring| sides(ring)) {
        if (a.y > point.y) != (b.y > point.y) {
            let x = a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x);
            within ^= point.x < x;
        }
    }
    within
}

/// The parts of the line from `from` to `to` that lie inside the rings (even-odd).
pub fn clip(rings: &[Vec<Point>], from: Point, to: Point) -> Vec<[Point; 2]> {
    let mut cuts = vec![0.0, 1.0];
    cuts.extend(rings.iter().flat_map(|ring| sides(ring)).filter_map(|(a, b)| crossing(from, to, a, b)));
    cuts.sort_by(f64::total_cmp);
    cuts.windows(2)
        .filter_map(|pair| match pair {
            [start, end] if end - start > 1e-9 => {
                let middle = from.towards(to, (start + end) / 2.0);
                inside(rings, middle).then(|| [from.towards(to, *start), from.towards(to, *end)])
            }
            _ => None,
        })
        .collect()
}

/// The sides of a closed ring.
fn sides(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| (*a, *b))
}

/// How far along `from`–`to` the side `a`–`b` crosses it, as a share from 0 to 1.
fn crossing(from: Point, to: Point, a: Point, b: Point) -> Option<f64> {
    let (along, side) = (at(to.x - from.x, to.y - from.y), at(b.x - a.x, b.y - a.y));
    let cross = along.x * side.y - along.y * side.x;
    if cross.abs() < 1e-12 {
        return None;
    }
    let gap = at(a.x - from.x, a.y - from.y);
    let t = (gap.x * side.y - gap.y * side.x) / cross;
    let u = (gap.x * along.y - gap.y * along.x) / cross;
    ((0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u)).then_some(t)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_across_a_ring_with_a_hole_comes_out_in_two_parts() {
        let rings = [
            Rect::edges(0.0, 0.0, 30.0, 10.0).corners().to_vec(),
            Rect::edges(10.0, 2.0, 20.0, 8.0).corners().to_vec(),
        ];
        let parts = clip(&rings, at(-5.0, 5.0), at(40.0, 5.0));
        let spans: Vec<_> = parts.iter().map(|[a, b]| (a.x.round(), b.x.round())).collect();
        assert_eq!(spans, [(0.0, 10.0), (20.0, 30.0)]);
    }

    #[test]
    fn boxes_share_area_only_where_they_overlap() {
        let a = Rect::edges(0.0, 0.0, 10.0, 10.0);
        assert_eq!(a.overlap(&Rect::edges(8.0, 5.0, 20.0, 20.0)), 10.0);
        assert_eq!(a.overlap(&Rect::edges(10.0, 0.0, 20.0, 10.0)), 0.0);
    }
}
