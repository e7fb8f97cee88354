//! A block across the gap whose top holds the water that meets it.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::model::{Block, FaceId};
use crate::units::{Length, display};

/// `block.dams_gap`
pub struct BlockDamsGap;

static META: RuleMeta = RuleMeta {
    id: "block.dams_gap",
    catalogue: "DR-08",
    title: "a block in the gap holds water on its top",
    grade: Grade::S2,
    before: "H4",
    limits: &["block.width_undrained", "block.bevel", "block.side_gap"],
    explain: "\
# What it checks
A block across the gap, as wide as `block.width_undrained` or wider, that has no flashing and is said to be drained:
its top is bevelled by `block.bevel`, and it stays `block.side_gap` from the cladding at its sides.

# Why
Water in the gap lands on the top of the block. Flat and tight, it stays there until the wood has drunk it.

# Example
    block lamp at (1200mm, 1800mm), width 200mm, height 200mm, thickness 40mm, on plane, drained yes

# Better
    block lamp at (1200mm, 1800mm) {
        width 200mm, height 200mm, thickness 40mm, on plane, drained yes
        bevel    15deg
        side_gap 6mm
    }

# Basis
Common practice.

# Known gaps
A block with neither flashing nor a way past it is told by `drain.no_exit`. The flashing of a block is judged as any
other flashing.
",
};

impl Rule for BlockDamsGap {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for (at, block) in face.blocks.iter().enumerate() {
                let crosses = block.on != Some("cladding") && block.flashing.is_none() && block.drained == Some(true);
                let width = context.plan.face(id).and_then(|plan| plan.blocks.get(at)?.as_ref());
                let Some(shape) = width.filter(|_| crosses) else { continue };
                let Some((_, wide)) = context.length_limit(&META, "block.width_undrained", report) else { return };
                if shape.bounds().width() >= wide {
                    let subject = format!("{}.{}", face.name, block.name);
                    let found = bevel(context, block, &subject).or_else(|| sides(context, block, &subject));
                    report.extend(found.map(|finding| on_block(context, id, block, finding)));
                }
            }
        }
    }
}

fn on_block(context: &CheckContext<'_>, id: FaceId, block: &Block, finding: Finding) -> Finding {
    context.on_face(finding, id, &block.name, block.at, block.at)
}

fn bevel(context: &CheckContext<'_>, block: &Block, subject: &str) -> Option<Finding> {
    let limit = context.limit("block.bevel")?;
    let least = limit.slope()?;
    let Some(bevel) = block.bevel else {
        let missing = format!("how the top of `{}` is bevelled (`bevel`, or a `flashing`)", block.name);
        return Some(context.unknown(&META, subject, block.origin, missing));
    };
    let shown = |slope: f64| Measure { value: Some(slope), shown: display::slope_degrees(slope) };
    let bevel = bevel.to_radians().tan();
    // A billionth: the limit went through a tangent as well.
    if bevel >= least - 1e-9 {
        return None;
    }
    let (own, wanted) = (shown(bevel), shown(least));
    let message =
        format!("the top of `{}` falls {}: water stands on it, {} is wanted", block.name, own.shown, wanted.shown);
    let help = format!("bevel its top by {}, or give it a flashing with end dams", wanted.shown);
    Some(context.fault(&META, subject, block.origin, message).against(limit).measured(own).wanted(wanted).help(help))
}

fn sides(context: &CheckContext<'_>, block: &Block, subject: &str) -> Option<Finding> {
    let limit = context.limit("block.side_gap")?;
    let least = limit.length()?;
    let Some(gap) = block.side_gap else {
        let missing = format!("how far `{}` stays from the cladding at its sides (`side_gap`)", block.name);
        return Some(context.unknown(&META, subject, block.origin, missing));
    };
    if gap >= least {
        return None;
    }
    let how = if gap <= Length::ZERO { "tight".to_owned() } else { context.shown(gap) };
    let message =
        format!("the sides of `{}` leave {how} for water to pass; {} is wanted", block.name, context.shown(least));
    let finding = context.fault(&META, subject, block.origin, message).against(limit);
    let finding = finding.measured(context.measure(gap)).wanted(context.measure(least));
    Some(finding.help(format!("cut the cladding {} farther from its sides", context.shown(least - gap))))
}
