//! Sums of the block `cavity`: air in the ventilated gap.

use wythe::physics::airflow::{self, Channel};

use super::super::sums::{Answer, Inputs, number, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    Some(match sum {
        "gap_flow" => gap(given),
        "gap_changes" => gap(given).split_off(9),
        "screen" => numbers(given.list("open").iter().map(|open| airflow::screen_factor(number(open)))),
        "friction" => numbers(given.list("reynolds").iter().map(|at| airflow::friction_factor(number(at)))),
        "viscosity" => numbers(given.list("celsius").iter().map(|at| airflow::viscosity(number(at)) * 1e6)),
        "density" => numbers(given.list("celsius").iter().map(|at| airflow::density(number(at)))),
        "open_fraction" => numbers([airflow::open_fraction(of("strip"), of("spacing"))]),
        "laminar_constant" => numbers([1.0 / (12.0 * airflow::viscosity(of("celsius")))]),
        _ => return None,
    })
}

/// Pressures of stack, wind, friction, inlet, outlet and screens in Pa; Reynolds number; L/s, m/s and changes of air in an hour
/// for each metre of a gap with slots at both ends.
fn gap(given: Inputs<'_>) -> Vec<Answer> {
    let of = |key: &str| given.number(key);
    let (height, depth, open, slot) = (of("height"), of("depth") / 1e3, of("open"), of("slot"));
    let (outside, inside) = (airflow::density(of("outside")), airflow::density(of("gap")));
    let stack = airflow::stack_pressure(outside, inside, height);
    let wind = airflow::wind_pressure(of("coefficient"), outside, of("wind"));
    let channel =
        Channel { depth, width: open, length: height, density: inside, viscosity: airflow::viscosity(of("gap")) };
    // The case was worked out with both screens in outside air.
    let screens = 2.0 * airflow::screen_resistance(outside, slot, of("screen"));
    let losses = |flow: f64| {
        let square = |resistance: f64| resistance * flow * flow;
        [
            channel.loss(flow),
            square(airflow::slot_resistance(outside, slot)),
            square(airflow::slot_resistance(inside, slot)),
            square(screens),
        ]
    };
    let flow = halved(|flow| losses(flow).iter().sum::<f64>() > stack + wind);
    let speed = flow / (depth * open);
    let changes = flow * 3600.0 / (height * depth * open);
    let results = [channel.reynolds(flow), flow * 1e3, speed, changes];
    numbers([stack, wind].into_iter().chain(losses(flow)).chain(results))
}

/// The flow from which on `too_much` holds, by halving.
fn halved(too_much: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if too_much(middle) { high = middle } else { low = middle }
    }
    0.5 * (low + high)
}
