//! Sheet metal that sweats at night, with no air to dry it.

use super::{first_inboard, permeance};
use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Assembly, Limit, Openness};

/// `cladding.metal_sweats`
pub struct CladdingMetalSweats;

static META: RuleMeta = RuleMeta {
    id: "cladding.metal_sweats",
    catalogue: "VA-07",
    title: "the dew on the back of a metal cladding has nowhere to go",
    grade: Grade::S3,
    before: "H0",
    limits: &["vapour_open.permeance"],
    explain: "\
# What it checks
Behind a cladding of sheet metal the gap is ventilated, or the plane is a sheet that vapour passes and that takes the
drops up.

# Why
Under a clear sky the metal is colder than the air. Dew forms on its back and drips on furring and screws, each night.

# Example
    layer sheets panels.steel 0.6mm, controls rain
    gap cavity 19mm vented

# Better
    gap cavity 19mm ventilated

# Basis
A code of practice of New Zealand asks for a permeable underlay and for ventilation, from a guide. It warns.

# Known gaps
How much a sheet takes up is not known: any sheet that vapour passes counts as underlay.
",
};

impl Rule for CladdingMetalSweats {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            report.extend(judge(context, wall, &area_name(context, face, area)));
        }
    }
}

fn judge(context: &CheckContext<'_>, wall: &Assembly, area: &str) -> Option<Finding> {
    let layer = wall.layers.get(stack::cladding(wall)?)?;
    let metal = context.model.material_of(&layer.stuff).is_some_and(|material| material.kind == "metal");
    let (cavity, gap) = wall.gap().filter(|_| metal)?;
    if gap.openness == Some(Openness::Ventilated) {
        return None;
    }
    let subject = format!("{area}.{}", layer.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.as_str(), cavity.origin, missing));
    let open = context.limit("vapour_open.permeance").and_then(Limit::number);
    let underlay = wall.layers.get(first_inboard(wall)).filter(|layer| context.model.is_membrane(&layer.stuff));
    if let Some(underlay) = underlay {
        match permeance(context.model, underlay).zip(open) {
            Some((permeance, open)) if permeance.openest >= open => return None,
            Some(_) => {}
            None => return unknown(format!("permeance of `{}` (`permeance`)", underlay.name)),
        }
    }
    if gap.openness.is_none() {
        return unknown(format!("whether `{}` is vented or ventilated", cavity.name));
    }
    let message = format!(
        "dew on the back of `{}` stays: `{}` is open at its foot only, and no sheet behind it takes the drops up",
        layer.name, cavity.name
    );
    let finding = context.fault(&META, subject.as_str(), layer.origin, message).also(cavity.origin, "the gap");
    Some(
        finding
            .on_principle("code of practice of New Zealand, from a guide: permeable underlay and ventilation", false)
            .help("open the top of the gap (`ventilated`), or lay a sheet behind it that vapour passes"),
    )
}
