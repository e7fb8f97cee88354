//! A block where insulation should be.

use super::outboard_insulation;
use crate::checks::pieces::{area_at, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Block, Face, FaceId};

/// `block.cold`
pub struct BlockCold;

static META: RuleMeta = RuleMeta {
    id: "block.cold",
    catalogue: "TH-02",
    title: "a block takes the place of the insulation",
    grade: Grade::S3,
    before: "H2",
    limits: &[],
    explain: "\
# What it checks
A block that stands on the plane or on the sheathing, in a wall with insulation outboard of that, says `insulated yes`:
it is split, hollowed and filled, or of a stuff that insulates.

# Why
A solid block in place of 50 mm of wool is a cold spot as large as a plate, with the tap's pipe in the middle of it.

# Example
    block services at (7800mm, 540mm), on plane

# Better
    block services at (7800mm, 540mm), on furring

# Basis
Common practice; no source.

# Known gaps
How good its filling is, is not asked. Sleeves and boxes are not looked at.
",
};

impl Rule for BlockCold {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for block in &face.blocks {
                let finding = judge(context, (id, face), block);
                report.extend(finding.map(|finding| context.on_face(finding, id, &block.name, block.at, block.at)));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, (id, face): (FaceId, &Face), block: &Block) -> Option<Finding> {
    let wall = area_at(context, id, block.at).and_then(|area| wall(context, id, area))?;
    let behind = stack::lies_on(context.model, wall, block.on?)?;
    let first = outboard_insulation(context, wall, behind).into_iter().next()?;
    let subject = format!("{}.{}", face.name, block.name);
    match block.insulated {
        Some(true) => None,
        Some(false) => {
            let message = format!("block `{}` stands where `{}` should be: a cold spot", block.name, first.name);
            let finding = context.fault(&META, subject, block.origin, message).also(first.origin, "the insulation");
            Some(
                finding
                    .on_principle("common practice", false)
                    .help("put the block on the furring, or split it and insulate behind it (`insulated yes`)"),
            )
        }
        None => {
            let missing = format!("whether insulation stands in or behind block `{}` (`insulated`)", block.name);
            Some(context.unknown(&META, subject, block.origin, missing))
        }
    }
}
