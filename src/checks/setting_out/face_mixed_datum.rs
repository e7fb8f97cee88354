//! Faces that meet and are measured to different surfaces.

use std::collections::BTreeSet;

use crate::checks::pieces::{faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Assembly, Face, FaceId};
use crate::units::Length;

/// `face.mixed_datum`
pub struct FaceMixedDatum;

static META: RuleMeta = RuleMeta {
    id: "face.mixed_datum",
    catalogue: "BL-13",
    title: "faces that meet are measured to different surfaces",
    grade: Grade::S1,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
Every face says what it is measured to, and faces that meet at a corner say the same.

# Why
Measured to the frame on one side and to the cladding on the other, every trim and every corner is out by the
thickness between.

# Example
    face north { measured to sheathing }
    face east  { measured to frame }

# Better
    face north { measured to sheathing }
    face east  { measured to sheathing }

# Basis
Common practice: one datum for a drawing.

# Known gaps
Openings follow their face; `frame` and `rough` sizes are another matter.
",
};

impl Rule for FaceMixedDatum {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut seen = BTreeSet::new();
        for (id, face) in faces(context.model) {
            if face.measured_to.is_none() {
                let missing = format!("which surface `{}` is measured to is not said (`measured to …`)", face.name);
                report.push(context.unknown(&META, face.name.clone(), face.origin, missing));
            }
            for corner in face.edges.iter().filter_map(|edge| edge.meets.as_ref()) {
                let Some(other) = corner.id.and_then(|other| Some((other, context.model.face(other)?))) else {
                    continue;
                };
                if other.1.broken || !seen.insert((id.min(other.0), id.max(other.0))) {
                    continue;
                }
                report.extend(judge(context, (id, face), other));
            }
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    (other_id, other): (FaceId, &Face),
) -> Option<Finding> {
    let (here, there) = (face.measured_to?, other.measured_to?);
    if here == there {
        return None;
    }
    let message = format!("`{}` is measured to {here}, `{}`, which it meets, to {there}", face.name, other.name);
    let finding = context
        .fault(&META, other.name.clone(), other.origin, message)
        .on_principle("common practice: one datum for a drawing", false)
        .also(face.origin, format!("measured to {here}"));
    let walls = [(id, face), (other_id, other)]
        .into_iter()
        .find_map(|(id, face)| (!face.areas.is_empty()).then(|| wall(context, id, 0))?);
    let apart = walls.and_then(|wall| Some((surface(context, wall, here)?, surface(context, wall, there)?)));
    Some(match apart {
        Some((one, two)) if one != two => {
            let by = (one - two).abs();
            let way = if one < two { "out" } else { "in" };
            finding.measured(context.measure(by)).help(format!(
                "to measure `{}` to {here} as well, move its ends {way} by {} at each corner",
                other.name,
                context.shown(by)
            ))
        }
        _ => finding.help("measure both to the same surface"),
    })
}

/// How far a surface lies behind the outer face of the wall.
fn surface(context: &CheckContext<'_>, wall: &Assembly, plane: &str) -> Option<Length> {
    let at = match plane {
        "cladding" => 0,
        "sheathing" => context.model.sheathing(wall)?,
        _ => wall.frame()?.0,
    };
    stack::between(context.model, wall, 0, at).ok()
}
