//! Joints of the air barrier: along each edge, round each opening, at each hole and floor, the named part that carries it on.

use super::air::{AirEnd, Barrier, Walk, and};
use super::bonds::AirJoint;
use super::ends::noun;
use crate::geometry::{Place as Where, Point};
use crate::model::{Detail, Face, FaceId, FloorLine, Joint, Opening, Place, Service};
use crate::plan::{Run, RunId, RunPlace};
use crate::units::Length;

/// What a place of a detail does for the barrier.
enum Join<'m> {
    /// By the joint its detail names; none where a wrapped part carries it, or a part of the service.
    Joined(Option<&'m Joint>),
    /// The missing fact.
    Unknown(String),
    /// Why it ends, and the last step of the path.
    Ends(String, String),
    /// Already reported elsewhere.
    Silent,
}

/// Every stretch of edge of a face.
pub(super) fn runs(walk: &mut Walk, id: FaceId) {
    let Some(face) = walk.model.face(id) else { return };
    let runs: Vec<(RunId, &Run)> = walk.plan.runs_of(id).collect();
    let mut openings = Vec::new();
    for &(run_id, run) in &runs {
        match run.place {
            RunPlace::Opening(index) => {
                if !openings.contains(&index) {
                    openings.push(index);
                    let ring: Vec<(RunId, &Run)> =
                        runs.iter().copied().filter(|(_, other)| other.place == run.place).collect();
                    opening(walk, face, index, &ring);
                }
            }
            RunPlace::Between(_) => between(walk, (run_id, run)),
            _ => edge(walk, face, (run_id, run)),
        }
    }
}

/// Base, top, corner and the like.
fn edge(walk: &mut Walk, face: &Face, at: (RunId, &Run)) {
    let (id, run) = at;
    let Some(barrier) = walk.barrier(run.face, run.area) else { return };
    let joins = match run.place {
        RunPlace::Edge(index) => face.edges.get(index).and_then(|edge| edge.joins),
        _ => None,
    };
    let Some((kind, targets)) = wanted(run.kind, joins) else { return };
    let detail = run.detail.and_then(|detail| walk.model.detail(detail));
    let join = match detail {
        None => Join::Unknown(not_built(run)),
        Some(detail) if detail.broken => Join::Silent,
        Some(detail) if kind == "corner" && wraps(detail.place(run.kind)) => {
            Join::Joined(detail.place(run.kind).air.iter().find(|joint| targets.contains(&joint.target)))
        }
        Some(detail) => joint(detail, run.kind, targets, &place_of(walk, face, run)),
    };
    let step = place_of(walk, face, run);
    settle(walk, (id, run), kind, barrier, step, (join, run.segment.length()));
}

/// Puts the outcome where it belongs.
fn settle<'m>(
    walk: &mut Walk<'m>,
    at: (RunId, &Run),
    kind: &'static str,
    barrier: Barrier<'m>,
    step: String,
    (join, free): (Join<'m>, Length),
) {
    let (id, run) = at;
    let start = vec![walk.step(barrier, run.face), step];
    match join {
        Join::Joined(joint) => joint.into_iter().for_each(|joint| walk.add_at_run(at, kind, barrier, joint)),
        Join::Silent => {}
        Join::Unknown(fact) => {
            walk.cannot_tell(AirEnd { free: Some(free), ..AirEnd::at_run(id, run, kind, start, fact) });
        }
        Join::Ends(why, last) => {
            let path = start.into_iter().chain([last]).collect();
            walk.end(AirEnd { free: Some(free), ..AirEnd::at_run(id, run, kind, path, why) });
        }
    }
}

/// The kind of an end at such a run, and what the barrier may be sealed to there. `None` where nothing is asked: free sides,
/// and edges that are said to join nothing.
fn wanted(kind: &str, joins: Option<&str>) -> Option<(&'static str, &'static [&'static str])> {
    const FOUNDATION: &[&str] = &["foundation", "slab"];
    const ROOF: &[&str] = &["roof", "ceiling"];
    const FLOOR: &[&str] = &["floor", "itself", "slab"];
    const DECK: &[&str] = &["deck", "slab", "foundation"];
    let (end, usual) = match kind {
        "base" | "step" => ("base", FOUNDATION),
        "deck_line" => ("base", DECK),
        "underside" => ("base", FLOOR),
        "roof_line" => ("base", ROOF),
        "top" | "rake" | "parapet" => ("top", ROOF),
        "corner" => ("corner", &["neighbour", "itself"] as &[_]),
        _ => return None,
    };
    let targets = match joins {
        Some("nothing") => return None,
        Some("foundation") => FOUNDATION,
        Some("roof" | "ceiling" | "soffit") => ROOF,
        Some("deck") => DECK,
        Some("floor") => FLOOR,
        _ => usual,
    };
    Some((end, targets))
}

/// Looks for a joint of a place to one of these targets.
fn joint<'m>(detail: &'m Detail, kind: &str, targets: &[&str], step: &str) -> Join<'m> {
    let place = detail.place(kind);
    let mut fitting = place.air.iter().filter(|joint| targets.contains(&joint.target)).peekable();
    let target = targets.first().copied().unwrap_or_default();
    if let Some(first) = fitting.peek().copied() {
        return match fitting.find(|joint| joint.with.is_some()) {
            Some(joint) => Join::Joined(Some(joint)),
            None => Join::Unknown(format!(
                "the part that seals the {step} to {}: `{}` names none",
                the(first.target),
                detail.name
            )),
        };
    }
    match place.air.first() {
        Some(other) => {
            let why = format!("`{}` seals the {step} to {}, not to {}", detail.name, the(other.target), the(target));
            Join::Ends(why, other.target.to_owned())
        }
        None => {
            let why = match target {
                "neighbour" => format!("no part of `{}` joins the barriers at the {step}", detail.name),
                "itself" => format!("no part of `{}` carries the barrier past the {step}", detail.name),
                _ => format!("no part of `{}` seals the {step} to {}", detail.name, the(target)),
            };
            Join::Ends(why, "nothing".to_owned())
        }
    }
}

/// Whether a part of a place carries the barrier round the corner.
fn wraps(place: &Place) -> bool {
    place.parts.iter().any(|part| part.controls.air && part.wraps.is_some())
}

fn not_built(run: &Run) -> String {
    format!("how the {} is built: `{}` has no detail", noun(run.kind), run.name)
}

/// A target with its article: "the foundation", "itself".
pub(super) fn the(target: &str) -> String {
    match target {
        "itself" => "itself".to_owned(),
        "air" => "the air barrier".to_owned(),
        "water" => "the drainage plane".to_owned(),
        other => format!("the {other}"),
    }
}

/// A run as a step of the path: "base", "corner to `east`", "head of `kitchen`".
fn place_of(walk: &Walk, face: &Face, run: &Run) -> String {
    match run.place {
        RunPlace::Edge(index) => match face.edges.get(index).and_then(|edge| edge.meets.as_ref()) {
            Some(corner) if run.kind == "corner" => format!("corner to `{}`", corner.face),
            _ => format!("{} of `{}`", noun(run.kind), walk.face_name(run.face)),
        },
        RunPlace::Opening(index) => {
            format!("{} of `{}`", run.kind, face.openings.get(index).map_or("", |opening| opening.name.as_str()))
        }
        RunPlace::Roof(index) => match face.roofs.get(index) {
            Some(roof) => format!("edge along `{}`", roof.name),
            None => noun(run.kind).to_owned(),
        },
        RunPlace::Deck(index) => match face.decks.get(index) {
            Some(deck) => format!("edge along `{}`", deck.name),
            None => noun(run.kind).to_owned(),
        },
        RunPlace::Floor(_) | RunPlace::Ledger(_) | RunPlace::Brackets(_) => format!("`{}`", run.name),
        RunPlace::Between(_) => {
            let name =
                |area: Option<usize>| area.and_then(|area| face.areas.get(area)).map_or("", |area| area.name.as_str());
            format!("joint of `{}` and `{}`", name(run.other), name(run.area))
        }
    }
}

/// Where two areas meet: one layer runs through, or a part joins both barriers.
fn between(walk: &mut Walk, at: (RunId, &Run)) {
    let (_, run) = at;
    let Some(face) = walk.model.face(run.face) else { return };
    let barriers = (walk.barrier(run.face, run.area), walk.barrier(run.face, run.other));
    let (Some(upper), Some(lower)) = barriers else { return };
    if runs_on(walk, upper, lower) {
        return;
    }
    let step = place_of(walk, face, run);
    let join = match run.detail.and_then(|detail| walk.model.detail(detail)) {
        None => Join::Unknown(not_built(run)),
        Some(detail) if detail.broken => Join::Silent,
        Some(detail) => joint(detail, run.kind, &["neighbour", "itself", "water"], &step),
    };
    settle(walk, at, "transition", lower, step, (join, at.1.segment.length()));
}

/// Whether two barriers are one: the same stuff, at the same depth from the frame.
pub(super) fn runs_on(walk: &Walk, one: Barrier, other: Barrier) -> bool {
    if one.layer.stuff != other.layer.stuff {
        return false;
    }
    let depth = |barrier: Barrier| {
        let (frame, _) = barrier.assembly.frame()?;
        let off = walk.model.thickness_between(barrier.assembly, barrier.index, frame)?;
        Some((barrier.index > frame, off))
    };
    one.assembly.name == other.assembly.name
        || depth(one).is_some_and(|depth_of_one| depth(other) == Some(depth_of_one))
}

/// Head, jambs and sill of an opening, as one: the ring is sealed to the frame, or open at the places named.
fn opening<'m>(walk: &mut Walk<'m>, face: &'m Face, index: usize, ring: &[(RunId, &Run)]) {
    let (Some(opening), Some(&at)) = (face.openings.get(index), ring.first()) else { return };
    let Some(barrier) = ring.iter().find_map(|(_, run)| walk.barrier(run.face, run.area)) else { return };
    if let Some(target @ ("cladding" | "trim")) = opening.seal {
        let why = format!("the frame of `{}` is sealed to {}, not to the air barrier", opening.name, the(target));
        let step = format!("frame of `{}`", opening.name);
        return settle(walk, at, "opening", barrier, step, (Join::Ends(why, target.to_owned()), sum(ring)));
    }
    let Some(detail) = opening_detail(walk, opening, ring) else {
        let fact = format!("how `{}` is built: it has no detail", opening.name);
        let step = format!("frame of `{}`", opening.name);
        return settle(walk, at, "opening", barrier, step, (Join::Unknown(fact), sum(ring)));
    };
    if !detail.broken {
        ring_joints(walk, opening, detail, barrier, ring);
    }
}

fn opening_detail<'m>(walk: &Walk<'m>, opening: &Opening, ring: &[(RunId, &Run)]) -> Option<&'m Detail> {
    let own = ring.iter().find_map(|(_, run)| run.detail).or(opening.detail);
    own.and_then(|detail| walk.model.detail(detail))
}

/// Asks each side of an opening for its joint; sides that fail alike are told together.
fn ring_joints<'m>(
    walk: &mut Walk<'m>,
    opening: &Opening,
    detail: &'m Detail,
    barrier: Barrier<'m>,
    ring: &[(RunId, &Run)],
) {
    let mut failing: Vec<(RunId, &Run)> = Vec::new();
    let mut unknown: Vec<(RunId, &Run)> = Vec::new();
    for &(id, run) in ring {
        match joint(detail, run.kind, &["frame"], "") {
            Join::Ends(..) => failing.push((id, run)),
            Join::Unknown(_) => unknown.push((id, run)),
            Join::Joined(joint) => {
                joint.into_iter().for_each(|joint| walk.add_at_run((id, run), "opening", barrier, joint));
            }
            Join::Silent => {}
        }
    }
    for sides in [failing, unknown] {
        let Some(&at) = sides.first() else { continue };
        let step = format!("{} of `{}`", side_words(&sides), opening.name);
        let join = joint(detail, at.1.kind, &["frame"], &step);
        settle(walk, at, "opening", barrier, step, (join, sum(&sides)));
    }
}

/// Length of some stretches together.
fn sum(sides: &[(RunId, &Run)]) -> Length {
    sides.iter().map(|(_, run)| run.segment.length()).sum()
}

/// "head", "jambs and sill", "head, jamb and sill".
fn side_words(sides: &[(RunId, &Run)]) -> String {
    let mut words: Vec<String> = Vec::new();
    for kind in ["head", "jamb", "sill"] {
        match sides.iter().filter(|(_, run)| run.kind == kind).count() {
            0 => {}
            1 => words.push(kind.to_owned()),
            _ => words.push(format!("{kind}s")),
        }
    }
    and(&words)
}

/// Every hole through the barrier has a part that seals it on the barrier itself.
pub(super) fn services(walk: &mut Walk, id: FaceId) {
    let Some(face) = walk.model.face(id) else { return };
    for (index, service) in face.services.iter().enumerate() {
        let area = area_at(walk, id, service.at);
        let Some(barrier) = walk.barrier(id, area) else { continue };
        let start = vec![walk.step(barrier, id), format!("`{}`", service.name)];
        let end = |path, why| AirEnd {
            face: Some(id),
            run: None,
            service: Some(index),
            at: Some(service.at),
            free: around(service),
            kind: "service",
            path,
            why,
            origin: service.origin,
        };
        match seal(walk, service, barrier) {
            Join::Joined(_) => {
                let joint = walk.service_joint((id, face, index), service, barrier);
                walk.add(joint);
            }
            Join::Silent => {}
            Join::Unknown(fact) => walk.cannot_tell(end(start, fact)),
            Join::Ends(why, last) => walk.end(end(start.into_iter().chain([last]).collect(), why)),
        }
    }
}

/// Once round what passes: round and square alike by twice the sum of the sides, a quarter too much for a round one.
pub(super) fn around(service: &Service) -> Option<Length> {
    Some((service.width? + service.height?) * 2)
}

/// What seals a hole: its own part, or that of its detail.
fn seal<'m>(walk: &Walk<'m>, service: &'m Service, barrier: Barrier<'m>) -> Join<'m> {
    let name = &service.name;
    let on_barrier = match service.sealed_to {
        "air" => true,
        "sheathing" => walk.model.sheathing(barrier.assembly) == Some(barrier.index),
        _ => false,
    };
    match &service.seal {
        Some(("none", _)) => Join::Ends(format!("nothing seals the hole of `{name}`"), "nothing".to_owned()),
        Some(("foam", _)) => {
            Join::Ends(format!("foam alone seals `{name}`; it lets go of pipe and sheet"), "foam".to_owned())
        }
        Some((part, _)) if !on_barrier => {
            let why = format!("the {part} of `{name}` is sealed to {}, not to the air barrier", the(service.sealed_to));
            Join::Ends(why, service.sealed_to.to_owned())
        }
        Some(_) => Join::Joined(None),
        None => match service.detail.and_then(|detail| walk.model.detail(detail)) {
            Some(detail) if detail.broken => Join::Silent,
            Some(detail) if detail.edge.air.iter().any(|joint| joint.with.is_some()) => Join::Joined(None),
            _ => Join::Unknown(format!("what seals the hole of `{name}`: it has no `seal`")),
        },
    }
}

/// The area in which a point lies; the first of the face if none does.
fn area_at(walk: &Walk, face: FaceId, at: Point) -> Option<usize> {
    let areas = &walk.plan.face(face)?.areas;
    let holds = areas.iter().position(|area| area.whole.place(at) != Where::Outside);
    holds.or_else(|| (!areas.is_empty()).then_some(0))
}

/// A barrier inside the frame is cut by every floor; one outside it runs past.
pub(super) fn floor_lines(walk: &mut Walk, id: FaceId) {
    let (Some(face), Some(placed)) = (walk.model.face(id), walk.plan.face(id)) else { return };
    for line in &face.floor_lines {
        let crossed = placed.areas.iter().enumerate().filter(|(_, area)| {
            area.whole.bounds().is_some_and(|bounds| bounds.bottom < line.height && line.height < bounds.top)
        });
        let inside = crossed
            .filter_map(|(area, _)| walk.barrier(id, Some(area)))
            .find(|barrier| barrier.assembly.is_inboard_of_frame(barrier.index) == Some(true));
        let Some(barrier) = inside else { continue };
        let step = format!("floor `{}`", line.name);
        let join = match line.detail.and_then(|detail| walk.model.detail(detail)) {
            None => Join::Unknown(format!("how the barrier passes floor `{}`: it has no detail", line.name)),
            Some(detail) if detail.broken => Join::Silent,
            Some(detail) => joint(detail, "floor_line", &["itself", "neighbour", "water"], &step),
        };
        let start = vec![walk.step(barrier, id), step];
        let end = |path, why| AirEnd {
            face: Some(id),
            run: None,
            service: None,
            at: None,
            free: walk.plan.face(id).and_then(|plan| plan.outline.bounds()).map(|bounds| bounds.width()),
            kind: "floor_line",
            path,
            why,
            origin: line.origin,
        };
        match join {
            Join::Joined(joint) => {
                joint.into_iter().for_each(|joint| add_at_floor(walk, (id, face), line, barrier, joint));
            }
            Join::Silent => {}
            Join::Unknown(fact) => walk.cannot_tell(end(start, fact)),
            Join::Ends(why, last) => walk.end(end(start.into_iter().chain([last]).collect(), why)),
        }
    }
}

/// The joint past a floor, as long as the face is wide.
fn add_at_floor<'m>(
    walk: &mut Walk<'m>,
    (id, face): (FaceId, &Face),
    line: &FloorLine,
    barrier: Barrier<'m>,
    joint: &'m Joint,
) {
    let width = walk.plan.face(id).and_then(|plan| plan.outline.bounds()).map(|bounds| bounds.width());
    let detail = line.detail.and_then(|detail| walk.model.detail(detail));
    let near = walk.surface(barrier.layer);
    let made = AirJoint {
        kind: "floor_line",
        place: format!("{}.{}", face.name, line.name),
        owner: detail.map(|detail| detail.name.clone()).unwrap_or_default(),
        length: width.unwrap_or(Length::ZERO),
        used: line.origin,
        ..walk.joint(id, barrier, joint, near)
    };
    walk.add(made);
}
