//! A bay that drains the whole height of a tall wall through one exit.

use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::BayFlow;
use crate::model::Limit;
use crate::units::Length;

/// `gap.too_tall`
pub struct GapTooTall;

static META: RuleMeta = RuleMeta {
    id: "gap.too_tall",
    catalogue: "DR-15",
    title: "a tall gap has no break between its exits",
    grade: Grade::S3,
    before: "H3",
    limits: &["exit.spacing"],
    explain: "\
# What it checks
The height of each bay, from the exit at its foot to its top, against `exit.spacing`.

# Why
Three storeys of water leave through one base. What gets in high has a long way down past every joint, and one
blocked foot wets the whole wall.

# Example
    area all house_wall        // 9 m from base to eave, nothing between

# Better
    vent belt 12mm at 5200mm {
        gives exit and inlet and outlet
        flashing flashings.aluminium_coil { … }
    }

# Basis
Guides and common practice: an exit at each floor, or every two storeys at the most.

# Known gaps
It can always tell: bays are measured. A bay with no exit at all is told by `drain.no_exit`.
",
};

impl Rule for GapTooTall {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let flows = &context.flow().bays;
        if flows.is_empty() {
            return;
        }
        let Some((limit, most)) = context.length_limit(&META, "exit.spacing", report) else { return };
        let tall = |flow: &BayFlow| (flow.height > most && flow.traps.is_empty()).then_some(());
        for (_, group) in bays::grouped(flows, tall) {
            report.extend(found(context, &group, (limit, most)));
        }
    }
}

fn found(context: &CheckContext<'_>, group: &Bays<'_>, (limit, most): (&Limit, Length)) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let tallest = group.flows.iter().map(|flow| flow.height).max()?;
    let message = format!(
        "{} {} {} tall between exits; {} is the most",
        group.name(context),
        group.verb(context, "is", "are"),
        context.shown(tallest),
        context.shown(most)
    );
    let finding = context
        .fault(&META, group.subject(context), area.origin, message)
        .against(limit)
        .measured(context.measure(tallest))
        .wanted(context.measure(most))
        .help("add a flashing across the gap at a floor, or a row of slots (`vent`) that gives an exit");
    Some(group.at_foot(context, finding, "the gap"))
}
