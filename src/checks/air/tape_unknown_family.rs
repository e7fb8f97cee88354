//! New tape over old tape of another or unknown family.

use std::collections::BTreeMap;

use super::joints::{self, Said};
use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{FaceId, Layer, LayerKind};

/// `tape.unknown_family`
pub struct TapeUnknownFamily;

static META: RuleMeta = RuleMeta {
    id: "tape.unknown_family",
    catalogue: "SV-11",
    title: "new tape goes over old tape that it may not hold on",
    grade: Grade::S3,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Where an `existing` layer is the air barrier: the family of the tape on its seams is known, and new tapes and strips that join
it are of that family, or primed.

# Why
Acrylic, butyl and bitumen do not mix freely: a new tape does not stick to an old one of another family, or softens it.

# Example
    existing sheathing sheets.osb 11mm, controls air, seam tapes.bitumen

# Better
    existing sheathing sheets.osb 11mm, controls air, seam tapes.acrylic

# Basis
Common practice.

# Known gaps
The age of the old tape is not declared. Where new tape keeps clear of old tape is not known.
",
};

impl Rule for TapeUnknownFamily {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut old: BTreeMap<FaceId, (&Layer, Option<&'static str>)> = BTreeMap::new();
        for (face, area, wall) in walls(context) {
            let Some((_, layer)) = wall.air_layer().filter(|(_, layer)| matches!(layer.kind, LayerKind::Existing))
            else {
                continue;
            };
            let tape = layer.seam.and_then(|id| context.model.product(id));
            match tape.and_then(|tape| tape.family) {
                family @ Some(_) => {
                    old.insert(face, (layer, family));
                }
                None => {
                    let what = match tape {
                        None => format!("which tape lies on the seams of `{}` (`seam`)", layer.name),
                        Some(tape) => format!("the family of the old tape `{}` (`family`)", tape.name),
                    };
                    let subject = format!("{}.{}", area_name(context, face, area), layer.name);
                    report.push(context.unknown(&META, subject, layer.origin, what));
                }
            }
        }
        joints::report(context, &META, report, |joint| {
            let (layer, family) = old.get(&joint.face).filter(|_| joint.kind != "seam")?;
            let product = joint.product(context.model)?;
            let new = product.family.filter(|new| Some(*new) != *family && joint.primer != Some(true))?;
            let message = format!(
                "`{}` is {new}, the old tape on `{}` is {}",
                joints::called(context, joint),
                layer.name,
                family.unwrap_or_default()
            );
            let finish = |finding: Finding| {
                let basis = "common practice: families of adhesive do not mix freely";
                finding.on_principle(basis, false).help("take one of the same family, prime, or cut the old tape away")
            };
            Some(Said::Fault(message, Box::new(finish)))
        });
    }
}
