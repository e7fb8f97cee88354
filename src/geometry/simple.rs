//! Whether points a person gave make a proper outline, and where not.

use std::collections::BTreeMap;

use super::point::{Point, orient};
use super::polygon::Ring;
use super::segment::{Meeting, Segment};

/// A proper outline made of given points.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outline {
    /// Counter-clockwise, starting at the first given point, every given point kept.
    pub ring: Ring,
    /// Whether the points were given clockwise and have been turned round.
    pub flipped: bool,
    /// For each given edge (edge `n` starts at given point `n`) its index in the ring.
    pub edges: Vec<usize>,
}

/// What is wrong with an outline. Edge `n` runs from given point `n` to the next; the last closes the ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutlineFault {
    /// Fewer than three points.
    TooFewPoints {
        /// How many were given.
        given: usize,
    },
    /// A point too far from the origin to reckon with, see [`super::REACH`].
    OutOfReach {
        /// Which point.
        vertex: usize,
    },
    /// Two neighbouring points are the same; for the last edge, the first point was repeated at the end.
    ZeroLengthEdge {
        /// Which edge.
        edge: usize,
    },
    /// All points lie on one line.
    ZeroArea,
    /// An edge turns straight back along the one before it.
    Spike {
        /// The edge that turns back.
        edge: usize,
        /// Where it turns.
        at: Point,
    },
    /// Two edges that are not neighbours run along each other.
    Retrace {
        /// The earlier edge.
        first: usize,
        /// The later edge.
        second: usize,
        /// The stretch they share, in the direction of the first.
        along: Segment,
    },
    /// Two edges cross.
    SelfCrossing {
        /// The earlier edge.
        first: usize,
        /// The later edge.
        second: usize,
        /// Where, on the grid.
        at: Point,
    },
    /// A corner of the outline lies on another of its edges or corners.
    SelfTouch {
        /// The earlier edge.
        first: usize,
        /// The later edge.
        second: usize,
        /// Where.
        at: Point,
    },
}

/// Checks points a person gave as an outline. Clockwise points are turned round, with a map from the given edges; anything
/// else wrong is the first fault in the order of the given edges, a touch only when nothing crosses. Points in the middle of a straight side are kept.
pub fn check_simple(points: &[Point]) -> Result<Outline, OutlineFault> {
    if points.len() < 3 {
        return Err(OutlineFault::TooFewPoints { given: points.len() });
    }
    if let Some(vertex) = points.iter().position(|point| !point.within_reach()) {
        return Err(OutlineFault::OutOfReach { vertex });
    }
    let ring = Ring::new(points.to_vec());
    let edges: Vec<Segment> = ring.edges().collect();
    if let Some(edge) = edges.iter().position(|edge| edge.from == edge.to) {
        return Err(OutlineFault::ZeroLengthEdge { edge });
    }
    if let Some(first) = edges.first()
        && points.iter().all(|&point| orient(first.from, first.to, point).is_eq())
    {
        return Err(OutlineFault::ZeroArea);
    }
    if let Some(fault) = first_spike(&edges) {
        return Err(fault);
    }
    match first_meeting(&edges) {
        Some(fault) => Err(fault),
        None => Ok(wound(ring)),
    }
}

/// Counter-clockwise from the same first point.
fn wound(ring: Ring) -> Outline {
    let count = ring.points().len();
    if ring.is_counter_clockwise() {
        return Outline { ring, flipped: false, edges: (0..count).collect() };
    }
    let mut points = ring.points().to_vec();
    points.reverse();
    points.rotate_right(1);
    Outline { ring: Ring::new(points), flipped: true, edges: (0..count).rev().collect() }
}

/// The first edge that turns back along the one before it.
fn first_spike(edges: &[Segment]) -> Option<OutlineFault> {
    let before = edges.iter().cycle().skip(edges.len().saturating_sub(1));
    edges.iter().zip(before).enumerate().find_map(|(edge, (this, before))| {
        let back = before.vector().cross(this.vector()) == 0 && before.vector().dot(this.vector()) < 0;
        back.then_some(OutlineFault::Spike { edge, at: this.from })
    })
}

/// The first pair of edges, in the order given, that meet elsewhere than at the corner neighbours share; crossings and
/// retraces before touches.
fn first_meeting(edges: &[Segment]) -> Option<OutlineFault> {
    let mut order: Vec<(usize, Segment)> = edges.iter().copied().enumerate().collect();
    order.sort_by_key(|(index, edge)| (edge.from.x.min(edge.to.x), *index));
    let mut faults: BTreeMap<(bool, usize, usize), OutlineFault> = BTreeMap::new();
    for (place, &(one, edge)) in order.iter().enumerate() {
        let right = edge.from.x.max(edge.to.x);
        let later = order.iter().skip(place + 1).take_while(|(_, other)| other.from.x.min(other.to.x) <= right);
        for &(two, other) in later {
            let (early, late) = if one < two { ((one, edge), (two, other)) } else { ((two, other), (one, edge)) };
            if let Some(fault) = meeting(edges.len(), early, late) {
                // Where edges run along each other their corners touch too: the touch is not the news.
                let touch = matches!(fault, OutlineFault::SelfTouch { .. });
                faults.insert((touch, early.0, late.0), fault);
            }
        }
        // A scribble of thousands of crossings needs no complete list.
        if faults.len() > 10_000 {
            break;
        }
    }
    faults.into_values().next()
}

/// What is wrong between two edges, the first before the second.
fn meeting(count: usize, (first, edge): (usize, Segment), (second, other): (usize, Segment)) -> Option<OutlineFault> {
    match edge.meets(other) {
        Meeting::Apart => None,
        Meeting::Cross(at) => Some(OutlineFault::SelfCrossing { first, second, at }),
        Meeting::Overlap(along) => Some(OutlineFault::Retrace { first, second, along }),
        // Neighbours that are not collinear share their corner and nothing else.
        Meeting::Touch(_) if second == first + 1 || (first == 0 && second + 1 == count) => None,
        Meeting::Touch(at) => Some(OutlineFault::SelfTouch { first, second, at }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    fn points(corners: &[(i64, i64)]) -> Vec<Point> {
        corners.iter().map(|&(x, y)| Point::mm(x, y)).collect()
    }

    fn fault(corners: &[(i64, i64)]) -> OutlineFault {
        check_simple(&points(corners)).expect_err("a fault")
    }

    #[test]
    fn winding_is_mended_and_edges_are_followed() {
        let given = points(&[(0, 0), (0, 5), (8, 5), (8, 0)]);
        let outline = check_simple(&given).expect("simple");
        assert!(outline.flipped && outline.ring.is_counter_clockwise());
        assert_eq!(outline.ring.points()[0], given[0]);
        for (edge, &mapped) in outline.edges.iter().enumerate() {
            let wanted = Segment::new(given[edge], given[(edge + 1) % 4]).reversed();
            assert_eq!(outline.ring.edge(mapped), Some(wanted));
        }
        let straight = check_simple(&points(&[(0, 0), (4, 0), (8, 0), (8, 5)])).expect("simple");
        assert!(!straight.flipped);
        assert_eq!((straight.edges, straight.ring.points().len()), (vec![0, 1, 2, 3], 4));
    }

    #[test]
    fn faults_are_named_with_their_edges() {
        assert_eq!(fault(&[(0, 0), (1, 1)]), OutlineFault::TooFewPoints { given: 2 });
        assert_eq!(fault(&[(0, 0), (1, 1), (1, 1), (0, 5)]), OutlineFault::ZeroLengthEdge { edge: 1 });
        assert_eq!(fault(&[(0, 0), (1, 0), (1, 1), (0, 0)]), OutlineFault::ZeroLengthEdge { edge: 3 });
        assert_eq!(fault(&[(0, 0), (1, 1), (3, 3)]), OutlineFault::ZeroArea);
        let bow_tie = OutlineFault::SelfCrossing { first: 0, second: 2, at: Point::mm(5, 5) };
        assert_eq!(fault(&[(0, 0), (10, 10), (10, 0), (0, 10)]), bow_tie);
        let spike = OutlineFault::Spike { edge: 2, at: Point::mm(15, 5) };
        assert_eq!(fault(&[(0, 5), (10, 5), (15, 5), (10, 5), (10, 0), (0, 0)]), spike);
        let along = Segment::new(Point::mm(4, 0), Point::mm(6, 0));
        let retrace = OutlineFault::Retrace { first: 0, second: 3, along };
        assert_eq!(fault(&[(0, 0), (10, 0), (10, 8), (6, 0), (4, 0), (0, 8)]), retrace);
        let touch = OutlineFault::SelfTouch { first: 0, second: 2, at: Point::mm(5, 0) };
        assert_eq!(fault(&[(0, 0), (10, 0), (10, 8), (5, 0), (0, 8)]), touch);
        let far = [Point::mm(0, 0), Point::mm(1, 0), Point::new(Length(i64::MAX), Length(i64::MIN))];
        assert_eq!(check_simple(&far), Err(OutlineFault::OutOfReach { vertex: 2 }));
    }

    #[test]
    fn two_thousand_points_are_quick() {
        let mut given: Vec<Point> =
            (0..1_000).flat_map(|step| [Point::mm(step * 2, 100), Point::mm(step * 2 + 1, 90)]).collect();
        given.push(Point::mm(2_000, 0));
        given.push(Point::mm(0, 0));
        let outline = check_simple(&given).expect("simple");
        assert!(outline.flipped);
        assert_eq!(outline.ring.points().len(), 2_002);
    }
}
