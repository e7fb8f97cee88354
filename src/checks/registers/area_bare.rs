//! A part of a face that no area covers.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::FaceId;

/// `area.bare`
pub struct AreaBare;

static META: RuleMeta = RuleMeta {
    id: "area.bare",
    catalogue: "",
    title: "a part of the wall belongs to no area",
    grade: Grade::S2,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
The areas of a face cover all of its outline.

# Why
What belongs to no area has no layers: it is neither checked, nor drawn, nor bought.

# Example
    area lower wall below 2400mm
    area upper wall above 2700mm

# Better
    area lower wall below 2700mm
    area upper wall above 2700mm

# Basis
The register of areas must be complete.

# Known gaps
It can always tell.
",
};

impl Rule for AreaBare {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (index, (face, plan)) in context.model.faces.iter().zip(&context.plan.faces).enumerate() {
            for piece in plan.bare.polygons() {
                let bounds = piece.bounds();
                let area = context.shown_area(piece.area().as_m2());
                let finding = context
                    .fault(
                        &META,
                        face.name.as_str(),
                        face.origin,
                        format!("{area} of `{}` belong to no area", face.name),
                    )
                    .on_principle("the register of areas is complete", false)
                    .help("add an `area`, or stretch the one beside it with `below`, `above`, `from` and `to`");
                let (from, to) = (Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.top));
                report.push(context.on_face(finding, FaceId(index as u32), "bare wall", from, to));
            }
        }
    }
}
