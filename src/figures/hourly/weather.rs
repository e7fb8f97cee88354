//! What acts on a wall through a year: hours made from the climate of the site, room air, air through the gap, rain on the wall,
//! sun and sky on its face.

use super::face::Surface;
use crate::figures::Scene;
use crate::figures::gap_air::{Draught, GapAir};
use crate::model::{Climate, MeasuredHours};
use crate::physics::hourly::made_sun::{self, Bright, Given};
use crate::physics::hourly::made_year::{self, Outdoors};
use crate::physics::hourly::{Air, Hour};
use crate::physics::psychrometrics::dew_point_iso;
use crate::physics::rain::deposited_rain;
use crate::physics::sun;

/// Exposure and deposition of ANSI/ASHRAE 160 (from memory): neither sheltered nor severe; below a roof of low slope.
const RAIN: (f64, f64) = (1.0, 0.5);
/// How much of the sky an upright wall sees.
const VIEW: f64 = 0.5;

/// A year that is the same for every wall of the site.
pub(super) struct Site<'g> {
    pub hours: Vec<Outdoors>,
    /// Where the wind comes from, degrees clockwise from north; empty where nobody measured it.
    wind_from: Vec<f64>,
    /// The file the hours were measured in, if they were.
    pub measured: Option<String>,
    /// The error is the missing fact.
    pub light: Result<Light, String>,
    room: Room,
    /// Air of the gaps, and the months.
    pub gap: &'g GapAir,
}

/// Sun of the site.
pub(super) struct Light {
    latitude: f64,
    hours: Vec<Bright>,
}

/// How moist rooms are.
#[derive(Clone, Copy)]
struct Room {
    /// Relative humidity when it is −10 °C outside and colder, and when it is 20 °C and warmer.
    humidity: (f64, f64),
}

impl Room {
    /// EN 15026:2007, annex C, from memory: normal and high occupancy; `dry` is ten points below normal, made here.
    fn of(word: Option<&str>) -> Result<Self, String> {
        let humidity = match word {
            Some("dry") => (0.2, 0.5),
            Some("normal") => (0.3, 0.6),
            Some("humid") => (0.4, 0.7),
            Some(other) => return Err(format!("hourly room air of a house that is `{other}` inside")),
            None => return Err("how humid it is inside (`interior` of the site)".to_owned()),
        };
        Ok(Self { humidity })
    }

    /// Its air when it is so warm outside; the same annex: 20 °C, from 10 °C outside up to 25 °C at 20 °C.
    fn air(self, outside: f64) -> Air {
        let share = ((outside + 10.0) / 30.0).clamp(0.0, 1.0);
        let warm = ((outside - 10.0) / 10.0).clamp(0.0, 1.0);
        Air::of(20.0 + 5.0 * warm, self.humidity.0 + share * (self.humidity.1 - self.humidity.0))
    }
}

impl Light {
    fn of(climate: Option<&Climate>, hours: &[Outdoors]) -> Result<Self, String> {
        let climate = climate.ok_or("the climate of the site (`climate`)")?;
        let of = |what: &str, clause: &str| format!("{what} of `{}` (`{clause}`)", climate.name);
        let latitude = climate.latitude.ok_or_else(|| of("latitude", "latitude"))?;
        if let Some(Ok(measured)) = &climate.measured
            && !measured.sun.is_empty()
        {
            return Ok(Self { latitude, hours: made_sun::measured(&measured.sun, latitude) });
        }
        let given = match (<[f64; 12]>::try_from(climate.sun.as_slice()), climate.clearness) {
            (Ok(means), _) => Given::Means(means),
            (Err(_), Some(share)) => Given::Share(share),
            (Err(_), None) => return Err(of("sun on level ground", "sun` or `clearness")),
        };
        let hours = made_sun::make(given, latitude, hours);
        let hours = hours.ok_or_else(|| of("sun no stronger than a clear sky gives", "sun"))?;
        Ok(Self { latitude, hours })
    }

    /// Sun on an upright wall that looks this way, degrees clockwise from north, W/m².
    fn on_wall(&self, hour: usize, looks: f64) -> f64 {
        let global = self.hours.get(hour).map_or(0.0, |bright| bright.global);
        let (position, day) = made_sun::position(self.latitude, hour);
        sun::on_wall(global, position, day, looks.to_radians())
    }

    /// Sum over the year, for telling sides apart.
    pub fn sum(&self, looks: f64) -> f64 {
        (0..self.hours.len()).map(|hour| self.on_wall(hour, looks)).sum()
    }
}

impl<'g> Site<'g> {
    /// The year of the site; the error is the missing fact.
    pub fn of(scene: &Scene<'_>, gap: &'g GapAir) -> Result<Self, String> {
        let site = scene.model.site.as_ref().ok_or("the site (`site`)")?;
        let room = Room::of(site.interior)?;
        let measured = site.climate.as_ref().and_then(|climate| climate.measured.as_ref());
        let (hours, wind_from, measured) = match measured {
            Some(measured) => {
                let measured = measured.as_ref().map_err(Clone::clone)?;
                (outdoors(measured), measured.wind_from.clone(), Some(measured.file.clone()))
            }
            None => {
                let made = made_year::make(&gap.months).ok_or("months of the climate that can be")?;
                (made, Vec::new(), None)
            }
        };
        let light = Light::of(site.climate.as_ref(), &hours);
        Ok(Self { hours, wind_from, measured, light, room, gap })
    }

    /// Hour by hour, with sun and sky on a face that looks this way, or without. The wind blows square on the wall while it rains,
    /// unless it was measured where it comes from.
    pub fn acting(&self, draught: Draught, face: Option<(Surface, f64)>) -> impl Iterator<Item = Hour> {
        let lit = self.light.as_ref().ok().zip(face);
        self.hours.iter().enumerate().map(move |(at, hour)| {
            let outside = Air::of(hour.temperature, hour.humidity);
            let (sun, sky) = match lit {
                None => (0.0, 0.0),
                Some((light, (surface, looks))) => {
                    let cloud = light.hours.get(at).map_or(1.0, |bright| bright.cloud);
                    let dew = dew_point_iso(outside.pressure).unwrap_or(hour.temperature);
                    let sky = sun::lost_to_sky(hour.temperature, sun::sky(dew, cloud), surface.emissivity, VIEW);
                    (surface.absorptance * light.on_wall(at, looks), sky)
                }
            };
            let turned = self.wind_from.get(at).zip(face).map_or(0.0, |(from, (_, looks))| from - looks);
            Hour {
                outside,
                inside: self.room.air(hour.temperature),
                sun,
                sky,
                air_changes: draught.by_wind(hour.wind) / 3600.0,
                draws: draught.by_warmth / (3600.0 * 3600.0),
                rain: deposited_rain(RAIN.0, RAIN.1, hour.wind, hour.rain, turned) / 3600.0,
            }
        })
    }
}

/// Measured hours as the year takes them.
fn outdoors(measured: &MeasuredHours) -> Vec<Outdoors> {
    let all = measured.temperature.iter().zip(&measured.humidity).zip(measured.wind.iter().zip(&measured.rain));
    all.map(|((&temperature, &humidity), (&wind, &rain))| Outdoors { temperature, humidity, wind, rain }).collect()
}

/// Month of an hour, 0 for January.
pub(super) fn month_of(starts: &[usize; 13], hour: usize) -> usize {
    starts.partition_point(|start| *start <= hour).clamp(1, 12) - 1
}
