//! Small tools of the plan: places along edges, slivers, the part of a line inside a region, and finding near segments fast.

use crate::geometry::{Bounds, Meeting, Point, Polygon, Region, Segment, split_run};
use crate::model::{Face, FaceId, Model, Where};
use crate::units::Length;

/// Ends of oblique edges are snapped to the nanometre: pieces that share such an edge may differ by this much.
pub(super) const NEAR: Length = Length(2);

/// Twice one square millimetre, in nm²: smaller pieces of wall come of snapping and are dropped.
const SLIVER: i128 = 2_000_000_000_000;

/// What all steps of placing one face read.
pub(super) struct Scene<'m> {
    pub model: &'m Model,
    pub id: FaceId,
    pub face: &'m Face,
    pub outline: Region,
    pub bounds: Bounds,
}

impl<'m> Scene<'m> {
    /// `None` for a face without outline.
    pub fn new(model: &'m Model, id: FaceId, face: &'m Face) -> Option<Self> {
        let outline = Region::from(Polygon::new(face.outline.clone()?, Vec::new()));
        let bounds = outline.bounds()?;
        Some(Self { model, id, face, outline, bounds })
    }

    /// A stretch along the face, in x.
    pub fn across(&self, from: Option<Where>, to: Option<Where>) -> (Length, Length) {
        range(from, to, (self.bounds.left, self.bounds.right))
    }
}

/// A stretch between two places; a place left out is the end of the extent.
pub(super) fn range(from: Option<Where>, to: Option<Where>, extent: (Length, Length)) -> (Length, Length) {
    let at = |place: Where| match place {
        Where::Left => extent.0,
        Where::Right => extent.1,
        Where::Centre => Segment::new(Point::new(extent.0, extent.0), Point::new(extent.1, extent.1)).midpoint().x,
        Where::At(place) => place,
    };
    let (from, to) = (from.map_or(extent.0, at), to.map_or(extent.1, at));
    (from.min(to), from.max(to))
}

/// Without slivers.
pub(super) fn tidy(region: Region) -> Region {
    let is_sliver = |polygon: &Polygon| polygon.doubled_area() < SLIVER;
    if region.polygons().iter().any(is_sliver) {
        region.into_components().into_iter().filter(|polygon| !is_sliver(polygon)).collect()
    } else {
        region
    }
}

/// A quadrilateral between a line and the same line moved up by `up`.
pub(super) fn band(line: Segment, up: Length) -> Polygon {
    let lifted = |at: Point| Point::new(at.x, at.y + up);
    let corners = vec![line.from, line.to, lifted(line.to), lifted(line.from)];
    Polygon::new(crate::geometry::Ring::new(corners), Vec::new())
}

/// The parts of a line inside a region, in the direction of the line; parts along its boundary do not count.
pub(super) fn inside(line: Segment, region: &Region) -> Vec<Segment> {
    let edges: Vec<Segment> = region.edges().map(|(_, edge)| edge.segment).collect();
    let mut found: Vec<Segment> = Vec::new();
    for piece in split_run(line, &edges, NEAR).into_iter().filter(|piece| piece.over.is_none()) {
        let step = piece.part.vector();
        let mut cuts: Vec<Point> = edges
            .iter()
            .filter_map(|edge| match piece.part.meets(*edge) {
                Meeting::Cross(at) | Meeting::Touch(at) => Some(at),
                Meeting::Apart | Meeting::Overlap(_) => None,
            })
            .chain([piece.part.to])
            .collect();
        cuts.sort_by_key(|&at| (step.dot(at - piece.part.from), at));
        let mut from = piece.part.from;
        for to in cuts {
            let part = Segment::new(from, to);
            if (to - from).length() <= NEAR {
                continue;
            }
            if region.place(part.midpoint()) == crate::geometry::Place::Inside {
                match found.last_mut() {
                    Some(last) if last.to == from => last.to = to,
                    _ => found.push(part),
                }
            }
            from = to;
        }
    }
    found
}

/// Whether two segments run the same way.
pub(super) fn same_way(one: Segment, other: Segment) -> bool {
    one.vector().dot(other.vector()) > 0
}

/// Segments in a grid of cells, so that those near a given one are found without looking at all.
pub(super) struct Index {
    segments: Vec<Segment>,
    bounds: Bounds,
    side: i64,
    cells: Vec<Vec<usize>>,
}

impl Index {
    /// Takes the segments in order; answers name them by place in this order.
    pub fn new(segments: Vec<Segment>) -> Self {
        let bounds = Bounds::around(segments.iter().flat_map(|segment| [segment.from, segment.to])).unwrap_or_default();
        let side = (segments.len().isqrt() as i64).clamp(1, 64);
        let mut index = Self { bounds, side, cells: vec![Vec::new(); (side * side) as usize], segments };
        for at in 0..index.segments.len() {
            let Some(&segment) = index.segments.get(at) else { continue };
            for cell in index.covered(segment) {
                if let Some(list) = index.cells.get_mut(cell) {
                    list.push(at);
                }
            }
        }
        index
    }

    /// Indices of segments whose cells the given one touches, in order.
    pub fn near(&self, segment: Segment) -> Vec<usize> {
        let mut found: Vec<usize> =
            self.covered(segment).filter_map(|cell| self.cells.get(cell)).flatten().copied().collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// One of the segments.
    pub fn get(&self, at: usize) -> Option<Segment> {
        self.segments.get(at).copied()
    }

    fn covered(&self, segment: Segment) -> impl Iterator<Item = usize> + use<> {
        let side = self.side;
        let cell = |value: Length, low: Length, size: Length| {
            let off = i128::from(value.0) - i128::from(low.0);
            ((off * i128::from(side)) / (i128::from(size.0) + 1)).clamp(0, i128::from(side - 1)) as i64
        };
        let across = |value| cell(value, self.bounds.left, self.bounds.width());
        let up = |value| cell(value, self.bounds.bottom, self.bounds.height());
        let (left, right) = (segment.from.x.min(segment.to.x) - NEAR, segment.from.x.max(segment.to.x) + NEAR);
        let (bottom, top) = (segment.from.y.min(segment.to.y) - NEAR, segment.from.y.max(segment.to.y) + NEAR);
        let (columns, rows) = (across(left)..=across(right), up(bottom)..=up(top));
        rows.flat_map(move |row| columns.clone().map(move |column| (row * side + column) as usize))
    }
}
