//! The joint of cladding and trim: sealed where the rule set wants it open, or the other way.

use super::{disagree, side};
use crate::checks::pieces::{detail, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::PartSpec;

/// `trim.joint_not_as_ruled`
pub struct TrimJointNotAsRuled;

static META: RuleMeta = RuleMeta {
    id: "trim.joint_not_as_ruled",
    catalogue: "",
    title: "the joint of cladding and trim is not as the rule set wants it",
    grade: Grade::S3,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
The details of corners and jambs with a trim. Where a rule set in force has `option trim_joint open`, no sealant laps the
cladding there and no trim is `sealed outside`, `both` or `sides`; with `caulked`, there is such a seal. With `either`, or
without the option, both are right.

# Why
Open, the joint drains and dries what blows in. Sealed, it keeps more out, and holds what gets in when the bead lets go.

# Example
    limits ours, option trim_joint open      // and: part trim corners.outside, sealed sides

# Better
    part trim corners.outside, on furring

# Basis
Sources disagree: some makers require sealant, many practitioners leave it out. The rule set named in the message takes the
side; the instructions of the maker of the cladding come before both.

# Known gaps
It can always tell: what a detail does not seal is open. Trims declared beside the detail (`trim … along`) are not looked at.
",
};

impl Rule for TrimJointNotAsRuled {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some((option, word)) = side(context, "trim_joint").filter(|(_, word)| *word != "either") else { return };
        let mut told = Vec::new();
        let upright = |kind: &str| matches!(kind, "corner" | "left" | "right" | "jamb");
        for (run, place) in runs(context).filter(|(run, _)| upright(run.kind)) {
            let Some(trim) = place.parts.iter().find(|part| part.kind == "trim") else { continue };
            let seal = place.parts.iter().find(|part| is_seal(part));
            let wrong = match (word, seal) {
                ("open", Some(seal)) => Some((seal, "is sealed; it is to stay open")),
                ("caulked", None) => Some((trim, "is open; it is to be sealed")),
                _ => None,
            };
            let Some((part, how)) = wrong.filter(|(part, _)| !told.contains(&part.origin)) else { continue };
            told.push(part.origin);
            let name = detail(context, run).map_or("", |detail| detail.name.as_str());
            let message = format!("the joint of cladding and trim in `{name}` {how}");
            let finding = context.fault(&META, run.name.clone(), run.origin, message).against(option);
            let finding = finding.also(part.origin, "this part").help(if word == "open" {
                "leave the bead out, and set the cladding off the trim by the gap its maker gives"
            } else {
                "add `part sealant …, laps over cladding`, on a backer, or `sealed sides` to the trim"
            });
            report.push(context.on_run(disagree(finding, "trim_joint"), run, run.segment));
        }
    }
}

fn is_seal(part: &PartSpec) -> bool {
    match part.kind {
        "sealant" => part.laps.iter().any(|lap| lap.what == "cladding"),
        "trim" => matches!(part.sealed, Some("outside" | "both" | "sides")),
        _ => false,
    }
}
