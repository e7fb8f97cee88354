//! The bay at a place of a face, or the nearest one where something else stands there.

use super::flow::{BayId, GapFlow};
use super::trace::{InTheWay, Refused};
use crate::geometry::{Place, Point, Polygon};
use crate::model::{Face, FaceId};
use crate::plan::FacePlan;
use crate::units::Length;

/// How far inside the nearest bay a drop starts: 10 mm, or its middle if it is narrower; made for this question.
const INSIDE: Length = Length::mm(10);

/// Where a drop starts.
pub(super) struct Found {
    pub bay: BayId,
    pub start: Point,
    pub in_the_way: Option<InTheWay>,
}

/// The bay a place lies in, or the nearest one of the face.
pub(super) fn find(face: &Face, plan: &FacePlan, flow: &GapFlow, id: FaceId, at: Point) -> Result<Found, Refused> {
    let outline = face.outline.as_ref().ok_or(Refused::NoOutline)?;
    if outline.place(at) == Place::Outside {
        return Err(Refused::Outside);
    }
    let shapes = || {
        let own = flow.bays.iter().filter(|bay| bay.id.face == id);
        own.filter_map(|bay| Some((bay.id, &plan.areas.get(bay.id.area)?.bays.get(bay.id.bay)?.shape)))
    };
    if let Some((bay, _)) = shapes().find(|(_, shape)| shape.place(at) == Place::Inside) {
        return Ok(Found { bay, start: at, in_the_way: None });
    }
    let in_the_way = in_the_way(face, plan, at);
    if !matches!(in_the_way, InTheWay::Opening(_)) {
        let area = plan.areas.iter().position(|area| area.whole.place(at) != Place::Outside).ok_or(Refused::Bare)?;
        if plan.areas.get(area).is_none_or(|area| area.bays.is_empty()) {
            return Err(Refused::NoGap(area));
        }
    }
    let near = shapes().filter_map(|(bay, shape)| nearest(shape, at).map(|start| (distance(start, at), bay, start)));
    let (_, bay, start) = near.min_by_key(|&(far, bay, start)| (far, bay, start)).ok_or(Refused::NoGap(0))?;
    Ok(Found { bay, start, in_the_way: Some(in_the_way) })
}

fn distance(one: Point, other: Point) -> Length {
    (one - other).length()
}

/// The place in a bay nearest to a point, straight across or straight up or down.
fn nearest(shape: &Polygon, at: Point) -> Option<Point> {
    let across = shape.x_intervals_at(at.y).into_iter().map(|(from, to)| Point::new(pulled(at.x, from, to), at.y));
    let along = shape.y_intervals_at(at.x).into_iter().map(|(from, to)| Point::new(at.x, pulled(at.y, from, to)));
    let inside = across.chain(along).filter(|&place| shape.place(place) == Place::Inside);
    inside.min_by_key(|&place| (distance(place, at), place))
}

/// The value nearest to one between two ends, a little inside of them. Snapped ends may lie a hair the wrong way round.
fn pulled(value: Length, from: Length, to: Length) -> Length {
    let inside = INSIDE.min((to - from) / 2);
    value.min(to - inside).max(from + inside)
}

/// What stands at a place, the most solid first.
fn in_the_way(face: &Face, plan: &FacePlan, at: Point) -> InTheWay {
    let covers = |shape: &Polygon| shape.place(at) != Place::Outside;
    if let Some(index) = plan.openings.iter().position(covers) {
        return InTheWay::Opening(index);
    }
    if let Some(index) = plan.blocks.iter().position(|block| block.as_ref().is_some_and(covers)) {
        return InTheWay::Block(index);
    }
    let nailer = face.nailers.iter().position(|nailer| {
        covers(&Polygon::rectangle(nailer.from.x, nailer.from.y, nailer.to, nailer.from.y + nailer.height))
    });
    if let Some(index) = nailer {
        return InTheWay::Nailer(index);
    }
    for (area, placed) in plan.areas.iter().enumerate() {
        if let Some(strip) = placed.strips.iter().position(|strip| covers(&strip.shape)) {
            return InTheWay::Strip(area, strip);
        }
    }
    let stop = face.fire_stops.iter().position(|stop| {
        stop.height.is_some_and(|height| (stop.at..=stop.at + height).contains(&at.y)) && !stop.open_state
    });
    stop.map_or(InTheWay::Other, InTheWay::FireStop)
}
