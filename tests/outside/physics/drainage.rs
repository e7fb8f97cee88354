//! Sums of the block `drainage`: water between faces; gaps in millimetres.

use wythe::physics::drainage;

use super::super::sums::{Answer, Inputs, number, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let gaps = || given.list("gaps").iter().map(|gap| number(gap) / 1e3);
    Some(match sum {
        // To litres in a minute.
        "film" => numbers(gaps().map(|gap| drainage::film(gap).unwrap() * 60_000.0)),
        "capillary_rise" => numbers(gaps().map(|gap| drainage::capillary_rise(gap).unwrap() * 1e3)),
        _ => return None,
    })
}
