//! Water that stays in a channel between its exits: in the dips between its supports, and behind a shut low end.

use super::drain::HOLE_TO_LOW_END;
use super::ends::{Scene, SetOut};
use crate::geometry::{Point, Segment};
use crate::layout::holes::strips_along;
use crate::model::{FaceId, Model};
use crate::physics::rain;
use crate::plan::Plan;
use crate::units::Length;

/// Where in a channel water stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PondPlace {
    /// Between two supports, where it hangs down and no hole lies.
    Dip,
    /// Between the lowest hole and a low end that is closed or dammed.
    LowEnd,
}

/// The deepest water that stays in one channel.
#[derive(Clone, Debug)]
pub struct Pond {
    /// The face.
    pub face: FaceId,
    /// Index of the trim on it.
    pub trim: usize,
    /// Its lowest point.
    pub at: Point,
    /// How deep it stands, m.
    pub depth: f64,
    /// Where.
    pub place: PondPlace,
    /// How far the channel hangs between its supports.
    pub sag: Length,
}

/// The deepest pond of every channel with a solid floor that has a hole at all; `sag` for those that do not say theirs.
pub fn ponds(model: &Model, plan: &Plan, sag: Length) -> Vec<Pond> {
    let mut found = Vec::new();
    for (index, face) in model.faces.iter().enumerate() {
        if face.trims.is_empty() {
            continue;
        }
        let id = FaceId(index as u32);
        let scene = Scene::new(model, plan, id, face);
        for (at, trim) in face.trims.iter().enumerate() {
            let laid = scene.trims().iter().find(|laid| std::ptr::eq(laid.trim, trim));
            found.extend(laid.and_then(|laid| deepest(plan, (id, at), laid, sag)));
        }
    }
    found
}

fn deepest(plan: &Plan, (face, trim): (FaceId, usize), laid: &SetOut<'_>, usual: Length) -> Option<Pond> {
    let solid = laid.product.and_then(|product| product.floor).is_some_and(|(pierced, _)| !pierced);
    let holes: Vec<Point> = laid.drain_holes().collect();
    if !solid || holes.is_empty() || laid.line.is_vertical() {
        return None;
    }
    let sag = laid.trim.sag.unwrap_or(usual);
    let pond = |at: Point, depth: f64, place: PondPlace| Pond { face, trim, at, depth, place, sag };
    let dips = spans(plan, face, laid.line).into_iter().filter_map(|span| dip(span, sag, &holes));
    let dips = dips.map(|(at, depth)| pond(at, depth, PondPlace::Dip));
    let end = low_end(laid, &holes).map(|(at, depth)| pond(at, depth, PondPlace::LowEnd));
    dips.chain(end).filter(|pond| pond.depth > 0.0).max_by(|a, b| a.depth.total_cmp(&b.depth).then(b.at.cmp(&a.at)))
}

/// The pieces of a channel between its supports; the whole of it if it has fewer than two.
fn spans(plan: &Plan, face: FaceId, line: Segment) -> Vec<Segment> {
    let (left, right) = (line.from.x.min(line.to.x), line.from.x.max(line.to.x));
    let supports = strips_along(plan, face, line);
    let centres: Vec<Length> =
        supports.iter().map(|support| support.centre).filter(|&x| left <= x && x <= right).collect();
    if centres.len() < 2 {
        return vec![line];
    }
    let point = |x: Length| Some(Point::new(x, line.y_at(x)?));
    let pairs = centres.iter().zip(centres.iter().skip(1));
    pairs.filter_map(|(&a, &b)| Some(Segment::new(point(a)?, point(b)?))).collect()
}

/// The lowest point of a span that hangs down, and how deep water stands there; none if a hole lies in it.
fn dip(span: Segment, sag: Length, holes: &[Point]) -> Option<(Point, f64)> {
    let (run, rise) = ((span.to.x - span.from.x).as_m().abs(), (span.to.y - span.from.y).as_m().abs());
    let slope = if run > 0.0 { rise / run } else { return None };
    let depth = rain::dip(sag.as_m(), slope, run);
    let offset = Length::snap_m(rain::dip_offset(sag.as_m(), slope, run));
    let low = span.lower_end();
    let middle = span.midpoint();
    let x = if low.x < middle.x { middle.x - offset } else { middle.x + offset };
    let at = Point::new(x, span.y_at(x)?);
    let holed = holes.iter().any(|hole| (hole.x - at.x).abs() <= HOLE_TO_LOW_END);
    (!holed).then_some((at, depth))
}

/// The low end of a slope that is not open, and how deep water stands there before it leaves by the lowest hole.
fn low_end(laid: &SetOut<'_>, holes: &[Point]) -> Option<(Point, f64)> {
    let end = laid.low_end().filter(|_| matches!(laid.trim.low_end, Some("closed" | "dammed")))?;
    let lowest = holes.iter().min_by_key(|hole| (hole.y, hole.x))?;
    Some((end, (lowest.y - end.y).as_m().max(0.0)))
}
