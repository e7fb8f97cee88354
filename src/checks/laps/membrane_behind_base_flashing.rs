//! A wall membrane that ends behind the flashing at its foot.

use super::{first_use, flashings, is_at_plane};
use crate::checks::pieces::{Once, called, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Lap, Limit};
use crate::plan::{Part, Run};
use crate::units::Length;

/// `membrane.behind_base_flashing`
pub struct MembraneBehindBaseFlashing;

static META: RuleMeta = RuleMeta {
    id: "membrane.behind_base_flashing",
    catalogue: "LA-18",
    title: "the membrane of the wall ends behind the flashing at its foot",
    grade: Grade::S1,
    before: "H3",
    limits: &["flashing.upstand"],
    explain: "\
# What it checks
Along bases and decks, the flashing at the drainage plane laps under the membrane of the wall, by `flashing.upstand`
or more.

# Why
Water that did everything right on its way down ends behind the flashing, on the plate.

# Example
    part flashing flashings.aluminium_coil, upstand 100mm, laps over water by 100mm, on plane

# Better
    part flashing flashings.aluminium_coil, upstand 100mm, laps under water by 100mm, on plane

# Basis
NBC 9.27.3.8.(4)(a), public copy: 50 mm inboard of the sheathing membrane.

# Known gaps
A base without a flashing is not judged here. A sheet of the detail that laps over the flashing counts as the membrane.
",
};

impl Rule for MembraneBehindBaseFlashing {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for (run, _) in runs(context).filter(|(run, _)| matches!(run.kind, "base" | "deck_line" | "underside")) {
            let Some(part) = flashings(context, run).into_iter().find(|part| is_at_plane(part)) else { continue };
            let Some(limit) = context.length_limit(&META, "flashing.upstand", report) else { return };
            let finding = judge(context, run, part, limit).filter(|_| first_use(&mut once, run, part));
            report
                .extend(finding.map(|finding| context.on_run(finding.also(run.origin, "used here"), run, run.segment)));
        }
    }
}

fn is_plane(lap: &&Lap) -> bool {
    matches!(lap.what, "water" | "membrane" | "flap" | "air" | "upper")
}

fn judge(context: &CheckContext<'_>, run: &Run, part: &Part, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let what = called(&part.spec);
    let unknown = |missing: String| Some(context.unknown(&META, part.name.clone(), part.spec.origin, missing));
    let covered = |sheet: &Part| {
        matches!(sheet.spec.kind, "flap" | "membrane" | "tape")
            && sheet.spec.laps.iter().any(|lap| !lap.under && lap.what == "flashing")
    };
    let mut laps = part.spec.laps.iter().filter(is_plane);
    let lap = laps.clone().find(|lap| lap.under).or_else(|| laps.next());
    if part.spec.taped.is_some() || context.plan.parts_of(run).any(covered) {
        return None;
    }
    let (message, by) = match lap {
        None => {
            return unknown(format!("whether the membrane laps over `{what}` is not said (`laps under water by …`)"));
        }
        Some(Lap { under: true, by: None, .. }) => {
            return unknown(format!("how far the membrane laps over `{what}` is not said (`laps under water by …`)"));
        }
        Some(Lap { under: true, by: Some(by), .. }) if *by >= least => return None,
        Some(Lap { under: true, by: Some(by), .. }) => {
            let (own, wanted) = (context.shown(*by), context.shown(least));
            (format!("the membrane laps `{what}` by {own}; {wanted} is wanted"), *by)
        }
        Some(_) => {
            (format!("the membrane ends behind `{what}`: its water runs down behind the flashing"), Length::ZERO)
        }
    };
    let finding = context.fault(&META, part.name.clone(), part.spec.origin, message).against(limit);
    let finding = finding.measured(context.measure(by)).wanted(context.measure(least));
    Some(finding.help(format!("lap the membrane over the upstand by {} or more", context.shown(least))))
}
