//! Sums of the block `leakage`: air through cracks.

use wythe::physics::leakage;

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    Some(match sum {
        "at_pressure" => numbers([leakage::at_pressure(of("flow"), of("from"), of("to"), of("exponent"))]),
        _ => return None,
    })
}
