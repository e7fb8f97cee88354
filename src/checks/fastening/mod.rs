//! Fasteners: there at all, long enough, on something that holds, and where that something is.

pub mod bracket_on_soft_layer;
pub mod fasten_missing;
pub mod fastener_misses;
pub mod fastener_near_edge;
pub mod fastener_no_base;
pub mod fastener_too_short;
pub mod fastening_too_sparse_for_wind;
pub mod furring_span_too_long;
pub mod furring_splits;
pub mod furring_thin_for_nails;
pub mod joint_off_support;
pub mod load_on_furring_only;
pub mod screws_overloaded_through_insulation;
pub mod starter_loose;
mod worst;

use std::collections::BTreeSet;

use crate::checks::CheckContext;
use crate::checks::pieces::{area_at, area_name, called, faces, pieces, runs_beside_trims, wall, walls};
use crate::geometry::{Point, Segment};
use crate::layout::{holes, stack};
use crate::loads::{Fastening, of_layers};
use crate::model::{Face, FaceId, Stuff};
use crate::units::Length;

/// Everything that is held by something, each wall and detail once a face.
pub(in crate::checks) fn fastenings<'c>(context: &CheckContext<'c>) -> Vec<Fastening<'c>> {
    let mut found = Vec::new();
    for (face, area, wall) in walls(context) {
        found.extend(of_layers(context.model, &area_name(context, face, area), wall));
    }
    let mut seen = BTreeSet::new();
    for piece in pieces(context) {
        let Some(fasten) = piece.spec.fasten.as_ref() else { continue };
        let Some(wall) = piece.wall(context).filter(|_| seen.insert((piece.face, piece.spec.origin))) else { continue };
        found.push(Fastening {
            what: format!("`{}`", called(piece.spec)),
            of: context.model.material_of(&piece.spec.stuff),
            held: thickness(context, &piece.spec.stuff, piece.spec.thickness, called(piece.spec)),
            behind: piece.spec.on.and_then(|on| stack::lies_on(context.model, wall, on)),
            place: Some((piece.face, piece.segment)),
            at: piece.origin,
            ..Fastening::plain(piece.name.clone(), fasten, wall)
        });
    }
    on_faces(context, &mut found);
    found
}

/// Trims and blocks.
fn on_faces<'c>(context: &CheckContext<'c>, found: &mut Vec<Fastening<'c>>) {
    for (id, face) in faces(context.model) {
        let runs = runs_beside_trims(context, id, face);
        for trim in &face.trims {
            let (Some(fasten), Some(line)) = (&trim.fasten, holes::trim_line(face, &runs, trim)) else { continue };
            let middle = line.midpoint();
            // The middle of an edge is on the boundary of its area, not outside of it.
            let Some(wall) = area_at(context, id, middle).and_then(|area| wall(context, id, area)) else { continue };
            let product = context.model.product(trim.product);
            let held = product.and_then(|product| product.thickness).map(|(_, most)| most);
            let inner = trim.on.unwrap_or(if fasten.into == Some("furring") { "furring" } else { "sheathing" });
            let on = |plane: &str| stack::lies_on(context.model, wall, plane);
            found.push(Fastening {
                what: format!("`{}`", trim.name),
                of: product.and_then(|product| context.model.material(product.of?)),
                held: held.ok_or_else(|| format!("thickness of `{}` is not said", trim.name)),
                behind: on(inner),
                or_behind: if trim.on.is_none() { on("cladding") } else { None },
                place: Some((id, line)),
                ..Fastening::plain(format!("{}.{}", face.name, trim.name), fasten, wall)
            });
        }
        in_the_gap(context, id, face, found);
        for (at, block) in face.blocks.iter().enumerate() {
            let shape = context.plan.face(id).and_then(|plan| plan.blocks.get(at)?.as_ref());
            let (Some(fasten), Some(shape)) = (&block.fasten, shape) else { continue };
            let bounds = shape.bounds();
            let line = Segment::new(Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.bottom));
            let Some(wall) = area_at(context, id, block.at).and_then(|area| wall(context, id, area)) else { continue };
            found.push(Fastening {
                what: format!("`{}`", block.name),
                of: block.cut_from.as_ref().and_then(|stuff| context.model.material_of(stuff)),
                held: block.thickness.ok_or_else(|| format!("thickness of `{}` is not said", block.name)),
                behind: block.on.and_then(|on| stack::lies_on(context.model, wall, on)),
                place: Some((id, line)),
                ..Fastening::plain(format!("{}.{}", face.name, block.name), fasten, wall)
            });
        }
    }
}

/// Loose nailers and fire stops: they stand in the gap, against the layer behind it.
fn in_the_gap<'c>(context: &CheckContext<'c>, id: FaceId, face: &'c Face, found: &mut Vec<Fastening<'c>>) {
    let bounds = context.plan.face(id).and_then(|plan| plan.outline.bounds()).unwrap_or_default();
    let nailers = face.nailers.iter().filter_map(|nailer| {
        let line = Segment::new(nailer.from, Point::new(nailer.to, nailer.from.y));
        Some((&nailer.name, nailer.fasten.as_ref()?, line, Some(nailer.depth)))
    });
    let stops = face.fire_stops.iter().filter_map(|stop| {
        let line = Segment::new(Point::new(bounds.left, stop.at), Point::new(bounds.right, stop.at));
        Some((&stop.name, stop.fasten.as_ref()?, line, None))
    });
    for (name, fasten, line, depth) in nailers.chain(stops) {
        let area = area_at(context, id, line.midpoint()).and_then(|area| wall(context, id, area));
        let Some((wall, gap)) = area.and_then(|wall| Some((wall, stack::gap(wall)?))) else { continue };
        found.push(Fastening {
            what: format!("`{name}`"),
            held: Ok(depth.or(wall.gap().map(|(_, gap)| gap.depth.1)).unwrap_or_default()),
            behind: Some(gap + 1),
            place: Some((id, line)),
            ..Fastening::plain(format!("{}.{name}", face.name), fasten, wall)
        });
    }
}

fn thickness(context: &CheckContext<'_>, stuff: &Stuff, own: Option<Length>, name: &str) -> Result<Length, String> {
    let product = context.model.product_of(stuff);
    let said = product.and_then(|product| product.thickness.map(|(_, most)| most).or(product.size.first().copied()));
    own.or(said).ok_or_else(|| format!("thickness of `{name}` is not said"))
}

/// Puts a finding where its fastening is, if it has a place of its own.
pub(in crate::checks) fn on_wall(
    context: &CheckContext<'_>,
    fastening: &Fastening<'_>,
    finding: crate::checks::Finding,
) -> crate::checks::Finding {
    let what = fastening.subject.split_once('.').map_or(fastening.subject.as_str(), |(_, place)| place);
    let finding = match fastening.place {
        Some((face, line)) => context.on_face(finding, face, what, line.from, line.to),
        None => finding,
    };
    if fastening.at == fastening.fasten.origin {
        finding
    } else {
        finding.also(fastening.fasten.origin, "the fastener")
    }
}
