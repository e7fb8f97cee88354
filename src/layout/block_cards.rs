//! What the bench needs to make a mounting block: its outer size on course lines, its thickness, bores and cut-outs for what it
//! carries, its bevel, the length of its cap, where its screws go; and what cannot be told.
//!
//! Rules and constants are common practice without a source, but for the worked numbers in the tests.

use super::cut_plans::kerf;
use super::sheet_plans::block_mark;
use super::stack;
use crate::geometry::{Place as Lies, Point};
use crate::model::{Block, Face, FaceId, Model, Service};
use crate::plan::{FacePlan, Plan};
use crate::units::Length;

/// Left round a fixture on its block. Common practice, no source.
pub const MARGIN: Length = Length::mm(12);
/// A bore is so much wider than its sleeve (3 to 6 mm). Common practice, no source.
pub const BORE_EASE: Length = Length::mm(6);
/// A cut-out is so much larger than its box, both ways. Common practice, no source.
pub const BOX_EASE: Length = Length::mm(3);
/// A block stands so far in front of the cladding, least and most. Common practice, no source.
pub const PROUD: (Length, Length) = (Length::mm(10), Length::mm(13));
/// A cap runs so far past its block at each side, before its dams. Common practice, no source.
pub const CAP_BEYOND: Length = Length::mm(10);
/// From a screw to the edge of the block where nothing else is said. Common practice, no source.
pub const SCREW_EDGE: Length = Length::mm(25);
/// Bearing of a screw in a strip, from its axis to the edge of the strip. Common practice, no source.
const BEARING: Length = Length::mm(10);
/// The kerf against drips: its depth, and how far behind the front. Its width is that of the saw. Common practice, no source.
pub const DRIP: (Length, Length) = (Length::mm(6), Length::mm(12));

/// A hole in a block.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Index of the service on its face.
    pub service: usize,
    /// Dotted name, as it stands in the register.
    pub register: String,
    /// Centre on the front, from the lower left corner of the block.
    pub at: Point,
    /// Width and height; equal for a bore.
    pub size: (Length, Length),
    /// Drilled, not cut out.
    pub round: bool,
    /// A sleeve for later.
    pub spare: bool,
    /// Slope to the outside, and how much higher its centre is on the back.
    pub fall: Option<(f64, Length)>,
}

/// Everything about one block. Absent where a fact is missing, which `missing` names.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockCard {
    /// To write on it.
    pub mark: String,
    /// The wall.
    pub face: FaceId,
    /// Index on its face.
    pub block: usize,
    /// Dotted name, as it stands in the register.
    pub register: String,
    /// Across and up.
    pub size: Option<(Length, Length)>,
    /// Least size round what it carries.
    pub least: Option<(Length, Length)>,
    /// Course lines of foot and top, counted from the first; none where an edge lies on no course line.
    pub courses: Option<(i64, i64)>,
    /// Thickness.
    pub thickness: Option<Length>,
    /// How far it stands in front of the cladding; below zero behind it.
    pub proud: Option<Length>,
    /// Angle of its top in degrees, and how much lower its front edge is.
    pub bevel: Option<(f64, Length)>,
    /// Length of its cap, dams included.
    pub cap: Option<Length>,
    /// Width of the kerf on its underside.
    pub kerf: Length,
    /// Bores and cut-outs.
    pub holes: Vec<Hole>,
    /// Screws from the lower left corner.
    pub screws: Vec<Point>,
    /// What stands before a place where a screw should go, and that place.
    pub covered: Vec<(Point, String)>,
    /// What is missing.
    pub missing: Vec<String>,
}

/// `thickness · tan angle`: how much lower the front of a bevelled top is.
pub fn bevel_drop(thickness: Length, degrees: f64) -> Length {
    Length::snap_mm(thickness.as_mm() * libm::tan(degrees.to_radians()))
}

/// A cap with its dams: past the block at both sides, and a tab at each end.
pub fn cap_length(width: Length, dam: Length) -> Length {
    width + (CAP_BEYOND + dam) * 2
}

/// The least whole number of courses that holds a height.
pub fn courses_for(height: Length, exposure: Length) -> Option<i64> {
    (exposure > Length::ZERO).then(|| (height + exposure - Length(1)).0.div_euclid(exposure.0).max(1))
}

/// Thickness, least and most, in front of a layer so deep: the gap, where it stands on the plane, and the cladding.
pub fn thickness_for(depth: Length) -> (Length, Length) {
    (depth + PROUD.0, depth + PROUD.1)
}

/// Cards of all blocks of sound faces.
pub fn find(model: &Model, plan: &Plan) -> Vec<BlockCard> {
    let mut cards = Vec::new();
    for (at, (face, placed)) in model.faces.iter().zip(&plan.faces).enumerate().filter(|(_, (face, _))| !face.broken) {
        let id = FaceId(at as u32);
        cards.extend((0..face.blocks.len()).map(|block| card(model, (id, face, placed), block)));
    }
    cards
}

fn card(model: &Model, (id, face, placed): (FaceId, &Face, &FacePlan), number: usize) -> BlockCard {
    let mut card = BlockCard {
        mark: block_mark(model, id, number),
        face: id,
        block: number,
        register: String::new(),
        size: None,
        least: None,
        courses: None,
        thickness: None,
        proud: None,
        bevel: None,
        cap: None,
        kerf: kerf(model),
        holes: Vec::new(),
        screws: Vec::new(),
        covered: Vec::new(),
        missing: Vec::new(),
    };
    let Some(block) = face.blocks.get(number) else { return card };
    card.register = format!("{}.{}", face.name, block.name);
    card.thickness = block.thickness;
    let bounds = placed.blocks.get(number).and_then(|shape| shape.as_ref()).map(|shape| shape.bounds());
    card.size = bounds.map(|bounds| (bounds.width(), bounds.height()));
    card.bevel = block.bevel.zip(block.thickness).map(|(angle, thick)| (angle, bevel_drop(thick, angle)));
    let dam = block.flashing.as_ref().map(|cap| cap.end_dams.unwrap_or_default());
    card.cap = card.size.zip(dam).map(|((width, _), dam)| cap_length(width, dam));
    let line = |y: Length| {
        let (start, exposure) = placed.course_start.zip(placed.exposure).filter(|(_, exposure)| exposure.0 > 0)?;
        let from = (y - start).0;
        (from.rem_euclid(exposure.0) == 0).then(|| from.div_euclid(exposure.0))
    };
    card.courses = bounds.and_then(|bounds| line(bounds.bottom).zip(line(bounds.top)));
    for (at, service) in face.services.iter().enumerate().filter(|(_, service)| service.block == Some(number)) {
        hole(&mut card, face, block, (at, service));
    }
    card.least = least(face, number);
    missing(&mut card, block);
    match stands_out(model, face, placed, block) {
        Ok(proud) => card.proud = Some(proud),
        Err(fact) => card.missing.push(fact),
    }
    screws(&mut card, face, placed, block);
    card
}

/// How far the front of a block stands before the cladding.
fn stands_out(model: &Model, face: &Face, placed: &FacePlan, block: &Block) -> Result<Length, String> {
    let thick = block.thickness.ok_or("how far it stands out: `thickness` is not said")?;
    let on = block.on.ok_or("how far it stands out: what it lies `on` is not said")?;
    let area = placed.areas.iter().position(|area| area.whole.place(block.at) != Lies::Outside);
    let wall = area.and_then(|area| model.assembly(face.areas.get(area)?.assembly)).ok_or("the wall behind it")?;
    let behind =
        stack::lies_on(model, wall, on).ok_or_else(|| format!("how far it stands out: the wall has no {on}"))?;
    let depth = stack::between(model, wall, 0, behind)
        .map_err(|layer| format!("how far it stands out: thickness of `{}` is not said", layer.name))?;
    Ok(thick - depth)
}

/// Ends in front of the sheathing, behind the block: nothing of it passes the block.
fn stays_behind(service: &Service) -> bool {
    matches!(service.reaches, Some("sheathing" | "gap"))
}

fn hole(card: &mut BlockCard, face: &Face, block: &Block, (at, service): (usize, &Service)) {
    if stays_behind(service) {
        return;
    }
    let name = &service.name;
    let boxed = matches!(service.kind, "box" | "lamp" | "meter");
    let size = match (boxed, service.sleeve) {
        (true, _) => service.width.zip(service.height).map(|(wide, high)| (wide + BOX_EASE, high + BOX_EASE)),
        (false, Some(sleeve)) => Some((sleeve + BORE_EASE, sleeve + BORE_EASE)),
        (false, None) => None,
    };
    let Some(size) = size else {
        let fact = if boxed { "the size of its box" } else { "the outside diameter of its sleeve (`sleeve`)" };
        card.missing.push(format!("the hole for `{name}`: {fact} is not said"));
        return;
    };
    let falls = !boxed;
    if falls && service.fall.is_none() {
        card.missing.push(format!("the slope of the bore for `{name}`: `fall` is not said"));
    }
    let fall = service.fall.filter(|_| falls).zip(block.thickness);
    card.holes.push(Hole {
        service: at,
        register: face.dotted(service),
        at: Point { x: service.at.x - block.at.x, y: service.at.y - block.at.y },
        size,
        round: !boxed,
        spare: service.kind == "spare",
        fall: fall.map(|(slope, thick)| (slope, Length::snap_mm(thick.as_mm() * slope))),
    });
}

/// The box round what is seen of a service on the front, from its centre.
fn half(service: &Service) -> Option<(Length, Length)> {
    let seen = |size: Option<Length>| size.into_iter().chain(service.sleeve).max();
    Some((seen(service.width)? / 2, seen(service.height)? / 2))
}

/// Everything it carries, and the margin round it.
fn least(face: &Face, number: usize) -> Option<(Length, Length)> {
    let carried: Vec<&Service> = face.services.iter().filter(|service| service.block == Some(number)).collect();
    let boxes: Option<Vec<[Length; 4]>> = carried
        .iter()
        .map(|service| {
            let (wide, high) = half(service)?;
            let Point { x, y } = service.at;
            Some([x - wide, y - high, x + wide, y + high])
        })
        .collect();
    let boxes = boxes.filter(|boxes| !boxes.is_empty())?;
    let low = |side: usize| boxes.iter().map(|one| one[side]).min().unwrap_or_default();
    let high = |side: usize| boxes.iter().map(|one| one[side]).max().unwrap_or_default();
    Some((high(2) - low(0) + MARGIN * 2, high(3) - low(1) + MARGIN * 2))
}

fn missing(card: &mut BlockCard, block: &Block) {
    let mut say = |absent: bool, fact: &str| {
        if absent {
            card.missing.push(fact.to_owned());
        }
    };
    say(card.size.is_none(), "its size: `width`, and `courses` or `height`");
    say(block.thickness.is_none(), "`thickness`");
    say(block.bevel.is_none(), "how its top is bevelled (`bevel`)");
    say(block.flashing.is_none(), "the cap that sheds water from its top (`flashing`)");
    say(block.side_gap.is_none(), "the gap at its sides (`side_gap`)");
    say(block.drained.is_none(), "whether water passes behind or beside it (`drained`)");
    say(block.cut_from.is_none(), "what it is cut from (`cut_from`)");
    say(block.fasten.is_none(), "what holds it (`fasten`)");
}

/// Columns on what lies behind it, at the foot and under the bevel; a place behind a fixture moves along its column.
fn screws(card: &mut BlockCard, face: &Face, placed: &FacePlan, block: &Block) {
    let (Some((wide, high)), Some(fasten)) = (card.size, &block.fasten) else { return };
    let edge = fasten.edge_distance.or(fasten.end_distance).unwrap_or(SCREW_EDGE);
    let columns = match fasten.into {
        Some("furring") => strips(placed, block, (wide, high), edge),
        Some("sheathing" | "plane") => vec![edge, wide - edge],
        Some(what) => {
            card.missing
                .push(format!("where its screws go: the {what} behind it are not drawn; mark them on the wall"));
            return;
        }
        None => {
            card.missing.push("where its screws go: what they hold `into` is not said".to_owned());
            return;
        }
    };
    let ends = match columns.as_slice() {
        [] => {
            card.missing.push("where its screws go: no furring lies behind it".to_owned());
            return;
        }
        [only] => {
            card.missing.push(format!("whether one line of screws, {} mm from its left edge, holds it: only one strip of furring lies behind it", only.as_mm().round()));
            vec![*only]
        }
        [first, .., last] => vec![*first, *last],
    };
    let drop = card.bevel.map_or(Length::ZERO, |(_, drop)| drop);
    let (low, up) = (edge, high - edge - drop);
    let own: Vec<&Service> = face.services.iter().filter(|one| one.block == Some(card.block)).collect();
    for x in ends {
        for (from, to) in [(low, (low + up) / 2), (up, (low + up) / 2)] {
            match free(block, &own, x, from, to) {
                Ok(place) => card.screws.push(place),
                Err(name) => card.covered.push((Point { x, y: from }, name)),
            }
        }
    }
}

/// Axes of strips behind a block, from its left edge, where a screw has bearing and keeps from the edge.
fn strips(placed: &FacePlan, block: &Block, (wide, high): (Length, Length), edge: Length) -> Vec<Length> {
    let (left, foot) = (block.at.x, block.at.y);
    let mut found: Vec<Length> = Vec::new();
    for strip in placed.areas.iter().flat_map(|area| &area.strips).filter(|strip| !strip.horizontal) {
        let bounds = strip.shape.bounds();
        if bounds.bottom > foot + edge || bounds.top < foot + high - edge {
            continue;
        }
        let (from, to) = ((bounds.left + BEARING).max(left + edge), (bounds.right - BEARING).min(left + wide - edge));
        if from <= to {
            found.push(((bounds.left + bounds.right) / 2).max(from).min(to) - left);
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// The place on a column nearest to `from` that no fixture covers; the error is what covers it.
fn free(block: &Block, own: &[&Service], x: Length, from: Length, to: Length) -> Result<Point, String> {
    let covers = |y: Length| {
        own.iter().find_map(|service| {
            let (wide, high) = half(service).unwrap_or_default();
            let (dx, dy) = (service.at.x - block.at.x - x, service.at.y - block.at.y - y);
            let near = dx.abs() < wide + MARGIN && dy.abs() < high + MARGIN;
            (near && !stays_behind(service)).then_some((service, high + MARGIN))
        })
    };
    let (mut y, up) = (from, to >= from);
    // Each step passes one fixture.
    while let Some((service, reach)) = covers(y) {
        let centre = service.at.y - block.at.y;
        y = if up { centre + reach } else { centre - reach };
        if (up && y > to) || (!up && y < to) {
            return Err(service.name.clone());
        }
    }
    Ok(Point { x, y })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_by_hand() {
        // Worked numbers of the trade: E = 152.4: one course 152.4, two 304.8; on the plane gap + cladding + 10 to 13; on the
        // furring cladding + 10 to 13; flashing = width + 2 × (10 + 25); 38 mm at 15°: 10.2. Common practice, no source.
        let exposure = Length::INCH * 6;
        assert_eq!(courses_for(exposure, exposure), Some(1));
        assert_eq!(courses_for(exposure + Length(1), exposure), Some(2));
        assert_eq!((exposure * 2).as_mm(), 304.8);
        assert_eq!(courses_for(exposure, Length::ZERO), None);
        assert_eq!(thickness_for(Length::mm(19 + 10)), (Length::mm(39), Length::mm(42)));
        assert_eq!(thickness_for(Length::mm(10)), (Length::mm(20), Length::mm(23)));
        assert_eq!(cap_length(Length::mm(300), Length::mm(25)), Length::mm(370));
        assert!((bevel_drop(Length::mm(38), 15.0).as_mm() - 10.2).abs() < 0.05);
    }

    #[test]
    fn the_block_of_the_house() {
        let checked = crate::session::heron_lane();
        let cards = find(&checked.model, &checked.plan);
        let [card] = cards.as_slice() else { panic!("{} cards", cards.len()) };
        assert_eq!((card.mark.as_str(), card.register.as_str()), ("WK1", "west.services"));
        assert_eq!(card.size, Some((Length::mm(500), Length::mm(405))));
        // 25 on the furring, behind 20 of cladding.
        assert_eq!(card.proud, Some(Length::mm(5)));
        assert!((card.bevel.unwrap().1.as_mm() - 25.0 * 15.0_f64.to_radians().tan()).abs() < 1e-6);
        let sizes: Vec<(f64, f64)> = card.holes.iter().map(|hole| (hole.size.0.as_mm(), hole.at.x.as_mm())).collect();
        // Sleeve 32 and 6; box 60 and 3; sleeve 32 and 6 for the spare.
        assert_eq!(sizes, [(38.0, 110.0), (63.0, 110.0), (38.0, 390.0)]);
        assert_eq!(card.holes[0].fall, Some((0.02, Length::snap_mm(0.5))));
        assert!(card.holes[2].spare && card.covered.is_empty());
        // From 80 (box) to 406 (sleeve), from 94 to 350, and 12 round them.
        assert_eq!(card.least, Some((Length::mm(350), Length::mm(280))));
    }
}
