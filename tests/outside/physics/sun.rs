//! Sums of the block `sun`: where the sun stands, its light on walls, the night sky.

use wythe::physics::hourly::made_sun::{self, Given};
use wythe::physics::hourly::made_year::{HOURS, Outdoors, starts};
use wythe::physics::sun::{self, Position};

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let day = || given.number("day") as usize;
    let position = || Position::of(given.number("latitude").to_radians(), day(), given.number("hour"));
    let floats = |key: &str| given.list(key).iter().map(|value| value.as_f64().unwrap()).collect::<Vec<_>>();
    Some(match sum {
        "sun_place" => {
            let at = position();
            numbers([at.up.asin().to_degrees(), at.east.atan2(at.north).to_degrees().rem_euclid(360.0)])
        }
        "beyond_air" => numbers(floats("days").into_iter().map(|day| sun::beyond_air(day as usize))),
        "clear_sky" => numbers(floats("heights").into_iter().map(|height| sun::clear(height.to_radians().sin()))),
        "apart" => {
            let light = sun::apart(given.number("global"), given.number("height").to_radians().sin(), day());
            numbers([light.beam, light.sky])
        }
        "on_walls" => {
            let on = |looks: f64| sun::on_wall(given.number("global"), position(), day(), looks.to_radians());
            numbers(floats("sides").into_iter().map(on))
        }
        "night_sky" => {
            let (warm, cloud) = (given.number("temperature"), sun::cloud(given.number("share")));
            let sky = sun::sky(given.number("dew_point"), cloud);
            numbers([cloud, sky, sun::lost_to_sky(warm, sky, 0.9, 0.5)])
        }
        "clear_months" => {
            let dry = vec![Outdoors::default(); HOURS];
            let made = made_sun::make(Given::Share(1.0), given.number("latitude").to_radians(), &dry).unwrap();
            let starts = starts();
            let mean = |month: usize| {
                let own = &made[starts[month]..starts[month + 1]];
                own.iter().map(|hour| hour.global).sum::<f64>() / own.len() as f64
            };
            numbers((0..12).map(mean))
        }
        _ => return None,
    })
}
