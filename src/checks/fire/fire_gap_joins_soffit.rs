//! A gap that opens into a closed soffit.

use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{BayFlow, Opening};

/// `fire.gap_joins_soffit`
pub struct FireGapJoinsSoffit;

static META: RuleMeta = RuleMeta {
    id: "fire.gap_joins_soffit",
    catalogue: "F-03",
    title: "the gap opens into a soffit, and fire with it",
    grade: Grade::S1,
    before: "H6",
    limits: &[],
    explain: "\
# What it checks
No opening of the gap joins a soffit of a roof that is not vented. It can always tell.

# Why
A concealed space that runs on into another carries fire into it, vented or not.

# Example
    gap_end open 10mm, joins soffit

# Better
    part blocking furring.spruce, name gap_stop, width 64mm
    gap_end open 10mm, screen meshes.insect, faces sheltered, joins outside

# Basis
Canada: concealed spaces are not continuous, quoted by practitioners; the United States ask for fire and draft stops, from
memory. It warns.

# Known gaps
A vented roof, and one of which that is not said, is told by `gap.joins_roof`; subfloor and garage by
`gap.joins_damp_space`.
",
};

impl Rule for FireGapJoinsSoffit {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let closed =
            |face| context.model.building_of(face).and_then(|building| building.roof.as_ref()?.2) == Some(false);
        // Under roofs that are vented, or not said to be closed, `gap.joins_roof` speaks.
        let into =
            |flow: &BayFlow| joined(flow).filter(|_| closed(flow.id.face)).map(|opening| bays::order(opening.with));
        for (_, group) in bays::grouped(&context.flow().bays, into) {
            report.extend(found(context, &group));
        }
    }
}

fn joined(flow: &BayFlow) -> Option<&Opening> {
    let openings = flow.inlets.iter().chain(&flow.outlets).chain(&flow.exits);
    openings.into_iter().find(|opening| opening.joins == "soffit")
}

fn found(context: &CheckContext<'_>, group: &Bays<'_>) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let with = joined(group.flows.first()?)?.with;
    let (name, at) = bays::boundary(context, group.face, with).unwrap_or((String::new(), area.origin));
    let message = format!("{} {} into the soffit at {name}", group.name(context), group.verb(context, "opens", "open"));
    let finding = context
        .fault(&META, group.subject(context), at, message)
        .on_principle("practitioners citing Canadian codes: concealed spaces are closed off from each other", false)
        .help("stop the gap under the soffit and let it out through the frieze: `joins outside`");
    Some(group.at_head(context, finding, "top of the gap"))
}
