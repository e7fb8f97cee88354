//! A gap that draws its air from a crawl space, a subfloor or a garage.

use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{BayFlow, Opening};
use crate::plan::Against;

/// `gap.joins_damp_space`
pub struct GapJoinsDampSpace;

static META: RuleMeta = RuleMeta {
    id: "gap.joins_damp_space",
    catalogue: "VE-09",
    title: "the gap opens into a damp space",
    grade: Grade::S2,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
No opening of the gap joins a subfloor or a garage (`joins subfloor`, `joins garage`).

# Why
The gap is a chimney. It draws the damp air of the crawl space, or the fumes of the garage, up the wall, and the
water in it settles on the coldest sheet.

# Example
    gap_end open 10mm, joins subfloor

# Better
    gap_end open 10mm, screen meshes.insect, faces down, joins outside

# Basis
E2/AS1 9.1.8.2 (New Zealand), public page: no air moves between the gap and the subfloor. Not law elsewhere, so it
warns.

# Known gaps
It can always tell: a gap end that names no space joins the outside. Openings into the roof are told by
`gap.joins_roof`.
",
};

impl Rule for GapJoinsDampSpace {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let into = |flow: &BayFlow| joined(flow).map(|opening| (bays::order(opening.with), opening.joins));
        for ((_, joins), group) in bays::grouped(&context.flow().bays, into) {
            report.extend(found(context, &group, joins));
        }
    }
}

fn joined(flow: &BayFlow) -> Option<&Opening> {
    let openings = flow.inlets.iter().chain(&flow.outlets).chain(&flow.exits);
    openings.into_iter().find(|opening| matches!(opening.joins, "subfloor" | "garage"))
}

fn found(context: &CheckContext<'_>, group: &Bays<'_>, joins: &str) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let with = joined(group.flows.first()?)?.with;
    let (name, at) = bays::boundary(context, group.face, with).unwrap_or((String::new(), area.origin));
    let message =
        format!("{} {} into the {joins} at {name}", group.name(context), group.verb(context, "opens", "open"));
    let finding = context
        .fault(&META, group.subject(context), at, message)
        .on_principle("E2/AS1 9.1.8.2 (New Zealand), public page: no air moves between gap and subfloor", false)
        .help("block the space off below the closure of the base, and open the gap to the outside: `joins outside`");
    let detail = match with {
        Against::Run(id) => context.plan.run(id).and_then(|run| bays::detail_of(context, run)),
        _ => None,
    };
    let finding = match detail {
        Some(detail) => finding.also(detail.origin, "the detail that opens it"),
        None => finding,
    };
    Some(group.at_foot(context, finding, "foot of the gap"))
}
