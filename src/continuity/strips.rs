//! Strips of details that carry the air barrier and hold by themselves, and the seams of the layer that is the barrier.

use super::air::Walk;
use super::bonds::{AirJoint, Round, Surface, frame_kind, kind_of};
use crate::model::{Assembly, Detail, Face, FaceId, Joint, Model, PartSpec, Place, Product};
use crate::plan::{Run, RunId};
use crate::units::Length;

/// Strips of the details of all edges of a face, and of its points.
pub(super) fn strips(walk: &mut Walk, id: FaceId) {
    let runs: Vec<(RunId, &Run)> = walk.plan.runs_of(id).collect();
    let told: Vec<RunId> = runs.iter().map(|(id, _)| *id).filter(|&id| walk.is_told(id)).collect();
    // Where the barrier is open anyway, nothing more is said of its strips.
    for (run_id, run) in runs.into_iter().filter(|(id, _)| !told.contains(id)) {
        let Some(detail) = sound(walk.model, run.detail) else { continue };
        let place = detail.place(run.kind);
        for spec in place.parts.iter().filter(|spec| sticks(walk.model, spec)) {
            let sides = sides(walk, Round::run(run, Some(place)), place, spec);
            let made = AirJoint {
                run: Some(run_id),
                kind: "strip",
                place: run.name.clone(),
                length: run.segment.length(),
                used: run.origin,
                ..strip(walk, run.face, run.area, detail, place, spec, sides)
            };
            walk.add(made);
        }
    }
    points(walk, id);
}

fn points(walk: &mut Walk, id: FaceId) {
    let plan = walk.plan;
    for node in plan.nodes.iter().filter(|node| node.face == id) {
        let Some(detail) = sound(walk.model, node.detail) else { continue };
        let run = node.runs.iter().find_map(|&run| plan.run(run).filter(|run| run.area.is_some()));
        let area = run.and_then(|run| run.area);
        let round = Round { face: id, area, other: None, edge: None, opening: None, place: Some(&detail.edge) };
        for spec in detail.edge.parts.iter().filter(|spec| sticks(walk.model, spec)) {
            let sides = sides(walk, round, &detail.edge, spec);
            let made = AirJoint {
                kind: "point",
                place: run.map_or_else(|| walk.face_name(id).to_owned(), |run| run.name.clone()),
                length: spec.wraps.unwrap_or(Length::ZERO),
                used: node.origin,
                ..strip(walk, id, area, detail, &detail.edge, spec, sides)
            };
            walk.add(made);
        }
    }
}

fn sound(model: &Model, id: Option<crate::model::DetailId>) -> Option<&Detail> {
    model.detail(id?).filter(|detail| !detail.broken)
}

/// A part that carries the barrier by its own adhesive.
fn sticks(model: &Model, spec: &PartSpec) -> bool {
    let adhesive = |product: &Product| {
        matches!(product.kind, "tape" | "sealant" | "liquid" | "membrane")
            && !(product.bonds.is_empty() && product.primed.is_empty())
    };
    spec.controls.air && model.product_of(&spec.stuff).is_some_and(adhesive)
}

fn strip(
    walk: &Walk,
    face: FaceId,
    area: Option<usize>,
    detail: &Detail,
    place: &Place,
    spec: &PartSpec,
    sides: Vec<Surface>,
) -> AirJoint {
    // What is said of the joint of the same stuff is said of the strip.
    let joint: Option<&Joint> = place.air.iter().find(|joint| joint.with.as_ref() == Some(&spec.stuff));
    let layer = walk.barrier(face, area).and_then(|barrier| barrier.layer.applied);
    AirJoint {
        owner: detail.name.clone(),
        with: Some(spec.stuff.clone()),
        sides,
        width: spec.width.map(|width| width / 2),
        primer: spec.primer.or_else(|| joint.and_then(|joint| joint.primer)),
        applied: joint.and_then(|joint| joint.at).or(layer),
        slack: joint.and_then(|joint| joint.slack),
        ..AirJoint::bare(face, spec.origin)
    }
}

/// What a strip lies on, and what it laps over.
fn sides<'m>(walk: &Walk<'m>, round: Round<'m>, place: &Place, spec: &PartSpec) -> Vec<Surface> {
    let mut sides: Vec<Surface> = Vec::new();
    let wall = walk.assembly_of(round.face, round.area);
    sides.extend(spec.on.and_then(|on| Some((on, wall?))).and_then(|(on, wall)| lies_on(walk, wall, on)));
    for lap in spec.laps.iter().filter(|lap| !lap.under) {
        let surface = match lap.what {
            "foundation" | "roof" | "frame" => walk.far_side(round, lap.what),
            "water" | "membrane" | "upper" | "lower" => walk.far_side(round, "water"),
            "air" => walk.far_side(round, "air"),
            "flashing" => flashing(walk.model, place),
            _ => continue,
        };
        if !sides.contains(&surface) {
            sides.push(surface);
        }
    }
    sides
}

fn lies_on(walk: &Walk, wall: &Assembly, on: &str) -> Option<Surface> {
    let layer = match on {
        "plane" => wall.drainage_plane().map(|(_, layer)| layer),
        "sheathing" => walk.model.sheathing(wall).and_then(|at| wall.layers.get(at)),
        "structure" => {
            let (at, _) = wall.frame()?;
            let layer = wall.layers.get(at)?;
            let kinds = frame_kind(layer).into_iter().collect();
            return Some(Surface { words: "the frame of the wall".to_owned(), kinds, missing: None });
        }
        _ => None,
    }?;
    Some(walk.surface(layer))
}

/// The flashing of the same place, of whatever it is; metal where it does not say.
fn flashing(model: &Model, place: &Place) -> Surface {
    let part = place.parts.iter().find(|part| part.kind == "flashing");
    let kind = part.and_then(|part| kind_of(model, &part.stuff)).unwrap_or("metal");
    Surface { words: "the flashing".to_owned(), kinds: vec![kind], missing: None }
}

/// The seams of the barrier of each area: a rough length, from the size of its rolls or sheets.
pub(super) fn seams(walk: &mut Walk, id: FaceId, face: &Face) {
    for at in 0..face.areas.len() {
        let Some(barrier) = walk.barrier(id, Some(at)) else { continue };
        let Some(tape) = barrier.layer.seam else { continue };
        let area = walk.plan.face(id).and_then(|plan| plan.areas.get(at)).map_or(0.0, |area| area.net.area().as_m2());
        let sheet = walk
            .model
            .product_of(&barrier.layer.stuff)
            .map(|product| if product.roll.is_empty() { product.sheet.as_slice() } else { product.roll.as_slice() });
        let per_area = match sheet {
            Some([width, length, ..]) if *width > Length::ZERO && *length > Length::ZERO => {
                1.0 / width.as_m() + 1.0 / length.as_m()
            }
            _ => 0.0,
        };
        let product = walk.model.product(tape);
        let made = AirJoint {
            kind: "seam",
            place: format!("{}.{}", face.name, face.areas.get(at).map_or("", |area| area.name.as_str())),
            owner: barrier.layer.name.clone(),
            with: Some(crate::model::Stuff {
                material: product.and_then(|product| product.of),
                product: Some(tape),
                name: product.map(|product| product.name.clone()).unwrap_or_default(),
            }),
            sides: vec![walk.surface(barrier.layer)],
            width: product.and_then(|product| product.roll.first().copied()).map(|width| width / 2),
            primer: barrier.layer.primer,
            applied: barrier.layer.applied,
            length: Length::snap_m(area * per_area),
            ..AirJoint::bare(id, barrier.layer.origin)
        };
        walk.add(made);
    }
}
