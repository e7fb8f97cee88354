//! A removable block whose screws lie behind what it carries.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::lift_offs;
use crate::layout::block_cards;

/// `block.cannot_come_off`
pub struct BlockCannotComeOff;

static META: RuleMeta = RuleMeta {
    id: "block.cannot_come_off",
    catalogue: "SV-01",
    title: "a removable block cannot be unscrewed",
    grade: Grade::S3,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
A block that says it is `removable` can be unscrewed with what it carries in place. Its screws are set out on the
furring or sheathing behind it, at its foot and under its bevel; where a fixture stands before one, it moves along its
strip. No screw is left behind a fixture.

# Why
What is said to come off is taken off one day, by somebody with a screwdriver and no saw.

# Example
    block porch at (1200mm, 1800mm) {
        height 135mm, width 140mm, thickness 30mm, on furring, removable
        fasten screws.stainless 4.5mm x 60mm, into sheathing
        lamp porch_lamp 110mm at (70mm, 67mm)
    }

# Better
    block porch at (1200mm, 1800mm) {
        height 270mm, width 220mm, thickness 30mm, on furring, removable
        fasten screws.stainless 4.5mm x 60mm, into sheathing
        lamp porch_lamp 110mm at (110mm, 135mm)
    }

# Basis
Common practice: a removable cover or block.

# Known gaps
How large a cover is, is not said: a fixture is taken as its own size, with 12 mm round it. Screws into studs are marked on
the wall as the card of the block says, and are not judged.
",
};

impl Rule for BlockCannotComeOff {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let cards = block_cards::find(context.model, context.plan);
        for off in lift_offs(context.model, context.plan, &cards) {
            let Some(face) = context.model.face(off.face) else { continue };
            let Some(block) = face.blocks.get(off.block) else { continue };
            let subject = format!("{}.{}", face.name, block.name);
            let finding = match (off.covered.first(), off.untold.first()) {
                (Some(first), _) => {
                    let more = if off.covered.len() > 1 {
                        format!(", and {} more", off.covered.len() - 1)
                    } else {
                        String::new()
                    };
                    let message = format!("`{}` cannot be unscrewed: {first}{more}", block.name);
                    context
                        .fault(&META, subject, block.origin, message)
                        .on_principle("common practice: what is said to come off can be unscrewed", false)
                        .help("make the block larger, or move what it carries, so that its screws can be reached")
                }
                (None, Some(missing)) => context.unknown(&META, subject, block.origin, missing.clone()),
                (None, None) => continue,
            };
            report.push(context.on_face(finding, off.face, &block.name, block.at, block.at));
        }
    }
}
