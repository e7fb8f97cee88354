//! Sums of the block `wind`: wind on walls.

use super::super::sums::{Answer, Inputs};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(_sum: &str, _given: Inputs<'_>) -> Option<Vec<Answer>> {
    None
}
