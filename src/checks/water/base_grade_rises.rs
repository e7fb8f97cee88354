//! The ground will rise to the foot of the cladding.

use super::low::{self, Foot};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::ground::{self, Near};
use crate::model::Limit;
use crate::units::Length;

/// `base.grade_rises`
pub struct BaseGradeRises;

static META: RuleMeta = RuleMeta {
    id: "base.grade_rises",
    catalogue: "SV-10",
    title: "planned paving or a bed will bury the foot of the cladding",
    grade: Grade::S2,
    before: "H4",
    limits: &["clearance.ground"],
    explain: "\
# What it checks
Along every base, the height above the ground once all that is `planned` lies on it, against `clearance.ground`. Stretches
that are too near today already are told by `base.near_ground`.

# Why
New paving or a flower bed buries the vent at the base within two years, and nobody sees it happen.

# Example
    ground at left -220mm, surface soil, planned bed 250mm

# Better
    ground at left -470mm, surface soil, planned bed 250mm

# Basis
The clearance of NBC 9.27.2.4.(1) holds after landscaping, not before it.

# Known gaps
Mulch, leaves and snow are not foreseen.
",
};

impl Rule for BaseGradeRises {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let planned = |foot: &&Foot<'_, '_>| foot.face.ground.iter().any(|ground| !ground.planned.is_empty());
        let feet = low::feet(context, "base");
        let feet: Vec<_> = feet.iter().filter(planned).filter(|foot| foot.absorbs != Some("no")).collect();
        if feet.is_empty() {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "clearance.ground", report) else { return };
        for foot in feet {
            let (line, raises) = (ground::ground_line(foot.face), ground::planned(foot.face));
            let today = ground::too_near(foot.run.segment, &line, &[], least);
            let new = |near: &Near| !today.iter().any(|old| old.from.x <= near.from.x && near.to.x <= old.to.x);
            for near in ground::too_near(foot.run.segment, &line, &raises, least).iter().filter(|near| new(near)) {
                report.push(found(context, foot, near, (limit, least)));
            }
        }
    }
}

fn found(context: &CheckContext<'_>, foot: &Foot<'_, '_>, near: &Near, (limit, least): (&Limit, Length)) -> Finding {
    let planned = foot.face.ground.iter().flat_map(|ground| &ground.planned);
    let plans: Vec<_> = planned.map(|one| (one.origin, format!("{} {}", one.what, context.shown(one.depth)))).collect();
    let at = plans.first().map_or(foot.run.origin, |(at, _)| *at);
    let sentence = low::sentence(context, foot, near, "the ground once it is raised");
    let finding = if foot.absorbs.is_none() {
        let missing = format!("whether its cladding `{}` takes up water", foot.cladding);
        context.unknown(&META, foot.run.name.as_str(), at, missing).help(sentence)
    } else {
        let lack = least - near.clearance;
        context
            .fault(&META, foot.run.name.as_str(), at, sentence)
            .against(limit)
            .measured(context.measure(near.clearance))
            .wanted(context.measure(least))
            .help(format!("keep the ground {} lower there, or raise or step the base by as much", context.shown(lack)))
            .help("mark the keep-clear line on the wall for whoever lays it")
    };
    low::place(context, finding.also(foot.run.origin, "the base it buries"), foot, near)
}
