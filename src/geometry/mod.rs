//! Exact plane geometry on a face: whole nanometres in, whole nanometres out.
//!
//! x runs right along the wall as seen from outside, y runs up. Outlines turn counter-clockwise and holes clockwise, so
//! that the interior always lies to the left of an edge. Products are held in `i128`; only [`snap`] rounds.
//! Coordinates beyond [`REACH`] are refused by [`check_simple`] and pulled back to it by the booleans, so that no sum or
//! product overflows.

mod boolean;
mod levels;
mod point;
mod polygon;
mod region;
mod segment;
mod simple;
#[cfg(test)]
mod tests;

pub use levels::{LevelPoint, ceilings, floors, high_points, low_points};
pub use point::{Point, REACH, Vector, orient, snap};
pub use polygon::{Bounds, Edge, Place, Polygon, Ring};
pub use region::Region;
pub use segment::{Meeting, Piece, Segment, split_run};
pub use simple::{Outline, OutlineFault, check_simple};
