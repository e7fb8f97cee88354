//! The membrane of the wall behind the flashings of a roof.

use crate::checks::pieces::Piece;
use crate::checks::pieces::{Once, called, rigid, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Lap, Limit};
use crate::plan::{Part, Run};
use crate::units::Length;

/// `step_flashing.over_membrane`
pub struct StepFlashingOverMembrane;

static META: RuleMeta = RuleMeta {
    id: "step_flashing.over_membrane",
    catalogue: "LA-09",
    title: "the membrane of the wall ends behind the flashings of a roof",
    grade: Grade::S1,
    before: "H3",
    limits: &["flashing.upstand"],
    explain: "\
# What it checks
Step flashings, and other folded flashings where a roof meets the wall, lie under the membrane of the wall
(`laps under water`) by the length of the rule set, or a sheet of the detail laps over them.

# Why
Water in the gap runs down the membrane. If the membrane ends behind the steps, that water goes behind the roof.

# Example
    part step_flashing flashings.aluminium_coil, laps over water by 75mm

# Better
    part step_flashing flashings.aluminium_coil, laps under water by 75mm

# Basis
NBC 9.27.3.8.(4)(a), public copy, as for any flashing: 50 mm inboard of the sheathing membrane.

# Known gaps
The diverter at the low end is judged by its own rule. A flashing that is said to be taped is taken to be
covered.
",
};

impl Rule for StepFlashingOverMembrane {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for (run, _) in runs(context).filter(|(run, _)| run.kind == "roof_line") {
            for part in context.plan.parts_of(run) {
                let folded = matches!(part.spec.kind, "step_flashing" | "flashing");
                if !folded
                    || !rigid(context.model, &part.spec.stuff)
                    || matches!(part.spec.on, Some("furring" | "cladding"))
                {
                    continue;
                }
                let Some(limit) = context.length_limit(&META, "flashing.upstand", report) else { return };
                let finding = judge(context, run, part, limit).filter(|_| first(&mut once, run, part));
                report.extend(finding.map(|finding| context.on_run(finding, run, run.segment)));
            }
        }
    }
}

fn first(once: &mut Once, run: &Run, part: &Part) -> bool {
    let (face, segment, origin) = (run.face, run.segment, part.origin);
    once.first(&Piece { face, spec: &part.spec, name: String::new(), segment, run: None, origin })
}

fn is_plane(lap: &&Lap) -> bool {
    matches!(lap.what, "water" | "membrane" | "air" | "flap" | "upper")
}

fn judge(context: &CheckContext<'_>, run: &Run, part: &Part, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let what = called(&part.spec);
    let covers = |sheet: &Part| {
        matches!(sheet.spec.kind, "flap" | "tape" | "membrane")
            && sheet.spec.laps.iter().any(|lap| !lap.under && lap.what == "flashing")
    };
    if part.spec.taped.is_some() || context.plan.parts_of(run).any(covers) {
        return None;
    }
    let unknown = |missing: String| Some(context.unknown(&META, part.name.clone(), part.spec.origin, missing));
    let mut laps = part.spec.laps.iter().filter(is_plane);
    let (message, by) = match laps.clone().find(|lap| lap.under).or_else(|| laps.next()) {
        None => {
            return unknown(format!("whether the membrane laps over `{what}` is not said (`laps under water by …`)"));
        }
        Some(Lap { under: true, by: None, .. }) => {
            return unknown(format!("how far the membrane laps over `{what}` is not said (`laps under water by …`)"));
        }
        Some(Lap { under: true, by: Some(by), .. }) if *by >= least => return None,
        Some(Lap { under: true, by: Some(by), .. }) => {
            (format!("the membrane laps `{what}` by {}; {} is wanted", context.shown(*by), context.shown(least)), *by)
        }
        Some(_) => (format!("the membrane ends behind `{what}`: its water runs in behind the roof"), Length::ZERO),
    };
    let finding = context.fault(&META, part.name.clone(), part.spec.origin, message).against(limit);
    let finding = finding.measured(context.measure(by)).wanted(context.measure(least)).also(run.origin, "used here");
    Some(finding.help(format!("bring the membrane down over the upstands by {} or more", context.shown(least))))
}
