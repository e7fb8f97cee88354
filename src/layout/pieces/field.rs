//! The field that cladding covers: an area without its openings, trims, blocks and the gaps beside them.

use crate::geometry::{Point, Polygon, Region, Ring, Segment};
use crate::model::{Face, FaceId, Layer, Model, Opening, PartSpec, Product};
use crate::plan::{FacePlan, Plan, Run};
use crate::units::Length;

/// Gap beside a trim where neither layer nor product names one. Common practice, no source.
const GAP: Length = Length::mm(3);
/// Height above a flashing where the product names none. Common practice, no source.
const CLEAR: Length = Length::mm(6);
/// Surfaces on the hottest day by how dark they are, °C. Common practice, no source; limits of this name outrank them.
const HOTTEST: [(&str, f64); 3] = [("light", 50.0), ("mid", 60.0), ("dark", 70.0)];

/// Where cladding lies.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Field {
    /// What shows of it.
    pub region: Region,
    /// Left between two pieces, before anything for heat.
    pub joint: Length,
    /// Rectangles round which boards are cut: openings with their trims, blocks.
    pub stops: Vec<Stop>,
}

/// Something cladding is cut round.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// Its name.
    pub name: String,
    /// Left, bottom, right, top of what cladding stays out of.
    pub shape: Polygon,
}

/// The hottest the surface of a product gets, °C.
pub(in crate::layout) fn hottest(model: &Model, product: &Product) -> f64 {
    let shade = product.surface.unwrap_or("dark");
    let ours = HOTTEST.iter().find(|(name, _)| *name == shade).map_or(70.0, |(_, hottest)| *hottest);
    model.limit(&format!("temperature.{shade}")).and_then(|limit| limit.number()).unwrap_or(ours)
}

/// The field of an area.
pub fn field(model: &Model, plan: &Plan, face: FaceId, area: usize, layer: &Layer, product: &Product) -> Field {
    let (Some(stands_on), Some(placed)) = (model.face(face), plan.face(face)) else { return Field::default() };
    let Some(whole) = placed.areas.get(area).map(|area| &area.net) else { return Field::default() };
    let joint = layer.joint_gap.or(product.joint_gap.as_ref().map(|gap| gap.value)).unwrap_or(GAP);
    let clear = product.clearance.as_ref().map_or(CLEAR, |clear| clear.value);
    let mut taken: Vec<Polygon> = Vec::new();
    for (_, run) in plan.runs_of(face) {
        if let Some(depth) = set_back(model, run, area, joint, clear).filter(|depth| depth.0 > 0) {
            // Upright edges are followed a little past their ends, where a sloping base or rake leaves a corner.
            let upright = matches!(run.kind, "corner" | "left" | "right");
            taken.extend(beside(if upright { longer(run.segment, depth) } else { run.segment }, depth));
        }
    }
    let stops = stops(model, stands_on, placed, joint, clear);
    taken.extend(stops.iter().map(|stop| stop.shape.clone()));
    let taken: Region = taken.into_iter().collect();
    Field { region: whole.difference(&taken), joint, stops }
}

/// How far cladding stays back from a stretch of the area's own edge; `None` for one it does not touch.
fn set_back(model: &Model, run: &Run, area: usize, joint: Length, clear: Length) -> Option<Length> {
    let upper = run.area == Some(area);
    if !upper && run.other != Some(area) {
        return None;
    }
    // An edge without a detail is a finding of its own; the cladding is taken to run up to it.
    let detail = run.detail.and_then(|id| model.detail(id));
    let Some(detail) = detail else { return Some(Length::ZERO) };
    let parts = &detail.place(run.kind).parts;
    let trim = parts.iter().rfind(|part| matches!(part.kind, "trim" | "corner"));
    let covered = |part: &PartSpec| {
        let width = part.width.or(model.product_of(&part.stuff).and_then(|product| product.width)).unwrap_or_default();
        if part.on == Some("cladding") { Length::ZERO } else { width }
    };
    let keep = detail.keep;
    Some(match run.kind {
        "corner" | "left" | "right" | "side" => trim.map_or(joint, |part| covered(part) + joint),
        "top" | "rake" | "parapet" => {
            let held = trim.and_then(|part| part.holds_up).unwrap_or_default();
            trim.map_or(clear, |part| covered(part) + held + joint)
        }
        "roof_line" | "deck_line" => keep.unwrap_or(clear),
        // Above a shelf the courses stay clear of its flashing; below it they run up to it.
        "transition" if upper => clear,
        "transition" => joint,
        "step" => joint,
        // Openings are cut round with their trims, see `stops`; the base line is the drip edge of the first course.
        _ => Length::ZERO,
    })
}

/// The strip on the wall side of a stretch. The wall lies to the left of it; for the lower area of a transition, to the right.
fn beside(segment: Segment, depth: Length) -> Option<Polygon> {
    let (from, to) = (segment.from, segment.to);
    let length = segment.length();
    if length.0 <= 0 {
        return None;
    }
    let across = |d: Length| Length::snap_mm(d.as_mm() * depth.as_mm() / length.as_mm());
    let (dx, dy) = (across(to.x - from.x), across(to.y - from.y));
    let shift = |point: Point, way: i64| Point::new(point.x - Length(dy.0 * way), point.y + Length(dx.0 * way));
    let ring = Ring::new(vec![from, to, shift(to, 1), shift(from, 1)]);
    let other = Ring::new(vec![from, shift(from, -1), shift(to, -1), to]);
    // A strip on each side: the one outside the area takes nothing from it.
    let both: Region = [Polygon::new(ring, Vec::new()), Polygon::new(other, Vec::new())].into_iter().collect();
    both.into_components().into_iter().next()
}

/// An upright stretch, longer at both ends.
fn longer(segment: Segment, by: Length) -> Segment {
    let by = if segment.to.y > segment.from.y { by } else { Length(-by.0) };
    Segment::new(Point::new(segment.from.x, segment.from.y - by), Point::new(segment.to.x, segment.to.y + by))
}

/// Openings with their trims, and blocks, with the gaps round them.
fn stops(model: &Model, face: &Face, placed: &FacePlan, joint: Length, clear: Length) -> Vec<Stop> {
    let mut stops = Vec::new();
    for (opening, frame) in face.openings.iter().zip(&placed.openings) {
        let bounds = frame.bounds();
        let [sides, above, below] = trims_round(model, opening);
        let shape = Polygon::rectangle(
            bounds.left - sides - joint,
            bounds.bottom - below - joint,
            bounds.right + sides + joint,
            bounds.top + above + clear,
        );
        stops.push(Stop { name: opening.name.clone(), shape });
    }
    for (block, shape) in face.blocks.iter().zip(&placed.blocks) {
        let Some(bounds) = shape.as_ref().map(|shape| shape.bounds()) else { continue };
        let gap = block.side_gap.unwrap_or(joint);
        let over = if block.flashing.is_some() { clear } else { gap };
        let shape = Polygon::rectangle(bounds.left - gap, bounds.bottom - gap, bounds.right + gap, bounds.top + over);
        stops.push(Stop { name: block.name.clone(), shape });
    }
    stops
}

/// How far trims cover beside, above and below an opening. Where its detail names trims, those; else the `trims` clause, on
/// three sides. Trims that lie on the cladding cover it, so it runs on beneath them to the frame.
fn trims_round(model: &Model, opening: &Opening) -> [Length; 3] {
    let Some((width, on)) = opening.trims else { return [Length::ZERO; 3] };
    if on == "cladding" {
        return [Length::ZERO; 3];
    }
    let reveal = opening.reveal.unwrap_or_default();
    let detail = opening.detail.and_then(|id| model.detail(id));
    let has = |kind: &str| detail.is_some_and(|detail| detail.place(kind).parts.iter().any(|part| part.kind == "trim"));
    let any = ["head", "jamb", "sill"].into_iter().any(has);
    let covers = |kind: &str| if has(kind) || (!any && kind != "sill") { width + reveal } else { Length::ZERO };
    // A flashing over the head trim holds itself clear of the trim, and the cladding clear of the flashing.
    [covers("jamb"), covers("head"), covers("sill")]
}
