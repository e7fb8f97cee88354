//! Folded metal: what each flashing, cap, apron and closure is folded from, where it is bent and which way, how long it is
//! cut, where lengths lap, what its slope is once the frame has shrunk, and what coil or sheets it takes.
//!
//! Legs run from the upper edge outward. A bend is towards the face that sees the weather, or to the opposite side (O).

mod legs;
mod patterns;
mod places;
#[cfg(test)]
mod tests;

pub use legs::{bends, girth, head_length, legs, taken_by_bends};
pub use patterns::{Fold, Pattern};

use std::collections::BTreeMap;

use super::block_cards;
use super::nesting::{self, NestPlan};
use super::pieces::initials;
use super::trims;
use crate::model::{Block, Face, FaceId, Model, Opening, PartSpec, ProductId};
use crate::plan::{Plan, Run, RunPlace};
use crate::units::Length;
use legs::sloping;
use places::{Made, Placed, Shop};

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
    /// What bends take up of the flat width, where the thickness of the metal is known.
    pub taken: Option<Length>,
    /// Its flat pattern, where it is no strip with bends from end to end.
    pub pattern: Option<Pattern>,
    /// What its sizes rest on, where they are not all said.
    pub note: String,
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
    /// How lengths of one run lap: by how much, with what, and which lies over which. Empty for a single length.
    pub lapped: String,
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
    let of_block = |block: &Block| block.flashing.as_ref().is_some_and(|cap| cap.origin == spec.origin);
    if run.is_none() && face.blocks.iter().any(of_block) {
        let cut = block_cards::cap_length(length, spec.end_dams.unwrap_or_default());
        return (cut, "width of the block, 10 mm beyond each side, a dam at each end".to_owned());
    }
    let kind = run.map_or("", |run| run.kind);
    let (reach, how) = trims::reach(kind, spec.into(), trims::trim_and_reveal(opening_of(face, run)));
    (length + reach.into_iter().sum(), how)
}

/// The area at a height, where no stretch of edge says it; the first one otherwise.
pub fn area_at(face: &Face, height: Length) -> usize {
    let holds = |area: &crate::model::Area| {
        area.below.is_none_or(|below| height <= below) && area.above.is_none_or(|above| height >= above)
    };
    face.areas.iter().position(holds).unwrap_or(0)
}

/// Everything folded on a building.
pub fn find(model: &Model, plan: &Plan) -> Folds {
    let shop = Shop { model };
    let marks = initials(model.faces.iter().map(|face| face.name.as_str()));
    let mut folds = Folds::default();
    let mut counts: BTreeMap<FaceId, i64> = BTreeMap::new();
    let mut placed = places::placed(model, plan);
    placed.extend(places::at_points(model, plan));
    placed.sort_by_key(|part| part.face);
    for part in placed {
        let Some(face) = model.face(part.face) else { continue };
        let made =
            profile(&shop, face, &part).and_then(|profile| Ok((lengths(&shop, face, &part, &profile)?, profile)));
        let (lengths, profile) = match made {
            Ok(made) => made,
            Err(missing) => {
                folds.missing.push((part.name.clone(), missing));
                continue;
            }
        };
        let at = folds.profiles.iter().position(|known| alike(known, &profile)).unwrap_or_else(|| {
            folds.profiles.push(profile);
            folds.profiles.len() - 1
        });
        for blank in lengths {
            let number = counts.entry(part.face).or_default();
            *number += 1;
            let wall = marks.get(part.face.0 as usize).map_or("", String::as_str);
            folds.blanks.push(Blank { mark: format!("{wall}L{number}"), profile: at, ..blank });
        }
    }
    for (at, profile) in folds.profiles.iter_mut().enumerate() {
        profile.mark = format!("P{}", at + 1);
    }
    folds.plans = plans(model, &folds);
    folds
}

/// The lengths of a part, without marks.
fn lengths(shop: &Shop<'_>, face: &Face, part: &Placed<'_>, profile: &Profile) -> Result<Vec<Blank>, String> {
    let blank = |length, part_of: (i64, i64), dams, basis: &str, lapped: String| Blank {
        mark: String::new(),
        profile: 0,
        face: part.face,
        place: part.name.clone(),
        length,
        part: part_of,
        dams,
        basis: basis.to_owned(),
        lapped,
    };
    if let Some(pattern) = &profile.pattern {
        return Ok(vec![blank(pattern.blank().0, (1, 1), [false; 2], "the pattern", String::new())]);
    }
    if let Made::Steps { course } = part.made {
        let (count, each) = shop.steps(course, part.length)?;
        let lapped = "from the low end, one a course, each over the one below".to_owned();
        let step = |at| blank(each, (at, count), [false; 2], "course of the roof and head lap", lapped.clone());
        return Ok((1..=count).map(step).collect());
    }
    let Some(spec) = part.spec else { return Err("what it is".to_owned()) };
    let longest = [stock(shop.model, part.product).map(|(stock, _)| stock), shop.length("flashing.length").ok()];
    let longest = longest.into_iter().flatten().min().ok_or("length of the brake (limit `flashing.length`)")?;
    let (cut, basis) = cut_length(face, part.run, spec, part.length);
    let (lap, words) = shop.splice(spec, part)?;
    let (count, each) = splices(cut, longest, lap);
    let dammed = spec.end_dams.is_some();
    let lapped = if count > 1 { words } else { String::new() };
    let piece = |at| blank(each, (at, count), [dammed && at == 1, dammed && at == count], &basis, lapped.clone());
    Ok((1..=count).map(piece).collect())
}

/// Bent alike, of one metal.
fn alike(one: &Profile, other: &Profile) -> bool {
    one.product == other.product
        && one.called == other.called
        && one.legs == other.legs
        && one.dam == other.dam
        && one.slope_left == other.slope_left
        && one.pattern == other.pattern
}

fn profile(shop: &Shop<'_>, face: &Face, part: &Placed<'_>) -> Result<Profile, String> {
    let model = shop.model;
    let mut profile = Profile {
        mark: String::new(),
        called: part.called(),
        product: part.product,
        legs: Vec::new(),
        girth: Length::ZERO,
        dam: None,
        slope: None,
        slope_left: None,
        strips: None,
        taken: None,
        pattern: None,
        note: String::new(),
    };
    match part.made {
        Made::Along | Made::Arm { .. } => {
            let Some(spec) = part.spec else { return Err("what it is".to_owned()) };
            let area = part.run.and_then(|run| run.area).unwrap_or_else(|| area_at(face, part.height));
            profile.legs = legs(model, face, area, part.block, spec)?;
            (profile.dam, profile.slope) = (spec.end_dams, spec.slope);
            let ledge = profile.legs.iter().find(|leg| leg.what == "ledge").map_or(Length::ZERO, |leg| leg.length);
            profile.slope_left = legs::slope_left(model, face, part.height, spec, ledge);
            if spec.kind == "coping" && spec.width.is_none() {
                profile.note =
                    "top as wide as the frame and all outboard of it: measure the parapet with its roofing".to_owned();
            }
        }
        Made::Steps { .. } => (profile.legs, profile.note) = shop.step(part)?,
        _ => (),
    }
    (profile.pattern, profile.note) = match part.made {
        Made::Along | Made::Steps { .. } => (None, profile.note),
        made => {
            let (pattern, note) = shop.pattern(face, part, made, &profile.legs)?;
            (Some(pattern), note)
        }
    };
    profile.girth = match &profile.pattern {
        Some(pattern) => pattern.blank().1,
        None => profile.legs.iter().map(|leg| leg.length).sum(),
    };
    profile.strips = stock(model, part.product).and_then(|(_, width)| strips(width, profile.girth));
    let thickness = model.product(part.product).and_then(|product| product.thickness).map(|(least, _)| least);
    let neutral = model.limit("fold.neutral_line").and_then(|limit| limit.number());
    profile.taken = thickness.zip(neutral).map(|(thickness, k)| taken_by_bends(&profile.legs, thickness, k));
    Ok(profile)
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
