//! A bay that is open neither low nor high.

use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::BayFlow;
use crate::model::Limit;
use crate::plan::Against;
use crate::units::Length;

/// `bay.cut_off`
pub struct BayCutOff;

static META: RuleMeta = RuleMeta {
    id: "bay.cut_off",
    catalogue: "VE-04",
    title: "a bay is cut off from the outside air",
    grade: Grade::S2,
    before: "H3",
    limits: &["cross_gap"],
    explain: "\
# What it checks
Each bay of the gap has at least one opening to the outside, low or high.

# Why
Between the strips beside a window, below its sill or above its head, a bay can be shut on all sides. It is a dead pocket:
it dries last, just where windows leak.

# Example
    furring furring.spruce 19mm x 64mm, every 16in on centre, vertical, also at jambs

# Better
    furring furring.spruce 19mm x 64mm, every 16in on centre, vertical, also at jambs, stops 25mm

# Basis
Common practice: 10 to 25 mm cross gaps above and below openings, at blocks and in furring.

# Known gaps
Whether the air really moves is not computed here. What follows from strips that dam the gap is told by `furring.dams`.
",
};

impl Rule for BayCutOff {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let shut: Vec<&BayFlow> =
            context.flow().bays.iter().filter(|flow| !is_open(flow) && !bays::told_elsewhere(context, flow)).collect();
        if shut.is_empty() {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "cross_gap", report) else { return };
        for ((missing, _), group) in bays::grouped(shut.iter().copied(), question) {
            report.extend(unknown(context, &group, missing));
        }
        let sure = shut.iter().copied().filter(|flow| question(flow).is_none());
        for (_, group) in bays::grouped(sure, |flow| Some(beside(context, flow).map(bays::order))) {
            report.extend(found(context, &group, (limit, least)));
        }
    }
}

/// Whether one of its openings is there for certain.
fn is_open(flow: &BayFlow) -> bool {
    flow.inlets.iter().chain(&flow.outlets).any(|opening| opening.missing.is_none())
}

/// The fact that is missing to tell whether a bay has an opening, and the edge it is about.
fn question(flow: &BayFlow) -> Option<(&str, (u8, usize))> {
    let openings = flow.inlets.iter().chain(&flow.outlets);
    openings.into_iter().find_map(|opening| Some((opening.missing.as_deref()?, bays::order(opening.with))))
}

/// What shuts a bay at its top, or failing that at its foot. All strips are alike.
fn beside(context: &CheckContext<'_>, flow: &BayFlow) -> Option<Against> {
    let with = bays::ceiling(context, flow).or_else(|| bays::floor(context, flow))?;
    Some(if matches!(with, Against::Strip(_)) { Against::Strip(0) } else { with })
}

fn found(context: &CheckContext<'_>, group: &Bays<'_>, (limit, least): (&Limit, Length)) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let with = beside(context, group.flows.first()?);
    let boundary = with.and_then(|with| bays::boundary(context, group.face, with));
    let (under, at) =
        boundary.map_or((String::new(), area.origin), |(name, at)| (format!(", shut at its top by {name}"), at));
    let message = format!(
        "{} {} no opening to the outside, {}{under}",
        group.name(context),
        group.verb(context, "has", "have"),
        context.shown_area(group.square_metres())
    );
    let finding = context
        .fault(&META, group.subject(context), at, message)
        .against(limit)
        .measured(context.measure(Length::ZERO))
        .wanted(context.measure(least))
        .help(format!("leave a cross gap of {} or more: stop furring 25 mm (1 in) short", context.shown(least)))
        .help("or open the edge above or below these bays");
    Some(group.at_foot(context, finding, "the gap"))
}

fn unknown(context: &CheckContext<'_>, group: &Bays<'_>, missing: &str) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let flow = group.flows.first()?;
    let with = flow.inlets.iter().chain(&flow.outlets).find(|opening| opening.missing.is_some())?.with;
    let at = bays::boundary(context, group.face, with).map_or(area.origin, |(_, at)| at);
    let finding = context.unknown(&META, group.subject(context), at, missing);
    Some(group.at_foot(context, finding.help(format!("it is about {}", group.name(context))), "the gap"))
}
