//! A joint of the air barrier whose part does not hold on what it joins.

use super::joints::{self, Said};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{AirJoint, Hold, Lack};

/// `air.joint_does_not_bond`
pub struct AirJointDoesNotBond;

static META: RuleMeta = RuleMeta {
    id: "air.joint_does_not_bond",
    catalogue: "AI-08",
    title: "a part that closes the air barrier does not hold on what it joins",
    grade: Grade::S2,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Every joint of the barrier that names a part: along edges, round openings, at holes, floors and points, and the strips of
details that carry the barrier. The product `bonds to` what stands on each side, or is `primed to` it and the joint says
`primer yes`.

# Why
A tape on bare concrete or a raw board looks sealed on the day and has let go by the first winter.

# Example
    air seals to foundation with tapes.bitumen, width 75mm

# Better
    air seals to foundation with membranes.self_adhered, width 75mm, primer yes

# Basis
The maker's word, as the product declares it; which family holds on what is common practice.

# Known gaps
Damp and dust are not declared. What a roof deck, a deck or a pipe is of is taken as any of the usual: the rule speaks
where the part holds on none of them. Seams of layers are told by `tape.wrong_surface`.
",
};

impl Rule for AirJointDoesNotBond {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        joints::report(context, &META, report, |joint| judge(context, joint));
    }
}

fn judge(context: &CheckContext<'_>, joint: &AirJoint) -> Option<Said> {
    if joint.kind == "seam" {
        return None;
    }
    let name = joints::called(context, joint);
    let words = |kind: &str| kind.replace('_', " ");
    match joint.holds(context.model) {
        Hold::Yes | Hold::CannotTell => None,
        Hold::Not(side, kind) => Some(Said::Fault(
            format!("`{name}` does not hold on {}, of which {} is", words(kind), side.words),
            Box::new(|finding| basis(finding).help("take a part that bonds to both sides")),
        )),
        Hold::Unprimed(side, kind) => Some(Said::Fault(
            format!("`{name}` holds on {} over primer only, and {} is not primed", words(kind), side.words),
            Box::new(|finding| basis(finding).help("prime it: `primer yes`")),
        )),
        Hold::Missing(lack) => Some(Said::Unknown(missing(&name, &lack))),
    }
}

fn basis(finding: Finding) -> Finding {
    finding.on_principle("the maker's word, as the product declares it", false)
}

fn missing(name: &str, lack: &Lack<'_>) -> String {
    match lack {
        Lack::Product if name.is_empty() => "which product seals it (`seal … with …`)".to_owned(),
        Lack::Product => format!("which product `{name}` is: a material alone does not say what it bonds to"),
        Lack::Bonds => format!("what `{name}` bonds to (`bonds`)"),
        Lack::Primer(side, kind) => {
            let kind = kind.replace('_', " ");
            format!("whether {} is primed: `{name}` holds on {kind} over primer only (`primer`)", side.words)
        }
        Lack::Surface(side) => side.missing.clone().unwrap_or_default(),
    }
}
