//! A year of hours for each wall type: how moist its sheathing gets, when, how long, and when it dries.

mod face;
mod frost;
#[cfg(test)]
mod tests;
mod wall;
mod weather;
mod year;

use rayon::prelude::*;

use super::gap_air::GapAir;
use super::{Figure, Found, MONTHS, Missing, Scene, Source, Study, Value, WallType, What};
use crate::model::Sureness;
use crate::physics::hourly::made_year;
use crate::units::{Dimension, Keep};

pub use frost::Frost;
pub use year::{Changes, Drying, Held, Lit, Year};

/// Heat and moisture hour by hour.
pub struct Hourly;

const fn what(key: &'static str, title: &'static str, dimension: Dimension, keep: Keep) -> What {
    What { key, title, dimension, keep }
}

/// Of the wall.
pub static FACE: What = what("hourly.face", "year on the moister side", Dimension::NUMBER, Keep::Places(0));
/// Of the cladding.
pub static SUN: What = what("hourly.sun", "sun taken up, mean of the year", Dimension::HEAT_FLUX, Keep::Significant(2));
/// Of the cladding.
pub static SKY: What =
    what("hourly.sky", "lost to the sky, mean of the year", Dimension::HEAT_FLUX, Keep::Significant(2));
/// Of the gap.
pub static GAP: What = what(
    "hourly.gap_warmer",
    "gap warmer than outside, at most",
    Dimension::TEMPERATURE_DIFFERENCE,
    Keep::Significant(2),
);
/// Of the gap.
pub static CHANGES: What = what("hourly.changes", "air changes an hour, mean", Dimension::NUMBER, Keep::Significant(2));
/// Of the sheathing.
pub static PEAK: What = what("hourly.peak_share", "highest relative humidity", Dimension::NUMBER, Keep::Places(2));
/// Of the sheathing.
pub static PEAK_DAY: What = what("hourly.peak_day", "day of that", Dimension::NUMBER, Keep::Places(0));
/// Of the sheathing.
pub static MOIST: What = what("hourly.above_80", "hours above 80% in a year", Dimension::NUMBER, Keep::Places(0));
/// Of the sheathing.
pub static WET: What = what("hourly.above_95", "hours above 95% in a year", Dimension::NUMBER, Keep::Places(0));
/// Of the sheathing.
pub static DRIES: What = what("hourly.dries", "dries in", Dimension::NUMBER, Keep::Places(0));
/// Of the sheathing.
pub static MOULD: What = what("hourly.mould", "highest mould index, of 6", Dimension::NUMBER, Keep::Places(1));
/// Of the sheathing.
pub static MOULD_DAY: What = what("hourly.mould_day", "day of that index", Dimension::NUMBER, Keep::Places(0));
/// Of a layer.
pub static FROST: What =
    what("hourly.frost", "hours of frost while wet, in a year", Dimension::NUMBER, Keep::Places(0));
/// Of the layer that thaws most often.
pub static THAWS: What =
    what("hourly.thaws", "thaws after frost while wet, in a year", Dimension::NUMBER, Keep::Places(0));
/// Of the cladding.
pub static DRUNK: What =
    what("hourly.drunk", "rain its face takes up in two years", Dimension::SURFACE_MASS, Keep::Significant(2));
/// Of a layer.
pub static WATER: What = what("hourly.water", "water after two years", Dimension::SURFACE_MASS, Keep::Places(2));

/// By this.
pub const METHOD: Source = Source { standard: "EN 15026", edition: "2007", clause: "" };
/// Mould by this.
const GROWTH: Source = Source { standard: "Wood Science and Technology 33", edition: "1999", clause: "" };
/// Why it is no surer.
const DOUBT: &str = "a year made from monthly means, not measured";
/// The same where the hours were measured.
const MEASURED: &str = "measured hours of one year; material values and the method are from memory";

/// What the sums take for granted, to be shown with them.
pub const ASSUMPTIONS: [&str; 9] = [
    "everything starts in balance with air of 80%; room air by EN 15026, annex C",
    "1% of the rain on the wall gets into the watched layer (ASHRAE 160); the wind blows square on the wall while it rains, unless it was measured where from",
    "liquid moves within a layer by its water absorption, not from layer to layer and not in frost; freezing gives and takes no heat; rain is taken up by the outer face unless it is painted",
    "frost counts where some of a layer is below 0 °C and holds more than 80% of its free saturation (ours)",
    "between studs; no air through the layers; a sheet lets vapour through by the humidity beside it, from its dry to its wet cup",
    "air in the gap: wind of the hour and warmth of the gap, added by squares; screens aged, the bay in the middle of all in order",
    "sorption is typical of the material; all of this is from memory, not read in the standards",
    "mould by Wood Science and Technology 33 (1999), its class by the kind of material; others dispute how far the index can be relied on",
    "a board is cut into five or more cells; water in thin boards comes out within 2%",
];

/// What is taken for granted where sun and sky count.
pub const SUNNY: &str = "sun by solar time on the sides with least and most of it; all days of a month alike clear, dull while it rains; \
                         no shade, ground throws back 20%, snow not; sky by its cloud and dew point";

/// What a year leaves out and takes for granted, in words.
pub fn assumptions(year: &Year) -> Vec<String> {
    let light = match &year.lit {
        Ok(_) => SUNNY.to_owned(),
        Err(fact) => format!("no sun and no night sky: {fact} is missing"),
    };
    let still = (!year.still.is_empty()).then(|| {
        let layers = year.still.join(", ");
        format!("liquid is kept still in {layers}: no `water_absorption`, so that they dry slower here than what wicks")
    });
    let hours = match &year.measured {
        Some(file) => format!(
            "hours as measured (`{file}`), taken for solar time; the year is run twice and the second one is told"
        ),
        None => {
            "the year is made from monthly means, not measured; it is run twice and the second one is told".to_owned()
        }
    };
    [hours, light].into_iter().chain(still).chain(ASSUMPTIONS.map(str::to_owned)).collect()
}

/// What each wall type came to, in their order; the error is the missing fact.
pub(super) fn years(scene: &Scene<'_>, walls: &[WallType], gap: Result<&GapAir, &String>) -> Vec<Result<Year, String>> {
    let site = gap.map_err(Clone::clone).and_then(|gap| weather::Site::of(scene, gap));
    let one = |wall: &WallType| {
        let assembly = wall.assembly(scene.model).ok_or("the wall")?;
        let built = wall::build(scene.model, assembly)?;
        let site = site.as_ref().map_err(Clone::clone)?;
        let face = face::Surface::of(scene.model, assembly);
        let face = face.and_then(|surface| Ok((surface, face::sides(scene.model, wall)?)));
        let year = year::moistest(site, &built, site.gap.draught(wall)?, face)?;
        Ok(Year { measured: site.measured.clone(), ..year })
    };
    walls.par_iter().map(one).collect()
}

impl Study for Hourly {
    fn id(&self) -> &'static str {
        "hourly"
    }

    fn title(&self) -> &'static str {
        "heat and moisture hour by hour"
    }

    fn of_wall(&self, scene: &Scene<'_>, wall: &WallType) -> Found {
        let mut found = Found::default();
        match scene.year(wall) {
            None => {}
            Some(Err(fact)) => found.missing.push(Missing { what: &PEAK, of: String::new(), fact: fact.clone() }),
            Some(Ok(year)) => {
                found.figures = figures(year);
                if let Err(fact) = &year.lit {
                    found.missing.push(Missing { what: &SUN, of: String::new(), fact: fact.clone() });
                }
            }
        }
        found
    }
}

fn figures(year: &Year) -> Vec<Figure> {
    let of = |what: &'static What, of: &str, value: Value| Figure {
        what,
        of: of.to_owned(),
        value,
        source: METHOD,
        sure: Sureness::Memory,
        doubt: if year.measured.is_some() { MEASURED } else { DOUBT }.to_owned(),
    };
    let number = |value: f64| Value::Number(value.into());
    let own = year.watched.as_str();
    let mut figures = Vec::new();
    if let Ok(lit) = &year.lit {
        figures.push(of(&FACE, "", Value::Word(lit.faces.clone())));
        figures.push(of(&SUN, "", number(lit.sun)));
        figures.push(of(&SKY, "", number(lit.sky)));
    }
    if year.changes.mean > 0.0 {
        figures.push(of(&CHANGES, "", number(year.changes.mean)));
        figures.push(of(&GAP, "", number(year.warmest_gap)));
    }
    figures.extend([
        of(&PEAK, own, number(year.peak.0)),
        of(&PEAK_DAY, own, Value::Word(day(year.peak.1))),
        of(&MOIST, own, number(year.moist as f64)),
        of(&WET, own, number(year.wet as f64)),
        of(&DRIES, own, Value::Word(drying(year.drying))),
    ]);
    if let Some((index, hour)) = year.mould {
        figures.push(Figure { source: GROWTH, ..of(&MOULD, own, number(index)) });
        // Less is told as none.
        let when = if index >= 0.05 { day(hour) } else { "at no time".to_owned() };
        figures.push(Figure { source: GROWTH, ..of(&MOULD_DAY, own, Value::Word(when)) });
    }
    if year.drunk > 0.0 {
        figures.push(of(&DRUNK, "", number(year.drunk)));
    }
    let frost = || year.layers.iter().filter_map(|held| Some((held.layer.as_str(), held.frost?)));
    let worst = frost().max_by(|one, other| one.1.thaws.cmp(&other.1.thaws).then(one.1.hours.cmp(&other.1.hours)));
    if let Some((layer, worst)) = worst {
        let layer = if worst.hours > 0 { layer } else { "any layer" };
        figures.push(of(&THAWS, layer, number(worst.thaws as f64)));
    }
    figures.extend(frost().map(|(layer, frost)| of(&FROST, layer, number(frost.hours as f64))));
    figures.extend(year.layers.iter().map(|held| of(&WATER, &held.layer, number(held.water[2]))));
    figures
}

/// "14 January", by the hour of the year.
pub fn day(hour: usize) -> String {
    let starts = made_year::starts();
    let month = weather::month_of(&starts, hour);
    format!("{} {}", (hour - starts[month]) / 24 + 1, MONTHS[month])
}

/// "May", "never above 80% for a month", "does not dry".
pub fn drying(drying: Drying) -> String {
    match drying {
        Drying::NeverMoist => "never above 80% for a month".to_owned(),
        Drying::In(month) => MONTHS.get(month).copied().unwrap_or_default().to_owned(),
        Drying::Never => "does not dry within the year".to_owned(),
    }
}
