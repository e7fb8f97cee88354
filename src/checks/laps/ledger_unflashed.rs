//! A deck ledger that holds water against the wall.

use super::flashings;
use crate::checks::pieces::{called, place, runs};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Ledger, Limit};
use crate::plan::{Run, RunPlace};
use crate::units::Length;

/// `ledger.unflashed`
pub struct LedgerUnflashed;

static META: RuleMeta = RuleMeta {
    id: "ledger.unflashed",
    catalogue: "LA-15",
    title: "a deck ledger is not flashed, or not drained behind",
    grade: Grade::S1,
    before: "H3",
    limits: &["ledger.upstand", "ledger.stand_off"],
    explain: "\
# What it checks
The detail of each `ledger` has a flashing over it that laps under the membrane by the length of the rule set, and
the ledger stands off the plane (`stands_off`) or on spacers.

# Why
The ledger rots, or the rim behind it does, and the deck falls. Water enters the floor long before.

# Example
    ledger terrace 38mm x 235mm at 2600mm from 0 to 3m, detail plain

# Better
    ledger terrace 38mm x 235mm at 2600mm from 0 to 3m, detail details.bolted_ledger, stands_off 12mm

# Basis
100 mm up behind the membrane: trade article. A drained space of 10 mm: government guidance. No code was read.

# Known gaps
Bolts, their gaskets and their strength are not judged: an engineer sizes them. A deck on posts of its own has no
ledger.
",
};

impl Rule for LedgerUnflashed {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (run, _) in runs(context) {
            let RunPlace::Ledger(at) = run.place else { continue };
            let Some(ledger) = context.model.face(run.face).and_then(|face| face.ledgers.get(at)) else { continue };
            let Some(upstand) = context.length_limit(&META, "ledger.upstand", report) else { return };
            let Some(stand_off) = context.length_limit(&META, "ledger.stand_off", report) else { return };
            let findings = [over(context, run, upstand), behind(context, run, ledger, stand_off)];
            report.extend(findings.into_iter().flatten().map(|finding| context.on_run(finding, run, run.segment)));
        }
    }
}

/// The flashing over it.
fn over(context: &CheckContext<'_>, run: &Run, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let Some(part) = flashings(context, run).into_iter().next() else {
        let finding = context
            .fault(&META, run.name.clone(), run.origin, "no flashing over the ledger")
            .against(limit)
            .wanted(context.measure(least))
            .help(format!(
                "a flashing over it, {} up behind the membrane, with a drip past its face",
                context.shown(least)
            ));
        return Some(match place(context, run) {
            Some(place) => finding.also(place.origin, "the detail of this ledger"),
            None => finding,
        });
    };
    let what = called(&part.spec);
    let plane = |what: &str| matches!(what, "water" | "membrane" | "flap" | "air" | "upper");
    let lap = part.spec.laps.iter().filter(|lap| plane(lap.what)).max_by_key(|lap| lap.under);
    let (message, by) = match lap {
        Some(lap) if lap.under => match lap.by {
            Some(by) if by >= least => return None,
            Some(by) => {
                (format!("the membrane laps `{what}` by {}; {} is wanted", context.shown(by), context.shown(least)), by)
            }
            None => {
                let missing = format!("how far the membrane laps over `{what}` is not said (`laps under water by …`)");
                return Some(context.unknown(&META, part.name.clone(), part.spec.origin, missing));
            }
        },
        Some(_) => (format!("`{what}` lies over the membrane: water runs in behind the ledger"), Length::ZERO),
        None => {
            let missing = format!("whether the membrane laps over `{what}` is not said (`laps under water by …`)");
            return Some(context.unknown(&META, part.name.clone(), part.spec.origin, missing));
        }
    };
    let finding = context.fault(&META, part.name.clone(), part.spec.origin, message).against(limit);
    Some(finding.measured(context.measure(by)).wanted(context.measure(least)).also(run.origin, "used here"))
}

/// The space behind it.
fn behind(context: &CheckContext<'_>, run: &Run, ledger: &Ledger, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let spacer = context.plan.parts_of(run).find(|part| part.spec.kind == "spacer");
    let gap = ledger.stands_off.or_else(|| spacer.and_then(|part| part.spec.thickness));
    match gap {
        Some(gap) if gap >= least => None,
        Some(gap) => {
            let message = format!(
                "`{}` stands {} off the plane; {} is wanted",
                ledger.name,
                context.shown(gap),
                context.shown(least)
            );
            let finding = context.fault(&META, run.name.clone(), ledger.origin, message).against(limit);
            Some(finding.measured(context.measure(gap)).wanted(context.measure(least)))
        }
        None => {
            let missing = format!("how far `{}` stands off the plane is not said (`stands_off`)", ledger.name);
            Some(context.unknown(&META, run.name.clone(), ledger.origin, missing))
        }
    }
}
