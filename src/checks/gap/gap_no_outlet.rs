//! A gap that is said to be ventilated and lacks its high or its low opening.

use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::BayFlow;
use crate::model::{FaceId, Gap, Openness};
use crate::units::Length;

/// `gap.no_outlet`
pub struct GapNoOutlet;

static META: RuleMeta = RuleMeta {
    id: "gap.no_outlet",
    catalogue: "VE-01",
    title: "a ventilated gap has no opening at one end",
    grade: Grade::S2,
    before: "H6",
    limits: &[],
    explain: "\
# What it checks
Each bay of a gap that its assembly calls `ventilated` has an opening low and an opening high. A gap called `vented` needs
only the low one.

# Why
Open at the bottom and shut at the top by a frieze or soffit, the gap drains but dries slowly.

# Example
    gap cavity 19mm ventilated { … }     // and a top built as `closed_top`

# Better
    gap cavity 19mm ventilated { … }     // and a top whose detail `gives outlet`

# Basis
Common practice, and contested: older Canadian advice closed the top to equalise pressure; later research and current guides
open both ends for drying. It holds the wall to what its assembly says.

# Known gaps
A bay open at neither end is told by `bay.cut_off`.
",
};

impl Rule for GapNoOutlet {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        undeclared(context, report);
        let ventilated = |flow: &&BayFlow| openness(context, flow.id.face, flow.id.area) == Some(Openness::Ventilated);
        let flows: Vec<&BayFlow> = context.flow().bays.iter().filter(ventilated).collect();
        let lacks = |flow: &BayFlow| match (flow.inlets.is_empty(), flow.outlets.is_empty()) {
            (false, true) => Some(End::Top),
            (true, false) => Some(End::Foot),
            _ => None,
        };
        for (end, group) in bays::grouped(flows, lacks) {
            report.extend(found(context, &group, end));
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    Foot,
    Top,
}

/// The gap of an area's assembly.
fn gap<'m>(context: &CheckContext<'m>, face: FaceId, area: usize) -> Option<&'m Gap> {
    let area = context.model.face(face)?.areas.get(area)?;
    context.model.assembly(area.assembly)?.gap().map(|(_, gap)| gap)
}

fn openness(context: &CheckContext<'_>, face: FaceId, area: usize) -> Option<Openness> {
    gap(context, face, area)?.openness
}

fn undeclared(context: &CheckContext<'_>, report: &mut Vec<Finding>) {
    for (at, face) in context.model.faces.iter().enumerate() {
        for (index, area) in face.areas.iter().enumerate() {
            if let Some(gap) = gap(context, FaceId(at as u32), index)
                && gap.openness.is_none()
            {
                let missing = "whether the gap is `vented` or `ventilated`";
                report.push(
                    context
                        .unknown(&META, format!("{}.{}", face.name, area.name), gap.origin, missing)
                        .also(area.origin, "where it is built"),
                );
            }
        }
    }
}

fn found(context: &CheckContext<'_>, group: &Bays<'_>, end: End) -> Option<Finding> {
    let (_, area) = group.place(context)?;
    let gap = gap(context, group.face, group.area)?;
    let (lacking, has) = match end {
        End::Foot => ("low opening", "at the top"),
        End::Top => ("high opening", "at the foot"),
    };
    let tallest: Length = group.flows.iter().map(|flow| flow.height).max()?;
    let message = format!(
        "{} is called ventilated and has no {lacking}: it is open {has} only, {} tall",
        group.name(context),
        context.shown(tallest)
    );
    let finding = context
        .fault(&META, group.subject(context), area.origin, message)
        .on_principle("common practice: open at both ends to dry", false)
        .also(gap.origin, "called `ventilated` here")
        .help(match end {
            End::Top => "open the top along every bay, sheltered (`gives outlet`), or call the gap `vented`",
            End::Foot => "open the foot along every bay (`gives exit and inlet`)",
        });
    Some(match end {
        End::Foot => group.at_foot(context, finding, "foot of the gap"),
        End::Top => group.at_head(context, finding, "top of the gap"),
    })
}
