//! How long a part of an edge is cut, and what it leaves at its ends. One place for it: quantities, pieces and sheets read this.

use crate::layout::field::hottest;
use crate::model::{Model, Opening, PartSpec, Product};
use crate::physics::movement;
use crate::units::{Length, display};

/// Taken off under each jamb, so that it does not stand in water. Common practice, no source.
pub const UNDER_JAMB: Length = Length::mm(6);
/// Beyond each trim of a head flashing. Common practice, no source.
const BEYOND_TRIM: Length = Length::mm(10);
/// Left of a gap on the hottest day: 1.5 mm, common practice, no source.
pub const GAP_LEFT: Length = Length(1_500_000);
/// Range between which surfaces move where the climate says nothing: −40 °C is the coldest design day assumed here.
pub const COLDEST: f64 = -40.0;

/// What of a part its length depends on.
#[derive(Clone, Copy, Debug, Default)]
pub struct Shape<'s> {
    /// The schema's word: `trim`, `flashing`.
    pub kind: &'s str,
    /// Its ends are cut at half the angle.
    pub mitred: bool,
    /// Upturn at both ends.
    pub dams: Option<Length>,
    /// What it lies on.
    pub on: Option<&'s str>,
}

impl<'s> From<&'s PartSpec> for Shape<'s> {
    fn from(spec: &'s PartSpec) -> Self {
        Shape { kind: spec.kind, mitred: spec.mitred, dams: spec.end_dams, on: spec.on }
    }
}

/// Width of the trims of an opening and the margin of frame that shows beside them; zero where not said.
pub fn trim_and_reveal(opening: Option<&Opening>) -> (Length, Length) {
    let trim = opening.and_then(|opening| opening.trims).map_or(Length::ZERO, |(width, _)| width);
    (trim, opening.and_then(|opening| opening.reveal).unwrap_or(Length::ZERO))
}

/// How far a part of a stretch of edge reaches beyond it: at the left (lower) and the right (upper) end; negative where it stops
/// short. With the rule in words. `kind` is that of the run.
pub fn reach(kind: &str, part: Shape<'_>, (trim, reveal): (Length, Length)) -> ([Length; 2], String) {
    let dam = part.dams.unwrap_or(Length::ZERO);
    let both = |each: Length| [each, each];
    let off = display::mm(UNDER_JAMB);
    match part.kind {
        "trim" | "sill" if matches!(kind, "head" | "sill") => {
            (both(reveal + trim), "opening, two reveals, two trims".to_owned())
        }
        "trim" if kind == "jamb" && part.mitred => {
            ([-UNDER_JAMB, reveal + trim], format!("opening, one reveal and one trim, {off} off below"))
        }
        "trim" if kind == "jamb" => ([-UNDER_JAMB, reveal], format!("opening and one reveal, {off} off below")),
        "flashing" if kind == "head" && matches!(part.on, Some("furring" | "cladding")) => (
            both(trim + reveal + BEYOND_TRIM + dam),
            "opening, two reveals and trims, 10 mm beyond each, a dam at each end".to_owned(),
        ),
        _ if dam > Length::ZERO => {
            (both(dam), format!("length of the edge and {} folded up at each end", display::mm(dam)))
        }
        _ => (both(Length::ZERO), "length of the edge".to_owned()),
    }
}

/// Growth of one length of one for each kelvin; none if the material does not say.
pub fn expansion(model: &Model, product: &Product) -> Option<f64> {
    model.material(product.of?)?.expansion.as_ref().map(|value| value.value)
}

/// Coldest and hottest a surface of it gets, °C.
pub fn range(model: &Model, product: &Product) -> (f64, f64) {
    let coldest = model
        .site
        .as_ref()
        .and_then(|site| site.climate.as_ref())
        .and_then(|climate| climate.extremes)
        .map_or(COLDEST, |extremes| extremes.0);
    (coldest, hottest(model, product))
}

/// Gap for a length that goes on at `set` °C: `g(T) = g_min + αL(T_max − T)`, rounded up to 0.1 mm.
pub fn gap(least: Length, expansion: f64, length: Length, set: f64, hottest: f64) -> Length {
    tenths(movement::gap_when_set(least.as_m(), expansion, length.as_m(), set, hottest))
}

/// Length of a slot for a screw of this size: it slides `αLΔT`, 2 mm to spare, and its own width.
pub fn slot(size: Length, expansion: f64, from_fixed: Length, kelvins: f64) -> Length {
    let travel = movement::change(expansion, from_fixed.abs().as_m(), kelvins.abs());
    size + tenths(travel) + Length::mm(2)
}

fn tenths(metres: f64) -> Length {
    Length((metres * 10_000.0 - 1e-6).ceil() as i64 * 100_000)
}
