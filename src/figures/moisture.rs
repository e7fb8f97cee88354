//! Monthly moisture of a wall type (ISO 13788): what its inner surface needs, where water gathers in it, when it dries.

use super::layers::{first_inboard, permeance, resistance_of};
use super::{Found, MONTHS, Scene, Source, Study, Value, WallType, What, outboard};
use crate::model::{Assembly, Layer, LayerKind, Model, Openness, Site, Sureness};
use crate::physics::layers::{AIR_PERMEABILITY, SURFACE_OUTSIDE};
use crate::physics::moisture::glaser::{Cut, Place, Slab, Wall};
use crate::physics::moisture::indoors::Class;
use crate::physics::moisture::surface::{self, Need};
use crate::physics::moisture::year::{self, Months, Year};
use crate::physics::moisture::{Air, cups};
use crate::physics::resistance::{Flow, surface_inside};
use crate::units::{Dimension, Keep};

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
    /// What gathers and dries.
    pub year: Year,
    /// Temperature factor of the inner surface between studs.
    pub factor: f64,
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
        tell(&SURFACE_HAS, SURFACE, &|monthly| number(monthly.factor));
        tell(&SURFACE_NEEDS, SURFACE, &|monthly| number(monthly.critical(surface::MOULD)?.1));
        tell(&CRITICAL, SURFACE, &|monthly| month(monthly.critical(surface::MOULD)?.0));
        tell(&PEAK, WITHIN, &|monthly| number(monthly.year.peak().map_or(0.0, |(_, water)| water)));
        tell(&DRIES, WITHIN, &|monthly| Some(Value::Word(monthly.dries())));
        let by_cup = || by_cup(scene.model, assembly);
        // Of a wall that stays dry with dry cups, which keep vapour in, there is nothing more to tell.
        if let Some(year) = monthly.as_ref().ok().filter(|monthly| monthly.year.start.is_some()).and_then(|_| by_cup())
        {
            let told = |value: Value| Ok((value, Sureness::Memory, DOUBT.to_owned()));
            found.tell(&PEAK_BY_CUP, CUPS, told(Value::Number(year.peak().map_or(0.0, |(_, water)| water).into())));
            found.tell(&DRIES_BY_CUP, CUPS, told(Value::Word(dries(&year))));
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
        let needs: Vec<Option<Need>> =
            self.air.iter().map(|(outside, inside)| surface::need(*outside, *inside, humidity)).collect();
        surface::critical(&needs)
    }

    /// "stays dry", "dries in July", "does not dry within a year".
    pub fn dries(&self) -> String {
        dries(&self.year)
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

fn dries(year: &Year) -> String {
    match (year.start, year.dries_in()) {
        (None, _) => "stays dry".to_owned(),
        (Some(_), Some(month)) => format!("dries in {}", MONTHS.get(month).unwrap_or(&"")),
        (Some(_), None) => "does not dry within a year".to_owned(),
    }
}

/// The year of a wall whose damp layers count with their wet cup. `None` where none of them is damp in any month, or has a wet cup
/// that differs.
fn by_cup(model: &Model, wall: &Assembly) -> Option<Year> {
    let (_, dry, wet, air) = parts(model, wall).ok()?;
    let found = cups::year(&dry, &wet, &air)?;
    let other = |layer: usize| wet.get(layer) < dry.layers.get(layer).map(|slab| &slab.air);
    let damp = found.damp.iter().any(|month| month.iter().enumerate().any(|(layer, damp)| *damp && other(layer)));
    damp.then_some(found.year)
}

/// The wall through the months where no stud stands; the error is the missing fact. Outside of a ventilated gap is outside air.
/// Every layer counts with its dry cup, as ISO 13788 is reckoned unless said otherwise.
pub fn monthly(model: &Model, wall: &Assembly) -> Result<Monthly, String> {
    let (first, wall, _, air) = parts(model, wall)?;
    let whole = wall.outside + BEHIND_FURNITURE + wall.layers.iter().map(|slab| slab.resistance).sum::<f64>();
    let cut = wall.cut().ok_or("a layer that resists vapour")?;
    let factor = surface::factor(whole, BEHIND_FURNITURE).unwrap_or_default();
    let year = year::of(&cut, &air);
    Ok(Monthly { first, cut, air, year, factor })
}

/// Index of the first layer that counts, the wall from there with dry cups, the wet cups of its layers in metres of still air, and
/// the air of the months; the error is the missing fact.
fn parts(model: &Model, wall: &Assembly) -> Result<(usize, Wall, Vec<f64>, Months), String> {
    let air = months(model.site.as_ref())?;
    let first = first_inboard(wall);
    if let Some(LayerKind::Gap(gap)) =
        first.checked_sub(1).and_then(|gap| wall.layers.get(gap)).map(|layer| &layer.kind)
        && gap.openness != Some(Openness::Ventilated)
    {
        return Err("what the air in the gap is like: only a `ventilated` gap is as the air outside".to_owned());
    }
    let inner = wall.layers.get(first..).unwrap_or_default();
    // The middle of what a layer resists, where it is known within bounds.
    let (mut layers, mut wet) = (Vec::new(), Vec::new());
    for layer in inner {
        let resistance = resistance_of(model, std::slice::from_ref(layer))?.middle();
        let cups = still_air(model, layer)?;
        layers.push(Slab { resistance, air: cups.0 });
        wet.push(cups.1);
    }
    let inside = surface_inside(Flow::Horizontal);
    let outside = if first > 0 { inside } else { SURFACE_OUTSIDE };
    Ok((first, Wall { outside, layers, inside }, wet, air))
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

fn months(site: Option<&Site>) -> Result<Months, String> {
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
