//! A stretch of edge about which nobody said how it is built.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::plan::{Run, RunPlace};

/// `edge.no_detail`
pub struct EdgeNoDetail;

static META: RuleMeta = RuleMeta {
    id: "edge.no_detail",
    catalogue: "",
    title: "nothing says how an edge is built",
    grade: Grade::S2,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
Every stretch of edge has a detail: of the outline, between areas, round openings, along roofs and decks.

# Why
An edge without a detail is the commonest omission of drawings. Whoever stands before it on site will invent one.

# Example
    between lower and upper, flush at sheathing

# Better
    between lower and upper, detail shelf, flush at sheathing

# Basis
The register of edges must be complete. Common practice; no code says it so.

# Known gaps
It can always tell. Whether the detail fits the place is left to the rules that read its promises.
",
};

impl Rule for EdgeNoDetail {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut told: Vec<(crate::model::FaceId, RunPlace)> = Vec::new();
        for run in context.plan.runs.iter().filter(|run| run.detail.is_none()) {
            let round_opening = matches!(run.place, RunPlace::Opening(_));
            if round_opening && told.contains(&(run.face, run.place)) {
                continue;
            }
            told.push((run.face, run.place));
            report.push(found(context, run, round_opening));
        }
    }
}

/// One finding for a stretch; one for all sides of an opening.
fn found(context: &CheckContext<'_>, run: &Run, round_opening: bool) -> Finding {
    let name = match run.name.rsplit_once('.') {
        Some((opening, _)) if round_opening => opening,
        _ => run.name.as_str(),
    };
    let length = context.shown(run.segment.length());
    let how_long = if round_opening { String::new() } else { format!(", {length} long") };
    let finding = context
        .fault(&META, name, run.origin, format!("nothing says how `{name}` is built{how_long}"))
        .on_principle("common practice: every edge has exactly one detail", false)
        .help("add `detail` and the name of how it is built");
    context.on_run(finding, run, run.segment)
}
