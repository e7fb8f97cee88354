//! Points where joints of the air barrier meet: feet and heads of corners, ridges, ends of steps and of lines between areas.
//! There a part covers the point, or the parts that meet lie in one plane and hold on one another.

use super::air::{AirEnd, Barrier, Walk, and};
use super::joints::runs_on;
use crate::model::{Detail, Face, FaceId, Joint, Place, Product};
use crate::plan::{Node, Run, RunId, RunPlace};

/// Every point of a face of which nothing was told at the stretches that meet there.
pub(super) fn points(walk: &mut Walk, id: FaceId) {
    let (Some(face), plan) = (walk.model.face(id), walk.plan) else { return };
    for node in plan.nodes.iter().filter(|node| node.face == id) {
        let meeting: Vec<(RunId, &Run)> = node.runs.iter().filter_map(|&run| Some((run, plan.run(run)?))).collect();
        if let Some(why) = open(walk, face, node, &meeting) {
            let names: Vec<String> = meeting.iter().map(|(_, run)| format!("`{}`", run.name)).collect();
            let point = node.name.split_once(", ").map_or(node.name.as_str(), |(_, point)| point);
            let start = meeting.iter().find_map(|(_, run)| walk.barrier(run.face, run.area));
            let from = start.map_or_else(String::new, |barrier| walk.step(barrier, id));
            walk.end(AirEnd {
                face: Some(id),
                run: meeting.first().map(|(run, _)| *run),
                service: None,
                at: Some(node.at),
                free: None,
                kind: "point",
                path: vec![from, point.to_owned(), "nothing".to_owned()],
                why: format!("{why}, where {} meet", and(&names)),
                origin: node.origin,
            });
        }
    }
}

/// Why a point is open; none if it is covered, if it was told already, or if nothing is asked there.
fn open(walk: &Walk, face: &Face, node: &Node, meeting: &[(RunId, &Run)]) -> Option<String> {
    if let Some(detail) = node.detail {
        let detail = walk.model.detail(detail).filter(|detail| !detail.broken)?;
        return (!covers(&detail.edge))
            .then(|| format!("no part of `{}` carries the barrier over the point", detail.name));
    }
    // Points that must have a detail of their own are told by the register of points.
    let asked = matches!(node.kind, "corner_foot" | "corner_head" | "ridge" | "bend" | "area_end");
    let along = |run: &Run| matches!(run.place, RunPlace::Edge(_) | RunPlace::Between(_)) && run.area.is_some();
    if !asked || meeting.len() < 2 || !meeting.iter().all(|(id, run)| along(run) && !walk.is_told(*id)) {
        return None;
    }
    // A side that meets no face is told for the building, an edge that joins nothing has nothing to meet.
    let free = |run: &Run| match run.place {
        RunPlace::Edge(at) => face.edges.get(at).is_some_and(|edge| {
            edge.joins == Some("nothing") || (matches!(edge.kind, "left" | "right") && edge.meets.is_none())
        }),
        _ => false,
    };
    if meeting.iter().any(|(_, run)| free(run)) {
        return None;
    }
    let mut places = Vec::new();
    for (_, run) in meeting {
        let detail = sound(walk, run)?;
        places.push((*run, detail.place(run.kind)));
    }
    if places.iter().any(|(_, place)| wrapped(place)) || wrapped_beyond(walk, face, node, meeting) {
        return None;
    }
    planes(walk, face, node, meeting).or_else(|| strangers(walk, &places))
}

fn sound<'m>(walk: &Walk<'m>, run: &Run) -> Option<&'m Detail> {
    walk.model.detail(run.detail?).filter(|detail| !detail.broken)
}

/// A part turned over the point, or a joint that is named for it.
fn covers(place: &Place) -> bool {
    wrapped(place) || place.air.iter().any(|joint| joint.with.is_some())
}

fn wrapped(place: &Place) -> bool {
    place.parts.iter().any(|part| part.controls.air && part.wraps.is_some())
}

/// Whether the other face of the corner has the part that wraps round it.
fn wrapped_beyond(walk: &Walk, face: &Face, node: &Node, meeting: &[(RunId, &Run)]) -> bool {
    let corners = meeting.iter().filter_map(|(_, run)| match run.place {
        RunPlace::Edge(at) => face.edges.get(at)?.meets.as_ref()?.id,
        _ => None,
    });
    let edges = corners.filter_map(|id| walk.model.face(id)).flat_map(|other| &other.edges);
    let back = edges.filter(|edge| edge.meets.as_ref().is_some_and(|corner| corner.id == Some(node.face)));
    let details = back.flat_map(|edge| &edge.details).filter_map(|stretch| walk.model.detail(stretch.detail));
    details.into_iter().any(|detail| wrapped(detail.place("corner")))
}

/// Barriers that do not lie in one plane meet at a point only with a part that is turned there.
fn planes(walk: &Walk, face: &Face, node: &Node, meeting: &[(RunId, &Run)]) -> Option<String> {
    let mut barriers: Vec<(String, Barrier)> = Vec::new();
    for (_, run) in meeting {
        for area in [run.area, run.other].into_iter().flatten() {
            barriers.extend(walk.barrier(run.face, Some(area)).map(|barrier| (walk.step(barrier, run.face), barrier)));
        }
        let RunPlace::Edge(at) = run.place else { continue };
        let Some(id) = face.edges.get(at).and_then(|edge| edge.meets.as_ref()?.id) else { continue };
        // Both faces have this point: the first one tells.
        if id < run.face {
            continue;
        }
        for area in beyond(walk, id, run.face, node) {
            barriers.extend(walk.barrier(id, area).map(|barrier| (walk.step(barrier, id), barrier)));
        }
    }
    let (first, one) = barriers.first()?;
    let (other, _) = barriers.iter().skip(1).find(|(_, barrier)| !runs_on(walk, *one, *barrier))?;
    Some(format!("{first} and {other} lie in two planes, and no part is turned over the point"))
}

/// Areas of the other face of a corner that reach the height of a point.
fn beyond(walk: &Walk, other: FaceId, from: FaceId, node: &Node) -> Vec<Option<usize>> {
    let Some(face) = walk.model.face(other) else { return Vec::new() };
    let meets_back = |run: &Run| match run.place {
        RunPlace::Edge(at) => {
            face.edges.get(at).is_some_and(|edge| edge.meets.as_ref().is_some_and(|corner| corner.id == Some(from)))
        }
        _ => false,
    };
    let reaches = |run: &Run| {
        let (one, two) = (run.segment.from.y, run.segment.to.y);
        one.min(two) <= node.at.y && node.at.y <= one.max(two)
    };
    let runs = walk.plan.runs_of(other).map(|(_, run)| run);
    runs.filter(|run| meets_back(run) && reaches(run)).map(|run| run.area).collect()
}

/// Two parts that meet and of which neither holds on the other.
fn strangers(walk: &Walk, places: &[(&Run, &Place)]) -> Option<String> {
    let joint = |place: &Place| place.air.iter().find(|joint| joint.with.is_some()).cloned();
    let joints: Vec<Joint> = places.iter().filter_map(|(_, place)| joint(place)).collect();
    for (at, one) in joints.iter().enumerate() {
        for other in joints.iter().skip(at + 1).filter(|other| other.with != one.with) {
            let product = |joint: &Joint| joint.with.as_ref().and_then(|stuff| walk.model.product_of(stuff));
            let (Some(a), Some(b)) = (product(one), product(other)) else { continue };
            if !holds_on(a, b) && !holds_on(b, a) {
                return Some(format!("`{}` and `{}` do not hold on one another", a.name, b.name));
            }
        }
    }
    None
}

/// Whether one product sticks to another: it is said to bond to sheets, or they are of one family.
fn holds_on(one: &Product, other: &Product) -> bool {
    let unsaid = one.bonds.is_empty() && one.primed.is_empty();
    unsaid || one.bonds.contains(&"membrane") || (one.family.is_some() && one.family == other.family)
}
