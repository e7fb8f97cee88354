//! Folded metal: what each flashing, cap, apron and closure is folded from, where it is bent and which way, how long it is
//! cut, where lengths lap, what its slope is once the frame has shrunk, and what coil or sheets it takes.
//!
//! Legs run from the upper edge outward. A bend is towards the face that sees the weather, or to the opposite side (O).

use std::collections::BTreeMap;

use super::nesting::{self, NestPlan};
use super::pieces::initials;
use super::{stack, trims};
use crate::model::{Block, Face, FaceId, Model, Opening, PartSpec, ProductId};
use crate::physics::movement;
use crate::plan::{Plan, Run, RunPlace};
use crate::units::Length;

/// Length of a brake where no limit `brake.length` is in force: ten feet. Common practice, no source.
const BRAKE: Length = Length::mm(3050);
/// Lap of two lengths where no limit `flashing.splice` is in force. Common practice, no source.
const LAP: Length = Length::mm(100);
/// How far a head flashing runs past each trim. Common practice, no source.
const PAST: Length = Length::mm(10);

/// One flat between two bends, or a hem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// `upstand`, `ledge`, `drip`, `hem`, `back dam`.
    pub what: &'static str,
    /// As it lies flat.
    pub length: Length,
    /// How far it is turned from the leg before, degrees: positive towards the face that sees the weather, negative to the
    /// opposite side; 0 for the first.
    pub turn: f64,
}

/// Where the strip is bent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// From the upper edge.
    pub at: Length,
    /// Degrees, positive towards the weather face.
    pub turn: f64,
}

/// One way of folding: everything that is bent alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// `P1`.
    pub mark: String,
    /// What it is: `trim flashing`.
    pub called: String,
    /// The coil or sheet.
    pub product: ProductId,
    /// From the upper edge; empty where a leg is not known.
    pub legs: Vec<Leg>,
    /// Flat width.
    pub girth: Length,
    /// Height to which its ends are turned up.
    pub dam: Option<Length>,
    /// Fall as bent, rise over run.
    pub slope: Option<f64>,
    /// Fall that is left when the frame has shrunk, where its inner edge rides down with it.
    pub slope_left: Option<f64>,
    /// What one width of the coil or sheet gives: strips, and what is left over.
    pub strips: Option<(i64, Length)>,
}

/// One piece to cut and fold.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// To write on the metal: wall, L, number; `NL3`.
    pub mark: String,
    /// Place in [`Folds::profiles`].
    pub profile: usize,
    /// The wall.
    pub face: FaceId,
    /// Where it goes: `north.kitchen.head.flashing`.
    pub place: String,
    /// Cut length, dams and laps counted.
    pub length: Length,
    /// Which of how many lengths, from the left.
    pub part: (i64, i64),
    /// It has a dam at its left and right end.
    pub dams: [bool; 2],
    /// How the length was found.
    pub basis: String,
}

/// Everything that is folded.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Folds {
    /// Ways of folding.
    pub profiles: Vec<Profile>,
    /// Pieces, by wall.
    pub blanks: Vec<Blank>,
    /// Blanks out of coil and sheets, by product; parts are places in `blanks`.
    pub plans: Vec<(ProductId, Vec<usize>, NestPlan)>,
    /// What could not be told: the place, and the fact that is missing.
    pub missing: Vec<(String, String)>,
    /// Lap of two lengths.
    pub lap: Length,
}

/// Flat width of a folded flashing: upstand, sloping ledge, drip and hem. `ledge` is measured level; `slope` is rise over
/// run. Nothing is taken off for bends (½ to 1 mm each for thin coil; common practice, no source).
pub fn girth(upstand: Length, ledge: Length, slope: f64, drip: Length, hem: Length) -> Length {
    upstand + sloping(ledge, slope) + drip + hem
}

/// A level distance along a slope.
fn sloping(level: Length, slope: f64) -> Length {
    Length::snap_mm(level.as_mm() * (1.0 + slope * slope).sqrt())
}

/// Cut length of a head flashing: opening, two trims, 10 mm beyond each, and a dam folded up at each end.
pub fn head_length(opening: Length, trim: Length, dam: Length) -> Length {
    opening + trim * 2 + PAST * 2 + dam * 2
}

/// Strips that one width gives, and what is left over.
pub fn strips(width: Length, girth: Length) -> Option<(i64, Length)> {
    (girth > Length::ZERO).then(|| (width.0 / girth.0, Length(width.0 % girth.0)))
}

/// Equal pieces of a run too long for the brake or the stock, each lapping the next.
pub fn splices(length: Length, longest: Length, lap: Length) -> (i64, Length) {
    let step = longest - lap;
    if length <= longest || step <= Length::ZERO {
        return (1, length);
    }
    let count = (length - lap - Length(1)).0.div_euclid(step.0) + 1;
    (count, Length((length + lap * (count - 1)).0 / count))
}

/// The opening a run lies on.
pub fn opening_of<'m>(face: &'m Face, run: Option<&Run>) -> Option<&'m Opening> {
    match run?.place {
        RunPlace::Opening(index) => face.openings.get(index),
        _ => None,
    }
}

/// How long a part is cut: with dams, beyond trims at heads and sills. Trims follow the same rule.
pub fn cut_length(face: &Face, run: Option<&Run>, spec: &PartSpec, length: Length) -> (Length, String) {
    let kind = run.map_or("", |run| run.kind);
    let (reach, how) = trims::reach(kind, spec.into(), trims::trim_and_reveal(opening_of(face, run)));
    (length + reach.into_iter().sum(), how)
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
        return Err("depth of the floor of the pan: measure the frame that stands on it".to_owned());
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

/// The area at a height, where no stretch of edge says it; the first one otherwise.
pub fn area_at(face: &Face, height: Length) -> usize {
    let holds = |area: &crate::model::Area| {
        area.below.is_none_or(|below| height <= below) && area.above.is_none_or(|above| height >= above)
    };
    face.areas.iter().position(holds).unwrap_or(0)
}

/// Where a strip is bent, from its upper edge.
pub fn bends(legs: &[Leg]) -> Vec<Bend> {
    let mut at = Length::ZERO;
    let mut found = Vec::new();
    for leg in legs {
        if leg.turn != 0.0 {
            found.push(Bend { at, turn: leg.turn });
        }
        at += leg.length;
    }
    found
}

/// Fall left on a ledge so deep when the floors below `height` have shrunk and its outer edge has not followed.
fn slope_left(model: &Model, face: &Face, height: Length, spec: &PartSpec, ledge: Length) -> Option<f64> {
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

/// Kinds of parts that are folded along their length. Kick-outs, saddles and steps are made one by one.
const FOLDED: [&str; 7] = ["flashing", "cap", "apron", "coping", "closure", "pan", "starter"];

/// A folded part where it lies.
struct Placed<'m> {
    face: FaceId,
    name: String,
    spec: &'m PartSpec,
    run: Option<&'m Run>,
    block: Option<&'m Block>,
    height: Length,
    length: Length,
}

/// Everything folded on a building.
pub fn find(model: &Model, plan: &Plan) -> Folds {
    let length = |name: &str, otherwise| model.limit(name).and_then(|limit| limit.length()).unwrap_or(otherwise);
    let (brake, lap) = (length("brake.length", BRAKE), length("flashing.splice", LAP));
    let marks = initials(model.faces.iter().map(|face| face.name.as_str()));
    let mut folds = Folds { lap, ..Folds::default() };
    let mut counts: BTreeMap<FaceId, i64> = BTreeMap::new();
    for part in placed(model, plan) {
        let (Some(face), Some(product)) = (model.face(part.face), part.spec.stuff.product) else { continue };
        let profile = match profile(model, face, &part, product) {
            Ok(profile) => profile,
            Err(missing) => {
                folds.missing.push((part.name.clone(), missing));
                continue;
            }
        };
        let at = folds.profiles.iter().position(|known| alike(known, &profile)).unwrap_or_else(|| {
            folds.profiles.push(profile);
            folds.profiles.len() - 1
        });
        let longest = stock(model, product).map_or(brake, |(stock, _)| stock.min(brake));
        let (cut, basis) = cut_length(face, part.run, part.spec, part.length);
        let (count, each) = splices(cut, longest, lap);
        for piece in 1..=count {
            let number = counts.entry(part.face).or_default();
            *number += 1;
            let wall = marks.get(part.face.0 as usize).map_or("", String::as_str);
            let dammed = part.spec.end_dams.is_some();
            folds.blanks.push(Blank {
                mark: format!("{wall}L{number}"),
                profile: at,
                face: part.face,
                place: part.name.clone(),
                length: each,
                part: (piece, count),
                dams: [dammed && piece == 1, dammed && piece == count],
                basis: basis.clone(),
            });
        }
    }
    for (at, profile) in folds.profiles.iter_mut().enumerate() {
        profile.mark = format!("P{}", at + 1);
    }
    folds.plans = plans(model, &folds);
    folds
}

/// Bent alike, of one metal.
fn alike(one: &Profile, other: &Profile) -> bool {
    one.product == other.product
        && one.called == other.called
        && one.legs == other.legs
        && one.dam == other.dam
        && one.slope_left == other.slope_left
}

fn profile(model: &Model, face: &Face, part: &Placed<'_>, product: ProductId) -> Result<Profile, String> {
    let spec = part.spec;
    let area = part.run.and_then(|run| run.area).unwrap_or_else(|| area_at(face, part.height));
    let legs = legs(model, face, area, part.block, spec)?;
    let girth = legs.iter().map(|leg| leg.length).sum();
    let ledge = legs.iter().find(|leg| leg.what == "ledge").map_or(Length::ZERO, |leg| leg.length);
    let called = spec.name.as_deref().unwrap_or(spec.kind).replace('_', " ");
    let called = if part.block.is_some() { "block cap".to_owned() } else { called };
    Ok(Profile {
        mark: String::new(),
        called,
        product,
        legs,
        girth,
        dam: spec.end_dams,
        slope: spec.slope,
        slope_left: slope_left(model, face, part.height, spec, ledge),
        strips: stock(model, product).and_then(|(_, width)| strips(width, girth)),
    })
}

/// Length and width of a roll or sheet, length along the folds.
fn stock(model: &Model, product: ProductId) -> Option<(Length, Length)> {
    let product = model.product(product)?;
    match (product.roll.as_slice(), product.sheet.as_slice()) {
        (&[width, length], _) => Some((length, width)),
        (_, &[one, other]) => Some((one.max(other), one.min(other))),
        _ => None,
    }
}

/// Every folded part of metal, wall by wall.
fn placed<'m>(model: &'m Model, plan: &'m Plan) -> Vec<Placed<'m>> {
    let mut found = Vec::new();
    for part in plan.parts.iter().filter(|part| folded(model, &part.spec)) {
        let run = part.run.and_then(|run| plan.run(run));
        let Some(face) = model.face(part.face) else { continue };
        if run.is_some_and(|run| trims::made_on_the_other_face(model, plan, run)) {
            continue;
        }
        let owner = |block: &&Block| run.is_none() && part.name.starts_with(&format!("{}.{}.", face.name, block.name));
        let height = part.segment.from.y.max(part.segment.to.y);
        let block = face.blocks.iter().find(owner);
        let (name, length) = (part.name.clone(), part.segment.length());
        found.push(Placed { face: part.face, name, spec: &part.spec, run, block, height, length });
    }
    found.sort_by_key(|part| part.face);
    found
}

fn folded(model: &Model, spec: &PartSpec) -> bool {
    let metal = model.material_of(&spec.stuff).is_some_and(|material| material.metal.is_some());
    metal && FOLDED.contains(&spec.kind)
}

/// Blanks out of each coil and sheet, cut with shears: no kerf, none turned, so that all fold along the sheet.
fn plans(model: &Model, folds: &Folds) -> Vec<(ProductId, Vec<usize>, NestPlan)> {
    let mut products: BTreeMap<ProductId, Vec<usize>> = BTreeMap::new();
    for (at, blank) in folds.blanks.iter().enumerate() {
        if let Some(profile) = folds.profiles.get(blank.profile) {
            products.entry(profile.product).or_default().push(at);
        }
    }
    let plan = |(product, places): (ProductId, Vec<usize>)| {
        let (length, width) = stock(model, product)?;
        let part = |at: &usize| {
            let blank = folds.blanks.get(*at)?;
            let girth = folds.profiles.get(blank.profile)?.girth;
            Some(nesting::Part { length: blank.length, width: girth, count: 1, turns: false })
        };
        let parts: Vec<nesting::Part> = places.iter().filter_map(part).collect();
        let sheets = vec![nesting::Sheet { length, width, cost: 1, available: None }];
        let plan = nesting::nest(&nesting::Order { parts, sheets, kerf: Length::ZERO, trim: Length::ZERO });
        Some((product, places, plan))
    };
    products.into_iter().filter_map(plan).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn head() -> Vec<Leg> {
        let theta = libm::atan(0.06).to_degrees();
        vec![
            Leg { what: "upstand", length: Length::mm(75), turn: 0.0 },
            Leg { what: "ledge", length: sloping(Length::mm(39), 0.06), turn: 90.0 - theta },
            Leg { what: "drip", length: Length::mm(15), turn: theta - 90.0 },
            Leg { what: "hem", length: Length::mm(10), turn: -180.0 },
        ]
    }

    #[test]
    fn a_head_flashing_by_hand() {
        // Gap 19, cladding 10, overhang 10: ledge 39 at 6 % is 39.07, girth 139.07; 610 gives 4 with 54 left, 5 need 695.
        let total: Length = head().iter().map(|leg| leg.length).sum();
        assert_eq!(total, girth(Length::mm(75), Length::mm(39), 0.06, Length::mm(15), Length::mm(10)));
        assert!((total.as_mm() - 139.07).abs() < 0.005);
        let (count, left) = strips(Length::mm(610), total).unwrap();
        assert_eq!((count, left.as_mm().round()), (4, 54.0));
        assert_eq!((total.as_mm() * 5.0).round(), 695.0);
        assert!((39.0_f64 * 0.06 - 2.3).abs() < 0.05);
        assert_eq!(head_length(Length::mm(1200), Length::mm(89), Length::mm(25)), Length::mm(1448));
    }

    #[test]
    fn bends_are_counted_from_the_upper_edge_with_their_side() {
        let found = bends(&head());
        let at: Vec<f64> = found.iter().map(|bend| (bend.at.as_mm() * 100.0).round() / 100.0).collect();
        assert_eq!(at, [75.0, 114.07, 129.07]);
        assert!(found[0].turn > 86.0 && found[1].turn < -86.0 && found[2].turn == -180.0);
        // Down the wall, out over the ledge, down the drip: turned by nothing in all before the hem.
        assert!((found[0].turn + found[1].turn).abs() < 1e-9);
    }

    #[test]
    fn long_runs_are_lapped_in_equal_pieces() {
        let of = |length| splices(Length::mm(length), Length::mm(3050), Length::mm(100));
        assert_eq!(of(3050), (1, Length::mm(3050)));
        assert_eq!(of(3051).0, 2);
        // Two of 3050 with one lap cover 6000; a millimetre more takes three.
        assert_eq!(of(6000), (2, Length::mm(3050)));
        assert_eq!(of(6001).0, 3);
        for length in [3051, 6001, 7200, 9144] {
            let (count, each) = of(length);
            assert!(each <= Length::mm(3050));
            assert!((each * count - Length::mm(100) * (count - 1) - Length::mm(length)).abs() < Length(10));
        }
        assert_eq!(strips(Length::mm(610), Length::ZERO), None);
    }

    #[test]
    fn a_frame_that_shrinks_takes_a_fifth_of_the_slope() {
        // 349 mm of wood from 19 to 8 %: 7.7 mm over a ledge of 39: 20 % of slope, so at least 26 % to start with.
        let drop = movement::frame_shrinkage(0.349, 0.19, 0.08, 0.002);
        assert!((drop * 1000.0 - 7.7).abs() < 0.05);
        assert!((movement::frame_shrinkage(0.349, 0.12, 0.08, 0.002) * 1000.0 - 2.8).abs() < 0.05);
        assert!((drop / 0.039 - 0.20).abs() < 0.005);
        assert!((movement::slope_to_start_with(0.06, 0.039, drop).unwrap() - 0.26).abs() < 0.005);
    }
}
