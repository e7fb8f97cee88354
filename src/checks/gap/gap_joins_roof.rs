//! A gap that opens into the roof.

use std::collections::BTreeMap;

use crate::checks::bays::{self, Bays};
use crate::checks::disputes::{disagree, side};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{BayFlow, Opening};
use crate::model::FaceId;

/// `gap.joins_roof`
pub struct GapJoinsRoof;

static META: RuleMeta = RuleMeta {
    id: "gap.joins_roof",
    catalogue: "VE-08",
    title: "the gap opens into the roof",
    grade: Grade::S1,
    before: "H6",
    limits: &[],
    explain: "\
# What it checks
No opening of the gap joins the roof space, nor a soffit behind which the building declares a vented roof space, unless a
rule set in force has `option gap.into_roof allowed`.

# Why
The gap becomes a chimney into the roof for fire, and pumps the wall's damp air into a cold attic.

# Example
    gap_end open 10mm, joins roof

# Better
    part blocking furring.spruce, name gap_stop, width 64mm
    gap_end open 10mm, screen meshes.insect, faces sheltered, joins outside

# Basis
Canada treats the gap as a concealed space to be closed: practitioners citing code, the clause not read; so it warns.

# Known gaps
Openings into garage, crawl space and subfloor are not looked at here.
",
};

impl Rule for GapJoinsRoof {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if side(context, "gap.into_roof").is_some_and(|(_, word)| word == "allowed") {
            return;
        }
        let flows = &context.flow().bays;
        let into = |flow: &BayFlow| {
            let opening = joined(context, flow)?;
            Some((bays::order(opening.with), opening.joins))
        };
        for ((_, joins), group) in bays::grouped(flows, into) {
            report.extend(found(context, &group, joins));
        }
    }
}

/// Whether the roof space behind the soffit of a face is vented, if its building says so.
fn vented(context: &CheckContext<'_>, face: FaceId) -> Option<bool> {
    context.model.building_of(face)?.roof.as_ref()?.2
}

fn joined<'f>(context: &CheckContext<'_>, flow: &'f BayFlow) -> Option<&'f Opening> {
    all_joined(context, flow).next()
}

fn all_joined<'f>(context: &CheckContext<'_>, flow: &'f BayFlow) -> impl Iterator<Item = &'f Opening> {
    let vented = vented(context, flow.id.face);
    let openings = flow.inlets.iter().chain(&flow.outlets).chain(&flow.exits);
    openings.filter(move |opening| match opening.joins {
        "roof" => true,
        "soffit" => vented != Some(false),
        _ => false,
    })
}

/// Every edge at which the bays open into it.
fn places(context: &CheckContext<'_>, group: &Bays<'_>) -> Vec<String> {
    let openings = group.flows.iter().flat_map(|flow| all_joined(context, flow));
    let edges: BTreeMap<_, _> = openings.map(|opening| (bays::order(opening.with), opening.with)).collect();
    edges.into_values().filter_map(|with| Some(bays::boundary(context, group.face, with)?.0)).collect()
}

fn found(context: &CheckContext<'_>, group: &Bays<'_>, joins: &str) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let opening = joined(context, group.flows.first()?)?;
    let (name, at) = bays::boundary(context, group.face, opening.with).unwrap_or((String::new(), area.origin));
    if joins == "soffit" && vented(context, group.face).is_none() {
        let missing =
            format!("whether the roof space behind the soffit at {name} is vented: `vented` of the building's roof");
        return Some(group.at_head(
            context,
            context.unknown(&META, group.subject(context), at, missing),
            "top of the gap",
        ));
    }
    let message = format!(
        "{} {} into the {joins} at {}",
        group.name(context),
        group.verb(context, "opens", "open"),
        places(context, group).join(" and at ")
    );
    let finding = context.fault(&META, group.subject(context), at, message);
    let finding = match side(context, "gap.into_roof") {
        Some((option, _)) => finding.against(option),
        None => finding.on_principle("practitioners citing Canadian codes: the gap is closed off from the roof", false),
    };
    let finding = disagree(finding, "gap.into_roof")
        .help("stop the gap under the soffit and let it out through the frieze: `joins outside`");
    let detail = match opening.with {
        crate::plan::Against::Run(id) => context.plan.run(id).and_then(|run| bays::detail_of(context, run)),
        _ => None,
    };
    let finding = match detail {
        Some(detail) => finding.also(detail.origin, "the detail that opens it"),
        None => finding,
    };
    Some(group.at_head(context, finding, "top of the gap"))
}
