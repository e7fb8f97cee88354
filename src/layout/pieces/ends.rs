//! The ends of a piece: at what angle they are cut.

use crate::geometry::{Point, Polygon};
use crate::units::Length;

/// Shorter edges than this are corners that were snapped, not cuts.
const LEAST_CUT: Length = Length::mm(1);

/// One end of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// Degrees from a square cut; 0 is square, positive leans to the right going up (or away).
    pub from_square: f64,
    /// Length of the cut across the piece.
    pub across: Length,
}

/// Which of two mirror images a piece is: the end with its long point below, seen from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hand {
    /// Its left end is the raked one.
    Left,
    /// Its right end is the raked one.
    Right,
}

impl Hand {
    /// As written on the piece.
    pub fn letter(self) -> &'static str {
        match self {
            Hand::Left => "L",
            Hand::Right => "R",
        }
    }
}

/// Left and right end of a piece that lies (lower and upper of one that stands), and whether it has corners besides.
pub(in crate::layout) fn of(shape: &Polygon, upright: bool) -> ([End; 2], bool) {
    let bounds = shape.bounds();
    let middle = if upright { bounds.bottom + bounds.height() / 2 } else { bounds.left + bounds.width() / 2 };
    let along = |point: Point| if upright { point.y } else { point.x };
    let across = |point: Point| if upright { point.x } else { point.y };
    let mut ends = [None::<End>; 2];
    let mut extra = !shape.holes().is_empty();
    let points = shape.outline().points();
    let count = points.len();
    for (at, &from) in points.iter().enumerate() {
        let to = points[(at + 1) % count];
        let (run, rise) = (along(to) - along(from), across(to) - across(from));
        if rise.abs() < LEAST_CUT && run.abs() < LEAST_CUT {
            continue;
        }
        // The long edges run more along than across only where they are not steep cuts of an end.
        let long_edge = rise.0 == 0;
        if long_edge {
            continue;
        }
        let centre = Length((along(from).0 + along(to).0) / 2);
        // The long side of a triangle lies as much to the left as to the right: outlines run against the clock, so right ends go up
        // (and upper ends to the left).
        let far = if (centre - middle).abs() < LEAST_CUT { (rise.0 > 0) != upright } else { centre > middle };
        let side = usize::from(far);
        let degrees =
            libm::atan2((along(to) - along(from)).as_mm() * rise.0.signum() as f64, rise.abs().as_mm()).to_degrees();
        let end = End { from_square: if degrees == 0.0 { 0.0 } else { degrees }, across: rise.abs() };
        match &mut ends[side] {
            slot @ None => *slot = Some(end),
            Some(have) => {
                extra = true;
                if end.across > have.across {
                    *have = end;
                }
            }
        }
    }
    let square = End { from_square: 0.0, across: if upright { bounds.width() } else { bounds.height() } };
    (ends.map(|end| end.unwrap_or(square)), extra)
}

/// Handed where one end is cut at an angle and the piece cannot be turned round to be its own mirror image.
pub(super) fn hand(ends: [End; 2]) -> Option<Hand> {
    let raked = |end: End| end.from_square.abs() > 0.05;
    match (raked(ends[0]), raked(ends[1])) {
        (true, false) => Some(Hand::Left),
        (false, true) => Some(Hand::Right),
        // A gable piece is its own mirror image; a parallelogram is not, and is named after its left end.
        (true, true) if (ends[0].from_square + ends[1].from_square).abs() > 0.05 => Some(Hand::Left),
        _ => None,
    }
}
