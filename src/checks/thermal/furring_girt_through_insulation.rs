//! Continuous metal girts that cross the insulation.

use super::frost;
use crate::checks::pieces::{area_name, walls};
use crate::checks::vapour::insulates;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::figures::heat::through_fill;
use crate::model::{Assembly, Layer, LayerKind, Limit, Stuff};
use crate::source::Span;
use crate::units::Range;

/// `furring.girt_through_insulation`
pub struct FurringGirtThroughInsulation;

static META: RuleMeta = RuleMeta {
    id: "furring.girt_through_insulation",
    catalogue: "TH-01",
    title: "continuous metal runs through the insulation",
    grade: Grade::S3,
    before: "H0",
    limits: &["girt.effective_vertical", "girt.effective_horizontal"],
    explain: "\
# What it checks
A layer of metal strips that is filled with insulation, and metal furring deeper than its gap with insulation behind
it, have a thermal break: pads, or clips in place of continuous strips.

# Why
The fins carry the heat past the board. Of what was paid for the insulation, a half to a fifth is left; where the rooms
are damp, frost grows at the inner ends.

# Example
    layer girts metals.galvanised_steel 75mm, fill insulations.wool_board

# Better
    layer girts metals.galvanised_steel 75mm, fill insulations.wool_board, thermal_break clips

# Basis
Trade guides: continuous upright fins leave 20 to 40 percent, lying ones 30 to 50. Common practice; it warns.

# Known gaps
The part that is left is a rule of thumb, not a sum: metal needs two dimensions. Wooden strips are not looked at.
",
};

/// Metal that crosses insulation.
struct Girt<'c> {
    subject: String,
    name: &'c str,
    /// Up the wall.
    upright: bool,
    broken: Option<&'static str>,
    /// Resistance of the insulation it crosses, m²·K/W.
    insulation: Result<f64, String>,
    at: Span,
}

impl Rule for FurringGirtThroughInsulation {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            for girt in girts(context, &area_name(context, face, area), wall) {
                report.extend(judge(context, &girt));
            }
        }
    }
}

fn is_metal(context: &CheckContext<'_>, stuff: &Stuff) -> bool {
    context.model.material_of(stuff).is_some_and(|material| material.kind == "metal")
}

fn girts<'c>(context: &CheckContext<'_>, area: &str, wall: &'c Assembly) -> Vec<Girt<'c>> {
    let mut found = Vec::new();
    for (at, layer) in wall.layers.iter().enumerate() {
        let subject = format!("{area}.{}", layer.name);
        match &layer.kind {
            LayerKind::Gap(gap) => {
                let behind = wall.layers.get(at + 1).filter(|behind| insulates(context.model, behind));
                for furring in &gap.furring {
                    let through = furring.thickness > gap.depth.1 && is_metal(context, &furring.stuff);
                    let Some(behind) = behind.filter(|_| through) else { continue };
                    found.push(Girt {
                        subject: subject.clone(),
                        name: &furring.stuff.name,
                        upright: furring.direction == Some(crate::model::Direction::Vertical),
                        broken: furring.thermal_break,
                        insulation: through_fill(context.model, behind).map(Range::middle),
                        at: furring.origin,
                    });
                }
            }
            LayerKind::Solid | LayerKind::Existing if layer.fill.is_some() && is_metal(context, &layer.stuff) => {
                found.push(layer_girt(context, subject, layer));
            }
            _ => {}
        }
    }
    found
}

fn layer_girt<'c>(context: &CheckContext<'_>, subject: String, layer: &'c Layer) -> Girt<'c> {
    Girt {
        subject,
        name: &layer.name,
        upright: layer.runs_vertical,
        broken: layer.thermal_break,
        insulation: through_fill(context.model, layer).map(Range::middle),
        at: layer.origin,
    }
}

fn judge(context: &CheckContext<'_>, girt: &Girt<'_>) -> Option<Finding> {
    match girt.broken {
        Some("none") => {}
        Some(_) => return None,
        None => {
            let missing = format!("what breaks `{}` where it crosses the insulation (`thermal_break`)", girt.name);
            return Some(context.unknown(&META, girt.subject.as_str(), girt.at, missing));
        }
    }
    let name = if girt.upright { "girt.effective_vertical" } else { "girt.effective_horizontal" };
    let message = format!("`{}` runs through the insulation without a break{}", girt.name, frost(context));
    let finding = context
        .fault(&META, girt.subject.as_str(), girt.at, message)
        .help("take clips, screws through furring on the face of the insulation, or a thermal break (`thermal_break`)");
    let limit = context.limit(name).and_then(|limit| Some((limit, limit.number()?)));
    Some(match (limit, &girt.insulation) {
        (Some((limit, share)), Ok(whole)) => {
            let shown = |value: f64| Measure { value: Some(value), shown: format!("{value:.2} m²·K/W") };
            finding
                .against(limit)
                .measured(shown(whole * share))
                .wanted(shown(*whole))
                .help(format!("count on {:.0} percent of its {whole:.2} m²·K/W at the best", share * 100.0))
        }
        (Some((limit, _)), Err(_)) => finding.against(limit as &Limit),
        (None, _) => finding.on_principle("trade guides", false),
    })
}
