//! Monthly moisture of a wall type (ISO 13788): what its inner surface needs, where water gathers in it, when it dries.

use super::layers::{first_inboard, permeance, resistance_of};
use super::{Found, MONTHS, Scene, Source, Study, Value, WallType, What, outboard};
use crate::model::{Assembly, Layer, LayerKind, Model, Openness, Site, Sureness};
use crate::physics::layers::{AIR_PERMEABILITY, SURFACE_OUTSIDE};
use crate::physics::moisture::glaser::{Cut, Place, Slab, Wall};
use crate::physics::moisture::indoors::Class;
use crate::physics::moisture::surface::{self, Need};
use crate::physics::moisture::year::{self, Months, Year};
use crate::physics::moisture::{Air, cups, ends};
use crate::physics::resistance::{Flow, surface_inside};
use crate::units::{Dimension, Keep, Range};

/// Moisture by the month.
pub struct Moisture;

/// What the inner surface has where no stud stands.
pub static SURFACE_HAS: What = What {
    key: "moisture.surface_factor",
    title: "fRsi of the inner surface",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(2),
};
/// What the month that asks most needs against mould.
pub static SURFACE_NEEDS: What = What {
    key: "moisture.surface_factor_needed",
    title: "fRsi needed to stay below 80% humidity",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(2),
};
/// The month that asks most.
pub static CRITICAL: What = What {
    key: "moisture.critical_month",
    title: "month that asks most of the surface",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(0),
};
/// The most water in the wall at the end of a month.
pub static PEAK: What = What {
    key: "moisture.peak",
    title: "most condensate in the wall",
    dimension: Dimension::SURFACE_MASS,
    keep: Keep::Significant(2),
};
/// When it is gone.
pub static DRIES: What =
    What { key: "moisture.dries", title: "has dried", dimension: Dimension::NUMBER, keep: Keep::Places(0) };

/// The same with the wet cup of a layer in the months it is damp.
pub static PEAK_BY_CUP: What = What {
    key: "moisture.peak_by_cup",
    title: "the same, damp layers with their wet cup",
    dimension: Dimension::SURFACE_MASS,
    keep: Keep::Significant(2),
};
/// When it is gone then.
pub static DRIES_BY_CUP: What = What {
    key: "moisture.dries_by_cup",
    title: "when it has dried, damp layers with their wet cup",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(0),
};

const CUPS: Source = Source { standard: "ISO 13788, cups by ISO 10456", edition: "2012, 2007", clause: "" };
const SURFACE: Source = Source { standard: "ISO 13788", edition: "2012", clause: "5" };
const WITHIN: Source = Source { standard: "ISO 13788", edition: "2012", clause: "6" };

/// What makes every figure here no surer.
const DOUBT: &str = "method and permeances; sun, rain, leaks and storage are not reckoned";
/// Resistance of the inner surface behind furniture and in corners, m²·K/W (ISO 13788:2012, from memory).
const BEHIND_FURNITURE: f64 = 0.25;
/// What lets nothing through counts as so many metres of still air.
const TIGHTEST: f64 = 1e5;

/// A wall through the months.
pub struct Monthly {
    /// Index of its outermost layer that counts: the one behind the gap.
    pub first: usize,
    /// The wall cut into parts.
    pub cut: Cut,
    /// Air of each month.
    pub air: Months,
    /// What gathers and dries, with the middle of what is known only within bounds.
    pub year: Year,
    /// The same with its ends (`physics::moisture::ends`); empty where all is known.
    pub ends: Vec<End>,
    /// Temperature factor of the inner surface between studs.
    pub factor: Range,
}

/// A wall at one end of what is known of it.
pub struct End {
    /// The wall cut into parts.
    pub cut: Cut,
    /// What gathers and dries.
    pub year: Year,
}

impl Study for Moisture {
    fn id(&self) -> &'static str {
        "moisture"
    }

    fn title(&self) -> &'static str {
        "moisture"
    }

    fn of_wall(&self, scene: &Scene<'_>, wall: &WallType) -> Found {
        let mut found = Found::default();
        if let Some(assembly) = wall.assembly(scene.model) {
            outboard::tell(&mut found, scene.model, assembly);
        }
        // Who says nothing of the rooms does not ask.
        let asked =
            scene.model.site.as_ref().is_some_and(|site| site.indoors.is_some() || site.humidity_class.is_some());
        let Some(assembly) = wall.assembly(scene.model).filter(|_| asked) else { return found };
        let monthly = monthly(scene.model, assembly);
        let mut tell = |what, source, of: &dyn Fn(&Monthly) -> Option<Value>| {
            let answer = match &monthly {
                Ok(monthly) => of(monthly).map(|value| Ok((value, Sureness::Memory, DOUBT.to_owned()))),
                Err(fact) => Some(Err(fact.clone())),
            };
            if let Some(answer) = answer {
                found.tell(what, source, answer);
            }
        };
        let number = |value: f64| Some(Value::Number(value.into()));
        tell(&SURFACE_HAS, SURFACE, &|monthly| Some(Value::Number(monthly.factor)));
        tell(&SURFACE_NEEDS, SURFACE, &|monthly| number(monthly.critical(surface::MOULD)?.1));
        tell(&CRITICAL, SURFACE, &|monthly| month(monthly.critical(surface::MOULD)?.0));
        tell(&PEAK, WITHIN, &|monthly| Some(Value::Number(monthly.peak())));
        tell(&DRIES, WITHIN, &|monthly| Some(Value::Word(monthly.dries())));
        let by_cup = || by_cup(scene.model, assembly);
        // Of a wall that stays dry with dry cups, which keep vapour in, there is nothing more to tell.
        if let Some(years) = monthly.as_ref().ok().filter(|monthly| monthly.gathers()).and_then(|_| by_cup()) {
            let told = |value: Value| Ok((value, Sureness::Memory, DOUBT.to_owned()));
            let years: Vec<&Year> = years.iter().collect();
            found.tell(&PEAK_BY_CUP, CUPS, told(Value::Number(peak(&years))));
            found.tell(&DRIES_BY_CUP, CUPS, told(Value::Word(dries(&years))));
        }
        found
    }
}

fn month(index: usize) -> Option<Value> {
    MONTHS.get(index).map(|name| Value::Word((*name).to_owned()))
}

impl Monthly {
    /// The month that asks most of the surface so that its air stays below `humidity` (0 to 1), and the factor it asks.
    pub fn critical(&self, humidity: f64) -> Option<(usize, f64)> {
        critical(&self.air, humidity)
    }

    /// All years that were reckoned, each with its cut: the middle first; it alone where everything is known.
    pub fn runs(&self) -> impl Iterator<Item = (&Cut, &Year)> {
        std::iter::once((&self.cut, &self.year)).chain(self.ends.iter().map(|end| (&end.cut, &end.year)))
    }

    /// The most water in the wall at the end of a month, kg/m².
    pub fn peak(&self) -> Range {
        peak(&self.years())
    }

    fn years(&self) -> Vec<&Year> {
        self.runs().map(|(_, year)| year).collect()
    }

    /// Whether water gathers in any of them.
    pub fn gathers(&self) -> bool {
        self.runs().any(|(_, year)| year.start.is_some())
    }

    /// "stays dry", "dries in July", "does not dry within a year"; "stays dry, or dries in July" where not all is known.
    pub fn dries(&self) -> String {
        dries(&self.years())
    }

    /// The two layers a place lies between, or the one it lies in: "between `sheathing` and `studs`".
    pub fn where_is(&self, wall: &Assembly, place: &Place) -> String {
        let name = |index: usize| wall.layers.get(self.first + index).map(|layer| layer.name.as_str());
        let (here, next) = (name(place.layer).unwrap_or(""), name(place.layer + 1));
        match next {
            Some(next) if place.share >= 1.0 => format!("between `{here}` and `{next}`"),
            _ => format!("in `{here}`"),
        }
    }

    /// The layer a place lies in or at the inner face of.
    pub fn layer_of<'w>(&self, wall: &'w Assembly, place: &Place) -> Option<&'w Layer> {
        wall.layers.get(self.first + place.layer)
    }
}

/// The month (January is 0) that asks most of a surface so that its air stays below `humidity` (0 to 1), and the factor it asks.
pub fn critical(air: &Months, humidity: f64) -> Option<(usize, f64)> {
    let needs: Vec<Option<Need>> =
        air.iter().map(|(outside, inside)| surface::need(*outside, *inside, humidity)).collect();
    surface::critical(&needs)
}

/// The most water at the end of a month in any of these years, from the least to the most.
fn peak(years: &[&Year]) -> Range {
    let peaks = years.iter().map(|year| Range::exactly(year.peak().map_or(0.0, |(_, water)| water)));
    peaks.reduce(Range::hull).unwrap_or_default()
}

/// How the year that dries first ends, and the one that dries last.
fn dries(years: &[&Year]) -> String {
    let late = |year: &&&Year| match (year.start, year.dries_in()) {
        (None, _) => 0,
        (Some(_), None) => 13,
        (Some(start), Some(month)) => 1 + (month + 12 - start) % 12,
    };
    let ends = years.iter().min_by_key(late).zip(years.iter().max_by_key(late));
    let Some((first, last)) = ends.map(|(first, last)| (dries_alone(first), dries_alone(last))) else {
        return String::new();
    };
    match (first == last, last.strip_prefix("dries in ").filter(|_| first.starts_with("dries in "))) {
        (true, _) => first,
        (false, Some(month)) => format!("{first} to {month}"),
        (false, None) => format!("{first}, or {last}"),
    }
}

/// "stays dry", "dries in July", "does not dry within a year".
pub fn dries_alone(year: &Year) -> String {
    match (year.start, year.dries_in()) {
        (None, _) => "stays dry".to_owned(),
        (Some(_), Some(month)) => format!("dries in {}", MONTHS.get(month).unwrap_or(&"")),
        (Some(_), None) => "does not dry within a year".to_owned(),
    }
}

/// The years of a wall whose damp layers count with their wet cup: its middle, and its ends where not all is known. `None` where in
/// none of them a layer is damp in any month, or has a wet cup that differs.
fn by_cup(model: &Model, wall: &Assembly) -> Option<Vec<Year>> {
    let parts = parts(model, wall).ok()?;
    let mut any = false;
    let years = std::iter::once(&parts.wall).chain(&parts.ends).map(|dry| {
        let found = cups::year(dry, &parts.wet, &parts.air)?;
        let other = |layer: usize| parts.wet.get(layer) < dry.layers.get(layer).map(|slab| &slab.air);
        any |= found.damp.iter().any(|month| month.iter().enumerate().any(|(layer, damp)| *damp && other(layer)));
        Some(found.year)
    });
    let years: Option<Vec<Year>> = years.collect();
    years.filter(|_| any)
}

/// The wall through the months where no stud stands; the error is the missing fact. Outside of a ventilated gap is outside air.
/// Every layer counts with its dry cup, as ISO 13788 is reckoned unless said otherwise.
pub fn monthly(model: &Model, wall: &Assembly) -> Result<Monthly, String> {
    let Parts { first, wall, ends, air, .. } = parts(model, wall)?;
    let factor = |wall: &Wall| {
        let whole = wall.outside + BEHIND_FURNITURE + wall.layers.iter().map(|slab| slab.resistance).sum::<f64>();
        Range::exactly(surface::factor(whole, BEHIND_FURNITURE).unwrap_or_default())
    };
    let factor = ends.iter().map(factor).fold(factor(&wall), Range::hull);
    let lacks = "a layer that resists vapour";
    let cut = wall.cut().ok_or(lacks)?;
    let year = year::of(&cut, &air);
    let end = |wall: &Wall| {
        let cut = wall.cut()?;
        let year = year::of(&cut, &air);
        Some(End { cut, year })
    };
    let ends = ends.iter().map(end).collect::<Option<Vec<End>>>().ok_or(lacks)?;
    Ok(Monthly { first, cut, air, year, ends, factor })
}

/// What the months ask of a wall.
struct Parts {
    /// Index of the first layer that counts.
    first: usize,
    /// From there, with dry cups, and the middle of what a layer resists where it is known within bounds.
    wall: Wall,
    /// The same with the ends; empty where all is known.
    ends: Vec<Wall>,
    /// Wet cups of the layers, in metres of still air.
    wet: Vec<f64>,
    /// Air of the months.
    air: Months,
}

/// The error is the missing fact.
fn parts(model: &Model, wall: &Assembly) -> Result<Parts, String> {
    let air = months(model.site.as_ref())?;
    let first = first_inboard(wall);
    if let Some(LayerKind::Gap(gap)) =
        first.checked_sub(1).and_then(|gap| wall.layers.get(gap)).map(|layer| &layer.kind)
        && gap.openness != Some(Openness::Ventilated)
    {
        return Err("what the air in the gap is like: only a `ventilated` gap is as the air outside".to_owned());
    }
    let inner = wall.layers.get(first..).unwrap_or_default();
    let (mut resists, mut dry, mut wet) = (Vec::new(), Vec::new(), Vec::new());
    for layer in inner {
        resists.push(resistance_of(model, std::slice::from_ref(layer))?);
        let cups = still_air(model, layer)?;
        dry.push(cups.0);
        wet.push(cups.1);
    }
    let inside = surface_inside(Flow::Horizontal);
    let outside = if first > 0 { inside } else { SURFACE_OUTSIDE };
    let built = |resistances: Vec<f64>| {
        let slabs = resistances.into_iter().zip(&dry).map(|(resistance, air)| Slab { resistance, air: *air });
        Wall { outside, layers: slabs.collect(), inside }
    };
    let middle = built(resists.iter().map(|range| range.middle()).collect());
    let known = resists.iter().all(|range| range.is_exact());
    let ends = if known { Vec::new() } else { ends::splits(&resists).into_iter().map(built).collect() };
    Ok(Parts { first, wall: middle, ends, wet, air })
}

/// Resistance of a layer to vapour as metres of still air, dry cup and wet cup.
fn still_air(model: &Model, layer: &Layer) -> Result<(f64, f64), String> {
    let fact = |name: &str| format!("vapour resistance of `{name}` (`vapour_factor` or `permeance`)");
    if let LayerKind::Frame(frame) = &layer.kind {
        let depth = frame.depth.as_m();
        let Some(fill) = &frame.fill else { return Ok((depth, depth)) };
        let factor = model.material_of(fill).and_then(|material| material.vapour_factor.as_ref());
        let both = |(one, other): (f64, f64)| (one.max(other) * depth, one.min(other) * depth);
        return factor.map(|factor| both(factor.value)).ok_or_else(|| fact(&fill.name));
    }
    // A factor says nothing of a sheet whose thickness nobody said.
    let product = model.product_of(&layer.stuff);
    let thick = layer.thickness.is_some() || product.is_some_and(|product| product.thickness.is_some());
    let lacks = || {
        let name = &layer.stuff.name;
        if thick { fact(name) } else { format!("vapour resistance of `{name}` (`permeance`)") }
    };
    let permeance = permeance(model, layer).ok_or_else(lacks)?;
    let still = |permeance: f64| (AIR_PERMEABILITY / permeance).min(TIGHTEST);
    Ok((still(permeance.tightest), still(permeance.openest)))
}

/// Air outside and in the rooms, month by month; the error is the missing fact.
pub fn months(site: Option<&Site>) -> Result<Months, String> {
    let site = site.ok_or("the site, with its climate (`site`)")?;
    let inside = site.indoors.ok_or("temperature of the rooms (`indoors` of the site)")?;
    let number = site.humidity_class.ok_or("humidity of the rooms (`humidity_class` of the site)")?;
    let class = Class::of(number).ok_or("vapour in rooms of class 5: its excess has no upper limit in ISO 13788")?;
    let climate = site.climate.as_ref().ok_or("climate of the site (`climate`)")?;
    let temperatures = <[f64; 12]>::try_from(climate.temperature.as_slice());
    let temperatures =
        temperatures.map_err(|_| format!("monthly temperatures of `{}` (`temperature`)", climate.name))?;
    let humidities = <[f64; 12]>::try_from(climate.humidity.as_slice());
    let humidities = humidities.map_err(|_| format!("monthly humidity of `{}` (`humidity`)", climate.name))?;
    let mut air = [(Air { temperature: inside, vapour: 0.0 }, Air { temperature: inside, vapour: 0.0 }); 12];
    for (month, (celsius, humidity)) in air.iter_mut().zip(temperatures.into_iter().zip(humidities)) {
        let outside = Air::of_humidity(celsius, humidity);
        *month = (outside, class.inside(inside, outside));
    }
    Ok(air)
}
