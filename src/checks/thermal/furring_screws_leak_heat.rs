//! Screws of the furring that carry much of the heat.

use super::outboard_insulation;
use crate::checks::metals::product_name;
use crate::checks::pieces::{area_name, walls};
use crate::checks::vapour::resistance;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::figures::heat;
use crate::layout::stack;
use crate::model::{Assembly, Fasten, Furring, Layer, Limit};
use crate::physics::resistance::{Screws, screw_loss};

/// `furring.screws_leak_heat`
pub struct FurringScrewsLeakHeat;

static META: RuleMeta = RuleMeta {
    id: "furring.screws_leak_heat",
    catalogue: "TH-05",
    title: "the screws of the furring carry much of the heat",
    grade: Grade::S4,
    before: "H0",
    limits: &["fastener.heat_loss"],
    explain: "\
# What it checks
What the screws of the furring add to the heat that the wall loses, where they go through insulation outside: no more
than the share the rule set allows.

# Why
Eight long steel screws in every square metre are a radiator. Nobody adds them up.

# Example
    fasten screws.structural 8mm x 240mm, into studs, every 200mm

# Better
    fasten screws.stainless_long 6mm x 240mm, into studs, every 400mm

# Basis
ISO 6946:2017, annex F: α·λ·A·n/d₀·(R₁/R)² with α 0.8, from memory. One study measured 2 to 16 percent. The limit is
common practice.

# Known gaps
The whole shank is counted as steel; a screw's core is thinner. Studs count as their filling. Screws of the cladding that
go through to the studs are not added.
",
};

impl Rule for FurringScrewsLeakHeat {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let Some((layer, gap)) = wall.gap() else { continue };
            let subject = format!("{}.{}", area_name(context, face, area), layer.name);
            for furring in &gap.furring {
                let Some(fasten) = &furring.fasten else { continue };
                let Some(target) = fasten.into.and_then(|into| stack::holds_in(context.model, wall, into)) else {
                    continue;
                };
                let crossed = outboard_insulation(context, wall, target);
                if crossed.is_empty() {
                    continue;
                }
                match loss(context, wall, (furring, fasten), &crossed) {
                    Ok(loss) => report.extend(judge(context, fasten, &subject, loss)),
                    Err(missing) => report.push(context.unknown(&META, subject.as_str(), fasten.origin, missing)),
                }
            }
        }
    }
}

/// What the screws add, as a share of what the wall loses without them; the error is the missing fact.
fn loss(
    context: &CheckContext<'_>,
    wall: &Assembly,
    (furring, fasten): (&Furring, &Fasten),
    crossed: &[&Layer],
) -> Result<f64, String> {
    let model = context.model;
    let name = product_name(model, fasten.product);
    let along = fasten.spacing.ok_or_else(|| format!("how far apart `{name}` stands (`every`)"))?;
    let across = furring.spacing.ok_or("how far apart the furring stands (`every`)")?;
    let diameter = fasten.diameter.ok_or_else(|| format!("thickness of `{name}` (`diameter`)"))?;
    let material = model.product(fasten.product).and_then(|product| model.material(product.of?));
    let conductivity = material.and_then(|material| material.conductivity.as_ref());
    let conductivity = conductivity.ok_or_else(|| format!("conductivity of `{name}` (`conductivity`)"))?.value;
    let layer: f64 = crossed.iter().map(|layer| resistance(model, layer)).sum::<Result<f64, String>>()?;
    let depth: Option<f64> = crossed.iter().map(|layer| Some(model.thickness_of(layer)?.as_m())).sum();
    let depth = depth.ok_or("thickness of the insulation")?;
    let whole = heat::between(model, wall)?;
    let per_area = 1.0 / (along.as_m() * across.as_m());
    let screws = Screws { conductivity, diameter: diameter.as_m(), per_area };
    screw_loss(screws, depth, layer, whole)
        .map(|added| added * whole)
        .ok_or_else(|| "thickness of the insulation".to_owned())
}

fn judge(context: &CheckContext<'_>, fasten: &Fasten, subject: &str, loss: f64) -> Option<Finding> {
    let limit = context.limit("fastener.heat_loss").and_then(|limit: &Limit| Some((limit, limit.number()?)));
    let Some((limit, most)) = limit else {
        return Some(context.unknown(&META, subject, fasten.origin, "a limit `fastener.heat_loss`"));
    };
    if loss <= most {
        return None;
    }
    let shown = |share: f64| Measure { value: Some(share), shown: format!("{:.0} %", share * 100.0) };
    let message = format!(
        "`{}` through the insulation adds {:.0} % to the heat the wall loses",
        product_name(context.model, fasten.product),
        loss * 100.0
    );
    let finding = context.fault(&META, subject, fasten.origin, message).against(limit);
    Some(finding.measured(shown(loss)).wanted(shown(most)).help("take stainless screws, thinner ones, or fewer"))
}
