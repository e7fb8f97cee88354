//! A joint of the air barrier too narrow to hold.

use super::joints::{self, Said};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::AirJoint;
use crate::model::Limit;
use crate::units::Length;

/// `air.joint_too_narrow`
pub struct AirJointTooNarrow;

static META: RuleMeta = RuleMeta {
    id: "air.joint_too_narrow",
    catalogue: "",
    title: "a part that closes the air barrier is too narrow to hold",
    grade: Grade::S2,
    before: "H1",
    limits: &["air_joint.width", "air_joint.width_concrete", "penetration.flange", "air_joint.sealant_width"],
    explain: "\
# What it checks
The bond on each side of a tape, strip or collar against the limits `air_joint.width`, `air_joint.width_concrete` and
`penetration.flange`; that a tape is wide enough for both sides; and that a bead of sealant is as wide as
`air_joint.sealant_width` and no deeper than it is wide.

# Why
A tape that holds by 10 mm on one side is pulled off by the first wind. A bead that is deeper than wide tears at its edges.

# Example
    air seals to foundation with membranes.self_adhered, width 40mm, primer yes

# Better
    air seals to foundation with membranes.self_adhered, width 75mm, primer yes

# Basis
Common practice; the size of beads from memory of ASTM C1193.

# Known gaps
How evenly a tape was centred is not known.
",
};

impl Rule for AirJointTooNarrow {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.air().joints.is_empty() {
            return;
        }
        let Some(sheet) = context.length_limit(&META, "air_joint.width", report) else { return };
        let Some(concrete) = context.length_limit(&META, "air_joint.width_concrete", report) else { return };
        let Some(flange) = context.length_limit(&META, "penetration.flange", report) else { return };
        let Some(bead) = context.length_limit(&META, "air_joint.sealant_width", report) else { return };
        joints::report(context, &META, report, |joint| {
            let on_concrete = joint.sides.iter().any(|side| matches!(side.kinds.as_slice(), ["concrete" | "masonry"]));
            match joint.kind {
                _ if joint.bead => judge_bead(context, joint, bead),
                "service" => legs(context, joint, flange),
                _ if on_concrete => legs(context, joint, concrete),
                _ => legs(context, joint, sheet),
            }
        });
    }
}

type Least<'m> = (&'m Limit, Length);

fn legs(context: &CheckContext<'_>, joint: &AirJoint, (limit, least): Least<'_>) -> Option<Said> {
    let name = joints::called(context, joint);
    let Some(leg) = joints::leg(context, joint) else {
        // A strip without a width is as wide as its detail needs; a hole without a flange is asked for one.
        let asked = !matches!(joint.kind, "strip" | "point" | "seam") && joint.with.is_some();
        return asked.then(|| Said::Unknown(format!("how wide `{name}` holds on each side (`width`)")));
    };
    let product = joint.product(context.model).filter(|product| product.kind == "tape");
    if let Some(&roll) = product.and_then(|product| product.roll.first())
        && leg * 2 > roll
    {
        let message =
            format!("`{name}` is {} wide: it cannot hold {} on each side", context.shown(roll), context.shown(leg));
        return Some(fault(context, message, limit, roll / 2, leg, "take a wider tape, or say what it does hold"));
    }
    (leg < least).then(|| {
        let message = format!("`{name}` holds {} on each side; {} is wanted", context.shown(leg), context.shown(least));
        fault(context, message, limit, leg, least, "take a wider one, or centre it")
    })
}

fn judge_bead(context: &CheckContext<'_>, joint: &AirJoint, (limit, least): Least<'_>) -> Option<Said> {
    let Some(width) = joint.width else {
        return Some(Said::Unknown("how wide the bead is (`width`)".to_owned()));
    };
    if width < least {
        let message = format!("a bead {} wide; {} is wanted", context.shown(width), context.shown(least));
        return Some(fault(context, message, limit, width, least, "leave a wider joint"));
    }
    let depth = joint.depth.filter(|depth| *depth > width)?;
    let message = format!("a bead {} deep and {} wide tears at its edges", context.shown(depth), context.shown(width));
    Some(fault(context, message, limit, depth, width, "set a backer, so that the bead is no deeper than wide"))
}

fn fault(
    context: &CheckContext<'_>,
    message: String,
    limit: &Limit,
    own: Length,
    wanted: Length,
    help: &'static str,
) -> Said {
    let (own, wanted, limit) = (context.measure(own), context.measure(wanted), limit.clone());
    let finish =
        move |finding: Finding| finding.against(&limit).measured(own.clone()).wanted(wanted.clone()).help(help);
    Said::Fault(message, Box::new(finish))
}
