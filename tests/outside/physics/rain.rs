//! Sums of the block `rain`: driving rain and what exits let out; openings in millimetres.

use wythe::physics::openings;
use wythe::physics::rain::{self, Terrain};

use super::super::sums::{Answer, Inputs, number, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    // Wind m/s, rain mm/h, angle.
    let hours = || given.list("hours").iter().map(|hour| (number(&hour[0]), number(&hour[1]), number(&hour[2])));
    let of = |key: &str| given.metres(key);
    let a_minute = |flow: f64| numbers([flow * 60_000.0]);
    Some(match sum {
        "driving_rain" => numbers(hours().map(|(wind, fall, angle)| rain::driving_rain(wind, fall, angle))),
        "driving_rain_sum" => numbers([hours().map(|(wind, fall, angle)| rain::driving_rain(wind, fall, angle)).sum()]),
        "driving_rain_by_drops" => {
            numbers(hours().map(|(wind, fall, angle)| rain::driving_rain_by_drops(wind, fall, angle)))
        }
        "drop_factor" => {
            let fall = given.list("rains").iter().map(number);
            numbers(fall.map(|fall| rain::driving_rain_by_drops(1.0, fall, 0.0) / fall))
        }
        "deposited_rain_sum" => {
            let (exposure, deposition) = (given.number("exposure"), given.number("deposition"));
            let each = |(wind, fall, angle)| rain::deposited_rain(exposure, deposition, wind, fall, angle);
            numbers([hours().map(each).sum::<f64>() * given.number("share")])
        }
        "iso_factor" => {
            let fall = given.list("rains").iter().map(number);
            numbers(fall.map(|fall| rain::driving_rain(1.0, fall, 0.0) / fall))
        }
        "yearly_index" => numbers([rain::yearly_index(hours(), given.number("years"))?]),
        "index_towards" => {
            let eight: Vec<f64> = given.list("eight").iter().map(number).collect();
            let eight = <[f64; 8]>::try_from(eight).ok()?;
            numbers(given.list("looks").iter().map(|looks| rain::index_towards(&eight, number(looks))))
        }
        "roughness" => {
            let all = [Terrain::Shore, Terrain::Fields, Terrain::Suburb, Terrain::Town];
            numbers(all.map(|terrain| rain::roughness(given.number("height"), terrain)))
        }
        "topography" => {
            let slopes = given.list("slopes").iter().map(|slope| (number(&slope[0]), number(&slope[1])));
            numbers(slopes.map(|(slope, place)| rain::topography(slope, place)))
        }
        "obstruction" => numbers(given.list("distances").iter().map(|away| rain::obstruction(number(away)))),
        "wall_index" => {
            let factors = given.list("factors");
            let [ground, hill, obstacles, wall] = [0, 1, 2, 3].map(|at| number(&factors[at]));
            numbers([rain::wall_index(given.number("index"), ground, hill, obstacles, wall)])
        }
        "catch_ratio" => {
            let (exposure, deposition) = (given.number("exposure"), given.number("deposition"));
            numbers([rain::catch_ratio(exposure, deposition, given.number("wind"))])
        }
        "caught" => {
            let months = given.list("months").iter().map(|month| (number(&month[0]), number(&month[1])));
            let found = rain::caught(months, given.number("exposure"), given.number("deposition"));
            numbers([found.all_round, found.square_on])
        }
        "wind_of_pressure" => numbers([rain::wind_of_pressure(given.number("pressure"))]),
        "discharge_round" => a_minute(rain::discharge(openings::round_hole(of("diameter")), of("head"))),
        "discharge_slot" => a_minute(rain::discharge(of("height") * of("length"), of("head"))),
        _ => return None,
    })
}
