//! Two areas of a face that both claim a part of it.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::FaceId;

/// `area.overlap`
pub struct AreaOverlap;

static META: RuleMeta = RuleMeta {
    id: "area.overlap",
    catalogue: "",
    title: "two areas overlap",
    grade: Grade::S2,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
No two areas of a face share a part of it.

# Why
A part of the wall that is built two ways is counted twice, and nobody knows which one is meant.

# Example
    area lower wall below 2700mm
    area upper wall above 2400mm

# Better
    area lower wall below 2700mm
    area upper wall above 2700mm

# Basis
The register of areas names each part of the wall once.

# Known gaps
It can always tell.
",
};

impl Rule for AreaOverlap {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (index, (face, plan)) in context.model.faces.iter().zip(&context.plan.faces).enumerate() {
            for (one, other, shared) in &plan.overlaps {
                let (Some(one), Some(other)) = (face.areas.get(*one), face.areas.get(*other)) else { continue };
                let Some(bounds) = shared.bounds() else { continue };
                let message =
                    format!("`{}` and `{}` share {}", one.name, other.name, context.shown_area(shared.area().as_m2()));
                let finding = context
                    .fault(&META, format!("{}.{}", face.name, other.name), other.origin, message)
                    .on_principle("the register of areas names each part once", false)
                    .also(one.origin, "the other area")
                    .help("let one end where the other begins: give both the same height or place");
                let (from, to) = (Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.top));
                report.push(context.on_face(finding, FaceId(index as u32), "shared wall", from, to));
            }
        }
    }
}
