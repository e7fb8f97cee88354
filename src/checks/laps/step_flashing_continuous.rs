//! One long angle where a sloped roof dies into a wall.

use crate::checks::pieces::{called, rigid, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Limit, Place};
use crate::plan::{Part, Run};
use crate::units::Length;

/// `step_flashing.continuous`
pub struct StepFlashingContinuous;

static META: RuleMeta = RuleMeta {
    id: "step_flashing.continuous",
    catalogue: "LA-08",
    title: "a sloped roof meets the wall without step flashings that lap each other",
    grade: Grade::S2,
    before: "H3",
    limits: &["step_flashing.leg", "step_flashing.head_lap"],
    explain: "\
# What it checks
Where a sloped roof runs along the wall, its detail has a `part step_flashing`: one piece for each course of the
roof, its leg up the wall as high as the rule set says, each lapping the next lower one (`splice`).

# Why
One hole or one loose nail in a continuous angle drains the whole roof edge into the wall. Steps each shed their
own water onto the roof.

# Example
    detail abutment {
        at   roof_line
        part flashing flashings.aluminium_coil, upstand 100mm
    }

# Better
    detail abutment {
        at   roof_line
        part step_flashing flashings.aluminium_coil {
            upstand 100mm
            splice  75mm
        }
    }

# Basis
Legs of 100 mm: IRC R905.2.8.3, public code site. Head lap of 75 mm: Ontario text for masonry, public code site,
taken here as practice.

# Known gaps
Roofs whose covering is one sheet, such as standing metal, may have a continuous flashing by their maker: accept
it by name. Level abutments are not judged.
",
};

impl Rule for StepFlashingContinuous {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let sloped = runs(context).filter(|(run, _)| run.kind == "roof_line" && run.segment.is_oblique());
        for (run, place) in sloped {
            let Some(leg) = context.length_limit(&META, "step_flashing.leg", report) else { return };
            let Some(lap) = context.length_limit(&META, "step_flashing.head_lap", report) else { return };
            let finding = judge(context, run, place, leg, lap);
            report.extend(finding.map(|finding| context.on_run(finding, run, run.segment)));
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    run: &Run,
    place: &Place,
    leg: (&Limit, Length),
    lap: (&Limit, Length),
) -> Option<Finding> {
    let step = context.plan.parts_of(run).find(|part| part.spec.kind == "step_flashing");
    let Some(step) = step else {
        let long = context
            .plan
            .parts_of(run)
            .find(|part| part.spec.kind == "flashing" && rigid(context.model, &part.spec.stuff));
        let message = match long {
            Some(part) => format!("`{}` is one long flashing along a sloped roof", called(&part.spec)),
            None => "no step flashings along a sloped roof".to_owned(),
        };
        let finding = context.fault(&META, run.name.clone(), run.origin, message).against(leg.0);
        let finding = finding.also(long.map_or(place.origin, |part| part.spec.origin), "the detail of this line");
        return Some(finding.help("steps: one for each course of the roof (`part step_flashing … splice …`)"));
    };
    short(context, step, step.spec.upstand, leg, "the leg up the wall of", "upstand").or_else(|| {
        short(context, step, step.spec.splice.as_ref().map(|splice| splice.0), lap, "the head lap of", "splice")
    })
}

/// A size of the steps that is not said, or less than wanted.
fn short(
    context: &CheckContext<'_>,
    step: &Part,
    size: Option<Length>,
    (limit, least): (&Limit, Length),
    what: &str,
    clause: &str,
) -> Option<Finding> {
    let name = called(&step.spec);
    let Some(size) = size else {
        let missing = format!("{what} `{name}` is not said (`{clause} …`)");
        return Some(context.unknown(&META, step.name.clone(), step.spec.origin, missing));
    };
    if size >= least {
        return None;
    }
    let message = format!("{what} `{name}` is {}; {} is wanted", context.shown(size), context.shown(least));
    let finding = context.fault(&META, step.name.clone(), step.spec.origin, message).against(limit);
    Some(finding.measured(context.measure(size)).wanted(context.measure(least)))
}
