//! Layers that let little vapour through and stand outboard of insulation: how warm they are kept, as NBC Table 9.25.5.2 asks it.

use super::layers::{first_inboard, insulates, permeance, resistance_of};
use super::{Found, Source, Value, What};
use crate::model::{Assembly, Layer, Model, Sureness};
use crate::physics::layers::ratio;
use crate::units::{Dimension, Keep, Length, Range};

/// Resistance outboard of the inner face of a tight layer, by that inboard.
pub static RATIO: What = What {
    key: "moisture.outboard_ratio",
    title: "resistance outboard by that inboard, tight layer",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(2),
};
/// What the rule set asks of it at the degree-days of the site.
pub static ASKED: What = What {
    key: "moisture.outboard_ratio_asked",
    title: "outboard by inboard that is asked here",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(2),
};

const FORM: Source = Source { standard: "form of NBC Table 9.25.5.2", edition: "", clause: "" };
const RULES: Source = Source { standard: "the rule set in force", edition: "", clause: "" };

/// Degree-days from which a limit of the table counts.
pub const BANDS: [(f64, &str); 9] = [
    (0.0, "insulation_ratio.from_0"),
    (5000.0, "insulation_ratio.from_5000"),
    (6000.0, "insulation_ratio.from_6000"),
    (7000.0, "insulation_ratio.from_7000"),
    (8000.0, "insulation_ratio.from_8000"),
    (9000.0, "insulation_ratio.from_9000"),
    (10000.0, "insulation_ratio.from_10000"),
    (11000.0, "insulation_ratio.from_11000"),
    (12000.0, "insulation_ratio.from_12000"),
];

/// When a layer is one of low permeance.
#[derive(Clone, Copy, Debug)]
pub struct Tight {
    /// Permeance below which it is, kg/(Pa·s·m²).
    pub permeance: f64,
    /// Air leakage below which it is, m³/(s·m²) at 75 Pa; absent if no rule set says one.
    pub leakage: Option<f64>,
    /// Boards of wood up to this thickness are not asked.
    pub thin: Length,
}

impl Tight {
    /// As the rule sets say it; `None` where none says a permeance.
    pub fn of(model: &Model) -> Option<Self> {
        let limit = |name: &str| model.limit(name);
        Some(Self {
            permeance: limit("low_permeance.permeance")?.number()?,
            leakage: limit("low_permeance.leakage").and_then(|limit| limit.number()),
            thin: limit("low_permeance.wood_board").and_then(|limit| limit.length()).unwrap_or_default(),
        })
    }

    /// Whether a layer is; absent if its permeance is not known. One that air passes is not; where nobody says, it stops air.
    fn holds(&self, model: &Model, layer: &Layer) -> Option<bool> {
        let leaks = model.product_of(&layer.stuff).and_then(|product| product.air_leakage.as_ref());
        let leaks = leaks.or(model.material_of(&layer.stuff).and_then(|material| material.air_leakage.as_ref()));
        if leaks.zip(self.leakage).is_some_and(|(leaks, most)| leaks.value >= most) {
            return Some(false);
        }
        permeance(model, layer).map(|permeance| permeance.tightest < self.permeance)
    }
}

/// A layer with insulation behind it that may be too tight to stand in the cold.
pub struct Outer<'w> {
    /// Its index in the wall.
    pub at: usize,
    /// The layer.
    pub layer: &'w Layer,
    /// Whether it lets less vapour through than the limit; absent if its permeance is not known.
    pub tight: Option<bool>,
    /// Resistances outboard of its inner face and inboard of it, m²·K/W; the error is the missing fact.
    pub resistances: Result<(Range, Range), String>,
}

impl Outer<'_> {
    /// Outboard by inboard: the least comes of the least outboard and the most inboard. `None` where it is not known.
    pub fn ratio(&self) -> Option<Range> {
        let (outboard, inboard) = self.resistances.as_ref().ok()?;
        Some(Range::between(ratio(outboard.low, inboard.high)?, ratio(outboard.high, inboard.low)?))
    }
}

/// All such layers of a wall but those that vapour or air surely passes, outermost first.
pub fn of<'w>(model: &'w Model, wall: &'w Assembly, limits: Tight) -> Vec<Outer<'w>> {
    let outside = first_inboard(wall);
    let mut found = Vec::new();
    for (at, layer) in wall.layers.iter().enumerate().skip(outside) {
        let tight = limits.holds(model, layer);
        let inboard = wall.layers.get(at + 1..).unwrap_or_default();
        let behind = inboard.iter().any(|layer| insulates(model, layer));
        if tight == Some(false) || !behind || is_thin_wood(model, layer, limits.thin) {
            continue;
        }
        let outboard = wall.layers.get(outside..=at).unwrap_or_default();
        let resistances = resistance_of(model, outboard).and_then(|outer| Ok((outer, resistance_of(model, inboard)?)));
        found.push(Outer { at, layer, tight, resistances });
    }
    found
}

/// A sheet or board of wood no thicker than the code leaves alone.
pub(crate) fn is_thin_wood(model: &Model, layer: &Layer, most: Length) -> bool {
    let wood = model.material_of(&layer.stuff).is_some_and(|material| matches!(material.kind, "wood" | "wood_board"));
    wood && model.thickness_of(layer).is_some_and(|thickness| thickness <= most)
}

/// The ratio of each tight layer beside what is asked of it.
pub(super) fn tell(found: &mut Found, model: &Model, wall: &Assembly) {
    let Some(limits) = Tight::of(model) else { return };
    let mut any = false;
    for outer in of(model, wall, limits).iter().filter(|outer| outer.tight == Some(true)) {
        let Some(ratio) = outer.ratio() else { continue };
        any = true;
        let doubt = "resistances and permeance".to_owned();
        found.tell(&RATIO, FORM, Ok((Value::Number(ratio), Sureness::Memory, doubt)));
        if let Some(figure) = found.figures.last_mut() {
            figure.of = outer.layer.name.replace('_', " ");
        }
    }
    if any {
        let asked = model.limit_by_cold(&BANDS);
        found.tell(
            &ASKED,
            RULES,
            asked.map(|(limit, wanted)| (Value::Number(wanted.into()), limit.sure, limit.citation())),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::{Settings, check};
    use crate::source::MapWorld;

    fn found(layers: &str, climate: &str) -> Found {
        let text = format!(
            "wythe 1\n\nuse std.materials\n\nmaterial foil_board {{\n    kind foam\n    conductivity 0.025W/(m.K)\n    vapour_factor 1000 to 1000\n}}\n\
             material wool {{\n    kind fibre\n    conductivity 0.05W/(m.K)\n    vapour_factor 1 to 1\n}}\n\
             climate cold {{\n    {climate}\n}}\nsite s {{\n    climate cold\n    limits std.limits.canada_part9_2020\n}}\n\
             assembly wall {{\n    layer boards spruce 20mm, controls rain\n    gap cavity 19mm ventilated\n{layers}}}\n\
             face north {{\n    measured to cladding\n    base 0 from 0 to 3000mm\n    top 2400mm\n    left\n    right\n    area all wall\n}}\n"
        );
        let checked =
            check(&MapWorld::new().with("house.wythe", &text), &["house.wythe".to_owned()], &Settings::default());
        assert!(checked.problems.is_empty(), "{:?}", checked.problems);
        checked.figures().walls.first().and_then(|wall| wall.study("moisture")).cloned().unwrap_or_default()
    }

    /// R 2.08 outboard, 3.55 inboard: 0.5859 (by hand), against 0.55 from 9000 degree-days on (NBC Table 9.25.5.2, from memory).
    #[test]
    fn a_tight_board_is_told_beside_what_is_asked_of_it() {
        let studs = "    frame studs spruce 38mm x 177.5mm, every 16in on centre, fill wool\n";
        let tight = format!("    layer foam foil_board 52mm, controls heat\n{studs}");
        let told = found(&tight, "degree_days 9999, source \"made up\"");
        let ratio = told.figures.iter().find(|figure| figure.what.key == RATIO.key).unwrap();
        let Value::Number(range) = ratio.value else { panic!("{ratio:?}") };
        assert!((range.low - 2.08 / 3.55).abs() < 1e-9 && ratio.of == "foam", "{ratio:?}");
        let asked = told.figure(ASKED.key).unwrap();
        assert_eq!(asked.value, Value::Number(0.55.into()));
        assert!(asked.doubt.contains("Table 9.25.5.2") && asked.sure == Sureness::Memory, "{asked:?}");
        let nowhere = found(&tight, "moisture_index 1");
        assert!(nowhere.missing(ASKED.key).unwrap().fact.contains("`degree_days`"));
        let open = found(&format!("    layer board wool 50mm, controls heat\n{studs}"), "degree_days 9999");
        assert!(open.is_empty(), "{open:?}");
    }
}
