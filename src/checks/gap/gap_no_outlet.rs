//! A gap that is said to be ventilated and lacks its high or its low opening.

use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::BayFlow;
use crate::model::{FaceId, Gap, Openness};
use crate::plan::Against;
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
        let lacks = |flow: &BayFlow| {
            let end = match (flow.inlets.is_empty(), flow.outlets.is_empty()) {
                (false, true) => End::Top,
                (true, false) => End::Foot,
                _ => return None,
            };
            let told = bays::told_elsewhere(context, flow);
            (!told).then(|| (end, shut_by(context, flow, end).map(bays::order)))
        };
        for ((end, _), group) in bays::grouped(flows, lacks) {
            report.extend(found(context, &group, end));
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    Foot,
    Top,
}

/// What closes a bay at one end.
fn shut_by(context: &CheckContext<'_>, flow: &BayFlow, end: End) -> Option<Against> {
    match end {
        End::Foot => bays::floor(context, flow),
        End::Top => bays::ceiling(context, flow),
    }
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
    let with = shut_by(context, group.flows.first()?, end);
    let boundary = with.and_then(|with| bays::boundary(context, group.face, with));
    let (closed, at) =
        boundary.map_or((String::new(), area.origin), |(name, at)| (format!(", closed there by {name}"), at));
    let message = format!(
        "{} {} called ventilated and {} no {lacking}{closed}: open {has} only, up to {} tall",
        group.name(context),
        group.verb(context, "is", "are"),
        group.verb(context, "has", "have"),
        context.shown(tallest)
    );
    let finding = context
        .fault(&META, group.subject(context), at, message)
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
