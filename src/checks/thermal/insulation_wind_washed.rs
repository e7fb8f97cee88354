//! Wind that blows through open joints into soft insulation.

use crate::checks::pieces::{area_name, walls};
use crate::checks::vapour::{first_inboard, insulates};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::Assembly;

/// `insulation.wind_washed`
pub struct InsulationWindWashed;

static META: RuleMeta = RuleMeta {
    id: "insulation.wind_washed",
    catalogue: "TH-03",
    title: "wind blows through the insulation",
    grade: Grade::S3,
    before: "H0",
    limits: &["wind_wash.density"],
    explain: "\
# What it checks
Fibrous insulation that faces the gap, with nothing over it, is dense enough, or the cladding before it has no open joints
(`joints open`). On a site in rough country it is not asked.

# Why
Wind in an open gap moves the air in soft wool, and the heat goes with it.

# Example
    layer panels panels.fibre_cement 8mm, joints open
    gap cavity 38mm ventilated
    layer wool mineral_wool 100mm, controls heat

# Better
    layer wool insulations.wool_board 100mm, controls heat

# Basis
Common practice: a wind-tight sheet over it, or a board of higher density. No source for the number; it warns.

# Known gaps
A facing glued to the wool is seen only if it is a layer of its own.
",
};

impl Rule for InsulationWindWashed {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.model.site.as_ref().and_then(|site| site.terrain) == Some("rough") {
            return;
        }
        for (face, area, wall) in walls(context) {
            report.extend(judge(context, wall, &area_name(context, face, area)));
        }
    }
}

fn judge(context: &CheckContext<'_>, wall: &Assembly, area: &str) -> Option<Finding> {
    let cladding = wall.layers.get(stack::cladding(wall)?)?;
    let layer = wall.layers.get(first_inboard(wall)).filter(|layer| insulates(context.model, layer))?;
    let material = context.model.material_of(&layer.stuff).filter(|material| material.kind == "fibre")?;
    if matches!(cladding.joints, Some("lapped" | "closed")) {
        return None;
    }
    let subject = format!("{area}.{}", layer.name);
    let limit = context.limit("wind_wash.density").and_then(|limit| Some((limit, limit.number()?)));
    let Some((limit, least)) = limit else {
        return Some(context.unknown(&META, subject, layer.origin, "a limit `wind_wash.density`"));
    };
    let density = material.density.as_ref().map(|density| density.value);
    if density.is_some_and(|density| density >= least) {
        return None;
    }
    let missing = match (cladding.joints, density) {
        (None, _) => format!("whether the joints of `{}` are open (`joints`)", cladding.name),
        (_, None) => format!("density of `{}` (`density`)", material.name),
        (Some(_), Some(density)) => {
            let shown = |value: f64| Measure { value: Some(value), shown: format!("{value:.0} kg/m³") };
            let message = format!(
                "the joints of `{}` are open, and wind blows into `{}`: {density:.0} kg/m³ is too soft",
                cladding.name, layer.name
            );
            let finding = context.fault(&META, subject, layer.origin, message).against(limit);
            return Some(
                finding
                    .measured(shown(density))
                    .wanted(shown(least))
                    .help("lay a wind-tight sheet that vapour passes over it, or take a denser board"),
            );
        }
    };
    Some(context.unknown(&META, subject, layer.origin, missing))
}
