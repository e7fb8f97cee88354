//! A corner with, or without, a baffle in its gap, where the rule set wants it otherwise.

use super::{disagree, side};
use crate::checks::pieces::{detail, runs, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `corner.baffle_not_as_ruled`
pub struct CornerBaffleNotAsRuled;

static META: RuleMeta = RuleMeta {
    id: "corner.baffle_not_as_ruled",
    catalogue: "VE-11",
    title: "a corner has no baffle where the rule set wants one, or has one it does not want",
    grade: Grade::S4,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Where a rule set in force has `option corner_baffle wanted`, the detail of every outside corner of a wall with a gap has a
`part baffle`; with `unwanted`, none has. With `either`, or without the option, both are right.

# Why
Wind that passes round a corner in the gap carries rain with it and takes the pressure from behind the boards; a baffle also
keeps air from drying the corner.

# Example
    limits ours, option corner_baffle wanted        // and a corner without one

# Better
    part baffle furring.spruce, on furring

# Basis
Sources disagree: advice on pressure equalisation wants them, advice on drying does not need them. The rule set named in the
message takes the side.

# Known gaps
It can always tell: what a detail does not name is not there. Corners without a detail are told by `edge.no_detail`. Baffles
away from corners are not asked for.
",
};

impl Rule for CornerBaffleNotAsRuled {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some((option, word)) = side(context, "corner_baffle").filter(|(_, word)| *word != "either") else { return };
        let mut told = Vec::new();
        for (run, _) in runs(context).filter(|(run, _)| run.kind == "corner") {
            let edge = context.model.face(run.face).and_then(|face| match run.place {
                crate::plan::RunPlace::Edge(at) => face.edges.get(at),
                _ => None,
            });
            let outside = edge.and_then(|edge| edge.meets.as_ref()).is_some_and(|meets| meets.kind == Some("outside"));
            let gap = run.area.and_then(|area| wall(context, run.face, area)).is_some_and(|wall| wall.gap().is_some());
            let Some(detail) = detail(context, run).filter(|_| outside && gap) else { continue };
            let has = context.plan.parts_of(run).any(|part| part.spec.kind == "baffle");
            if has == (word == "wanted") || told.contains(&detail.origin) {
                continue;
            }
            told.push(detail.origin);
            let message = if has {
                format!("the gap at this corner has a baffle (`{}`); none is wanted", detail.name)
            } else {
                format!("the gap runs on round this corner without a baffle (`{}`)", detail.name)
            };
            let finding = context.fault(&META, run.name.clone(), run.origin, message).against(option);
            let finding = finding.also(detail.origin, "the detail").help(if has {
                "take the baffle out of the detail"
            } else {
                "add `part baffle` to the detail: an upright strip the depth of the gap"
            });
            report.push(context.on_run(disagree(finding, "corner_baffle"), run, run.segment));
        }
    }
}
