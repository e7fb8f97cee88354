//! Regions: any number of disjoint polygons, joined, cut and measured.

use super::boolean::{self, Operation};
use super::point::{Point, REACH};
use super::polygon::{Bounds, Edge, Place, Polygon};
use super::segment::Segment;
use crate::units::{Area, Length};

/// Disjoint polygons in a fixed order (least x, then least y, then corners). Two that touch do so in corners only.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Region {
    polygons: Vec<Polygon>,
}

impl From<Polygon> for Region {
    /// Takes a simple polygon as it is.
    fn from(polygon: Polygon) -> Self {
        if polygon.doubled_area() == 0 { Self::default() } else { Self { polygons: vec![polygon] } }
    }
}

impl FromIterator<Polygon> for Region {
    /// The union of the polygons, which may overlap.
    fn from_iter<I: IntoIterator<Item = Polygon>>(polygons: I) -> Self {
        let polygons: Vec<Polygon> = polygons.into_iter().collect();
        Self { polygons: boolean::combine(Operation::Union, &polygons, []) }
    }
}

impl Region {
    /// An upright rectangle between two opposite corners, given in any order.
    pub fn rectangle(x0: Length, y0: Length, x1: Length, y1: Length) -> Self {
        Polygon::rectangle(x0, y0, x1, y1).into()
    }

    /// Its polygons in order: the connected components.
    pub fn polygons(&self) -> &[Polygon] {
        &self.polygons
    }

    /// Its connected components, each a polygon. Pieces that meet in a corner only are apart.
    pub fn into_components(self) -> Vec<Polygon> {
        self.polygons
    }

    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.polygons.is_empty()
    }

    /// Twice its area in nm²; exact for any whole coordinates.
    pub fn doubled_area(&self) -> i128 {
        self.polygons.iter().fold(0, |sum, polygon| sum.saturating_add(polygon.doubled_area()))
    }

    /// Its area. Exact for upright edges; a left-over half nm² of an oblique shape is dropped.
    pub fn area(&self) -> Area {
        Area(self.doubled_area() / 2)
    }

    /// The length of its boundary, holes included.
    pub fn perimeter(&self) -> Length {
        Length(self.polygons.iter().fold(0, |sum: i64, polygon| sum.saturating_add(polygon.perimeter().0)))
    }

    /// The box around it; `None` when empty.
    pub fn bounds(&self) -> Option<Bounds> {
        self.polygons.iter().filter_map(|polygon| polygon.outline().bounds()).reduce(Bounds::with)
    }

    /// Where the point lies.
    pub fn place(&self, point: Point) -> Place {
        let mut found = Place::Outside;
        for polygon in &self.polygons {
            match polygon.place(point) {
                Place::Inside => return Place::Inside,
                Place::Boundary => found = Place::Boundary,
                Place::Outside => {}
            }
        }
        found
    }

    /// Every edge with the index of its polygon; the interior lies to the left.
    pub fn edges(&self) -> impl Iterator<Item = (usize, Edge)> + Clone + '_ {
        self.polygons.iter().enumerate().flat_map(|(index, polygon)| polygon.edges().map(move |edge| (index, edge)))
    }

    /// What lies in either. Abutting pieces become one.
    pub fn union(&self, other: &Region) -> Region {
        self.combined(Operation::Union, &other.polygons)
    }

    /// The union of many, in one pass.
    pub fn union_many<'a>(regions: impl IntoIterator<Item = &'a Region>) -> Region {
        let polygons = regions.into_iter().flat_map(|region| &region.polygons);
        Region { polygons: boolean::combine(Operation::Union, polygons, []) }
    }

    /// What lies in both.
    pub fn intersection(&self, other: &Region) -> Region {
        self.combined(Operation::Intersection, &other.polygons)
    }

    /// What lies in this one and not in the other.
    pub fn difference(&self, other: &Region) -> Region {
        self.combined(Operation::Difference, &other.polygons)
    }

    /// What is left when many are taken off, in one pass.
    pub fn difference_many<'a>(&self, others: impl IntoIterator<Item = &'a Region>) -> Region {
        self.combined(Operation::Difference, others.into_iter().flat_map(|region| &region.polygons))
    }

    /// The part between two heights.
    pub fn clip_y(&self, bottom: Length, top: Length) -> Region {
        if bottom >= top {
            return Region::default();
        }
        self.combined(Operation::Intersection, &[Polygon::rectangle(-REACH, bottom, REACH, top)])
    }

    /// The part between two distances along the wall.
    pub fn clip_x(&self, left: Length, right: Length) -> Region {
        if left >= right {
            return Region::default();
        }
        self.combined(Operation::Intersection, &[Polygon::rectangle(left, -REACH, right, REACH)])
    }

    /// Whether they share any area; shared edges do not count.
    pub fn overlaps(&self, other: &Region) -> bool {
        !self.intersection(other).is_empty()
    }

    /// Whether all of the other lies in this one.
    pub fn covers(&self, other: &Region) -> bool {
        other.difference(self).is_empty()
    }

    /// Every edge moved outward by `by`, inward when negative, with square mitred corners: holes shrink as outlines grow,
    /// and what is narrower than twice the inward step is gone. Exact for upright shapes.
    pub fn offset(&self, by: Length) -> Region {
        Region { polygons: boolean::offset(&self.polygons, by) }
    }

    /// The stretches of the region at height `y`, left to right, none of zero length. The region is closed: at a level edge
    /// the stretch just above and the one just below both count. Exact for upright shapes, snapped on oblique edges.
    pub fn x_intervals_at(&self, y: Length) -> Vec<(Length, Length)> {
        intervals(self.edges().map(|(_, edge)| edge.segment), y)
    }

    /// The stretches just above height `y`: at the sill of an opening, those beside it.
    pub fn x_intervals_above(&self, y: Length) -> Vec<(Length, Length)> {
        one_side(self.edges().map(|(_, edge)| edge.segment), y, Side::Above)
    }

    /// The stretches just below height `y`.
    pub fn x_intervals_below(&self, y: Length) -> Vec<(Length, Length)> {
        one_side(self.edges().map(|(_, edge)| edge.segment), y, Side::Below)
    }

    /// The stretches of the region at `x`, bottom to top, none of zero length; closed as for [`Region::x_intervals_at`].
    pub fn y_intervals_at(&self, x: Length) -> Vec<(Length, Length)> {
        intervals(self.edges().map(|(_, edge)| swapped(edge.segment)), x)
    }

    /// The stretches just to the right of `x`.
    pub fn y_intervals_right_of(&self, x: Length) -> Vec<(Length, Length)> {
        one_side(self.edges().map(|(_, edge)| swapped(edge.segment)), x, Side::Above)
    }

    /// The stretches just to the left of `x`.
    pub fn y_intervals_left_of(&self, x: Length) -> Vec<(Length, Length)> {
        one_side(self.edges().map(|(_, edge)| swapped(edge.segment)), x, Side::Below)
    }

    fn combined<'a>(&'a self, operation: Operation, clip: impl IntoIterator<Item = &'a Polygon>) -> Region {
        Region { polygons: boolean::combine(operation, &self.polygons, clip) }
    }
}

/// The side from which a scan line takes a boundary that lies on it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Above,
    Below,
}

/// With x and y exchanged.
pub(super) fn swapped(segment: Segment) -> Segment {
    let swap = |point: Point| Point::new(point.y, point.x);
    Segment::new(swap(segment.from), swap(segment.to))
}

/// The stretches of a closed shape at height `y`.
pub(super) fn intervals(edges: impl Iterator<Item = Segment> + Clone, y: Length) -> Vec<(Length, Length)> {
    let mut spans = one_side(edges.clone(), y, Side::Above);
    spans.extend(one_side(edges, y, Side::Below));
    spans.sort_unstable();
    merged(spans)
}

/// The stretches just above or below height `y`.
fn one_side(edges: impl Iterator<Item = Segment>, y: Length, side: Side) -> Vec<(Length, Length)> {
    let passes = |edge: &Segment| {
        let (low, high) = (edge.from.y.min(edge.to.y), edge.from.y.max(edge.to.y));
        match side {
            Side::Above => low <= y && y < high,
            Side::Below => low < y && y <= high,
        }
    };
    let mut crossings: Vec<Length> = edges.filter(passes).filter_map(|edge| edge.x_at(y)).collect();
    crossings.sort_unstable();
    let pairs = crossings.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?)));
    merged(pairs.filter(|(from, to)| from < to).collect())
}

/// Joins sorted stretches that touch or overlap.
fn merged(spans: Vec<(Length, Length)>) -> Vec<(Length, Length)> {
    let mut joined: Vec<(Length, Length)> = Vec::new();
    for (from, to) in spans {
        match joined.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => joined.push((from, to)),
        }
    }
    joined
}
