//! What acts on a wall through a year: hours made from the climate of the site, room air, air through the gap, rain on the wall.

use crate::figures::Scene;
use crate::figures::gap_air::GapAir;
use crate::physics::hourly::made_year::{self, Outdoors};
use crate::physics::hourly::{Air, Hour};
use crate::physics::rain::deposited_rain;

/// Exposure and deposition of ANSI/ASHRAE 160 (from memory): neither sheltered nor severe; below a roof of low slope.
const RAIN: (f64, f64) = (1.0, 0.5);

/// A year that is the same for every wall of the site.
pub(super) struct Site<'g> {
    pub hours: Vec<Outdoors>,
    room: Room,
    /// Air of the gaps, and the months.
    pub gap: &'g GapAir,
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

impl<'g> Site<'g> {
    /// The year of the site; the error is the missing fact.
    pub fn of(scene: &Scene<'_>, gap: &'g GapAir) -> Result<Self, String> {
        let site = scene.model.site.as_ref().ok_or("the site (`site`)")?;
        let room = Room::of(site.interior)?;
        let hours = made_year::make(&gap.months).ok_or("months of the climate that can be")?;
        Ok(Self { hours, room, gap })
    }

    /// Hour by hour. Sun and sky are left out; the wind blows square on the wall while it rains.
    pub fn acting(&self, changes: &[f64; 12]) -> impl Iterator<Item = Hour> {
        let starts = made_year::starts();
        self.hours.iter().enumerate().map(move |(at, hour)| Hour {
            outside: Air::of(hour.temperature, hour.humidity),
            inside: self.room.air(hour.temperature),
            gain: 0.0,
            air_changes: changes[month_of(&starts, at)] / 3600.0,
            rain: deposited_rain(RAIN.0, RAIN.1, hour.wind, hour.rain, 0.0) / 3600.0,
        })
    }
}

/// Month of an hour, 0 for January.
pub(super) fn month_of(starts: &[usize; 13], hour: usize) -> usize {
    starts.partition_point(|start| *start <= hour).clamp(1, 12) - 1
}
