//! Taped seams of the air barrier behind what never comes off.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::kind_of;
use crate::model::{Layer, LayerKind};

/// `seam.buried`
pub struct SeamBuried;

static META: RuleMeta = RuleMeta {
    id: "seam.buried",
    catalogue: "AI-11",
    title: "taped seams of the air barrier lie behind what does not come off",
    grade: Grade::S3,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Where the seams of the barrier are taped: no layer outboard of it is masonry, concrete, or laid in mortar or a liquid coat, so
that the seams can be reached again.

# Why
A tape that needs renewing in fifteen years is behind a bonded face, and the mend costs the whole wall.

# Example
    layer face brick 90mm, controls rain                 // over `seam tapes.acrylic`

# Better
    layer barrier membranes.liquid, controls water and air

# Basis
Common practice: seams under what comes off, or a joint made for the life of the cladding.

# Known gaps
A ledger that is bolted through the wall is not known as a cover. How long a tape lives is not declared.
",
};

impl Rule for SeamBuried {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let Some((at, barrier)) = wall.air_layer() else { continue };
            let taped = barrier.seam.and_then(|id| context.model.product(id)).is_some_and(|tape| tape.kind == "tape");
            if !taped || wall.is_inboard_of_frame(at) == Some(true) {
                continue;
            }
            let subject = format!("{}.{}", area_name(context, face, area), barrier.name);
            for cover in
                wall.layers.iter().take(at).filter(|layer| matches!(layer.kind, LayerKind::Solid | LayerKind::Existing))
            {
                match stays(context, cover) {
                    Some(true) => report.push(fault(context, &subject, barrier, cover)),
                    Some(false) => {}
                    None => {
                        let missing = format!("what kind of material `{}` is of (`kind`)", cover.name);
                        report.push(context.unknown(&META, subject.as_str(), cover.origin, missing));
                    }
                }
            }
        }
    }
}

/// Whether a layer is bonded for good.
fn stays(context: &CheckContext<'_>, layer: &Layer) -> Option<bool> {
    if context.model.product_of(&layer.stuff).is_some_and(|product| matches!(product.kind, "mortar" | "liquid")) {
        return Some(true);
    }
    let kind = kind_of(context.model, &layer.stuff)?;
    // Panels of stone or concrete that are screwed on come off; what is laid in mortar does not, ties or not.
    let screwed = layer.fasten.is_some() && kind != "masonry";
    Some(matches!(kind, "masonry" | "concrete" | "mineral") && !screwed && !layer.controls.heat)
}

fn fault(context: &CheckContext<'_>, subject: &str, barrier: &Layer, cover: &Layer) -> Finding {
    let message = format!("the taped seams of `{}` lie behind `{}`, which does not come off", barrier.name, cover.name);
    context
        .fault(&META, subject, cover.origin, message)
        .also(barrier.origin, "the seams behind it")
        .on_principle("common practice: seams under what comes off, or made for the life of the cladding", false)
        .help("take a liquid or adhered barrier without taped seams, or a cover that comes off")
}
