//! Copper above aluminium or zinc: the rain carries it down.

use super::{made_of, stuff_metal};
use crate::checks::pieces::{Piece, called, faces, pieces_by_face, runs_beside_trims, shared_width, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::{Point, Segment};
use crate::layout::{holes, stack};
use crate::model::{Face, FaceId};
use crate::physics::galvanic::{Metal, runoff_attacks};
use crate::source::Span;
use crate::units::Length;

/// `metal.runoff`
pub struct MetalRunoff;

static META: RuleMeta = RuleMeta {
    id: "metal.runoff",
    catalogue: "CO-03",
    title: "water runs from copper onto aluminium or zinc",
    grade: Grade::S1,
    before: "H4",
    limits: &["drip.copper_clear"],
    explain: "\
# What it checks
On each face: copper or brass, and cladding of copper-treated wood, with aluminium, zinc or galvanised steel
below it in the same stretch of wall. A drip that stands off as far as the rule set says breaks the path.

# Why
Rain takes copper salts down with it. They plate out on aluminium and zinc and eat holes, without any contact
between the two.

# Example
    part flashing flashings.copper, slope 6deg       // at a window head, with an aluminium base flashing under it

# Better
    part flashing flashings.stainless, slope 6deg

# Basis
Trade literature; no code clause. Clear of the wall by 25 mm: common practice.

# Known gaps
Copper roofs and gutters above the face are not declared, and not seen. Treated furring behind the cladding is
not counted.
",
};

/// A stretch of metal, or of treated wood.
struct Stretch {
    name: String,
    metal: Option<Metal>,
    copper_wood: bool,
    segment: Segment,
    stands_off: Option<Length>,
    drip_unsaid: bool,
    at: Span,
}

impl Rule for MetalRunoff {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut pieces = pieces_by_face(context);
        for (id, face) in faces(context.model) {
            let all = stretches(context, id, face, pieces.remove(&id).unwrap_or_default());
            let mut told = std::collections::BTreeSet::new();
            for source in &all {
                let Some(below) = all.iter().find(|below| attacks(source, below)) else { continue };
                if let Some(finding) = judge(context, source, below).filter(|_| told.insert(source.at)) {
                    let what = source.name.split_once('.').map_or(source.name.as_str(), |(_, place)| place);
                    report.push(context.on_face(finding, id, what, source.segment.from, source.segment.to));
                }
            }
        }
    }
}

/// Everything on a face whose run-off or whose skin matters.
fn stretches(context: &CheckContext<'_>, id: FaceId, face: &Face, pieces: Vec<Piece<'_>>) -> Vec<Stretch> {
    let mut found: Vec<Stretch> = Vec::new();
    for piece in pieces {
        found.push(Stretch {
            metal: stuff_metal(context.model, &piece.spec.stuff).and_then(|made| made.family),
            copper_wood: false,
            stands_off: piece.spec.drip.and_then(|(_, out)| out).or(piece.spec.projects),
            drip_unsaid: piece.spec.projects.is_none() && matches!(piece.spec.drip, Some((_, None))),
            at: piece.spec.origin,
            segment: piece.segment,
            name: if piece.name.is_empty() { called(piece.spec).to_owned() } else { piece.name },
        });
    }
    let runs = runs_beside_trims(context, id, face);
    for trim in &face.trims {
        let Some(segment) = holes::trim_line(face, &runs, trim) else { continue };
        let material = context.model.product(trim.product).and_then(|product| product.of);
        found.push(Stretch {
            name: format!("{}.{}", face.name, trim.name),
            metal: made_of(context.model, material).and_then(|made| made.family),
            copper_wood: material
                .and_then(|id| context.model.material(id))
                .is_some_and(|wood| wood.treated == Some("copper")),
            segment,
            stands_off: None,
            drip_unsaid: false,
            at: trim.origin,
        });
    }
    for (at, area) in face.areas.iter().enumerate() {
        let layer = wall(context, id, at).and_then(|wall| wall.layers.get(stack::cladding(wall)?));
        let bounds = context.plan.face(id).and_then(|plan| plan.areas.get(at)?.whole.bounds());
        let (Some(layer), Some(bounds)) = (layer, bounds) else { continue };
        let material = context.model.material_of(&layer.stuff);
        found.push(Stretch {
            name: format!("{}.{}.{}", face.name, area.name, layer.name),
            metal: stuff_metal(context.model, &layer.stuff).and_then(|made| made.family),
            copper_wood: material.is_some_and(|wood| wood.treated == Some("copper")),
            // its foot, where its water leaves
            segment: Segment::new(Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.bottom)),
            stands_off: None,
            drip_unsaid: false,
            at: layer.origin,
        });
    }
    found
}

/// The second lies below the first in a shared stretch of wall, and suffers from what runs down.
fn attacks(source: &Stretch, below: &Stretch) -> bool {
    let above = source.metal.or(source.copper_wood.then_some(Metal::Copper));
    let Some((above, metal)) = above.zip(below.metal) else { return false };
    let foot = source.segment.from.y.min(source.segment.to.y);
    let top = below.segment.from.y.max(below.segment.to.y);
    let under = if source.copper_wood { top <= foot } else { top < foot };
    runoff_attacks(above, metal) && under && shared_width(source.segment, below.segment) > Length::ZERO
}

fn judge(context: &CheckContext<'_>, source: &Stretch, below: &Stretch) -> Option<Finding> {
    let limit = context.limit("drip.copper_clear").and_then(|limit| Some((limit, limit.length()?)));
    let Some((limit, clear)) = limit else {
        let missing = "no rule set in force has a limit `drip.copper_clear`";
        return Some(context.unknown(&META, source.name.clone(), source.at, missing));
    };
    if source.stands_off.is_some_and(|out| out >= clear) {
        return None;
    }
    if source.drip_unsaid {
        let missing = format!("how far the drip of `{}` stands off is not said (`drip … out …`)", source.name);
        return Some(context.unknown(&META, source.name.clone(), source.at, missing));
    }
    let what = if source.copper_wood { "copper-treated wood" } else { "copper" };
    let message = format!("rain runs from `{}` ({what}) onto `{}`, which copper attacks", source.name, below.name);
    let finding = context
        .fault(&META, source.name.clone(), source.at, message)
        .against(limit)
        .wanted(context.measure(clear))
        .also(below.at, "what lies below it")
        .help(format!(
            "let its drip stand {} clear, lead the water off, or change the lower metal",
            context.shown(clear)
        ))
        .path(vec![source.name.clone(), "rain".to_owned(), below.name.clone()]);
    Some(match source.stands_off {
        Some(out) => finding.measured(context.measure(out)),
        None => finding,
    })
}
