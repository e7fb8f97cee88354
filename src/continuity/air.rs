//! The air barrier of a building: from layer to layer through named parts, and where it ends.

use super::bonds::AirJoint;
use super::{closure, joints, points, strips};
use crate::geometry::Point;
use crate::model::{Assembly, FaceId, Layer, Model};
use crate::plan::{Plan, Run, RunId};
use crate::source::Span;
use crate::units::Length;

/// Closure of the air barrier.
#[derive(Debug, Default)]
pub struct AirBarrier {
    /// Places where it ends, in order of face and run; those of buildings last.
    pub ends: Vec<AirEnd>,
    /// Places where it cannot be told: what, the missing fact, and where.
    pub undecided: Vec<AirEnd>,
    /// Joints that have a part, in order of face: edges, openings, holes, floors, strips, points, seams.
    pub joints: Vec<AirJoint>,
}

/// A place where the barrier runs on into nothing.
#[derive(Clone, Debug)]
pub struct AirEnd {
    /// The face.
    pub face: Option<FaceId>,
    /// The stretch of edge, for ends at edges.
    pub run: Option<RunId>,
    /// Index of the service on its face, for ends at holes.
    pub service: Option<usize>,
    /// The point on its face, for ends at points.
    pub at: Option<Point>,
    /// How long it is open; absent where a whole area is, or where it cannot be told.
    pub free: Option<Length>,
    /// `base` (also steps, roof and deck lines), `top` (also rakes and parapets), `opening`, `corner`, `transition` (lying or
    /// upright), `service`, `floor_line`, `point`, `assembly`, `building`.
    pub kind: &'static str,
    /// Steps a person can walk: "plywood of `north`", "head of `kitchen`", "nothing".
    pub path: Vec<String>,
    /// Why it ends there, or the missing fact.
    pub why: String,
    /// Where in the text.
    pub origin: Span,
}

impl AirBarrier {
    /// Walks every run, hole and corner.
    pub fn find(model: &Model, plan: &Plan) -> Self {
        let mut walk = Walk { model, plan, found: Self::default() };
        for index in 0..model.faces.len() {
            let face = FaceId(index as u32);
            walk.assemblies(face);
            joints::runs(&mut walk, face);
            joints::services(&mut walk, face);
            joints::floor_lines(&mut walk, face);
            strips::strips(&mut walk, face);
            points::points(&mut walk, face);
            if let Some(sound) = model.face(face) {
                strips::seams(&mut walk, face, sound);
            }
        }
        closure::buildings(&mut walk);
        walk.found
    }
}

/// The walk along the barrier, with what it has found so far.
pub(super) struct Walk<'m> {
    pub model: &'m Model,
    pub plan: &'m Plan,
    found: AirBarrier,
}

/// The barrier of one area.
#[derive(Clone, Copy)]
pub(super) struct Barrier<'m> {
    pub assembly: &'m Assembly,
    /// Index of the layer.
    pub index: usize,
    pub layer: &'m Layer,
}

impl<'m> Walk<'m> {
    /// The one layer of an area that is said to control air.
    pub fn barrier(&self, face: FaceId, area: Option<usize>) -> Option<Barrier<'m>> {
        let area = self.model.face(face)?.areas.get(area?)?;
        let assembly = self.model.assembly(area.assembly)?;
        let (index, layer) = assembly.air_layer()?;
        Some(Barrier { assembly, index, layer })
    }

    /// "membrane of `north`": the material where it is one, or the layer's own name.
    pub fn step(&self, barrier: Barrier, face: FaceId) -> String {
        let layer = barrier.layer;
        let what = if layer.stuff.product.is_none() { &layer.stuff.name } else { &layer.name };
        format!("{what} of `{}`", self.face_name(face))
    }

    pub fn face_name(&self, face: FaceId) -> &'m str {
        self.model.face(face).map_or("", |face| face.name.as_str())
    }

    /// Whether something was already told of this stretch.
    pub fn is_told(&self, run: RunId) -> bool {
        self.found.ends.iter().chain(&self.found.undecided).any(|end| end.run == Some(run))
    }

    pub fn end(&mut self, end: AirEnd) {
        self.found.ends.push(end);
    }

    pub fn add(&mut self, joint: AirJoint) {
        self.found.joints.push(joint);
    }

    /// How an area is built.
    pub fn assembly_of(&self, face: FaceId, area: Option<usize>) -> Option<&'m Assembly> {
        let area = self.model.face(face)?.areas.get(area?)?;
        self.model.assembly(area.assembly)
    }

    pub fn cannot_tell(&mut self, end: AirEnd) {
        self.found.undecided.push(end);
    }

    /// Each assembly on a face names exactly one layer as its barrier.
    fn assemblies(&mut self, id: FaceId) {
        let Some(face) = self.model.face(id) else { return };
        let mut seen = Vec::new();
        for area in &face.areas {
            let Some(assembly) = self.model.assembly(area.assembly) else { continue };
            let layers: Vec<String> = assembly.air_layers().map(|(_, layer)| format!("`{}`", layer.name)).collect();
            if assembly.broken || layers.len() == 1 || seen.contains(&area.assembly) {
                continue;
            }
            seen.push(area.assembly);
            let (why, path) = if layers.is_empty() {
                let why = format!("no layer of `{}` controls air", assembly.name);
                (why, vec![format!("area `{}` of `{}`", area.name, face.name), "nothing".to_owned()])
            } else {
                let why = format!(
                    "{} of `{}` are each said to control air, and none is the barrier",
                    and(&layers),
                    assembly.name
                );
                (why, layers)
            };
            self.end(AirEnd {
                face: Some(id),
                run: None,
                service: None,
                at: None,
                free: None,
                kind: "assembly",
                path,
                why,
                origin: assembly.origin,
            });
        }
    }
}

impl AirEnd {
    /// An end at a run, still without path and reason.
    pub(super) fn at_run(id: RunId, run: &Run, kind: &'static str, path: Vec<String>, why: String) -> Self {
        let free = Some(run.segment.length());
        Self { face: Some(run.face), run: Some(id), service: None, at: None, free, kind, path, why, origin: run.origin }
    }
}

/// "a", "a and b", "a, b and c".
pub(super) fn and(words: &[String]) -> String {
    match words.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}
