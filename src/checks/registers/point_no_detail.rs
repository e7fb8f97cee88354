//! A point where edges meet about which nobody said how it is built.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::plan::Node;

/// `point.no_detail`
pub struct PointNoDetail;

static META: RuleMeta = RuleMeta {
    id: "point.no_detail",
    catalogue: "",
    title: "nothing says how a point is built where edges meet",
    grade: Grade::S2,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
The low end of a roof (kick-out), its high end or the end of a parapet (saddle), a corner of three planes, and both ends of a
step in the base each have a point detail.

# Why
Real leaks are at points. Two details that are sound along their edges have no common end until somebody draws it.

# Example
    roof_line to (7200mm, 3975mm), detail lean_roof

# Better
    roof_line to (7200mm, 3975mm), detail lean_roof, point lean_head

# Basis
The register of points must be complete. Common practice; a paper on parapet saddles puts missing details at the heart of it.

# Known gaps
It can always tell. The foot and head of a plain corner, and the corners of an opening, belong to the details of their edges.
",
};

/// Kinds of point that need a detail of their own, and how they are called.
const KINDS: [(&str, &str); 4] = [
    ("kick_out", "the low end of a roof"),
    ("saddle", "a saddle"),
    ("step_end", "the end of a step"),
    ("three_plane_corner", "a corner of three planes"),
];

impl Rule for PointNoDetail {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for node in context.plan.nodes.iter().filter(|node| node.detail.is_none()) {
            if let Some((kind, words)) = KINDS.iter().find(|(kind, _)| *kind == node.kind)
                && !(*kind == "kick_out" && has_own_diverter(context, node))
            {
                report.push(found(context, node, words));
            }
        }
    }
}

/// A roof that crosses the face says how its low end is built with its own `kick_out`.
fn has_own_diverter(context: &CheckContext<'_>, node: &Node) -> bool {
    let face = context.model.face(node.face);
    face.is_some_and(|face| face.roofs.iter().any(|roof| roof.kick_out.is_some() && roof.line.lower_end() == node.at))
}

fn found(context: &CheckContext<'_>, node: &Node, words: &str) -> Finding {
    let names: Vec<_> =
        node.runs.iter().filter_map(|&id| context.plan.run(id)).map(|run| format!("`{}`", run.name)).collect();
    let meet = if names.is_empty() { String::new() } else { format!(", where {} meet", names.join(" and ")) };
    let subject = node.runs.first().and_then(|&id| context.plan.run(id)).map_or_else(
        || context.model.face(node.face).map_or_else(String::new, |face| face.name.clone()),
        |run| run.name.clone(),
    );
    let finding = context
        .fault(&META, subject, node.origin, format!("nothing says how {words} is built{meet}"))
        .on_principle("common practice: every point where planes meet has a detail", false)
        .help("add `point` and the name of a detail to the edge that ends there");
    context.on_face(finding, node.face, words, node.at, node.at)
}
