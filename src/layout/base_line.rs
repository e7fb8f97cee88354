//! The base line of a wall, mark by mark: its height, the ground there in the end, and what is left between.

use super::ground::{ground_line, height, planned};
use crate::geometry::Segment;
use crate::model::Face;
use crate::units::Length;

/// Marks along a base, besides its ends and where the ground was measured.
const EVERY: Length = Length::mm(1000);

/// One mark on the base line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BaseMark {
    /// From the left end of the wall.
    pub along: Length,
    /// Of the base line above the datum.
    pub height: Length,
    /// Ground there with what is planned on it; none if nothing was said.
    pub grade: Option<Length>,
    /// What is left between.
    pub clear: Option<Length>,
}

/// One edge of the base.
#[derive(Clone, Debug, PartialEq)]
pub struct BaseLine {
    /// Its name: `base`, `step.1`.
    pub name: String,
    /// Left end first.
    pub line: Segment,
    /// Rise over run to the right; 0 is level. None for an upright step.
    pub slope: Option<f64>,
    /// What the edge promises to keep.
    pub keep: Option<Length>,
    /// From the left.
    pub marks: Vec<BaseMark>,
}

/// The base edges of a face, from the left.
pub fn of_face(face: &Face) -> Vec<BaseLine> {
    let left = face.outline.as_ref().and_then(|ring| ring.bounds()).unwrap_or_default().left;
    let (ground, raises) = (ground_line(face), planned(face));
    let edges = face.edges.iter().filter(|edge| matches!(edge.kind, "base" | "step"));
    let mut lines: Vec<BaseLine> = edges
        .map(|edge| {
            let line = if edge.segment.to.x < edge.segment.from.x { edge.segment.reversed() } else { edge.segment };
            let vector = line.vector();
            let slope = (vector.dx.0 != 0).then(|| vector.dy.as_mm() / vector.dx.as_mm());
            let mut places = vec![line.from.x, line.to.x];
            let steps = (1..=1000).map(|step| line.from.x + EVERY * step).take_while(|&x| x < line.to.x);
            places.extend(steps);
            places.extend(ground.iter().map(|point| point.x).filter(|&x| line.from.x < x && x < line.to.x));
            places.sort_unstable();
            places.dedup();
            let mark = |x: Length| {
                let own = line.y_at(x).unwrap_or(line.from.y.min(line.to.y));
                let raised: Length = raises.iter().filter(|r| r.0 <= x && x <= r.1).map(|r| r.2).sum();
                let grade = height(&ground, x).map(|ground| ground + raised);
                BaseMark { along: x - left, height: own, grade, clear: grade.map(|grade| own - grade) }
            };
            let marks = places.into_iter().map(mark).collect();
            BaseLine { name: edge.name.clone(), line, slope, keep: edge.keep, marks }
        })
        .collect();
    lines.sort_by_key(|line| (line.line.from, line.line.to));
    lines
}
