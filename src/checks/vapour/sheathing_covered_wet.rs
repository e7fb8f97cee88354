//! Wood that is covered while it is wet.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::model::{Layer, LayerKind};

/// `sheathing.covered_wet`
pub struct SheathingCoveredWet;

static META: RuleMeta = RuleMeta {
    id: "sheathing.covered_wet",
    catalogue: "VA-06",
    title: "wood is covered while it is wet",
    grade: Grade::S2,
    before: "H0",
    limits: &["moisture.cover"],
    explain: "\
# What it checks
Each reading of moisture (`reading 24% on 2027-05-03`) of a layer is no more than the rule set allows. Wood that was
there before (`existing`) has a reading.

# Why
Rot starts where wet wood is sealed in, and nobody sees it.

# Example
    existing sheathing sheets.plywood 12.5mm, reading 24% on 2027-05-03

# Better
    existing sheathing sheets.plywood 12.5mm, reading 15% on 2027-05-17

# Basis
19 percent: common practice; 16 is better.

# Known gaps
New sheathing is read when it is up: that is a line of hold point H0, and no reading is asked of the declaration.
",
};

impl Rule for SheathingCoveredWet {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            for layer in &wall.layers {
                let subject = format!("{}.{}", area_name(context, face, area), layer.name);
                match layer.reading {
                    Some(_) => judge(context, layer, &subject, report),
                    None if is_old_wood(context, layer) => {
                        let missing = format!("how wet `{}` is (`reading`)", layer.name);
                        report.push(context.unknown(&META, subject, layer.origin, missing));
                    }
                    None => {}
                }
            }
        }
    }
}

fn is_old_wood(context: &CheckContext<'_>, layer: &Layer) -> bool {
    let material = context.model.material_of(&layer.stuff);
    matches!(layer.kind, LayerKind::Existing)
        && !layer.controls.rain
        && material.is_some_and(|material| matches!(material.kind, "wood" | "wood_board"))
}

fn judge(context: &CheckContext<'_>, layer: &Layer, subject: &str, report: &mut Vec<Finding>) {
    let Some((limit, most)) = context.number_limit(&META, "moisture.cover", report) else { return };
    let Some((reading, at)) = layer.reading.filter(|(reading, _)| *reading > most) else { return };
    let shown = |share: f64| Measure { value: Some(share), shown: format!("{:.0} %", share * 100.0) };
    let message = format!(
        "`{}` reads {:.0} % moisture; over {:.0} % it is not covered",
        layer.name,
        reading * 100.0,
        most * 100.0
    );
    report.push(
        context
            .fault(&META, subject, at, message)
            .against(limit)
            .measured(shown(reading))
            .wanted(shown(most))
            .help("let it dry, read it again, and write the new reading here"),
    );
}
