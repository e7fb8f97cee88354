//! The flats of folded metal: how long each is, how it is turned, and what bends take up.

use super::{Bend, Leg};
use crate::layout::stack;
use crate::model::{Block, Face, Model, PartSpec};
use crate::physics::movement;
use crate::units::Length;

/// Flat width of a folded flashing: upstand, sloping ledge, drip and hem. `ledge` is measured level; `slope` is rise over
/// run. These are outside sizes: see [`taken_by_bends`].
pub fn girth(upstand: Length, ledge: Length, slope: f64, drip: Length, hem: Length) -> Length {
    upstand + sloping(ledge, slope) + drip + hem
}

/// A level distance along a slope.
pub(super) fn sloping(level: Length, slope: f64) -> Length {
    Length::snap_mm(level.as_mm() * (1.0 + slope * slope).sqrt())
}

/// How far a head flashing runs past each trim. Common practice, no source; the limit `flashing.beyond` holds it for rules.
const PAST: Length = Length::mm(10);

/// Cut length of a head flashing: opening, two trims, 10 mm beyond each, and a dam folded up at each end.
pub fn head_length(opening: Length, trim: Length, dam: Length) -> Length {
    opening + trim * 2 + PAST * 2 + dam * 2
}

/// The flats of a part; the error is the fact that is missing.
pub fn legs(
    model: &Model,
    face: &Face,
    area: usize,
    block: Option<&Block>,
    spec: &PartSpec,
) -> Result<Vec<Leg>, String> {
    let (down, out) = spec.drip.ok_or("`drip` is not said")?;
    if spec.kind == "coping" {
        return coping(model, face, area, spec);
    }
    let upstand = spec.upstand.or(spec.back_dam).ok_or("`upstand` is not said")?;
    let depth = depth(model, face, area, block, spec)?;
    let slope = spec.slope.unwrap_or(0.0);
    let theta = libm::atan(slope).to_degrees();
    let what = if spec.upstand.is_some() { "upstand" } else { "back dam" };
    let mut legs = vec![
        Leg { what, length: upstand, turn: 0.0 },
        Leg { what: "ledge", length: sloping(depth + out.unwrap_or(Length::ZERO), slope), turn: 90.0 - theta },
        Leg { what: "drip", length: down, turn: theta - 90.0 },
    ];
    if let Some(hem) = spec.hem.filter(|hem| *hem > Length::ZERO) {
        legs.push(Leg { what: "hem", length: hem, turn: -180.0 });
    }
    Ok(legs)
}

/// From what the part lies on to the outermost surface it covers: that of the cladding, or of a block.
fn depth(model: &Model, face: &Face, area: usize, block: Option<&Block>, spec: &PartSpec) -> Result<Length, String> {
    let wall =
        face.areas.get(area).and_then(|area| model.assembly(area.assembly)).ok_or("the wall behind it is not known")?;
    let on = spec.on.ok_or("what it lies `on` is not said")?;
    if spec.kind == "pan" {
        return floor(
            spec,
            "depth of the floor of the pan: measure the frame that stands on it, and say the flat width of the pan (`width`)",
        );
    }
    let over_roof = |detail: &crate::model::Detail| {
        detail.roof_side.iter().flat_map(|place| &place.parts).any(|part| part.origin == spec.origin)
    };
    if model.details.iter().any(over_roof) {
        return floor(spec, "how far it covers the roofing on the parapet: measure, and say its flat width (`width`)");
    }
    let inner = stack::lies_on(model, wall, on).ok_or_else(|| format!("the wall has no {on}"))?;
    let Some(block) = block else {
        return model
            .thickness_outboard_of(wall, inner)
            .ok_or_else(|| "a thickness outboard of it is not said".to_owned());
    };
    let behind =
        block.on.and_then(|on| stack::lies_on(model, wall, on)).ok_or("what the block lies `on` is not said")?;
    let thick = block.thickness.ok_or("`thickness` of the block is not said")?;
    // `between` counts layers outboard of `inner`, from the one the block lies on inward.
    let filled = stack::between(model, wall, behind, inner)
        .map_err(|layer| format!("thickness of layer `{}` is not said", layer.name))?;
    Ok(thick + filled)
}

/// Level depth of a floor or ledge that the wall does not tell: what the girth leaves between its legs. The overhang is counted in
/// [`legs`].
fn floor(spec: &PartSpec, missing: &str) -> Result<Length, String> {
    let girth = spec.width.ok_or(missing)?;
    let (down, out) = spec.drip.unwrap_or_default();
    let legs: Length = [spec.upstand.or(spec.back_dam), Some(down), spec.hem].into_iter().flatten().sum();
    let slope = spec.slope.unwrap_or(0.0);
    let floor = Length::snap_mm((girth - legs).as_mm() / (1.0 + slope * slope).sqrt()) - out.unwrap_or_default();
    if floor > Length::ZERO {
        return Ok(floor);
    }
    Err("the flat width (`width`) is less than its legs and overhang together".to_owned())
}

/// A coping, from its edge over the roof to the edge over the cladding: its legs stand off both faces by `out` of the drip and
/// lap them; its top falls to the roof.
fn coping(model: &Model, face: &Face, area: usize, spec: &PartSpec) -> Result<Vec<Leg>, String> {
    let (down, out) = spec.drip.ok_or("`drip` is not said")?;
    let level = match spec.width {
        Some(width) => width,
        None => parapet(model, face, area)?,
    } + out.unwrap_or_default() * 2;
    let slope = spec.slope.ok_or("`slope` is not said")?;
    let theta = libm::atan(slope).to_degrees();
    let lap = spec.laps.iter().filter(|lap| lap.what == "cladding").find_map(|lap| lap.by).unwrap_or_default();
    let hem = spec.hem.filter(|hem| *hem > Length::ZERO).map(|hem| Leg { what: "hem", length: hem, turn: 0.0 });
    let first = if hem.is_some() { -180.0 } else { 180.0 };
    let mut legs: Vec<Leg> = hem.into_iter().collect();
    legs.extend([
        Leg { what: "roof leg", length: down.max(lap), turn: first },
        Leg { what: "top", length: sloping(level, slope), turn: theta - 90.0 },
        Leg { what: "wall leg", length: down.max(lap), turn: -90.0 - theta },
    ]);
    legs.extend(hem.map(|hem| Leg { turn: -180.0, ..hem }));
    Ok(legs)
}

/// Thickness of a parapet: its frame and all outboard of it. What the roof adds on its side is not declared: say `width`.
pub(super) fn parapet(model: &Model, face: &Face, area: usize) -> Result<Length, String> {
    let wall = face.areas.get(area).and_then(|area| model.assembly(area.assembly)).ok_or("the wall is not known")?;
    let (frame, _) = wall.frame().ok_or("width of the parapet (`width` of the part)")?;
    model.thickness_outboard_of(wall, frame + 1).ok_or_else(|| "thickness of a layer of the parapet".to_owned())
}

/// What bends take up: legs are outside sizes, so a strip as wide as their sum comes out too wide by
/// `2(r + t) tan(A/2) − A(r + kt)` at each bend (bend deduction; `t` thickness, `A` angle of the bend, `k` where the neutral
/// line lies, as a share of `t`). The inside radius `r` is taken as `t`, as a brake folds thin sheet; hems are pressed flat and
/// left out. Textbook formula, from memory; `k` is the limit `fold.neutral_line`.
pub fn taken_by_bends(legs: &[Leg], thickness: Length, k: f64) -> Length {
    let t = thickness.as_mm();
    let each = |leg: &Leg| {
        let angle = leg.turn.abs().to_radians();
        2.0 * (t + t) * libm::tan(angle / 2.0) - angle * (t + k * t)
    };
    Length::snap_mm(bends_of(legs).filter(|leg| leg.turn.abs() < 170.0).map(each).sum())
}

/// Legs that are bent against the one before. The turn of the first only says how it stands.
fn bends_of(legs: &[Leg]) -> impl Iterator<Item = &Leg> {
    legs.iter().skip(1).filter(|leg| leg.turn != 0.0)
}

/// Where a strip is bent, from its upper edge.
pub fn bends(legs: &[Leg]) -> Vec<Bend> {
    let mut at = Length::ZERO;
    let mut found = Vec::new();
    for leg in legs {
        if leg.turn != 0.0 && at > Length::ZERO {
            found.push(Bend { at, turn: leg.turn });
        }
        at += leg.length;
    }
    found
}

/// Fall left on a ledge so deep when the floors below `height` have shrunk and its outer edge has not followed.
pub(super) fn slope_left(model: &Model, face: &Face, height: Length, spec: &PartSpec, ledge: Length) -> Option<f64> {
    let per_percent = model.limit("frame.shrinkage").and_then(|limit| limit.number())?;
    let below = face.floor_lines.iter().filter(|line| line.height <= height);
    let drop: Option<f64> = below
        .map(|line| {
            let (from, to) = line.moisture?;
            Some(movement::frame_shrinkage(line.wood?.as_m(), from, to, per_percent))
        })
        .sum();
    movement::slope_after(spec.slope.filter(|_| spec.shrinks_with_frame)?, ledge.as_m(), drop?)
}
