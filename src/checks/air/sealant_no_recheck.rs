//! A bead of sealant that nobody is to look at again.

use super::joints::{self, Said};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `sealant.no_recheck`
pub struct SealantNoRecheck;

static META: RuleMeta = RuleMeta {
    id: "sealant.no_recheck",
    catalogue: "SV-05",
    title: "the air barrier hangs on a bead that nobody looks at again",
    grade: Grade::S3,
    before: "H6",
    limits: &[],
    explain: "\
# What it checks
Each joint of the barrier that is a bead of sealant and nothing else has a day by which it is looked at (`recheck`).

# Why
Sealant is the shortest-lived part of a wall. It lets go quietly, years before anybody sees why the wall is wet.

# Example
    air seals to frame with sealants.hybrid, width 10mm

# Better
    air seals to frame with sealants.hybrid, width 10mm, recheck 2036-05-01

# Basis
Common practice: a bead that is the only seal is dated.

# Known gaps
It can always tell. Whether the day is soon enough is not judged; the width of a bead is told by `air.joint_too_narrow`.
",
};

impl Rule for SealantNoRecheck {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        joints::report(context, &META, report, |joint| {
            let undated = joint.bead && joint.recheck.is_none();
            let name = joints::called(context, joint);
            let bead = if name.is_empty() { "a bead of sealant".to_owned() } else { format!("a bead of `{name}`") };
            undated.then(|| {
                let finish = |finding: Finding| {
                    let basis = "common practice: a bead that is the only seal is dated";
                    finding.on_principle(basis, false).help("say when it is looked at again: `recheck 2036-05-01`")
                };
                Said::Fault(format!("{bead} is the only seal, and has no day for a second look"), Box::new(finish))
            })
        });
    }
}
