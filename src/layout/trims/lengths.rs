//! How long a part of an edge is cut, and what it leaves at its ends. One place for it: quantities, pieces and sheets read this.

use super::{Cut, Role};
use crate::layout::field::hottest;
use crate::model::{Model, Opening, PartSpec, Product};
use crate::physics::movement;
use crate::units::{Length, display};

/// Taken off under each jamb, so that it does not stand in water. Common practice, no source.
pub const UNDER_JAMB: Length = Length::mm(6);
/// Beyond each trim of a head flashing. Common practice, no source.
const BEYOND_TRIM: Length = Length::mm(10);
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

/// What the cuts of its ends take of the stock beyond the long point. Ends on a slope lean the same way: the piece is longer
/// than either of its edges by its width times the tangent of the smaller angle. The mitres of a frame lean together and
/// end at the long point; those of a level board turn a corner through its thickness, beyond the edge it lies on.
pub(super) fn beyond_long_point(role: Role, ends: [Cut; 2], product: Option<&Product>) -> Length {
    let size = product.map_or(&[][..], |product| product.size.as_slice());
    let legs = product.map_or(&[][..], |product| product.legs.as_slice());
    let wide = product.and_then(|product| product.width).or(size.get(1).copied()).or(legs.iter().max().copied());
    let thick = size.first().copied().or(legs.get(1).copied());
    let taken = |across: Option<Length>, degrees: f64| {
        tenths(across.unwrap_or_default().as_m() * libm::tan(degrees.clamp(0.0, 80.0).to_radians()))
    };
    let leans = |cut: Cut| matches!(cut, Cut::Plumb(_)) || role == Role::Rake;
    match (role, ends) {
        (Role::Head | Role::Jamb | Role::Sill, _) => Length::ZERO,
        (_, [left, right]) if leans(left) && leans(right) => taken(wide, left.degrees().min(right.degrees())),
        _ => {
            let mitres = ends.into_iter().filter(|cut| matches!(cut, Cut::Mitre(_)));
            mitres.map(|cut| taken(thick, cut.degrees())).sum()
        }
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

/// Length of a slot for a screw of this size: it slides `αLΔT`, 2 mm to spare, and its own width.
pub fn slot(size: Length, expansion: f64, from_fixed: Length, kelvins: f64) -> Length {
    let travel = movement::change(expansion, from_fixed.abs().as_m(), kelvins.abs());
    size + tenths(travel) + Length::mm(2)
}

fn tenths(metres: f64) -> Length {
    Length((metres * 10_000.0 - 1e-6).ceil() as i64 * 100_000)
}
