//! Sheets of the air barrier that are lapped or butted, and not sealed to one another.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Layer;

/// `seam.untaped`
pub struct SeamUntaped;

static META: RuleMeta = RuleMeta {
    id: "seam.untaped",
    catalogue: "",
    title: "the sheets of the air barrier are not sealed to one another",
    grade: Grade::S2,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
The layer that is the air barrier, if it comes in sheets or rolls, says what seals its seams (`seam`). One that
sticks by itself or is brushed on needs none.

# Why
A lap sheds water but not wind: at 50 Pa air goes through every lap that nothing holds shut.

# Example
    layer membrane membranes.vapour_open, controls water and air, lap 150mm

# Better
    layer membrane membranes.vapour_open, controls water and air, lap 150mm, seam tapes.acrylic

# Basis
One continuous layer is the principle of 9.25.3 of the Canadian code; the rule is common practice.

# Known gaps
Whether the tape was rolled is for eyes to see.
",
};

impl Rule for SeamUntaped {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let Some((_, layer)) = wall.air_layer() else { continue };
            let subject = format!("{}.{}", area_name(context, face, area), layer.name);
            report.extend(judge(context, layer, subject));
        }
    }
}

fn judge(context: &CheckContext<'_>, layer: &Layer, subject: String) -> Option<Finding> {
    if layer.seam.is_some() {
        return None;
    }
    let Some(product) = context.model.product_of(&layer.stuff) else {
        let missing =
            format!("whether `{}` comes in sheets, and what seals them (name a product, or its `seam`)", layer.name);
        return Some(context.unknown(&META, subject, layer.origin, missing));
    };
    let sticks = product.kind == "liquid" || product.family.is_some() || !product.bonds.is_empty();
    if sticks || !matches!(product.kind, "membrane" | "sheet" | "board" | "panel" | "insulation") {
        return None;
    }
    let message = format!("nothing seals the seams of `{}`, the air barrier", layer.name);
    let finding = context.fault(&META, subject, layer.origin, message);
    Some(finding.help("name the tape of its seams: `seam tapes.acrylic`; for boards, tape every joint as well"))
}
