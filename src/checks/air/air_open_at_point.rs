//! The air barrier is open at a point where edges meet.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.open_at_point`
pub struct AirOpenAtPoint;

static META: RuleMeta = RuleMeta {
    id: "air.open_at_point",
    catalogue: "AI-04",
    title: "the air barrier is open at a point where edges meet",
    grade: Grade::S2,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Where edges meet that are each closed: feet and heads of corners, ridges, bends, ends of steps and of lines between areas. A
part is turned over the point (`wraps`, or a point detail that carries air), or the barriers that meet lie in one plane and the
parts that join them hold on one another.

# Why
Real leaks are at points: two strips that are sound along their edges leave a pinhole where three planes meet.

# Example
    detail bare_point { at point }                    // no part of it carries the barrier

# Better
    detail patched_point {
        at point
        part membrane membranes.self_adhered, wraps 150mm, controls water and air, on sheathing
    }

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier. That it holds at points too is common practice.

# Known gaps
It can always tell. How well a fold is made is not known. Corners of openings belong to the detail of the opening.
",
};

impl Rule for AirOpenAtPoint {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for end in context.air().ends.iter().filter(|end| end.kind == "point") {
            let run = end.run.and_then(|run| context.plan.run(run));
            let subject = run.map_or_else(String::new, |run| run.name.clone());
            let finding = context
                .fault(&META, subject, end.origin, end.why.as_str())
                .on_principle("common practice: a part is turned over every point where planes meet", false)
                .help("add `point` and a detail with a patch: `part membrane …, wraps 150mm, controls water and air`")
                .path(end.path.clone());
            report.push(match (end.face, end.at, end.path.get(1)) {
                (Some(face), Some(at), Some(what)) => context.on_face(finding, face, what, at, at),
                _ => finding,
            });
        }
    }
}
