//! Lower edges of walls with what stands on them: shared by the rules about ground, roofs and decks.

use crate::checks::{CheckContext, Finding};
use crate::layout::ground::Near;
use crate::model::{Assembly, Face, FaceId, Layer, LayerKind};
use crate::plan::{Run, RunPlace};
use crate::units::Length;

/// One stretch of a lower edge.
pub struct Foot<'m, 'p> {
    /// The face.
    pub face: &'m Face,
    /// The stretch.
    pub run: &'p Run,
    /// Clearance asked by the edge, or failing that by its detail.
    pub keep: Option<Length>,
    /// Name of the cladding there.
    pub cladding: &'m str,
    /// Whether that takes up water: `no`, `little`, `much`; `None` if its material does not say.
    pub absorbs: Option<&'static str>,
}

/// All stretches of a kind, in order.
pub fn feet<'m, 'c: 'p, 'p>(context: &'c CheckContext<'m>, kind: &str) -> Vec<Foot<'m, 'p>> {
    let model = context.model;
    let of_kind = context.plan.runs.iter().filter(|run| run.kind == kind);
    of_kind
        .filter_map(|run| {
            let face = model.face(run.face)?;
            let edge = match run.place {
                RunPlace::Edge(at) => face.edges.get(at),
                _ => None,
            };
            let keep = edge
                .and_then(|edge| edge.keep)
                .or_else(|| run.detail.and_then(|id| model.detail(id)).and_then(|detail| detail.keep));
            let layer = assembly(context, run.face, run.area).and_then(cladding);
            let absorbs = layer.and_then(|layer| model.material_of(&layer.stuff)?.absorbs_water);
            Some(Foot { face, run, keep, cladding: layer.map_or("", |layer| &layer.stuff.name), absorbs })
        })
        .collect()
}

/// How an area of a face is built.
pub fn assembly<'m>(context: &CheckContext<'m>, face: FaceId, area: Option<usize>) -> Option<&'m Assembly> {
    context.model.assembly(context.model.face(face)?.areas.get(area?)?.assembly)
}

/// The cladding: the layer that sheds rain, or failing that the outermost solid one.
pub fn cladding(assembly: &Assembly) -> Option<&Layer> {
    let solid = |layer: &&Layer| matches!(layer.kind, LayerKind::Solid | LayerKind::Existing);
    assembly.layers.iter().find(|layer| layer.controls.rain).or_else(|| assembly.layers.iter().find(solid))
}

/// "`north.base` stays 80 mm above the ground at worst, at 7.2 m; too near over 3.1 m".
pub fn sentence(context: &CheckContext<'_>, foot: &Foot<'_, '_>, near: &Near, what: &str) -> String {
    let how = if near.clearance < Length::ZERO {
        format!("lies {} below {what}", context.shown(-near.clearance))
    } else {
        format!("stays only {} above {what}", context.shown(near.clearance))
    };
    let (worst, over) = (context.from_left(foot.run.face, near.worst.x), near.to.x - near.from.x);
    format!("`{}` {how}, at worst {worst}; too near over {}", foot.run.name, context.shown(over))
}

/// The stretch as the finding's place.
pub fn place(context: &CheckContext<'_>, finding: Finding, foot: &Foot<'_, '_>, near: &Near) -> Finding {
    let what = foot.run.name.split_once('.').map_or(foot.run.kind, |(_, place)| place);
    context.on_face(finding, foot.run.face, what, near.from, near.to)
}
