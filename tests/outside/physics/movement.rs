//! Sums of the block `movement`: growing and shrinking; lengths in millimetres.

use wythe::physics::movement;

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let mm = |found: f64| numbers([found * 1e3]);
    let of = |key: &str| given.metres(key);
    Some(match sum {
        "gap_when_set" => mm(movement::gap_when_set(
            of("least"),
            given.number("expansion"),
            of("length"),
            given.number("set"),
            given.number("hottest"),
        )),
        "lap_when_set" => mm(movement::lap_when_set(
            of("least"),
            given.number("expansion"),
            of("length"),
            given.number("set"),
            given.number("coldest"),
        )),
        "frame_shrinkage" => mm(movement::frame_shrinkage(
            of("wood"),
            given.number("from"),
            given.number("to"),
            given.number("per_percent"),
        )),
        "slope_to_start_with" => {
            numbers([movement::slope_to_start_with(given.number("wanted"), of("ledge"), of("drop"))?])
        }
        "travel" => {
            let (coldest, hottest) = (given.number("coldest"), given.number("hottest"));
            let found =
                movement::travel(given.number("expansion"), of("length"), given.number("set"), coldest, hottest);
            numbers([found.shortens, found.lengthens, found.shortens + found.lengthens].map(|moved| moved * 1e3))
        }
        "swelling" => {
            mm(movement::swelling(of("width"), given.number("from"), given.number("to"), given.number("per_percent")))
        }
        "slope_after" => numbers([movement::slope_after(given.number("slope"), of("ledge"), of("drop"))?]),
        _ => return None,
    })
}
