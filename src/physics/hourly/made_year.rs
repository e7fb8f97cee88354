//! A year of hours made from twelve monthly means: not measured. It keeps the means and totals of every month and touches the
//! extremes; how weather follows weather within a month is a fixed rule, the same for every place.
//!
//! The rule, ours: temperature swings over the day and in five waves a month, as far as the extremes ask; the air holds its
//! vapour over the day as far as it can; wind is strongest in the afternoon; rain falls in showers of six hours, evenly spread.

use std::f64::consts::TAU;

use super::vapour::saturation;

/// Days of the months of a year of 365.
pub const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
/// Hours of that year.
pub const HOURS: usize = 8760;

/// Half the swing of temperature over a day, K.
const SWING: f64 = 4.0;
/// Hour of the day when it is warmest and windiest.
const WARMEST: f64 = 15.0;
/// Spells of warm and cold in a month, and how great they are beside the one in the middle.
const SPELLS: f64 = 5.0;
const SMALL: f64 = 0.5;
/// Share of the mean wind by which it swings over the day.
const BREEZE: f64 = 0.3;
/// Hours that one shower lasts, and about what it brings, mm.
const SHOWER: (usize, f64) = (6, 6.0);

/// Twelve months from January.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Months {
    /// Mean, °C.
    pub temperature: [f64; 12],
    /// Mean relative humidity, above 0 up to 1.
    pub humidity: [f64; 12],
    /// Mean, m/s.
    pub wind: [f64; 12],
    /// Total, mm.
    pub rain: [f64; 12],
    /// Coldest and hottest hour, °C; without them the days swing and nothing more.
    pub extremes: Option<(f64, f64)>,
}

/// Outside air of one hour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Outdoors {
    /// °C.
    pub temperature: f64,
    /// Relative humidity 0…1, over ice below 0 °C.
    pub humidity: f64,
    /// m/s.
    pub wind: f64,
    /// mm/h on level ground.
    pub rain: f64,
}

/// First hour of each month, and the hour after the last.
pub fn starts() -> [usize; 13] {
    let mut starts = [0; 13];
    for (month, days) in DAYS.iter().enumerate() {
        starts[month + 1] = starts[month] + days * 24;
    }
    starts
}

/// 8760 hours from the first of January. `None` where a mean cannot be: not a number, a humidity that is none, less than no wind.
pub fn make(months: &Months) -> Option<Vec<Outdoors>> {
    let all = [months.temperature, months.humidity, months.wind, months.rain];
    let sound = all.iter().flatten().all(|value| value.is_finite())
        && months.temperature.iter().all(|t| (-80.0..=60.0).contains(t))
        && months.humidity.iter().all(|share| *share > 0.0 && *share <= 1.0)
        && months.wind.iter().chain(&months.rain).all(|value| *value >= 0.0);
    let extremes =
        months.extremes.is_none_or(|(low, high)| (-90.0..=70.0).contains(&low) && (low..=70.0).contains(&high));
    if !sound || !extremes {
        return None;
    }
    let temperature = temperatures(months);
    let mut hours = vec![Outdoors::default(); HOURS];
    for (hour, temperature) in hours.iter_mut().zip(&temperature) {
        hour.temperature = *temperature;
    }
    let starts = starts();
    for month in 0..12 {
        let own = &mut hours[starts[month]..starts[month + 1]];
        moisten(own, months.humidity[month]);
        for (at, hour) in own.iter_mut().enumerate() {
            hour.wind = months.wind[month] * (1.0 + BREEZE * day(at));
        }
        rain(own, months.rain[month]);
    }
    Some(hours)
}

/// Over the day, from −1 to 1 in the afternoon; nothing in the mean of a day.
fn day(hour: usize) -> f64 {
    libm::cos(TAU * ((hour % 24) as f64 - WARMEST) / 24.0)
}

/// Along the year, with the swing of days and spells. The month with the coldest hour and that with the hottest have spells as
/// great as the extremes ask, the others between them by their means, and none goes beyond an extreme.
fn temperatures(months: &Months) -> Vec<f64> {
    let season = season(&months.temperature);
    let starts = starts();
    let days = |month: usize| -> Vec<(f64, f64)> {
        let own = season[starts[month]..starts[month + 1]].iter().enumerate();
        own.map(|(at, mean)| (mean + SWING * day(at), spell(at, DAYS[month] * 24))).collect()
    };
    let days: Vec<Vec<(f64, f64)>> = (0..12).map(days).collect();
    let by_mean = |a: &usize, b: &usize| months.temperature[*a].total_cmp(&months.temperature[*b]);
    let coldest = (0..12).min_by(by_mean).unwrap_or(0);
    let hottest = (0..12).max_by(by_mean).unwrap_or(6);
    let (cold, hot) = (months.temperature[coldest], months.temperature[hottest]);
    let height = |month: usize| {
        let Some((low, high)) = months.extremes else { return 0.0 };
        let share = if hot > cold { (months.temperature[month] - cold) / (hot - cold) } else { 0.0 };
        let (winter, summer) = (height(&days[coldest], low, -1.0), height(&days[hottest], high, 1.0));
        let most = height(&days[month], low, -1.0).min(height(&days[month], high, 1.0));
        (winter + share * (summer - winter)).min(most)
    };
    let heights: Vec<f64> = (0..12).map(height).collect();
    let all = days.iter().zip(heights).flat_map(|(days, height)| days.iter().map(move |(t, spell)| t + height * spell));
    all.collect()
}

/// From −1 to 1 over the spells of a month; nothing in its mean. The middle one is the great one.
fn spell(at: usize, hours: usize) -> f64 {
    let passed = SPELLS * at as f64 / hours as f64;
    let great = if libm::floor(passed) == libm::floor(SPELLS / 2.0) { 1.0 } else { SMALL };
    great * libm::sin(TAU * passed)
}

/// The height of spells at which the hottest hour of a month (`side` 1) or its coldest (−1) is at its extreme; 0 where days alone
/// go beyond it.
fn height(days: &[(f64, f64)], extreme: f64, side: f64) -> f64 {
    let past = |height: f64| {
        let most = days.iter().map(|(t, spell)| side * (t + height * spell)).fold(f64::NEG_INFINITY, f64::max);
        most - side * extreme
    };
    let (mut low, mut high) = (0.0, 100.0);
    if past(low) >= 0.0 {
        return 0.0;
    }
    for _ in 0..45 {
        let middle = (low + high) / 2.0;
        if past(middle) < 0.0 { low = middle } else { high = middle }
    }
    low
}

/// Straight from the middle of each month to that of the next, through values that give every month its mean.
fn season(means: &[f64; 12]) -> Vec<f64> {
    let starts = starts();
    let middle = |month: usize| (starts[month] + starts[month + 1]) as f64 / 2.0;
    let mut knots = *means;
    let mut hours = Vec::new();
    for _ in 0..40 {
        hours = (0..HOURS).map(|hour| along(&knots, &middle, hour as f64 + 0.5)).collect();
        for month in 0..12 {
            let own = &hours[starts[month]..starts[month + 1]];
            knots[month] += means[month] - own.iter().sum::<f64>() / own.len() as f64;
        }
    }
    hours
}

fn along(knots: &[f64; 12], middle: &impl Fn(usize) -> f64, hour: f64) -> f64 {
    let year = HOURS as f64;
    let after = (0..12).find(|month| middle(*month) > hour).unwrap_or(0);
    let before = (after + 11) % 12;
    let (mut from, mut to) = (middle(before), middle(after));
    if from > to {
        if hour < to { from -= year } else { to += year }
    }
    knots[before] + (knots[after] - knots[before]) * (hour - from) / (to - from)
}

/// The same vapour the day round, as much as gives the month its mean humidity; never more than the air can hold.
fn moisten(hours: &mut [Outdoors], mean: f64) {
    let full: Vec<f64> = hours.iter().map(|hour| saturation(hour.temperature).0).collect();
    // Vapour of an hour: a share of what the air could hold at the mean temperature of its day.
    let days: Vec<f64> = full
        .chunks(24)
        .flat_map(|day| {
            let least = day.iter().sum::<f64>() / day.len() as f64;
            std::iter::repeat_n(least, day.len())
        })
        .collect();
    let humid = |share: f64, at: usize| (share * days[at] / full[at]).min(1.0);
    let (mut low, mut high) = (0.0, 20.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        let sum: f64 = (0..full.len()).map(|at| humid(middle, at)).sum();
        if sum / (full.len() as f64) < mean { low = middle } else { high = middle }
    }
    hours.iter_mut().enumerate().for_each(|(at, hour)| hour.humidity = humid(high, at));
}

/// Showers evenly spread over a month, all alike.
fn rain(hours: &mut [Outdoors], total: f64) {
    if total <= 0.0 {
        return;
    }
    let (long, brings) = SHOWER;
    let most = hours.len() / (2 * long);
    let count = (libm::ceil(total / brings) as usize).clamp(1, most);
    let rate = total / (count * long) as f64;
    for shower in 0..count {
        let start = (2 * shower + 1) * hours.len() / (2 * count) - long / 2;
        hours.iter_mut().skip(start).take(long).for_each(|hour| hour.rain = rate);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The invented lake of the library.
    fn lake() -> Months {
        Months {
            temperature: [-9.0, -7.5, -1.5, 6.0, 13.0, 18.0, 20.5, 19.5, 14.5, 8.0, 1.5, -6.0],
            humidity: [0.8, 0.78, 0.74, 0.68, 0.66, 0.7, 0.71, 0.75, 0.78, 0.79, 0.82, 0.82],
            wind: [4.2, 4.1, 4.3, 4.2, 3.7, 3.3, 3.0, 2.9, 3.3, 3.8, 4.2, 4.2],
            rain: [20.0, 18.0, 35.0, 60.0, 78.0, 85.0, 88.0, 86.0, 84.0, 78.0, 62.0, 32.0],
            extremes: Some((-31.0, 32.0)),
        }
    }

    #[test]
    fn months_keep_their_means_and_totals() {
        let months = lake();
        let hours = make(&months).unwrap();
        assert_eq!(hours.len(), HOURS);
        let starts = starts();
        for month in 0..12 {
            let own = &hours[starts[month]..starts[month + 1]];
            let mean = |of: fn(&Outdoors) -> f64| own.iter().map(of).sum::<f64>() / own.len() as f64;
            let near = |ours: f64, wanted: f64| assert!((ours - wanted).abs() < 1e-6, "{month}: {ours} {wanted}");
            near(mean(|hour| hour.temperature), months.temperature[month]);
            near(mean(|hour| hour.humidity), months.humidity[month]);
            near(mean(|hour| hour.wind), months.wind[month]);
            near(own.iter().map(|hour| hour.rain).sum(), months.rain[month]);
        }
    }

    #[test]
    fn the_extremes_are_touched_and_not_passed() {
        let hours = make(&lake()).unwrap();
        let warmth = |hour: &Outdoors| hour.temperature;
        let coldest = hours.iter().map(warmth).fold(f64::INFINITY, f64::min);
        let hottest = hours.iter().map(warmth).fold(f64::NEG_INFINITY, f64::max);
        assert!((coldest + 31.0).abs() < 1e-6 && (hottest - 32.0).abs() < 1e-6, "{coldest} {hottest}");
        assert!(hours.iter().all(|hour| hour.humidity > 0.0 && hour.humidity <= 1.0 && hour.wind >= 0.0));
        // Midnight goes over into midnight without a jump of more than a usual hour.
        let steps = hours.windows(2).map(|two| (two[1].temperature - two[0].temperature).abs());
        assert!(steps.fold(0.0, f64::max) < 3.0);
    }

    #[test]
    fn what_cannot_be_makes_no_year() {
        let mut months = lake();
        months.humidity[3] = 0.0;
        assert_eq!(make(&months), None);
        months = lake();
        months.rain[0] = f64::NAN;
        assert_eq!(make(&months), None);
        months = lake();
        months.extremes = Some((32.0, -31.0));
        assert_eq!(make(&months), None);
    }
}
