//! A floor that shrinks, and something rigid that runs across it.

use crate::checks::pieces::{faces, runs_beside_trims, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::layout::{holes, stack};
use crate::loads::settling;
use crate::model::{Detail, Face, FaceId, FloorLine};
use crate::units::Length;

/// `floor.shrinkage_no_gap`
pub struct FloorShrinkageNoGap;

static META: RuleMeta = RuleMeta {
    id: "floor.shrinkage_no_gap",
    catalogue: "MO-04",
    title: "nothing gives where a floor shrinks",
    grade: Grade::S2,
    before: "H4",
    limits: &["frame.shrinkage", "floor_line.gap"],
    explain: "\
# What it checks
How far the frame settles at every floor line, its horizontal wood drying from the day it is closed in to the years
after: the gap that its detail leaves is at least as wide, and a floor that settles has a detail where strips,
panels, upright boards or trims would run across it.

# Why
A floor of sawn lumber shrinks by eight millimetres. What runs across it buckles, pushes its fasteners out, or
opens the joint at the next window.

# Example
    floor_line upper at 2700mm, wood 349mm, moisture 19% to 8%

# Better
    floor_line upper at 2700mm, wood 349mm, moisture 19% to 8%, detail details.floor_break

# Basis
Note to NBC 9.27.3.8.(4), public copy: 0.002 of the depth of horizontal wood for one percent of moisture. A gap of
12 mm with a flashing: common practice.

# Known gaps
Level boards that lap are taken to give by themselves. Corner boards of details are taken to be cut at the floor.
",
};

impl Rule for FloorShrinkageNoGap {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for line in &face.floor_lines {
                let bounds = context.plan.face(id).and_then(|plan| plan.outline.bounds()).unwrap_or_default();
                let ends = (Point::new(bounds.left, line.height), Point::new(bounds.right, line.height));
                let finding = judge(context, id, face, line);
                report.extend(finding.map(|finding| context.on_face(finding, id, &line.name, ends.0, ends.1)));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, id: FaceId, face: &Face, line: &FloorLine) -> Option<Finding> {
    let detail = line.detail.and_then(|detail| context.model.detail(detail));
    if detail.is_some_and(|detail| detail.broken) {
        return None;
    }
    let crossing = crossing(context, id, face, line.height);
    if detail.is_none() && crossing.is_empty() {
        return None;
    }
    let subject = format!("{}.{}", face.name, line.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), line.origin, missing));
    let drop = match settling::of_floor(context.model, line) {
        Ok(drop) => Length::snap_m(drop),
        Err(missing) => return unknown(missing),
    };
    let limit = context.limit("frame.shrinkage")?;
    let usual = context.limit("floor_line.gap").and_then(|limit| limit.length());
    // A millimetre is taken up by the play of any joint.
    if drop <= Length::mm(1) {
        return None;
    }
    let leave = context.shown(usual.unwrap_or(drop).max(drop));
    let fault = |message: String| {
        context.fault(&META, subject.clone(), line.origin, message).against(limit).wanted(context.measure(drop))
    };
    let Some(detail) = detail else {
        let message = format!(
            "the frame settles by {} at `{}`, and {} run across it",
            context.shown(drop),
            line.name,
            crossing.join(" and ")
        );
        return Some(
            fault(message)
                .measured(context.measure(Length::ZERO))
                .help(format!("break them there with a flashing, and leave {leave}: `detail …` on the floor line")),
        );
    };
    match gap_of(detail) {
        None => {
            unknown(format!("how wide a gap `{}` leaves is not said (`gap_end open …` or `holds_up …`)", detail.name))
        }
        Some(gap) if gap < drop => {
            let message = format!(
                "the frame settles by {} at `{}`, and `{}` leaves {}",
                context.shown(drop),
                line.name,
                detail.name,
                context.shown(gap)
            );
            Some(
                fault(message)
                    .measured(context.measure(gap))
                    .also(detail.origin, "the detail")
                    .help(format!("leave {leave} above the flashing")),
            )
        }
        Some(_) => None,
    }
}

/// The gap a detail leaves at a floor: its slot to what is above, or how far its flashing is held from it.
fn gap_of(detail: &Detail) -> Option<Length> {
    let slots = detail.edge.gap_ends.iter().filter(|end| end.open).filter_map(|end| end.slot);
    let held = detail.edge.parts.iter().filter_map(|part| part.holds_up);
    slots.max().or_else(|| held.max())
}

/// What is rigid and runs up across a level line.
fn crossing(context: &CheckContext<'_>, id: FaceId, face: &Face, level: Length) -> Vec<String> {
    let mut found = Vec::new();
    let over = |low: Length, high: Length| low < level && level < high;
    for (at, area) in context.plan.face(id).into_iter().flat_map(|plan| plan.areas.iter().enumerate()) {
        let Some(wall) = wall(context, id, at) else { continue };
        let strips = area.strips.iter().filter(|strip| !strip.horizontal).map(|strip| strip.shape.bounds());
        if let Some((layer, _)) = wall.gap()
            && strips.into_iter().any(|bounds| over(bounds.bottom, bounds.top))
        {
            found.push(format!("the strips of `{}`", layer.name));
        }
        let Some(boards) = stack::cladding(wall).and_then(|at| wall.layers.get(at)) else { continue };
        let panel = context.model.product_of(&boards.stuff).map(|product| product.kind) == Some("panel");
        let reaches = area.whole.bounds().is_some_and(|bounds| over(bounds.bottom, bounds.top));
        if (panel || boards.runs_vertical) && reaches {
            found.push(format!("`{}`", boards.name));
        }
    }
    let runs = runs_beside_trims(context, id, face);
    for trim in &face.trims {
        let line = holes::trim_line(face, &runs, trim).filter(|line| line.is_vertical());
        if line.is_some_and(|line| over(line.from.y.min(line.to.y), line.from.y.max(line.to.y))) {
            found.push(format!("`{}`", trim.name));
        }
    }
    found.sort();
    found.dedup();
    found
}
