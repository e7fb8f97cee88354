//! A membrane that lies in daylight longer than it bears.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::model::{Layer, LayerKind};
use crate::units::{Dimension, Quantity, display};

/// `membrane.exposed_too_long`
pub struct MembraneExposedTooLong;

static META: RuleMeta = RuleMeta {
    id: "membrane.exposed_too_long",
    catalogue: "AI-13",
    title: "a membrane lies in daylight longer than it bears",
    grade: Grade::S3,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
How long each sheet outside the frame is to lie open (`exposed`) against what its product bears (`sunlight`).

# Why
Ultraviolet light and wind age and tear a membrane before it is covered; nobody sees it afterwards.

# Example
    layer membrane membranes.vapour_open, controls water and air, exposed 200day

# Better
    layer membrane membranes.vapour_open, controls water and air, exposed 60day

# Basis
The maker's number; 60 to 180 days is usual (from memory).

# Known gaps
It asks for the days once for a project, at the first sheet that does not say them.
",
};

impl Rule for MembraneExposedTooLong {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut asked = false;
        for (face, area, wall) in walls(context) {
            for (index, layer) in wall.layers.iter().enumerate() {
                let outside = wall.is_inboard_of_frame(index) != Some(true);
                let new = matches!(layer.kind, LayerKind::Solid) && context.model.is_membrane(&layer.stuff);
                if !outside || !new {
                    continue;
                }
                let subject = format!("{}.{}", area_name(context, face, area), layer.name);
                let Some(days) = layer.exposed else {
                    if !asked {
                        asked = true;
                        let missing = format!("how long `{}` lies in daylight (`exposed`)", layer.name);
                        report.push(context.unknown(&META, subject, layer.origin, missing));
                    }
                    continue;
                };
                report.extend(judge(context, layer, days, subject));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, layer: &Layer, days: f64, subject: String) -> Option<Finding> {
    let shown = |seconds: f64| Measure {
        value: Some(seconds),
        shown: display::quantity(Quantity { value: seconds, dimension: Dimension::TIME }, context.units()),
    };
    let name = layer.stuff.product.map_or_else(|| layer.stuff.name.clone(), |id| context.model.product_name(id));
    let Some(most) = context.model.product_of(&layer.stuff).and_then(|product| product.sunlight.as_ref()) else {
        let missing = format!("how long `{name}` may lie in daylight (`sunlight`)");
        return Some(context.unknown(&META, subject, layer.origin, missing));
    };
    if days <= most.value {
        return None;
    }
    let (own, wanted) = (shown(days), shown(most.value));
    let message = format!("`{}` lies open for {}; `{name}` bears {}", layer.name, own.shown, wanted.shown);
    let finding = context.fault(&META, subject, layer.origin, message).also(most.origin, "as the product declares");
    Some(
        finding
            .on_principle("the maker's word, as the product declares it", false)
            .measured(own)
            .wanted(wanted)
            .help("cover it sooner, in sections, or renew it before it is covered"),
    )
}
