//! The foot of the cladding too near to the ground.

use super::low::{self, Foot};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::layout::ground;

/// `base.near_ground`
pub struct BaseNearGround;

static META: RuleMeta = RuleMeta {
    id: "base.near_ground",
    catalogue: "DR-10",
    title: "the foot of the cladding is too near to the ground",
    grade: Grade::S1,
    before: "H4",
    limits: &["clearance.ground"],
    explain: "\
# What it checks
Along every base, the height of the base line above the ground as it was measured, at every place and not only at the ends:
`clearance.ground`, or the edge's own `keep` if that is more. Cladding that takes up no water is not asked.

# Why
Splash, soil and snow rot the foot of the wall, and a vent at its base is soon buried.

# Example
    base to (7200mm, 0), detail house_base
    ground at left -300mm, through ((7200mm, -80mm))

# Better
    base to (3600mm, 0), detail house_base
    step to (3600mm, 150mm), detail step_side
    base to (7200mm, 150mm), detail house_base

# Basis
NBC 9.27.2.4.(1), read in a summary: 200 mm. Other countries ask for 100 to 175 mm.

# Known gaps
Snow is not added. What will raise the ground later is told by `base.grade_rises`.
",
};

impl Rule for BaseNearGround {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let feet = low::feet(context, "base");
        if feet.is_empty() {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "clearance.ground", report) else { return };
        for foot in feet.iter().filter(|foot| foot.absorbs != Some("no")) {
            let line = ground::ground_line(foot.face);
            if line.is_empty() {
                let missing = format!("the height of the ground along `{}`", foot.run.name);
                let finding = context.unknown(&META, foot.run.name.as_str(), foot.run.origin, missing);
                let finding = finding.help("say where it lies: `ground at left -220mm, through ((7200mm, -210mm))`");
                report.push(context.on_run(finding, foot.run, foot.run.segment));
                continue;
            }
            let wanted = least.max(foot.keep.unwrap_or(least));
            for near in ground::too_near(foot.run.segment, &line, &[], wanted) {
                report.push(found(context, foot, &near, (limit, least, wanted)));
            }
        }
    }
}

fn found(
    context: &CheckContext<'_>,
    foot: &Foot<'_, '_>,
    near: &ground::Near,
    (limit, least, wanted): (&crate::model::Limit, crate::units::Length, crate::units::Length),
) -> Finding {
    if foot.absorbs.is_none() {
        let missing = format!("whether its cladding `{}` takes up water", foot.cladding);
        let finding = context.unknown(&META, foot.run.name.as_str(), foot.run.origin, missing);
        let finding = finding.help(low::sentence(context, foot, near, "the ground"));
        return low::place(context, finding, foot, near);
    }
    let lack = wanted - near.clearance;
    let finding = context
        .fault(&META, foot.run.name.as_str(), foot.run.origin, low::sentence(context, foot, near, "the ground"))
        .against(limit)
        .measured(context.measure(near.clearance))
        .wanted(context.measure(wanted))
        .advise(
            format!("raise the base by {}, or step it there; or dig the ground down", context.shown(lack)),
            Remedy::RaiseBase(lack),
        );
    let finding = match foot.face.ground.first() {
        Some(ground) => finding.also(ground.origin, "the ground"),
        None => finding,
    };
    let own = near.clearance >= least;
    let finding = if own { finding.on_principle("the edge's own `keep`", false) } else { finding };
    low::place(context, finding, foot, near)
}
