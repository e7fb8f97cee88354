//! Sealant in place of a flashing.

use crate::checks::pieces::{called, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::plan::{Part, Run};

/// `joint.caulk_only`
pub struct JointCaulkOnly;

static META: RuleMeta = RuleMeta {
    id: "joint.caulk_only",
    catalogue: "LA-10",
    title: "sealant alone keeps water out of a level joint",
    grade: Grade::S2,
    before: "H5",
    limits: &[],
    explain: "\
# What it checks
Level joints of the wall: heads, bases, breaks at floors, lines along decks. Where the detail has sealant and no
flashing, cap, apron, coping, closure or pan, the sealant is all there is.

# Why
A bead of sealant opens within a few years and does not show it. Behind it there is nothing.

# Example
    detail joint {
        at   floor_line
        part sealant sealants.hybrid
    }

# Better
    detail joint {
        at   floor_line
        part flashing flashings.aluminium_coil, slope 15deg, laps under water by 75mm
        part sealant sealants.hybrid
    }

# Basis
A federal wood laboratory holds that sealant is no substitute for flashing; common practice.

# Known gaps
It can always tell. Claddings that meet, and ledgers, are told by their own rules. Upright joints are not judged.
",
};

impl Rule for JointCaulkOnly {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut told = std::collections::BTreeSet::new();
        for (run, place) in runs(context) {
            let level = matches!(run.kind, "head" | "base" | "floor_line" | "deck_line" | "underside");
            let Some(bead) = bead(context, run).filter(|_| level && place.upper_laps.is_none()) else { continue };
            // One message for a detail that a face uses on many openings.
            if !told.insert((run.face, bead.spec.origin)) {
                continue;
            }
            let message = format!("`{}` alone keeps water out of `{}`", called(&bead.spec), run.name);
            let finding = context
                .fault(&META, run.name.clone(), bead.spec.origin, message)
                .on_principle("sealant is no substitute for flashing: common practice", false)
                .also(run.origin, "used here")
                .help("add a flashing behind it that laps under the membrane, and let the sealant be the second line");
            report.push(context.on_run(finding, run, run.segment));
        }
    }
}

/// The sealant of a joint that has nothing else.
pub(super) fn bead<'c>(context: &CheckContext<'c>, run: &'c Run) -> Option<&'c Part> {
    let sheds = |part: &Part| {
        matches!(
            part.spec.kind,
            "flashing"
                | "cap"
                | "apron"
                | "coping"
                | "closure"
                | "pan"
                | "step_flashing"
                | "saddle"
                | "channel"
                | "flap"
        )
    };
    if context.plan.parts_of(run).any(sheds) {
        return None;
    }
    context.plan.parts_of(run).find(|part| part.spec.kind == "sealant")
}
