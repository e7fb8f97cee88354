//! Two claddings one above the other with nothing that throws the upper one's water out.

use super::flashings;
use crate::checks::pieces::{called, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Place;
use crate::plan::Run;

/// `transition.no_flashing`
pub struct TransitionNoFlashing;

static META: RuleMeta = RuleMeta {
    id: "transition.no_flashing",
    catalogue: "LA-17",
    title: "nothing throws out the water of the upper gap where two claddings meet",
    grade: Grade::S1,
    before: "H3",
    limits: &["cladding.overlap", "transition.membrane_up"],
    explain: "\
# What it checks
Where one area lies above another, and where the gap ends at a floor, the detail has a flashing that goes back to
the drainage plane (`laps under water`). It may do without where the upper cladding laps the lower one by the
length of the rule set (`upper_laps`).

# Why
Water of the upper gap lands behind the lower cladding. It is the usual leak of boards over stone or panels.

# Example
    detail butt_joint {
        at      transition
        gap_end open
    }

# Better
    detail shelf {
        at   transition
        part flashing aluminium 0.6mm {
            slope 6deg
            laps  under water by 100mm
        }
        gap_end open 10mm to upper, screen meshes.insect
    }

# Basis
NBC 9.27.3.8.(1) and (2), public copy: a flashing at every level junction of elements, except where the upper
laps by 25 mm.

# Known gaps
The code's second exception, both claddings over a drained and vented space with a joint that keeps water out,
is not worked out: accept it by name. A line without any detail is told by another rule.
",
};

impl Rule for TransitionNoFlashing {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let parts_gap = |run: &Run, place: &Place| run.kind == "floor_line" && !place.gap_ends.is_empty();
        let judged = runs(context).filter(|(run, place)| run.kind == "transition" || parts_gap(run, place));
        // Sealant in place of the flashing at a floor is told by `joint.caulk_only`.
        let judged =
            judged.filter(|(run, _)| run.kind == "transition" || super::joint_caulk_only::bead(context, run).is_none());
        for (run, place) in judged {
            report.extend(judge(context, run, place).map(|finding| context.on_run(finding, run, run.segment)));
        }
    }
}

fn judge(context: &CheckContext<'_>, run: &Run, place: &Place) -> Option<Finding> {
    let found = flashings(context, run);
    let to_plane = |what: &str| matches!(what, "water" | "membrane" | "flap" | "upper" | "air");
    if found.iter().any(|part| part.spec.laps.iter().any(|lap| lap.under && to_plane(lap.what))) {
        return None;
    }
    let Some((limit, least)) = context.limit("cladding.overlap").and_then(|limit| Some((limit, limit.length()?)))
    else {
        let missing = "no rule set in force has a limit `cladding.overlap`";
        return Some(context.unknown(&META, run.name.clone(), run.origin, missing));
    };
    if place.upper_laps.is_some_and(|laps| laps >= least) {
        return None;
    }
    if let Some(part) = found.first()
        && part.spec.laps.is_empty()
        && part.spec.on != Some("furring")
        && part.spec.on != Some("cladding")
    {
        let missing = format!(
            "whether `{}` laps under the membrane above is not said (`laps under water by …`)",
            called(&part.spec)
        );
        return Some(context.unknown(&META, part.name.clone(), part.spec.origin, missing));
    }
    let message = match found.first() {
        Some(_) => "the flashing between two claddings does not go back to the drainage plane".to_owned(),
        None => match place.upper_laps {
            Some(laps) => format!(
                "the upper cladding laps the lower by {}; without a flashing {} is wanted",
                context.shown(laps),
                context.shown(least)
            ),
            None => "no flashing where two claddings meet: water of the upper gap runs in behind the lower cladding"
                .to_owned(),
        },
    };
    let finding = context
        .fault(&META, run.name.clone(), run.origin, message)
        .against(limit)
        .wanted(context.measure(least))
        .also(place.origin, "the detail of this line")
        .help(advice(context));
    Some(match place.upper_laps {
        Some(laps) => finding.measured(context.measure(laps)),
        None => finding,
    })
}

fn advice(context: &CheckContext<'_>) -> String {
    match context.limit("transition.membrane_up").and_then(|limit| limit.length()) {
        Some(up) => {
            format!(
                "add a flashing that laps under the membrane, and carry the membrane {} up behind it",
                context.shown(up)
            )
        }
        None => "add a flashing that laps under the membrane".to_owned(),
    }
}
