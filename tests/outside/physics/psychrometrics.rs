//! Sums of the block `psychrometrics`: moist air at standard pressure.

use wythe::physics::psychrometrics::{self, STANDARD_PRESSURE};

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let celsius = given.number("temperature");
    let vapour = || given.number("humidity") * psychrometrics::saturation(celsius);
    let ratio = || psychrometrics::humidity_ratio(vapour(), STANDARD_PRESSURE).unwrap();
    Some(numbers([match sum {
        "saturation" => psychrometrics::saturation(celsius),
        "humidity_ratio" => ratio(),
        "enthalpy" => psychrometrics::enthalpy(celsius, ratio()) / 1e3,
        "volume" => psychrometrics::volume(celsius, ratio(), STANDARD_PRESSURE),
        "density" => psychrometrics::density(celsius, ratio(), STANDARD_PRESSURE),
        "wet_bulb" => psychrometrics::wet_bulb(celsius, ratio(), STANDARD_PRESSURE).unwrap(),
        "dew_point" => psychrometrics::dew_point(vapour()).unwrap(),
        _ => return None,
    }]))
}
