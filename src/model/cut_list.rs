//! A list of pieces to cut that comes from no wall.

use std::sync::Arc;

use crate::source::Span;
use crate::units::Length;

/// Lengths that are alike: pieces, or offcuts that lie there.
#[derive(Clone, Debug, PartialEq)]
pub struct Alike {
    /// Length of one, to the long point.
    pub length: Length,
    /// How many.
    pub count: u64,
    /// What is written on it.
    pub mark: Option<Arc<str>>,
    /// Where it stands.
    pub origin: Span,
}

/// Pieces, and what they are cut from.
#[derive(Clone, Debug, PartialEq)]
pub struct CutList {
    /// Its name.
    pub name: String,
    /// Lengths that can be bought, each with the price of one.
    pub stocks: Vec<(Length, Option<f64>)>,
    /// Width of the saw cut, if said.
    pub kerf: Option<Length>,
    /// Shortest offcut worth keeping, if said.
    pub keep: Option<Length>,
    /// Offcuts that lie there.
    pub offcuts: Vec<Alike>,
    /// What is to be cut.
    pub pieces: Vec<Alike>,
    /// Where it stands.
    pub origin: Span,
}
