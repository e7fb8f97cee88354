//! Sums of the block `leakage`: air through cracks.

use wythe::physics::leakage::{self, PowerLaw};

use super::super::sums::{Answer, Inputs, number, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    let law = || PowerLaw { coefficient: of("coefficient"), exponent: of("exponent") };
    Some(match sum {
        "at_pressure" => numbers([leakage::at_pressure(of("flow"), of("from"), of("to"), of("exponent"))]),
        "flows" => numbers(given.list("pressures").iter().map(|pressure| law().flow(number(pressure)))),
        "effective_area" => numbers([law().effective_area(of("density")) * 1e4]),
        "equivalent_area" => numbers([law().equivalent_area(of("density")) * 1e4]),
        "fit" => {
            let readings = given.list("readings").iter().map(|reading| (number(&reading[0]), number(&reading[1])));
            let found = leakage::fit(&readings.collect::<Vec<_>>())?;
            numbers([found.exponent, found.coefficient])
        }
        "of_changes" => {
            let at_50 = leakage::each_area(of("changes"), of("volume"), of("envelope"))?;
            numbers([at_50, leakage::at_pressure(at_50, 50.0, 75.0, of("exponent"))])
        }
        "hole_of_limit" => {
            // L/s at 75 Pa to m³/s at 1 Pa; m² to mm².
            let coefficient = leakage::at_pressure(of("flow") / 1e3, 75.0, 1.0, of("exponent"));
            numbers([PowerLaw { coefficient, exponent: of("exponent") }.effective_area(of("density")) * 1e6])
        }
        _ => return None,
    })
}
