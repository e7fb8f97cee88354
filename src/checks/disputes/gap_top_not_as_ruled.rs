//! A gap whose top is open where the rule set wants it closed, or the other way.

use super::{disagree, side};
use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::model::Openness;

/// `gap.top_not_as_ruled`
pub struct GapTopNotAsRuled;

static META: RuleMeta = RuleMeta {
    id: "gap.top_not_as_ruled",
    catalogue: "VE-01",
    title: "the top of the gap is not as the rule set wants it",
    grade: Grade::S3,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Where a rule set in force has `option gap.top open`, every gap is called `ventilated`; with `option gap.top closed`, every gap
is called `vented`. With `either`, or without the option, both are right.

# Why
An office that has chosen one way wants it on every wall; a crew that closes one top by habit makes one wall dry differently.

# Example
    limits ours, option gap.top open        // and: gap cavity 19mm vented

# Better
    gap cavity 19mm ventilated

# Basis
Sources disagree: older Canadian advice closes the top to equalise pressure, later research and guides open it to dry. The
rule set named in the message takes the side.

# Known gaps
It can always tell: a gap that says neither is told by `gap.no_outlet`. Whether the openings are there is that rule's matter.
",
};

impl Rule for GapTopNotAsRuled {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some((option, word)) = side(context, "gap.top") else { return };
        let mut told = Vec::new();
        for (face, area, wall) in walls(context) {
            let Some((_, gap)) = wall.gap() else { continue };
            let (called, wanted) = match (word, gap.openness) {
                ("open", Some(Openness::Vented)) => ("vented", "ventilated"),
                ("closed", Some(Openness::Ventilated)) => ("ventilated", "vented"),
                _ => continue,
            };
            // One message for a wall, wherever it is built.
            if told.contains(&gap.origin) {
                continue;
            }
            told.push(gap.origin);
            let subject = area_name(context, face, area);
            let message = format!("the gap of `{subject}` is called `{called}`; its top is to be {word}");
            let finding = context.fault(&META, subject, gap.origin, message).against(option);
            let finding =
                finding.advise(format!("call it `{wanted}`, and build its top so"), Remedy::Word(wanted.to_owned()));
            report.push(disagree(finding, "gap.top"));
        }
    }
}
