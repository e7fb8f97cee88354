//! A bracket that is drawn against something soft.

use crate::checks::pieces::{area_at, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Bracket, Face, FaceId, Layer, LayerKind, Material};

/// `bracket.on_soft_layer`
pub struct BracketOnSoftLayer;

static META: RuleMeta = RuleMeta {
    id: "bracket.on_soft_layer",
    catalogue: "FA-09",
    title: "a bracket bears on a soft layer",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Every layer between the surface that a bracket or ledger bears on and the frame is rigid, or a rigid `spacer` goes
through it.

# Why
Insulation creeps and a gap gives. The bolt loses its tension, the bracket works, its hole leaks, and a deck or an
awning hangs on it.

# Example
    bracket awning at (2000mm, 2300mm) {
        bears  on cladding
        fasten screws.structural 6mm x 200mm, into studs
    }

# Better
    bracket awning at (2000mm, 2300mm) {
        bears  on cladding
        spacer stainless_steel
        fasten screws.structural 6mm x 200mm, into studs
    }

# Basis
The bearing path is rigid from bracket to frame: common practice. Ledgers and awnings are to be designed by an
engineer; this only looks at what lies between.

# Known gaps
The load, the bolts and the strength of the frame are not judged.
",
};

impl Rule for BracketOnSoftLayer {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for bracket in &face.brackets {
                let finding = judge(context, id, face, bracket);
                report
                    .extend(finding.map(|finding| context.on_face(finding, id, &bracket.name, bracket.at, bracket.at)));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, id: FaceId, face: &Face, bracket: &Bracket) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, bracket.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), bracket.origin, missing));
    let wall = area_at(context, id, bracket.at).and_then(|area| wall(context, id, area))?;
    let Some(on) = bracket.bears_on else {
        return unknown(format!("what `{}` bears on is not said (`bears on …`)", bracket.name));
    };
    let frame = wall.frame().map(|(at, _)| at);
    let (Some(outer), Some(frame)) = (stack::lies_on(context.model, wall, on), frame) else {
        return unknown(format!("`{}` has no {on} or no frame", wall.name));
    };
    let spacer = bracket.spacer.as_ref();
    if let Some(soft) =
        spacer.and_then(|stuff| context.model.material_of(stuff)).filter(|one| softness(one) == Some(true))
    {
        let message = format!("the spacer of `{}` is of `{}`, which gives", bracket.name, soft.name);
        return Some(fault(context, subject, bracket, message));
    }
    if spacer.is_some() {
        return None;
    }
    let between = wall.layers.get(outer..frame)?;
    let soft = |layer: &&Layer| matches!(layer.kind, LayerKind::Gap(_)) || layer_is_soft(context, layer) == Some(true);
    let found: Vec<String> = between.iter().filter(soft).map(|layer| format!("`{}`", layer.name)).collect();
    if !found.is_empty() {
        let message =
            format!("`{}` bears on {} with {} behind it, and no spacer", bracket.name, on, found.join(" and "));
        return Some(fault(context, subject, bracket, message));
    }
    let unsaid = between.iter().find(|layer| layer_is_soft(context, layer).is_none())?;
    unknown(format!("whether `{}` gives is not said (`compressible`)", unsaid.name))
}

fn fault(context: &CheckContext<'_>, subject: String, bracket: &Bracket, message: String) -> Finding {
    context
        .fault(&META, subject, bracket.origin, message)
        .on_principle("common practice: the bearing path is rigid from bracket to frame; an engineer designs it", false)
        .help("put rigid tubes or blocks between bracket and frame (`spacer …`), sealed to the barrier")
}

fn layer_is_soft(context: &CheckContext<'_>, layer: &Layer) -> Option<bool> {
    if context.model.is_membrane(&layer.stuff) {
        return Some(false);
    }
    softness(context.model.material_of(&layer.stuff)?)
}

/// Whether a material gives under a bracket; not said for what may be either.
fn softness(material: &Material) -> Option<bool> {
    let rigid = matches!(
        material.kind,
        "wood" | "wood_board" | "metal" | "concrete" | "masonry" | "membrane" | "fibre_cement" | "gypsum"
    );
    material.compressible.or(rigid.then_some(false))
}
