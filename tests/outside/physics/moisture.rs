//! Sums of the block `moisture`: monthly moisture.

use wythe::physics::layers::{air_permeability, permeance_of};
use wythe::physics::moisture::cups;
use wythe::physics::moisture::gap::{self, End};
use wythe::physics::moisture::glaser::{Cut, Slab, Wall};
use wythe::physics::moisture::indoors::Class;
use wythe::physics::moisture::surface::{self, MOULD};
use wythe::physics::moisture::year::{self, Months, Year};
use wythe::physics::moisture::{Air, DAY};
use wythe::physics::psychrometrics;

use super::super::sums::{Answer, Inputs, number, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    Some(numbers(match sum {
        "saturation_iso" => vec![psychrometrics::saturation_iso(of("temperature"))],
        "dew_point_iso" => vec![psychrometrics::dew_point_iso(of("vapour")).unwrap()],
        "pressures" => {
            let (outside, inside) = airs(given, of("temperature"), of("humidity"));
            let excess = class(given).excess(outside.temperature);
            vec![outside.vapour, excess, inside.vapour, inside.vapour / MOULD]
        }
        "surface_temperature" => vec![need(given).temperature],
        "surface_factor" => vec![need(given).factor.unwrap()],
        "critical_month" => {
            let needs = months(given).map(|(outside, inside)| surface::need(outside, inside, MOULD));
            let (month, factor) = surface::critical(&needs).unwrap();
            vec![month as f64 + 1.0, factor]
        }
        "one_month" => {
            let outside = Air::of_humidity(of("outside"), of("outside_humidity"));
            let inside = Air::of_humidity(of("inside"), of("inside_humidity"));
            let cut = wall(given);
            let gain = cut.between(outside, inside, &vec![false; cut.places.len()]).gain;
            vec![gain.iter().sum::<f64>() * DAY * 1e3]
        }
        "gains" => in_grams(&year(given), year::Month::gain),
        "held" => in_grams(&year(given), year::Month::held),
        "held_by_cups" => in_grams(&by_cups(given).1, year::Month::held),
        "damp_months" => {
            let (wet, _) = by_cups(given);
            wet.iter().map(|month| month.iter().filter(|damp| **damp).count() as f64).collect()
        }
        "start" => vec![year(given).start.map_or(0.0, |month| month as f64 + 1.0)],
        "dries_in" => vec![year(given).dries_in().map_or(0.0, |month| month as f64 + 1.0)],
        "sheet" => vec![permeance_of(of("air")).unwrap() * 1e12],
        "air_permeability" => {
            let each = |celsius: &serde_json::Value| air_permeability(number(celsius)).unwrap() * 1e12;
            given.list("temperatures").iter().map(each).collect()
        }
        "gap_vapour" => vec![end(given, "temperature", "humidity").vapour() * 1e3],
        "gap_drying" => {
            // Air through a metre of width, over the volume of that much gap.
            let (depth, height) = (given.metres("depth"), of("height"));
            let changes = of("flow") / 1e3 * 3600.0 / (depth * height);
            let (inlet, out) = (end(given, "inlet", "inlet_humidity"), end(given, "out", "out_humidity"));
            vec![gap::drying(changes, depth, inlet, out) * 1e3]
        }
        _ => return None,
    }))
}

fn class(given: Inputs<'_>) -> Class {
    Class::of(given.number("class") as u32).unwrap()
}

fn airs(given: Inputs<'_>, celsius: f64, humidity: f64) -> (Air, Air) {
    let outside = Air::of_humidity(celsius, humidity);
    (outside, class(given).inside(given.number("inside"), outside))
}

fn need(given: Inputs<'_>) -> surface::Need {
    let (outside, inside) = airs(given, given.number("temperature"), given.number("humidity"));
    surface::need(outside, inside, MOULD).unwrap()
}

fn months(given: Inputs<'_>) -> Months {
    let (celsius, humidity) = (given.list("temperatures"), given.list("humidities"));
    std::array::from_fn(|month| airs(given, number(&celsius[month]), number(&humidity[month])))
}

/// Layers outermost first: resistance to heat, metres of still air.
fn wall(given: Inputs<'_>) -> Cut {
    built(given).cut().unwrap()
}

fn built(given: Inputs<'_>) -> Wall {
    let slab = |row: &serde_json::Value| Slab { resistance: number(&row[0]), air: number(&row[1]) };
    let layers = given.list("layers").iter().map(slab).collect();
    Wall { outside: given.number("outer_surface"), layers, inside: given.number("inner_surface") }
}

/// Months and layers with the wet cup, and the year they make. `wet` holds the wet cups in metres of still air.
fn by_cups(given: Inputs<'_>) -> (Vec<Vec<bool>>, Year) {
    let wet: Vec<f64> = given.list("wet").iter().map(number).collect();
    let found = cups::year(&built(given), &wet, &months(given)).unwrap();
    (found.damp, found.year)
}

fn year(given: Inputs<'_>) -> Year {
    year::of(&wall(given), &months(given))
}

fn in_grams(year: &Year, of: fn(&year::Month) -> f64) -> Vec<f64> {
    year.months.iter().map(|month| of(month) * 1e3).collect()
}

fn end(given: Inputs<'_>, celsius: &str, humidity: &str) -> End {
    End { temperature: given.number(celsius), humidity: given.number(humidity) }
}
