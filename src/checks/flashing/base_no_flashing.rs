//! A foot of the wall at which nothing throws water clear.

use crate::checks::pieces::{rigid, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::holes;
use crate::plan::{Part, Run};
use crate::units::Length;

/// `base.no_flashing`
pub struct BaseNoFlashing;

static META: RuleMeta = RuleMeta {
    id: "base.no_flashing",
    catalogue: "",
    title: "nothing throws the water of the gap clear of the foot of the wall",
    grade: Grade::S2,
    before: "H4",
    limits: &["cladding.overlap"],
    explain: "\
# What it checks
The detail of a base or an underside has a folded part (flashing, closure, apron, starter), a channel lies along
it, or the cladding laps what is below by the length of the rule set (`upper_laps`).

# Why
Water that leaves the gap runs back along the underside of sheathing and plate, into the joint with the
foundation.

# Example
    detail foot {
        at      base
        gap_end open
    }

# Better
    detail foot {
        at      base
        part flashing flashings.aluminium_coil, slope 6deg, drip 12mm out 6mm
        gap_end open
    }

# Basis
NBC 9.27.3.8.(2), public copy, for the lap without a flashing; that a foot wants a drip is common practice.

# Known gaps
It can always tell. Drips of the cladding itself are not known.
",
};

impl Rule for BaseNoFlashing {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (run, place) in runs(context).filter(|(run, _)| matches!(run.kind, "base" | "underside")) {
            if context.plan.parts_of(run).any(|part| throws(context, part)) || channel_along(context, run) {
                continue;
            }
            let Some((limit, least)) = context.length_limit(&META, "cladding.overlap", report) else { return };
            let laps = place.upper_laps.unwrap_or(Length::ZERO);
            if laps >= least {
                continue;
            }
            let finding = context
                .fault(&META, run.name.clone(), run.origin, "nothing throws the water of the gap clear here")
                .against(limit)
                .on_principle("a foot with a flashing and a drip: common practice", false)
                .also(place.origin, "the detail of this foot")
                .help(format!(
                    "add a flashing with a drip, or let the cladding hang {} over the foundation (`upper_laps`)",
                    context.shown(least)
                ));
            report.push(context.on_run(finding, run, run.segment));
        }
    }
}

fn throws(context: &CheckContext<'_>, part: &Part) -> bool {
    matches!(part.spec.kind, "flashing" | "closure" | "apron" | "starter" | "cap" | "channel")
        && rigid(context.model, &part.spec.stuff)
}

/// A channel, starter or folded sheet laid along it as a trim.
fn channel_along(context: &CheckContext<'_>, run: &Run) -> bool {
    let Some(face) = context.model.face(run.face) else { return false };
    let all: Vec<&Run> = context.plan.runs_of(run.face).map(|(_, run)| run).collect();
    face.trims.iter().any(|trim| {
        let kind = context.model.product(trim.product).map(|product| product.kind);
        let line = holes::trim_line(face, &all, trim);
        matches!(kind, Some("channel" | "flashing" | "trim"))
            && line.is_some_and(|line| run.segment.overlap_near(line, Length(2)).is_some())
    })
}
