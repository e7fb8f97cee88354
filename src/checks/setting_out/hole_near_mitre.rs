//! A hole that lands in a mitre.

use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::holes;
use crate::units::Length;

/// `hole.near_mitre`
pub struct HoleNearMitre;

static META: RuleMeta = RuleMeta {
    id: "hole.near_mitre",
    catalogue: "BL-06",
    title: "a hole lands in a mitre and splits it",
    grade: Grade::S3,
    before: "H4",
    limits: &["hole_to_mitre"],
    explain: "\
# What it checks
Rows of holes of a trim that is `mitred`: the first and the last hole keep clear of its ends.

# Why
A fastener in the thin end of a mitre splits it.

# Example
    trim cap trims.larch_casing along top {
        mitred
        holes fix 4.5mm, leg face, every 400mm on centre, end_distance 8mm
    }

# Better
    trim cap trims.larch_casing along top {
        mitred
        holes fix 4.5mm, leg face, every 400mm on centre, end_distance 40mm
    }

# Basis
12 mm or three diameters, whichever is more: common practice.

# Known gaps
Where laps of two lengths lie is decided on the wall; holes there are not judged.
",
};

impl Rule for HoleNearMitre {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report.extend(judge_each(context, judge));
    }
}

fn judge(context: &CheckContext<'_>, piece: &Laid<'_>) -> Option<Finding> {
    let trim = piece.trim;
    if !trim.mitred {
        return None;
    }
    let length = piece.line.length();
    for row in &trim.holes {
        let unknown = |missing: String| Some(context.unknown(&META, piece.subject.clone(), row.origin, missing));
        let Some((limit, least)) = context.limit("hole_to_mitre").and_then(|limit| Some((limit, limit.length()?)))
        else {
            return unknown("no rule set in force has a limit `hole_to_mitre`".to_owned());
        };
        let least = least.max(row.slot.unwrap_or(row.height) * 3);
        let marks = match holes::holes(context.model, context.plan, piece.face, trim, row) {
            Ok(marks) => marks,
            Err(missing) => return unknown(format!("{missing} is not said")),
        };
        let ends = marks.iter().flat_map(|hole| [hole.along, length - hole.along]);
        let nearest = ends.min().unwrap_or(least);
        if nearest < least {
            let message = format!(
                "a {} hole of `{}` lies {} from its mitre; {} is wanted",
                row.purpose,
                trim.name,
                context.shown(nearest.max(Length::ZERO)),
                context.shown(least)
            );
            return Some(
                context
                    .fault(&META, piece.subject.clone(), row.origin, message)
                    .against(limit)
                    .measured(context.measure(nearest))
                    .wanted(context.measure(least))
                    .help(format!(
                        "shift the row by {} or more (`end_distance {}`)",
                        context.shown(least - nearest),
                        context.shown(least)
                    )),
            );
        }
    }
    None
}
