//! Sums of the block `climates`: the months of the library's climates.

use wythe::model::{Climate, Model};
use wythe::session::{Settings, check};
use wythe::source::MapWorld;

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let model = site(given.text("name"));
    let climate = model.site.as_ref()?.climate.as_ref()?;
    Some(match sum {
        "months" => numbers(months(climate, given.text("of"))),
        "rain_of_a_year" => numbers([climate.rain.iter().sum()]),
        "degree_days" => numbers([climate.degree_days?]),
        _ => return None,
    })
}

fn site(climate: &str) -> Model {
    let text = format!("wythe 1\n\nsite s {{\n    climate std.climates.{climate}\n}}\n");
    check(&MapWorld::new().with("house.wythe", &text), &["house.wythe".to_owned()], &Settings::default()).model
}

/// °C, %, m/s, mm.
fn months(climate: &Climate, what: &str) -> Vec<f64> {
    match what {
        "temperature" => climate.temperature.clone(),
        "humidity" => climate.humidity.iter().map(|share| share * 100.0).collect(),
        "wind" => climate.wind_speed.clone(),
        "rain" => climate.rain.clone(),
        _ => panic!("no months of `{what}`"),
    }
}
