//! Sun and cloud of a year, from measured sun, from what twelve months bring, or from one share of a clear sky.
//!
//! The rule, ours: all days of a month are alike clear, but for hours with rain, when the sky is dull; what they lack the other
//! hours have, so that every month keeps its mean.

use std::ops::Range;

use super::made_year::{HOURS, Outdoors, starts};
use crate::physics::sun::{self, Position};

/// Sun in hours of rain beside that under a clear sky: what is left under a sky wholly under cloud (1 − 0.75, as in
/// [`sun::cloud`]).
const DULL: f64 = 0.25;
/// More than this beside a clear sky cannot be.
const MOST: f64 = 1.25;

/// What is known of the sun of a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Given {
    /// Mean of every month on level ground, day and night, W/m².
    Means([f64; 12]),
    /// Share of the sun of a clear sky that reaches level ground, 0 to 1, all year.
    Share(f64),
}

/// One hour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bright {
    /// On level ground, W/m².
    pub global: f64,
    /// Share of the sky under cloud.
    pub cloud: f64,
}

/// Where the sun stands in the middle of an hour of the year (solar time), and the day of that, 1 for the first of January.
pub fn position(latitude: f64, hour: usize) -> (Position, usize) {
    let day = (hour / 24) % 365 + 1;
    (Position::of(latitude, day, (hour % 24) as f64 + 0.5), day)
}

/// An hour for each of the year's, seen from `latitude` radians north. `None` where a month has more sun than a clear sky gives,
/// or what is given is no number or less than nothing.
pub fn make(given: Given, latitude: f64, hours: &[Outdoors]) -> Option<Vec<Bright>> {
    let sound = latitude.abs() <= std::f64::consts::FRAC_PI_2
        && hours.len() == HOURS
        && match given {
            Given::Means(means) => means.iter().all(|mean| *mean >= 0.0 && mean.is_finite()),
            Given::Share(share) => (0.0..=1.0).contains(&share),
        };
    if !sound {
        return None;
    }
    let clear: Vec<f64> = (0..HOURS).map(|hour| sun::clear(position(latitude, hour).0.up)).collect();
    let mut bright = vec![Bright::default(); HOURS];
    let starts = starts();
    for month in 0..12 {
        let own = starts[month]..starts[month + 1];
        let sum: f64 = clear[own.clone()].iter().sum();
        let wanted = match given {
            Given::Means(means) => means[month] * own.len() as f64,
            Given::Share(share) => share * sum,
        };
        let (dull, other) = shares(wanted, &clear, hours, own.clone())?;
        for hour in own {
            let share = if hours[hour].rain > 0.0 { dull } else { other };
            bright[hour] = Bright { global: share * clear[hour], cloud: sun::cloud(share) };
        }
    }
    Some(bright)
}

/// Cloud beside sun that was measured on level ground: of every day by its sum beside that of a clear sky; half the sky where the
/// sun does not rise.
pub fn measured(global: &[f64], latitude: f64) -> Vec<Bright> {
    let mut bright = Vec::with_capacity(global.len());
    for (day, own) in global.chunks(24).enumerate() {
        let clear: f64 = (0..own.len()).map(|hour| sun::clear(position(latitude, day * 24 + hour).0.up)).sum();
        let cloud = if clear > 0.0 { sun::cloud(own.iter().sum::<f64>() / clear) } else { 0.5 };
        bright.extend(own.iter().map(|global| Bright { global: *global, cloud }));
    }
    bright
}

/// Share of a clear sky in hours of rain and in the others of a month.
fn shares(wanted: f64, clear: &[f64], hours: &[Outdoors], own: Range<usize>) -> Option<(f64, f64)> {
    let (mut wet, mut dry) = (0.0, 0.0);
    for hour in own {
        *(if hours[hour].rain > 0.0 { &mut wet } else { &mut dry }) += clear[hour];
    }
    if wanted <= 0.0 {
        return Some((0.0, 0.0));
    }
    if wet + dry <= 0.0 {
        return None;
    }
    let dull = if dry > 0.0 { DULL.min(wanted / (wet + dry)) } else { wanted / wet };
    let other = if dry > 0.0 { (wanted - dull * wet) / dry } else { dull };
    (other.max(dull) <= MOST).then_some((dull, other))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hours() -> Vec<Outdoors> {
        (0..HOURS).map(|hour| Outdoors { rain: f64::from(u8::from(hour % 60 < 6)), ..Outdoors::default() }).collect()
    }

    #[test]
    fn months_keep_their_means_and_rain_is_dull() {
        let means = [60.0, 95.0, 140.0, 180.0, 220.0, 240.0, 235.0, 200.0, 150.0, 95.0, 55.0, 45.0];
        let hours = hours();
        let made = make(Given::Means(means), 0.8, &hours).unwrap();
        let starts = starts();
        for month in 0..12 {
            let own = &made[starts[month]..starts[month + 1]];
            let mean = own.iter().map(|hour| hour.global).sum::<f64>() / own.len() as f64;
            assert!((mean - means[month]).abs() < 1e-9, "{month}: {mean}");
        }
        // Noon of the first of July with no rain, and midnight.
        let noon = 181 * 24 + 12;
        assert!(made[noon].global > 500.0 && made[noon].cloud < 0.9, "{:?}", made[noon]);
        assert_eq!(made[noon + 12].global, 0.0);
        let wet = (0..HOURS).filter(|hour| hours[*hour].rain > 0.0);
        assert!(wet.clone().all(|hour| made[hour].cloud >= 1.0 - 1e-12));
    }

    #[test]
    fn a_share_of_a_clear_sky_is_that_share_of_it() {
        let dry = vec![Outdoors::default(); HOURS];
        let made = make(Given::Share(0.7), 0.8, &dry).unwrap();
        for (hour, bright) in made.iter().enumerate().step_by(37) {
            let clear = sun::clear(position(0.8, hour).0.up);
            assert!((bright.global - 0.7 * clear).abs() < 1e-9);
        }
    }

    #[test]
    fn cloud_of_measured_sun_is_that_of_its_day() {
        let clear = |hour: usize| sun::clear(position(0.8, hour).0.up);
        let global: Vec<f64> = (0..HOURS).map(|hour| clear(hour) * if hour < 4800 { 1.0 } else { 0.6 }).collect();
        let made = measured(&global, 0.8);
        assert_eq!(made[12], Bright { global: global[12], cloud: 0.0 });
        assert!((made[4824].cloud - sun::cloud(0.6)).abs() < 1e-9);
        assert_eq!(measured(&[0.0; 24], 1.5)[3].cloud, 0.5);
    }

    #[test]
    fn what_cannot_be_makes_no_sun() {
        let hours = hours();
        assert_eq!(make(Given::Means([900.0; 12]), 0.8, &hours), None);
        assert_eq!(make(Given::Means([f64::NAN; 12]), 0.8, &hours), None);
        assert_eq!(make(Given::Share(1.5), 0.8, &hours), None);
        assert_eq!(make(Given::Share(0.5), 2.0, &hours), None);
        // Polar night with sun in it.
        assert_eq!(make(Given::Means([50.0; 12]), 1.4, &hours), None);
    }
}
