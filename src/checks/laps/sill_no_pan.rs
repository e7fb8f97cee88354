//! An opening whose leak lands on the rough sill.

use super::rings;
use crate::checks::disputes::{disagree, side};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::diagnose::Severity;
use crate::model::{Limit, Opening};
use crate::plan::{Part, Run};
use crate::units::{Length, display};

/// `sill.no_pan`
pub struct SillNoPan;

static META: RuleMeta = RuleMeta {
    id: "sill.no_pan",
    catalogue: "LA-05",
    title: "the sill of an opening has no pan, or one without dams",
    grade: Grade::S1,
    before: "H3",
    limits: &["sill.slope", "sill.back_dam", "sill.end_dam"],
    explain: "\
# What it checks
Every window and door has a pan below it, with an upturn at its inner edge and at both ends, as high as the rule
set says.

# Why
A window leaks one day, at its joints or beside it. Without a pan that water lands on the rough sill and soaks
the wall below.

# Example
    sill {
        part membrane membranes.self_adhered
    }

# Better
    sill {
        part pan membranes.self_adhered {
            slope    6%
            back_dam 25mm
            end_dams 150mm
        }
    }

# Basis
The installation standard for windows (CSA A440.4, as summarised): sloped 6 %, continuous. Heights of dams:
common practice. Boards of appeal in British Columbia (1614, 1636) found some of it recommended rather than
required: `option sill_pan` of a rule set says which, and the message tells whose word it is.

# Known gaps
It can always tell: what a detail does not name is not there. The fall of the pan is judged by `flashing.flat`.
A sill that is a pan in itself (a metal door threshold) must be declared as one.
",
};

impl Rule for SillNoPan {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (_, _, opening, run, _) in rings(context, "sill") {
            report.extend(judge(context, opening, run).map(|finding| context.on_run(finding, run, run.segment)));
        }
    }
}

fn judge(context: &CheckContext<'_>, opening: &Opening, run: &Run) -> Option<Finding> {
    let limit = |name: &str| context.limit(name);
    let Some(pan) = context.plan.parts_of(run).find(|part| part.spec.kind == "pan") else {
        let Some(limit) = limit("sill.slope") else { return no_limit(context, opening, run, "sill.slope") };
        let message = format!("the sill of `{}` has no pan: a leak lands on the rough sill", opening.name);
        let finding = context.fault(&META, run.name.clone(), opening.origin, message).against(limit);
        return Some(weighed(context, finding.help(pan_advice(context)), limit));
    };
    let dams = [("sill.back_dam", "back dam", pan.spec.back_dam), ("sill.end_dam", "end dams", pan.spec.end_dams)];
    for (name, what, built) in dams {
        let Some((limit, least)) = limit(name).and_then(|limit| Some((limit, limit.length()?))) else {
            return no_limit(context, opening, run, name);
        };
        let built = built.unwrap_or(Length::ZERO);
        if built < least {
            return Some(low_dam(context, opening, pan, what, (built, least), limit));
        }
    }
    None
}

fn low_dam(
    context: &CheckContext<'_>,
    opening: &Opening,
    pan: &Part,
    what: &str,
    (built, least): (Length, Length),
    limit: &Limit,
) -> Finding {
    let message = if built == Length::ZERO {
        format!("the pan below `{}` has no {what}", opening.name)
    } else {
        format!(
            "the {what} of the pan below `{}` is {}; {} is wanted",
            opening.name,
            context.shown(built),
            context.shown(least)
        )
    };
    let measured: Measure = context.measure(built);
    let finding = context
        .fault(&META, pan.name.clone(), pan.spec.origin, message)
        .against(limit)
        .measured(measured)
        .wanted(context.measure(least))
        .also(opening.origin, "used here")
        .help(format!("turn it up by {}", context.shown(least)));
    weighed(context, finding, limit)
}

/// A pan as the rule sets in force want it.
fn pan_advice(context: &CheckContext<'_>) -> String {
    let slope = context.limit("sill.slope").and_then(|limit| limit.slope()).map(display::slope_percent);
    let dam = |name: &str| context.limit(name).and_then(|limit| limit.length()).map(|height| context.shown(height));
    let words = [("fall", slope), ("back dam", dam("sill.back_dam")), ("end dams", dam("sill.end_dam"))];
    let said: Vec<String> = words.into_iter().filter_map(|(what, value)| Some(format!("{what} {}", value?))).collect();
    format!("add a pan (`part pan`): {}", said.join(", "))
}

/// Required or recommended: boards and standards disagree, so the message says whose word it is. What is only recommended
/// warns, however well its number is known.
fn weighed(context: &CheckContext<'_>, finding: Finding, limit: &Limit) -> Finding {
    match side(context, "sill_pan") {
        Some((option, "recommended")) => {
            let finding = finding.help(format!("recommended by {}", option.citation()));
            let severity = if finding.severity == Severity::Violation { Severity::Warning } else { finding.severity };
            disagree(Finding { severity, ..finding }, "sill_pan")
        }
        Some((option, _)) => finding.help(format!("required by {}", option.citation())),
        None => {
            let how = if limit.sure.is_firm() { "required" } else { "recommended" };
            finding.help(format!("{how} by {}", limit.citation()))
        }
    }
}

fn no_limit(context: &CheckContext<'_>, opening: &Opening, run: &Run, name: &str) -> Option<Finding> {
    let missing = format!("no rule set in force has a limit `{name}`");
    Some(context.unknown(&META, run.name.clone(), opening.origin, missing))
}
