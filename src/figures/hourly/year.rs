//! Two years of one wall type, the second one told.

use super::wall::Built;
use super::weather::{Site, month_of};
use crate::physics::hourly::Run;
use crate::physics::hourly::made_year::{HOURS, starts};
use crate::physics::mould::{self, Surface};

/// Humidity that everything starts with: moisture content in balance with air of 80 % (ANSI/ASHRAE 160, from memory).
const START: f64 = 0.8;
/// Above this the watched layer is moist.
pub(super) const MOIST: f64 = 0.8;
/// Above this it is wet.
pub(super) const WET: f64 = 0.95;
/// Hours of a week.
const WEEK: usize = 168;

/// When the watched layer dries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drying {
    /// No month has a mean above 80 %.
    NeverMoist,
    /// The first month after the moistest with a mean below 80 %, 0 for January.
    In(usize),
    /// Every month has a mean above 80 %.
    Never,
}

/// Water of one layer, kg/m².
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// Its name.
    pub layer: String,
    /// At the start, after one year, after two.
    pub water: [f64; 3],
}

/// What a year did to a wall type.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// Name of the layer that is watched.
    pub watched: String,
    /// Its highest relative humidity in the second year, and in which hour of it.
    pub peak: (f64, usize),
    /// Hours above 80 %.
    pub moist: usize,
    /// Hours above 95 %.
    pub wet: usize,
    /// When it dries.
    pub drying: Drying,
    /// Highest mould index on it in the second year from clean, and in which hour; `None` where its kind does not tell how
    /// readily mould grows.
    pub mould: Option<(f64, usize)>,
    /// Its lowest and highest humidity in each of 52 weeks; the last has a day more.
    pub weeks: Vec<(f64, f64)>,
    /// Every hour of the second year where the watched layer is moistest: °C and relative humidity.
    pub hours: Vec<(f64, f64)>,
    /// Every layer that holds water.
    pub layers: Vec<Held>,
    /// Air changes of the gap, least and most month, 1/h.
    pub changes: (f64, f64),
    /// Rain that came into the watched layer in both years, and that found no room there, kg/m².
    pub rain: (f64, f64),
    /// What is open in the balances of water and heat, by what moved.
    pub open: (f64, f64),
}

/// Runs both years; the error says why there is no answer.
pub(super) fn run(site: &Site<'_>, built: &Built, changes: &[f64; 12]) -> Result<Year, String> {
    let start = site.hours.first().map_or(10.0, |hour| hour.temperature);
    let mut run = Run::new(&built.wall, start, START).map_err(|failure| failure.to_string())?;
    let mut layers: Vec<Held> =
        built.held.iter().map(|(_, layer)| Held { layer: layer.clone(), water: [0.0; 3] }).collect();
    let mut note = |run: &Run<'_>, when: usize| {
        for ((piece, _), held) in built.held.iter().zip(&mut layers) {
            held.water[when] = run.water_in(*piece);
        }
    };
    note(&run, 0);
    let mut hours = Vec::with_capacity(HOURS);
    for year in 1..=2 {
        for hour in site.acting(changes) {
            run.go(3600.0, &hour).map_err(|failure| failure.to_string())?;
            if year == 2 {
                let cells = run.inside_of(built.watched);
                hours.extend(cells.max_by(|one, other| one.1.total_cmp(&other.1)));
            }
        }
        note(&run, year);
    }
    let most = hours.iter().enumerate().max_by(|one, other| one.1.1.total_cmp(&other.1.1).then(other.0.cmp(&one.0)));
    let water = run.water_ledger();
    let (low, high) =
        changes.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), rate| (low.min(*rate), high.max(*rate)));
    let watched = built.held.iter().find(|(piece, _)| *piece == built.watched);
    Ok(Year {
        watched: watched.map(|(_, name)| name.clone()).unwrap_or_default(),
        peak: most.map_or((0.0, 0), |(at, hour)| (hour.1.min(1.0), at)),
        moist: hours.iter().filter(|hour| hour.1 > MOIST).count(),
        wet: hours.iter().filter(|hour| hour.1 > WET).count(),
        drying: drying(&hours),
        mould: built.mould.map(|(class, decline)| highest_mould(Surface::clean(class, decline), &hours)),
        weeks: weeks(&hours),
        layers,
        changes: (low, high),
        rain: (water.rain, run.ran_off()),
        open: (water.open_by(), run.heat_ledger().open_by()),
        hours,
    })
}

fn weeks(hours: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let all = hours.len() / WEEK;
    let of = |week: usize| {
        let end = if week + 1 == all { hours.len() } else { (week + 1) * WEEK };
        let own = hours.get(week * WEEK..end).unwrap_or_default();
        own.iter().fold((1.0_f64, 0.0_f64), |(low, high), hour| (low.min(hour.1), high.max(hour.1.min(1.0))))
    };
    (0..all).map(of).collect()
}

fn drying(hours: &[(f64, f64)]) -> Drying {
    let starts = starts();
    let mut sums = [(0.0, 0.0); 12];
    for (at, hour) in hours.iter().enumerate() {
        let sum = &mut sums[month_of(&starts, at)];
        *sum = (sum.0 + hour.1, sum.1 + 1.0);
    }
    let means = sums.map(|(sum, count)| if count > 0.0 { sum / count } else { 0.0 });
    let moistest = (0..12).max_by(|a: &usize, b: &usize| means[*a].total_cmp(&means[*b])).unwrap_or(0);
    if means[moistest] <= MOIST {
        return Drying::NeverMoist;
    }
    let after = (1..12).map(|later| (moistest + later) % 12).find(|month| means[*month] < MOIST);
    after.map_or(Drying::Never, Drying::In)
}

/// The first hour of the highest index.
fn highest_mould(clean: Surface, hours: &[(f64, f64)]) -> (f64, usize) {
    let indices = mould::series(clean, hours.iter().map(|hour| (1.0, hour.0, hour.1.min(1.0))));
    let higher = |most: (f64, usize), (at, index): (usize, f64)| if index > most.0 { (index, at) } else { most };
    indices.into_iter().enumerate().fold((0.0, 0), higher)
}
