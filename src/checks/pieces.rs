//! Parts as rules walk them: everything sound that lies on a face, with its run, its detail's place, and the wall behind it.

use std::collections::{BTreeMap, BTreeSet};

use super::{CheckContext, Finding};
use crate::geometry::{Place as Lies, Point, Segment};
use crate::model::{Assembly, Detail, Face, FaceId, Model, PartSpec, Place, Stuff};
use crate::plan::Run;
use crate::source::Span;
use crate::units::Length;

/// One part where it lies.
#[derive(Clone)]
pub struct Piece<'c> {
    /// The face.
    pub face: FaceId,
    /// As its detail says.
    pub spec: &'c PartSpec,
    /// Dotted name: `north.base.flashing`.
    pub name: String,
    /// From where to where.
    pub segment: Segment,
    /// The stretch of edge; none for caps of blocks and vents.
    pub run: Option<&'c Run>,
    /// Where it is used.
    pub origin: Span,
}

/// Faces that were understood, with their ids.
pub fn faces(model: &Model) -> impl Iterator<Item = (FaceId, &Face)> {
    let all = model.faces.iter().enumerate().map(|(at, face)| (FaceId(at as u32), face));
    all.filter(|(_, face)| !face.broken && face.outline.is_some())
}

/// The detail of a run, if it has one that was understood.
pub fn detail<'c>(context: &CheckContext<'c>, run: &Run) -> Option<&'c Detail> {
    context.model.detail(run.detail?).filter(|detail| !detail.broken)
}

/// What its detail says of a run.
pub fn place<'c>(context: &CheckContext<'c>, run: &Run) -> Option<&'c Place> {
    detail(context, run).map(|detail| detail.place(run.kind))
}

/// All runs of sound faces whose detail was understood.
pub fn runs<'c>(context: &CheckContext<'c>) -> impl Iterator<Item = (&'c Run, &'c Place)> {
    let plan = context.plan;
    let sound: BTreeSet<FaceId> = faces(context.model).map(|(id, _)| id).collect();
    let found: Vec<_> = plan
        .runs()
        .filter(|(_, run)| sound.contains(&run.face))
        .filter_map(|(_, run)| Some((run, place(context, run)?)))
        .collect();
    found.into_iter()
}

/// All parts of sound faces.
pub fn pieces<'c>(context: &CheckContext<'c>) -> Vec<Piece<'c>> {
    pieces_by_face(context).into_values().flatten().collect()
}

/// The same, by face.
pub fn pieces_by_face<'c>(context: &CheckContext<'c>) -> BTreeMap<FaceId, Vec<Piece<'c>>> {
    let plan = context.plan;
    let mut found: BTreeMap<FaceId, Vec<Piece<'c>>> = faces(context.model).map(|(id, _)| (id, Vec::new())).collect();
    for part in &plan.parts {
        let Some(here) = found.get_mut(&part.face) else { continue };
        let run = part.run.and_then(|run| plan.run(run));
        if run.is_some_and(|run| run.detail.is_some() && detail(context, run).is_none()) {
            continue;
        }
        let (spec, name, segment) = (&part.spec, part.name.clone(), part.segment);
        let origin = run.map_or(part.origin, |run| run.origin);
        here.push(Piece { face: part.face, spec, name, segment, run, origin });
    }
    found
}

/// The name of a part, or its kind where it has none.
pub fn called(spec: &PartSpec) -> &str {
    spec.name.as_deref().unwrap_or(spec.kind)
}

/// Whether something is folded or rigid rather than a sheet that sticks; a part that says nothing of it counts as rigid.
pub fn rigid(model: &Model, stuff: &Stuff) -> bool {
    let kind = model.material_of(stuff).map(|material| material.kind);
    let product = model.product_of(stuff).map(|product| product.kind);
    !matches!(kind, Some("membrane" | "sealant"))
        && !matches!(product, Some("membrane" | "tape" | "liquid" | "sealant"))
}

impl<'c> Piece<'c> {
    /// The wall it lies on: that of its run, or of the area it lies in.
    pub fn wall(&self, context: &CheckContext<'c>) -> Option<&'c Assembly> {
        let area =
            self.run.and_then(|run| run.area).or_else(|| area_at(context, self.face, self.segment.midpoint()))?;
        wall(context, self.face, area)
    }

    /// It lies rather than stands: water can stand on it.
    pub fn lies(&self) -> bool {
        !self.segment.is_vertical() && self.run.is_none_or(|run| !matches!(run.kind, "jamb" | "side" | "corner"))
    }

    /// Puts a finding on its stretch of wall, and points from the detail to the place where it is used.
    pub fn on_wall(&self, context: &CheckContext<'c>, finding: Finding) -> Finding {
        let what = self.name.split_once('.').map_or(self.name.as_str(), |(_, place)| place);
        let finding = context.on_face(finding, self.face, what, self.segment.from, self.segment.to);
        if self.origin == finding.at { finding } else { finding.also(self.origin, "used here") }
    }
}

/// The wall of an area, if it was understood.
pub fn wall<'c>(context: &CheckContext<'c>, face: FaceId, area: usize) -> Option<&'c Assembly> {
    let area = context.model.face(face)?.areas.get(area)?;
    context.model.assembly(area.assembly).filter(|assembly| !assembly.broken)
}

/// The area in which a point lies.
pub fn area_at(context: &CheckContext<'_>, face: FaceId, at: Point) -> Option<usize> {
    context.plan.face(face)?.areas.iter().position(|area| area.whole.place(at) != Lies::Outside)
}

/// One message for a part that a detail gives to many stretches of one face: the first says it.
#[derive(Default)]
pub struct Once(BTreeSet<(FaceId, Span)>);

impl Once {
    /// Whether this part has not been spoken of on this face.
    pub fn first(&mut self, piece: &Piece<'_>) -> bool {
        self.0.insert((piece.face, piece.spec.origin))
    }
}

/// Assemblies that are used on some sound face, each once, with the face and area that use it first.
pub fn walls<'c>(context: &CheckContext<'c>) -> Vec<(FaceId, usize, &'c Assembly)> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (id, face) in faces(context.model) {
        for (at, area) in face.areas.iter().enumerate() {
            if let Some(assembly) = wall(context, id, at).filter(|_| seen.insert(area.assembly)) {
                found.push((id, at, assembly));
            }
        }
    }
    found
}

/// The runs of a face, for placing its trims; none are looked up where there are no trims.
pub fn runs_beside_trims<'c>(context: &CheckContext<'c>, id: FaceId, face: &Face) -> Vec<&'c Run> {
    let plan = context.plan;
    if face.trims.is_empty() { Vec::new() } else { plan.runs_of(id).map(|(_, run)| run).collect() }
}

/// Dotted name of an area: `north.lower`.
pub fn area_name(context: &CheckContext<'_>, face: FaceId, area: usize) -> String {
    let Some(face) = context.model.face(face) else { return String::new() };
    face.areas.get(area).map_or_else(|| face.name.clone(), |area| format!("{}.{}", face.name, area.name))
}

/// Name of a run without that of its face: `base`, `kitchen.head`.
pub fn place_name(run: &Run) -> &str {
    run.name.split_once('.').map_or(run.name.as_str(), |(_, place)| place)
}

/// How far two stretches lie one above the other, in x.
pub fn shared_width(one: Segment, other: Segment) -> Length {
    let (left, right) = (one.from.x.min(one.to.x), one.from.x.max(one.to.x));
    right.min(other.from.x.max(other.to.x)) - left.max(other.from.x.min(other.to.x))
}
