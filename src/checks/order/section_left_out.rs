//! A piece of wall that is in nobody's section, or in two.

use super::named;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::Lanes;
use crate::geometry::Point;
use crate::model::{FaceId, Section};

/// `section.left_out`
pub struct SectionLeftOut;

static META: RuleMeta = RuleMeta {
    id: "section.left_out",
    catalogue: "",
    title: "sections leave out part of a wall, or do it twice",
    grade: Grade::S3,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
On a face for which sections are declared, they cover all of it, and no two cover one piece. A section reaches
from what is below it up to its stop line. It can always tell.

# Why
What stands in no section is in no kit: it is cut, carried and fixed last, from a ladder.

# Example
    section low on west from 0mm to 4800mm up to 2700mm
    section high on west from 0mm to 4000mm

# Better
    section low on west from 0mm to 4800mm up to 2700mm
    section high on west from 0mm to 4800mm

# Basis
Common practice.

# Known gaps
A face without any section is not asked.
",
};

impl Rule for SectionLeftOut {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (&face, lanes) in &context.order().faces {
            report.extend(judge(context, face, lanes));
        }
    }
}

/// One finding for a face, however many pieces are left out.
fn judge(context: &CheckContext<'_>, face: FaceId, lanes: &Lanes) -> Option<Finding> {
    let sections = || context.model.sections.iter().filter(|section| section.face == Some(face));
    let first = sections().next()?;
    if let Some((one, other)) = lanes.twice.first() {
        let (one, other) = (context.model.sections.get(*one)?, context.model.sections.get(*other)?);
        return Some(twice(context, face, one, other));
    }
    let bounds = lanes.left_out.bounds()?;
    let area = context.shown_area(lanes.left_out.area().0 as f64 / 1e18);
    let wall = context.face_name(face);
    let finding = context
        .fault(&META, first.on.0.clone(), first.origin, format!("{area} of the {wall} is in no section"))
        .on_principle("common practice", false)
        .help("widen a section to it, or declare one for it; leave out `up to` for the last lift of a lane");
    let (from, to) = (Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.top));
    Some(context.on_face(finding, face, "left out", from, to))
}

fn twice(context: &CheckContext<'_>, face: FaceId, one: &Section, other: &Section) -> Finding {
    let message = format!("`{}` and `{}` are to do the same piece of wall", one.name, other.name);
    let finding = context
        .fault(&META, named(other), other.origin, message)
        .on_principle("common practice", false)
        .help("end one lane where the other begins, or give one of them another stop line")
        .also(one.origin, "the other one");
    let bounds = context.plan.face(face).and_then(|plan| plan.outline.bounds()).unwrap_or_default();
    context.on_face(
        finding,
        face,
        &other.name,
        Point::new(bounds.left, bounds.bottom),
        Point::new(bounds.right, bounds.top),
    )
}
