//! Parts: what details put on each stretch of edge, and the caps of blocks, vents and fire stops.

use super::gap::{SHEET, top_of};
use super::places::Scene;
use super::{FacePlan, Part, PartId, Run, RunId};
use crate::geometry::{Point, Segment};
use crate::model::PartSpec;
use crate::units::Length;

/// All parts of a face; ids are noted in the runs.
pub(super) fn make(scene: &Scene<'_>, plan: &FacePlan, runs: &mut [Run]) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    for (at, run) in runs.iter_mut().enumerate() {
        let Some(detail) = run.detail.and_then(|id| scene.model.detail(id)) else { continue };
        for (rank, spec) in detail.parts_at(run.kind).enumerate() {
            run.parts.push(PartId(parts.len() as u32));
            let loose = part(scene, &run.name, spec, run.segment);
            parts.push(Part { run: Some(RunId(at as u32)), rank, ..loose });
        }
    }
    caps(scene, plan, &mut parts);
    parts
}

/// A part on no run, named after what it belongs to.
fn part(scene: &Scene<'_>, owner: &str, spec: &PartSpec, segment: Segment) -> Part {
    Part {
        run: None,
        face: scene.id,
        spec: spec.clone(),
        functions: spec.controls,
        rank: 0,
        name: format!("{owner}.{}", spec.name.as_deref().unwrap_or(spec.kind)),
        segment,
        origin: spec.origin,
    }
}

/// Flashings over blocks, rows of slots and fire stops, left to right.
fn caps(scene: &Scene<'_>, plan: &FacePlan, parts: &mut Vec<Part>) {
    let level = |(left, right): (Length, Length), y: Length| Segment::new(Point::new(left, y), Point::new(right, y));
    let mut cap = |name: &str, spec: &Option<PartSpec>, segment: Segment| {
        if let Some(spec) = spec {
            parts.push(part(scene, &format!("{}.{name}", scene.face.name), spec, segment));
        }
    };
    for (block, shape) in scene.face.blocks.iter().zip(&plan.blocks) {
        if let Some(bounds) = shape.as_ref().map(|shape| shape.bounds()) {
            cap(&block.name, &block.flashing, level((bounds.left, bounds.right), bounds.top));
        }
    }
    for vent in &scene.face.vents {
        cap(&vent.name, &vent.flashing, level(scene.across(vent.from, vent.to), vent.height + vent.slot + SHEET));
    }
    for stop in &scene.face.fire_stops {
        cap(&stop.name, &stop.flashing, level(scene.across(stop.from, stop.to), top_of(stop)));
    }
}
