//! A screen near the ground that mice chew.

use super::{Hole, openings};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::ground;
use crate::model::Limit;
use crate::units::Length;

/// `screen.chewable`
pub struct ScreenChewable;

static META: RuleMeta = RuleMeta {
    id: "screen.chewable",
    catalogue: "PE-05",
    title: "a screen near the ground is not of metal",
    grade: Grade::S3,
    before: "H4",
    limits: &["screen.metal_below"],
    explain: "\
# What it checks
Every screen of the gap that is lower above the ground than the rule set says is of metal. At a base whose ground is not
declared, and along a deck, the screen counts as low.

# Why
Mice chew glass fibre and plastic; trimmers and grass tear them.

# Example
    gap_end open, screen meshes.insect_glass, faces down

# Better
    gap_end open, screen meshes.insect, faces down

# Basis
Practitioners say that rodents chew it; 600 mm is common practice. It warns.

# Known gaps
Mice climb rough walls: higher up it is only less likely.
",
};

impl Rule for ScreenChewable {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some((limit, below)) = context.length_limit(&META, "screen.metal_below", report) else { return };
        for hole in openings(context) {
            if let Some(height) = low(context, &hole, below) {
                let finding = judge(context, &hole, (limit, below), height);
                report.extend(finding.map(|finding| hole.on_wall(context, finding)));
            }
        }
    }
}

/// Its height above the ground if it is low; `Some(None)` where it is low without a measure.
fn low(context: &CheckContext<'_>, hole: &Hole<'_>, below: Length) -> Option<Option<Length>> {
    if hole.kind == "deck_line" {
        return Some(None);
    }
    let line = ground::ground_line(context.model.face(hole.face)?);
    if line.is_empty() {
        return matches!(hole.kind, "base" | "step").then_some(None);
    }
    let ends = [hole.segment.from, hole.segment.to];
    let least = ends.iter().filter_map(|end| Some(end.y - ground::height(&line, end.x)?)).min()?;
    (least < below).then_some(Some(least))
}

fn judge(
    context: &CheckContext<'_>,
    hole: &Hole<'_>,
    (limit, below): (&Limit, Length),
    height: Option<Length>,
) -> Option<Finding> {
    let screen = hole.screen?;
    let name = context.model.product_name(screen);
    let material = context.model.product(screen).and_then(|screen| context.model.material(screen.of?));
    let kind = material.map_or("", |material| material.kind);
    match kind {
        "metal" => None,
        "" => {
            let missing = format!("what `{name}` is of");
            Some(context.unknown(&META, hole.subject.as_str(), hole.at, missing))
        }
        _ => {
            let message = format!(
                "`{name}` is of {}: mice chew it, and it stands less than {} above the ground",
                material.map_or("", |material| material.name.as_str()),
                context.shown(below)
            );
            let finding = context.fault(&META, hole.subject.as_str(), hole.at, message).against(limit);
            let finding = finding.wanted(context.measure(below)).help("take a metal mesh");
            Some(match height {
                Some(height) => finding.measured(context.measure(height)),
                None => finding,
            })
        }
    }
}
