//! Sums of the block `wind`: wind on walls; heights in metres, pressures in Pa.

use wythe::physics::weather;
use wythe::physics::wind::{self, Openings, Zone};
use wythe::physics::wind_gusts::{self, Exposure, Hill, OnHill};

use super::super::sums::{Answer, Inputs, number, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    canadian(sum, given).or_else(|| american(sum, given))
}

fn canadian(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    let one = |found: f64| numbers([found]);
    let exposure = || wind::exposure_factor(of("height"), false);
    let outside = || wind::external(1.0, of("reference"), exposure(), of("shape"));
    Some(match sum {
        "wind_exposure" => one(wind::exposure_factor(of("height"), given.text("terrain") == "rough")),
        "wind_external" => one(outside()),
        "wind_net" => {
            let net = wind::net_suction(1.0, of("reference"), exposure(), of("shape"), of("inside"));
            one(net * of("factor"))
        }
        "wind_whole" => {
            let shape = wind::INSIDE_GUST * of("inside");
            let inside = wind::external(1.0, of("reference"), wind::INSIDE_EXPOSURE, shape);
            let net = wind::net(outside(), inside);
            numbers([outside(), inside, net, 1.4 * net])
        }
        "wall_shapes" => {
            let area = of("area");
            let suction = |zone: Zone| wind::wall_suction(zone, area);
            numbers([suction(Zone::Field), suction(Zone::Corner), wind::wall_push(area)])
        }
        "inside_shapes" => {
            let openings = match given.text("openings") {
                "even" => Openings::Even,
                "shut" => Openings::ShutInStorms,
                _ => Openings::Large,
            };
            let (least, most) = wind::inside_shapes(openings);
            numbers([least, most])
        }
        "edge_zone" => one(weather::edge_zone(of("width"), of("height"))),
        "edge_zone_from" => one(weather::edge_zone_from(of("width"), of("height"), of("least"))),
        "end_dam" => one(weather::end_dam(of("pressure")) * 1e3),
        _ => return None,
    })
}

fn american(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    let exposure = || match given.text("exposure") {
        "B" => Exposure::B,
        "D" => Exposure::D,
        _ => Exposure::C,
    };
    let pressure = || {
        let height = wind_gusts::height_factor(of("height"), exposure());
        wind_gusts::velocity_pressure(height, 1.0, 0.85, wind_gusts::air_factor(0.0), of("speed"))
    };
    let on_hill = || OnHill {
        hill: match given.text("hill") {
            "ridge" => Hill::Ridge,
            "escarpment" => Hill::Escarpment,
            _ => Hill::Round,
        },
        rise: of("rise"),
        half_length: of("half_length"),
        from_crest: of("from_crest"),
        height: of("height"),
    };
    Some(match sum {
        "height_factor" => {
            let factor = |height| wind_gusts::height_factor(number(height), exposure());
            numbers(given.list("heights").iter().map(factor))
        }
        "air_factor" => numbers(given.list("altitudes").iter().map(|above| wind_gusts::air_factor(number(above)))),
        "velocity_pressure" => numbers([pressure()]),
        "asce_design" => {
            // ft² to m².
            let area = of("area") * 0.3048 * 0.3048;
            let suctions = [Zone::Field, Zone::Corner].map(|zone| wind_gusts::wall_suction(zone, area));
            let shapes = suctions.into_iter().chain([wind_gusts::wall_push(area)]);
            numbers(shapes.map(|shape| wind_gusts::design(pressure(), shape, wind_gusts::INSIDE)))
        }
        "hill_parts" => numbers(wind_gusts::hill_parts(on_hill(), exposure())),
        "hill_factor" => numbers([wind_gusts::hill_factor(on_hill(), exposure())]),
        _ => return None,
    })
}
