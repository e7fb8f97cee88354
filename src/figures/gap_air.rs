//! Air through the gaps of a site, month by month: how often it changes, and how much water it can carry off.

use super::{Found, MONTHS, Scene, Source, Study, Value, WallFigures, WallType, What};
use crate::continuity::{AirFlow, AirOpening, BayAir, Conditions};
use crate::model::{Climate, FaceId, MeasuredHours, Openness, Sureness};
use crate::physics::hourly::made_year::{Months, starts};
use crate::physics::moisture::gap::{End, drying};
use crate::units::{Dimension, Keep, Range};

/// How much warmer the air of the gap is than that outside, K, for the air that rises in it: made for this sum.
const WARMER: f64 = 2.0;
/// How moist air leaves a gap that is wet inside, 0 to 1: nearly as moist as it can be. Made for this sum.
const LEAVES: f64 = 0.95;
/// Winds, m/s, and a difference, K, at which air is sent through gaps for the hours of a year.
const WINDS: [f64; 2] = [2.0, 8.0];
const DIFFERENCE: f64 = 10.0;
/// What makes no figure here surer.
const DOUBT: &str = "the gap 2 K warmer than outside, air leaves at 95%: what it can carry off at most";

/// How often the air of the gap changes, least and most month.
static CHANGES: What = What {
    key: "gap_air.changes",
    title: "air changes an hour, monthly wind",
    dimension: Dimension::NUMBER,
    keep: Keep::Significant(2),
};
/// What it can carry off in a day of the month that helps least.
static LEAST: What = What {
    key: "gap_air.carries_least",
    title: "least that air dries in a day",
    dimension: Dimension::SURFACE_MASS,
    keep: Keep::Significant(2),
};
/// Which month that is.
static MONTH: What = What {
    key: "gap_air.leanest_month",
    title: "worst month for drying",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(0),
};
/// What it can carry off in a day of the month that helps most.
static MOST: What = What {
    key: "gap_air.carries_most",
    title: "most that air dries in a day",
    dimension: Dimension::SURFACE_MASS,
    keep: Keep::Significant(2),
};

/// What comes in from outside through all openings of a face.
static INFLOW: What = What {
    key: "gap_air.inflow",
    title: "air through the gap, still winter day",
    dimension: Dimension::FLOW,
    keep: Keep::Significant(2),
};
/// Bays in which nothing moves.
static STILL: What = What {
    key: "gap_air.still_bays",
    title: "bays where air stands still",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(0),
};
/// What makes the flow of a face no surer.
const STILL_DAY: &str = "5 K between gap and outside, wind 2 m/s from nowhere in particular: made for comparing walls; from screens aged to screens new";

const NETWORK: Source = Source { standard: "flow through openings and gaps", edition: "", clause: "" };

/// Air through the gap and what it dries.
pub struct GapDrying;

/// The gaps of a site in each month of its climate.
pub struct GapAir {
    /// The climate, whole.
    pub months: Months,
    /// Air of all bays in each month.
    air: Vec<AirFlow>,
    /// The same in winds of [`WINDS`] with gaps as warm as outside, then in no wind with gaps warmer by [`DIFFERENCE`].
    hourly: Vec<AirFlow>,
}

/// How wind and warmth move the air of a gap.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Draught {
    /// Air changes at 1 m/s, 1/h, and the power of the wind with which they grow.
    wind: (f64, f64),
    /// Square of air changes for each kelvin between gap and outside, 1/(h²·K).
    pub by_warmth: f64,
}

impl Draught {
    /// From air changes (1/h) in winds of [`WINDS`] and with [`DIFFERENCE`].
    fn of(winds: [f64; 2], still: f64) -> Self {
        let by_warmth = still * still / DIFFERENCE;
        if winds[0] <= 0.0 || winds[1] <= 0.0 {
            return Self { wind: (0.0, 1.0), by_warmth };
        }
        let power = libm::log(winds[1] / winds[0]) / libm::log(WINDS[1] / WINDS[0]);
        Self { wind: (winds[0] / libm::pow(WINDS[0], power), power), by_warmth }
    }

    /// Air changes in this wind (m/s) where the gap is as warm as outside, 1/h.
    pub fn by_wind(self, wind: f64) -> f64 {
        if wind > 0.0 { self.wind.0 * libm::pow(wind, self.wind.1) } else { 0.0 }
    }
}

impl GapAir {
    /// Through all gaps that stand; the error is the missing fact.
    pub fn of(scene: &Scene<'_>) -> Result<Self, String> {
        let site = scene.model.site.as_ref().ok_or("the site (`site`)")?;
        let months = months(site.climate.as_ref().ok_or("the climate of the site (`climate`)")?)?;
        let conditions = (0..12).map(|month| Conditions {
            outside: months.temperature[month],
            gap: months.temperature[month] + WARMER,
            wind: months.wind[month],
            direction: None,
            assumed: false,
        });
        let find = |conditions| AirFlow::find(scene.model, scene.plan, scene.flow(), &conditions);
        let acts = |warmer: f64, wind: f64| Conditions {
            outside: 10.0,
            gap: 10.0 + warmer,
            wind,
            direction: None,
            assumed: false,
        };
        let hourly = vec![find(acts(0.0, WINDS[0])), find(acts(0.0, WINDS[1])), find(acts(DIFFERENCE, 0.0))];
        Ok(Self { air: conditions.map(find).collect(), hourly, months })
    }

    /// What moves the air in the gap of a wall type from hour to hour: of the bay in the middle, with aged screens.
    pub fn draught(&self, wall: &WallType) -> Result<Draught, String> {
        let middle = |at: usize| self.hourly.get(at).map_or(Ok(0.0), |air| middle(air, wall));
        Ok(Draught::of([middle(0)?, middle(1)?], middle(2)?))
    }

    /// Air changes of the gap of a wall type in each month, 1/h: of the bay in the middle when they are put in order, with aged
    /// screens. Nothing for a wall without bays.
    pub fn changes(&self, wall: &WallType) -> Result<[f64; 12], String> {
        let mut changes = [0.0; 12];
        for (month, air) in self.air.iter().enumerate().take(12) {
            changes[month] = middle(air, wall)?;
        }
        Ok(changes)
    }

    /// Most water the air of a gap `depth` metres deep carries off in a day of each month, kg/m²; below nothing where it brings
    /// some.
    fn carries(&self, changes: &[f64; 12], depth: f64) -> [f64; 12] {
        std::array::from_fn(|month| {
            let outside = self.months.temperature[month];
            let inlet = End { temperature: outside, humidity: self.months.humidity[month] };
            drying(changes[month], depth, inlet, End { temperature: outside + WARMER, humidity: LEAVES })
        })
    }
}

/// Air changes of the bay in the middle of those of a wall type, 1/h, with aged screens; 0 without bays.
fn middle(air: &AirFlow, wall: &WallType) -> Result<f64, String> {
    let own = air.bays.iter().filter(|bay| wall.areas.contains(&(bay.id.face, bay.id.area)));
    let mut rates: Vec<f64> = Vec::new();
    let mut missing = None;
    for bay in own {
        match bay.aged {
            Some(rate) => rates.push(rate.changes),
            None => missing = missing.or(bay.missing.clone()),
        }
    }
    rates.sort_by(f64::total_cmp);
    match (rates.get(rates.len() / 2), missing) {
        (Some(rate), _) => Ok(*rate),
        (None, Some(fact)) => Err(fact),
        (None, None) => Ok(0.0),
    }
}

impl Study for GapDrying {
    fn id(&self) -> &'static str {
        "gap_air"
    }

    fn title(&self) -> &'static str {
        "air of the gap"
    }

    fn of_wall(&self, scene: &Scene<'_>, wall: &WallType) -> Found {
        let mut found = Found::default();
        let gap = wall.assembly(scene.model).and_then(|assembly| assembly.gap());
        let depth =
            gap.filter(|(_, gap)| gap.openness == Some(Openness::Ventilated)).and_then(|(layer, _)| layer.thickness);
        let (Some(depth), Some(air)) = (depth, &scene.gap_air) else { return found };
        let answer = air.as_ref().map_err(Clone::clone).and_then(|air| {
            let changes = air.changes(wall)?;
            Ok((changes, air.carries(&changes, depth.as_m())))
        });
        let told = |value: Value| Ok((value, Sureness::Memory, DOUBT.to_owned()));
        match answer {
            Err(fact) => found.tell(&CHANGES, NETWORK, Err(fact)),
            Ok((changes, carries)) => {
                let (least, most) = (lowest(&carries), lowest(&carries.map(|water| -water)));
                let between =
                    Range { low: changes[lowest(&changes)], high: changes[lowest(&changes.map(|rate| -rate))] };
                found.tell(&CHANGES, NETWORK, told(Value::Number(between)));
                found.tell(&LEAST, NETWORK, told(Value::Number(carries[least].into())));
                found.tell(&MONTH, NETWORK, told(Value::Word(MONTHS[least].to_owned())));
                found.tell(&MOST, NETWORK, told(Value::Number(carries[most].into())));
            }
        }
        found
    }

    fn of_face(&self, scene: &Scene<'_>, face: FaceId, _: &[WallFigures]) -> Found {
        let mut found = Found::default();
        let bays: Vec<&BayAir> = scene.still_day().bays.iter().filter(|bay| bay.id.face == face).collect();
        if bays.is_empty() {
            return found;
        }
        let told = |value: Value| (value, Sureness::Memory, STILL_DAY.to_owned());
        let still = bays.iter().filter(|bay| bay.dead.is_some()).count() as f64;
        found.tell(&INFLOW, NETWORK, inflow(&bays).map(|flow| told(Value::Number(flow))));
        found.tell(&STILL, NETWORK, Ok(told(Value::Number(still.into()))));
        found
    }
}

/// What comes in from outside to bays, m³/s, with screens aged and new; the error is the missing fact.
fn inflow(bays: &[&BayAir]) -> Result<Range, String> {
    if let Some(fact) = bays.iter().find_map(|bay| bay.missing.clone()) {
        return Err(fact);
    }
    let openings = || bays.iter().flat_map(|bay| &bay.openings);
    let sum = |flow: fn(&AirOpening) -> f64| openings().map(|one| flow(one).max(0.0)).sum();
    Ok(Range::between(sum(|one| one.aged.flow), sum(|one| one.clean.flow)))
}

/// Which of twelve is least, the first of equals.
fn lowest(values: &[f64; 12]) -> usize {
    (1..12).fold(0, |least, month| if values[month] < values[least] { month } else { least })
}

fn months(climate: &Climate) -> Result<Months, String> {
    if let Some(measured) = &climate.measured {
        return Ok(of_hours(measured.as_ref().map_err(Clone::clone)?));
    }
    let twelve = |values: &[f64], what: &str, clause: &str| {
        <[f64; 12]>::try_from(values).map_err(|_| format!("{what} of `{}`, month by month (`{clause}`)", climate.name))
    };
    Ok(Months {
        temperature: twelve(&climate.temperature, "temperature", "temperature")?,
        humidity: twelve(&climate.humidity, "humidity", "humidity")?,
        wind: twelve(&climate.wind_speed, "wind speed", "wind_speed")?,
        rain: twelve(&climate.rain, "rain", "rain")?,
        extremes: climate.extremes,
    })
}

/// Means and sums of the months of measured hours.
fn of_hours(hours: &MeasuredHours) -> Months {
    let starts = starts();
    let sum = |values: &[f64]| -> [f64; 12] {
        std::array::from_fn(|month| values.get(starts[month]..starts[month + 1]).unwrap_or_default().iter().sum())
    };
    let mean = |values: &[f64]| -> [f64; 12] {
        let sums = sum(values);
        std::array::from_fn(|month| sums[month] / (starts[month + 1] - starts[month]) as f64)
    };
    Months {
        temperature: mean(&hours.temperature),
        humidity: mean(&hours.humidity),
        wind: mean(&hours.wind),
        rain: sum(&hours.rain),
        extremes: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::continuity::GapFlow;
    use crate::session::heron_lane;

    #[test]
    fn a_gap_carries_least_in_the_cold_and_says_what_it_lacks() {
        let mut checked = heron_lane();
        let figures = crate::figures::of(&checked.model, &checked.plan);
        for wall in &figures.walls {
            let found = wall.study("gap_air").unwrap();
            let number = |key| found.number(key).unwrap();
            let changes = number("gap_air.changes");
            assert!(0.0 < changes.low && changes.low < changes.high, "{changes:?}");
            assert!(number("gap_air.carries_least").low < number("gap_air.carries_most").low);
            // Cold air holds little, and winds of winter are hardly stronger than those of summer.
            assert_eq!(found.figure("gap_air.leanest_month").unwrap().value, Value::Word("January".to_owned()));
        }
        // The sheet of the face adds the same openings up.
        let flow = GapFlow::find(&checked.model, &checked.plan);
        let air = AirFlow::find(&checked.model, &checked.plan, &flow, &Conditions::default());
        for face in &figures.faces {
            let found = face.studies.iter().find(|studied| studied.study == "gap_air").unwrap();
            let inflow = found.found.number("gap_air.inflow").unwrap();
            let bays = air.bays.iter().filter(|bay| bay.id.face == face.face);
            let aged: f64 = bays.flat_map(|bay| &bay.openings).map(|one| one.aged.flow.max(0.0)).sum();
            assert!((inflow.low - aged).abs() < 1e-12 && inflow.low <= inflow.high);
            assert_eq!(found.found.number("gap_air.still_bays").unwrap().high, 0.0);
        }
        checked.model.site.as_mut().unwrap().climate.as_mut().unwrap().humidity.clear();
        let figures = crate::figures::of(&checked.model, &checked.plan);
        let missing = figures.walls[0].study("gap_air").unwrap().missing("gap_air.changes").unwrap();
        assert!(missing.fact.contains("`humidity`"), "{}", missing.fact);
    }
}
