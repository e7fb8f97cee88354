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

/// Segments sorted so that those which may lie along a given one are found without looking at all: plumb ones by x, the
/// others in columns of the wall.
pub(super) struct Index {
    segments: Vec<Segment>,
    plumb: Vec<(Length, usize)>,
    left: Length,
    width: Length,
    columns: Vec<Vec<usize>>,
}

impl Index {
    /// Takes the segments in order; answers name them by place in this order.
    pub fn new(segments: Vec<Segment>) -> Self {
        let bounds = Bounds::around(segments.iter().flat_map(|segment| [segment.from, segment.to])).unwrap_or_default();
        let columns = vec![Vec::new(); segments.len().clamp(1, 1024)];
        let mut index = Self { segments, plumb: Vec::new(), left: bounds.left, width: bounds.width(), columns };
        for at in 0..index.segments.len() {
            let Some(segment) = index.get(at) else { continue };
            if segment.is_vertical() {
                index.plumb.push((segment.from.x, at));
                continue;
            }
            for column in index.covered(segment) {
                if let Some(list) = index.columns.get_mut(column) {
                    list.push(at);
                }
            }
        }
        index.plumb.sort_unstable();
        index
    }

    /// Indices of segments that may overlap the given one or touch it, in order.
    pub fn near(&self, segment: Segment) -> Vec<usize> {
        let Some(around) = Bounds::around([segment.from, segment.to]) else { return Vec::new() };
        let (left, right) = (around.left - NEAR, around.right + NEAR);
        let start = self.plumb.partition_point(|&(x, _)| x < left);
        let plumb = self.plumb.iter().skip(start).take_while(|&&(x, _)| x <= right).map(|&(_, at)| at);
        // A level line shares no stretch with a plumb one.
        let plumb = plumb.take(if segment.is_horizontal() { 0 } else { usize::MAX });
        let others = self.covered(segment).filter_map(|column| self.columns.get(column)).flatten().copied();
        let reaches = |at: &usize| {
            let ends = self.get(*at).and_then(|other| Bounds::around([other.from, other.to]));
            ends.is_some_and(|other| other.bottom <= around.top + NEAR && around.bottom <= other.top + NEAR)
        };
        let mut found: Vec<usize> = plumb.chain(others).filter(reaches).collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// One of the segments.
    pub fn get(&self, at: usize) -> Option<Segment> {
        self.segments.get(at).copied()
    }

    /// The columns a segment passes through.
    fn covered(&self, segment: Segment) -> std::ops::RangeInclusive<usize> {
        let count = self.columns.len() as i128;
        let column = |x: Length| {
            let off = (i128::from(x.0) - i128::from(self.left.0)) * count / (i128::from(self.width.0) + 1);
            off.clamp(0, count - 1) as usize
        };
        let (left, right) = (segment.from.x.min(segment.to.x), segment.from.x.max(segment.to.x));
        column(left - NEAR)..=column(right + NEAR)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(x0: i64, y0: i64, x1: i64, y1: i64) -> Segment {
        Segment::new(Point::mm(x0, y0), Point::mm(x1, y1))
    }

    #[test]
    fn the_index_misses_no_overlap() {
        let mut segments = vec![line(0, 0, 1000, 0), line(0, 0, 1000, 50), line(1000, 900, 0, 900)];
        for at in 0..40 {
            segments.push(line(at * 25, 0, at * 25, 900));
            segments.push(line(at * 25, 300, at * 25 + 10, 300));
        }
        let index = Index::new(segments.clone());
        for query in [line(0, 0, 40, 2), line(200, 300, 800, 300), line(75, 850, 75, 100), line(500, 0, 100, 0)] {
            let near = index.near(query);
            for (at, segment) in segments.iter().enumerate() {
                assert!(query.overlap_near(*segment, NEAR).is_none() || near.contains(&at), "{query:?} {segment:?}");
            }
            assert!(near.len() < segments.len());
        }
        assert!(Index::new(Vec::new()).near(line(0, 0, 1, 1)).is_empty());
    }

    #[test]
    fn the_part_of_a_line_inside_a_wall_with_a_window() {
        let wall = Region::rectangle(Length::ZERO, Length::ZERO, Length::mm(1000), Length::mm(500));
        let window = Region::rectangle(Length::mm(400), Length::mm(100), Length::mm(600), Length::mm(300));
        let net = wall.difference(&window);
        assert_eq!(inside(line(-100, 200, 2000, 200), &net), [line(0, 200, 400, 200), line(600, 200, 1000, 200)]);
        // Along the sill the window's own edge does not count.
        assert_eq!(inside(line(0, 100, 1000, 100), &net), [line(0, 100, 400, 100), line(600, 100, 1000, 100)]);
        assert!(inside(line(0, 0, 1000, 0), &net).is_empty());
        assert_eq!(inside(line(0, 400, 1000, 400), &net), [line(0, 400, 1000, 400)]);
    }

    #[test]
    fn places_along_an_extent() {
        let extent = (Length::mm(100), Length::mm(500));
        assert_eq!(range(None, Some(Where::Centre), extent), (Length::mm(100), Length::mm(300)));
        assert_eq!(
            range(Some(Where::Right), Some(Where::At(Length::mm(200))), extent),
            (Length::mm(200), Length::mm(500))
        );
    }
}
