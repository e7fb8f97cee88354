//! Two years of one wall type on each of its sides that sun makes differ most, the second one told.

use super::face::{Side, Surface};
use super::frost::{Frost, Watch};
use super::wall::Built;
use super::weather::{Site, month_of};
use crate::figures::gap_air::Draught;
use crate::physics::hourly::made_year::{HOURS, starts};
use crate::physics::hourly::{Hour, Run};
use crate::physics::mould;

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
    /// Frost while it was wet, in the second year; nothing for a layer that takes no water.
    pub frost: Option<Frost>,
}

/// The face whose year it is, and what sun and sky did to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Lit {
    /// Names of the faces: "north".
    pub faces: String,
    /// The way they look, degrees clockwise from north.
    pub looks: f64,
    /// Share of the sun that the surface takes up.
    pub absorptance: f64,
    /// Sun taken up and heat lost to the sky, means of both years, W/m².
    pub sun: f64,
    /// See `sun`.
    pub sky: f64,
}

/// Air changes of a gap, 1/h.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Changes {
    /// Least hour.
    pub least: f64,
    /// All hours.
    pub mean: f64,
    /// Most.
    pub most: f64,
}

/// What a year did to a wall type.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// The file its hours were measured in, if they were.
    pub measured: Option<String>,
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
    /// Air changes of the gap in the second year.
    pub changes: Changes,
    /// How much warmer than outside the gap gets at most, K; 0 without one.
    pub warmest_gap: f64,
    /// Which face it is under sun and sky; the error is the fact for lack of which both are left out.
    pub lit: Result<Lit, String>,
    /// The same wall on the other of the two sides that were run, if it was.
    pub beside: Option<Box<Year>>,
    /// Rain that came into the watched layer in both years, and that found no room there, kg/m².
    pub rain: (f64, f64),
    /// Rain that the outer face took up in both years, kg/m².
    pub drunk: f64,
    /// Names of layers in which liquid is kept still, because nothing tells how it moves.
    pub still: Vec<String>,
    /// What is open in the balances of water and heat, by what moved.
    pub open: (f64, f64),
}

/// The year of a wall type on the side where it gets moistest, of those with least and most sun; without sun where a fact is
/// missing for it. The error says why there is no answer.
pub(super) fn moistest(
    site: &Site<'_>,
    built: &Built,
    draught: Draught,
    face: Result<(Surface, Vec<Side>), String>,
) -> Result<Year, String> {
    let lit = site.light.as_ref().map_err(Clone::clone).and_then(|light| Ok((light, face?)));
    let (light, (surface, mut sides)) = match lit {
        Ok(lit) if !lit.1.1.is_empty() => lit,
        Ok(_) => return run(built, Err("faces of the wall".to_owned()), || site.acting(draught, None)),
        Err(fact) => return run(built, Err(fact), || site.acting(draught, None)),
    };
    sides.sort_by(|one, other| light.sum(one.looks).total_cmp(&light.sum(other.looks)));
    let on = |side: &Side| {
        let lit = Lit {
            faces: side.faces.join(", ").replace('_', " "),
            looks: side.looks,
            absorptance: surface.absorptance,
            sun: 0.0,
            sky: 0.0,
        };
        run(built, Ok(lit), || site.acting(draught, Some((surface, side.looks))))
    };
    let mut years = match sides.as_slice() {
        [dull, .., bright] => {
            let (dull, bright) = rayon::join(|| on(dull), || on(bright));
            vec![dull?, bright?]
        }
        [only] => vec![on(only)?],
        [] => Vec::new(),
    };
    // The moister one first; of equals that with less sun.
    years.sort_by(|one, other| {
        let moister = other.peak.0.total_cmp(&one.peak.0);
        moister.then(other.moist.cmp(&one.moist)).then(other.wet.cmp(&one.wet))
    });
    let mut years = years.into_iter();
    let moister = years.next().ok_or("faces of the wall")?;
    Ok(Year { beside: years.next().map(Box::new), ..moister })
}

/// Runs both years; the error says why there is no answer.
fn run<H: Iterator<Item = Hour>>(
    built: &Built,
    lit: Result<Lit, String>,
    acting: impl Fn() -> H,
) -> Result<Year, String> {
    let start = acting().next().map_or(10.0, |hour| hour.outside.temperature);
    let mut run = Run::new(&built.wall, start, START).map_err(|failure| failure.to_string())?;
    let mut layers: Vec<Held> =
        built.held.iter().map(|(_, layer)| Held { layer: layer.clone(), water: [0.0; 3], frost: None }).collect();
    let mut note = |run: &Run<'_>, when: usize| {
        for ((piece, _), held) in built.held.iter().zip(&mut layers) {
            held.water[when] = run.water_in(*piece);
        }
    };
    note(&run, 0);
    let mut hours = Vec::with_capacity(HOURS);
    let mut air = Airing::default();
    let mut frost: Vec<Watch> = built.held.iter().map(|(piece, _)| Watch::of(*piece)).collect();
    for year in 1..=2 {
        for hour in acting() {
            run.go(3600.0, &hour).map_err(|failure| failure.to_string())?;
            if year == 2 {
                let cells = run.inside_of(built.watched);
                hours.extend(cells.max_by(|one, other| one.1.total_cmp(&other.1)));
                frost.iter_mut().for_each(|watch| watch.note(&run));
                air.note(&hour, built.gap.and_then(|gap| run.inside_of(gap).next()));
            }
        }
        note(&run, year);
    }
    for (held, watch) in layers.iter_mut().zip(&frost) {
        held.frost = watch.frost();
    }
    let most = hours.iter().enumerate().max_by(|one, other| one.1.1.total_cmp(&other.1.1).then(other.0.cmp(&one.0)));
    let water = run.water_ledger();
    let heat = run.heat_ledger();
    let mean = |heat: f64| heat / (2.0 * HOURS as f64 * 3600.0);
    let watched = built.held.iter().find(|(piece, _)| *piece == built.watched);
    Ok(Year {
        measured: None,
        watched: watched.map(|(_, name)| name.clone()).unwrap_or_default(),
        peak: most.map_or((0.0, 0), |(at, hour)| (hour.1.min(1.0), at)),
        moist: hours.iter().filter(|hour| hour.1 > MOIST).count(),
        wet: hours.iter().filter(|hour| hour.1 > WET).count(),
        drying: drying(&hours),
        mould: built.mould.map(|(class, decline)| highest_mould(mould::Surface::clean(class, decline), &hours)),
        weeks: weeks(&hours),
        layers,
        changes: air.changes(),
        warmest_gap: air.warmest,
        lit: lit.map(|lit| Lit { sun: mean(heat.sun), sky: -mean(heat.sky), ..lit }),
        beside: None,
        rain: (water.rain - run.drunk(), run.ran_off()),
        drunk: run.drunk(),
        still: built.still.clone(),
        open: (water.open_by(), heat.open_by()),
        hours,
    })
}

/// What the air of the gap did, hour by hour.
#[derive(Default)]
struct Airing {
    rates: Vec<f64>,
    warmest: f64,
}

impl Airing {
    fn note(&mut self, hour: &Hour, gap: Option<(f64, f64)>) {
        if let Some((gap, _)) = gap {
            self.rates.push(hour.changes(gap).0 * 3600.0);
            self.warmest = self.warmest.max(gap - hour.outside.temperature);
        }
    }

    fn changes(&self) -> Changes {
        if self.rates.is_empty() {
            return Changes::default();
        }
        Changes {
            least: self.rates.iter().copied().fold(f64::INFINITY, f64::min),
            mean: self.rates.iter().sum::<f64>() / self.rates.len() as f64,
            most: self.rates.iter().copied().fold(0.0, f64::max),
        }
    }
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
fn highest_mould(clean: mould::Surface, hours: &[(f64, f64)]) -> (f64, usize) {
    let indices = mould::series(clean, hours.iter().map(|hour| (1.0, hour.0, hour.1.min(1.0))));
    let higher = |most: (f64, usize), (at, index): (usize, f64)| if index > most.0 { (index, at) } else { most };
    indices.into_iter().enumerate().fold((0.0, 0), higher)
}
