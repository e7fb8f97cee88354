//! Cladding of plastic or metal that is held fast at every strip.

use crate::checks::pieces::{area_name, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Fasten, Layer, Material};
use crate::physics::movement;
use crate::units::Length;

/// `board.fixed_twice`
pub struct BoardFixedTwice;

static META: RuleMeta = RuleMeta {
    id: "board.fixed_twice",
    catalogue: "MO-03",
    title: "lengths of cladding are held fast at more than one point",
    grade: Grade::S2,
    before: "H5",
    limits: &["slot.spare", "temperature.light", "temperature.mid", "temperature.dark"],
    explain: "\
# What it checks
Cladding of metal or plastic: its fasteners sit in slots, and the slots are as long as a piece moves from the
coldest day to the hottest its colour gets, with some to spare.

# Why
What is held at every strip and warms up bows out between them, or pulls its fasteners.

# Example
    layer boards boards.cellular_pvc 16mm {
        fasten screws.stainless 4.5mm x 50mm, into furring, slots 0mm
    }

# Better
    layer boards boards.cellular_pvc 16mm {
        fasten screws.stainless 4.5mm x 50mm, into furring, slots 16mm
    }

# Basis
One fixed point for each length, slots of the movement and 2 mm more: common practice and trade articles.

# Known gaps
The fixed point is taken in the middle of the longest stock length. Plastic boards that a maker lets be pinned are
not known.
",
};

impl Rule for BoardFixedTwice {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (face, area, wall) in walls(context) {
            let Some(layer) = stack::cladding(wall).and_then(|at| wall.layers.get(at)) else { continue };
            let material = context.model.material_of(&layer.stuff);
            let moves = material.filter(|material| matches!(material.kind, "metal" | "plastic"));
            if let (Some(fasten), Some(material)) = (&layer.fasten, moves) {
                let subject = format!("{}.{}", area_name(context, face, area), layer.name);
                report.extend(judge(context, &subject, layer, fasten, material));
            }
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    subject: &str,
    layer: &Layer,
    fasten: &Fasten,
    material: &Material,
) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, subject, fasten.origin, missing));
    let Some(slots) = fasten.slots else {
        return unknown(format!("whether `{}` can slide is not said (`slots`)", layer.name));
    };
    let Some((limit, spare)) = context.limit("slot.spare").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `slot.spare`".to_owned());
    };
    let moves = match moves(context, layer, material) {
        Ok(moves) => moves,
        Err(missing) => return unknown(missing),
    };
    let whole = Length::mm((moves * 1000.0 - 0.05).ceil() as i64) + spare;
    (slots < whole).then(|| {
        let message = format!(
            "slots of `{}` are {} long, and its ends move by {}; {} is wanted",
            layer.name,
            context.shown(slots),
            context.shown(whole - spare),
            context.shown(whole)
        );
        context
            .fault(&META, subject, fasten.origin, message)
            .against(limit)
            .measured(context.measure(slots))
            .wanted(context.measure(whole))
            .help("fix each length once in its middle, and let all other fasteners sit in slots")
    })
}

/// How far the end of a length moves from the coldest day to the hottest, held in its middle, in metres.
fn moves(context: &CheckContext<'_>, layer: &Layer, material: &Material) -> Result<f64, String> {
    let expansion = material.expansion.as_ref().map(|expansion| expansion.value);
    let expansion = expansion.ok_or_else(|| format!("thermal expansion of `{}` is not said", material.name))?;
    let product = context.model.product_of(&layer.stuff);
    let longest = product.and_then(|product| product.stock.iter().chain(&product.sheet).copied().max());
    let length = longest.ok_or_else(|| format!("stock length of `{}` is not said", layer.stuff.name))?;
    let colour = product.and_then(|product| product.surface).or(material.surface);
    let colour =
        colour.ok_or_else(|| format!("whether the surface of `{}` is light, mid or dark is not said", layer.name))?;
    let name = format!("temperature.{colour}");
    let hottest = context.limit(&name).and_then(|limit| limit.number());
    let hottest = hottest.ok_or_else(|| format!("no rule set in force has a limit `{name}`"))?;
    let climate = context.model.site.as_ref().and_then(|site| site.climate.as_ref());
    let extremes = climate.and_then(|climate| climate.extremes);
    let (coldest, _) = extremes.ok_or("the coldest day of the climate is not said (`extremes`)")?;
    Ok(movement::change(expansion, length.as_m() / 2.0, (hottest - coldest).max(0.0)))
}
