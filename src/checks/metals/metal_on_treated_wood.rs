//! Aluminium and zinc on wood that is full of copper.

use super::fastener_wrong_finish::rusts;
use super::{Made, product_metal, stuff_metal};
use crate::checks::fastening::{fastenings, on_wall};
use crate::checks::pieces::{Once, area_name, called, pieces, walls};
use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::loads::Fastening;
use crate::model::{Assembly, Furring, LayerKind, Material};
use crate::physics::galvanic::Metal;

/// `metal.on_treated_wood`
pub struct MetalOnTreatedWood;

static META: RuleMeta = RuleMeta {
    id: "metal.on_treated_wood",
    catalogue: "CO-04",
    title: "the copper in treated wood eats the metal on it",
    grade: Grade::S2,
    before: "H2",
    limits: &[],
    explain: "\
# What it checks
Wood that is `treated copper` touches no aluminium and no zinc: parts and trims that lie on it are `isolated with`
something, metal cladding stands on furring that is, and its fasteners are stainless or hot-dip galvanised.

# Why
Copper salts in the wet wood eat aluminium flashings and thin zinc in a few years, unseen, behind the cladding.

# Example
    furring furring.treated 19mm x 64mm, vertical
    layer   sheets panels.aluminium 1mm, controls rain

# Better
    furring furring.treated 19mm x 64mm, vertical, isolated with tapes.isolating

# Basis
Guides of the makers of preservatives, and of New Zealand: isolate metal from copper-treated battens. Common practice; it
warns.

# Known gaps
Coated structural screws are the maker's word, and are not judged. How much copper is in the wood is not known. Electroplated
and bare fasteners are told by `fastener.wrong_finish`.
",
};

impl Rule for MetalOnTreatedWood {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context) {
            report.extend(fastener(context, &fastening).map(|finding| on_wall(context, &fastening, finding)));
        }
        cladding(context, report);
        let mut once = Once::default();
        for piece in pieces(context) {
            let Some(metal) = stuff_metal(context.model, &piece.spec.stuff) else { continue };
            if piece.spec.isolated.is_some() || !once.first(&piece) {
                continue;
            }
            let under = piece.spec.on.zip(piece.wall(context)).and_then(|(on, wall)| under(context, wall, on));
            let Some(wood) = under else { continue };
            let subject = (piece.name.as_str(), called(piece.spec));
            report.extend(
                sheet(context, subject, &metal, wood, piece.spec.origin).map(|finding| piece.on_wall(context, finding)),
            );
        }
        report.extend(judge_each(context, trim));
    }
}

fn is_treated(material: Option<&Material>) -> bool {
    material.is_some_and(|wood| wood.treated == Some("copper"))
}

fn furring(wall: &Assembly) -> Option<&Furring> {
    wall.gap().and_then(|(_, gap)| gap.furring.first())
}

/// The treated wood a thing lies on, unless something lies between.
fn under<'c>(context: &CheckContext<'c>, wall: &'c Assembly, on: &str) -> Option<&'c Material> {
    let wood = match on {
        "furring" => context.model.material_of(&furring(wall).filter(|furring| furring.isolated.is_none())?.stuff),
        _ => {
            let layer = wall.layers.get(stack::lies_on(context.model, wall, on)?)?;
            context.model.material_of(&layer.stuff)
        }
    };
    wood.filter(|wood| is_treated(Some(wood)))
}

fn sheet(
    context: &CheckContext<'_>,
    (subject, name): (&str, &str),
    metal: &Made,
    wood: &Material,
    at: crate::source::Span,
) -> Option<Finding> {
    match metal.family {
        Some(Metal::Aluminium | Metal::Zinc | Metal::Galvanised | Metal::CoatedSteel) => {}
        Some(_) => return None,
        None => {
            let missing = format!("metal family of `{}` (`metal`), which lies on `{}`", metal.name, wood.name);
            return Some(context.unknown(&META, subject, at, missing));
        }
    }
    let message = format!("`{name}` ({}) lies on `{}`, whose copper eats it", metal.name, wood.name);
    let finding = context.fault(&META, subject, at, message);
    Some(
        finding
            .on_principle("common practice: makers of preservatives, New Zealand", false)
            .help("lay an isolating tape between (`isolated with …`), or take wood treated with borate, or none"),
    )
}

fn trim(context: &CheckContext<'_>, laid: &Laid<'_>) -> Option<Finding> {
    let metal = product_metal(context.model, laid.trim.product)?;
    if laid.trim.isolated.is_some() {
        return None;
    }
    let into = laid.trim.fasten.as_ref().and_then(|fasten| fasten.into).filter(|into| *into == "furring");
    let on = laid.trim.on.or(into)?;
    let area = crate::checks::pieces::area_at(context, laid.face, laid.line.midpoint())?;
    let wall = crate::checks::pieces::wall(context, laid.face, area)?;
    let wood = under(context, wall, on)?;
    sheet(context, (&laid.subject, &laid.trim.name), &metal, wood, laid.trim.origin)
}

/// Metal cladding on treated furring.
fn cladding(context: &CheckContext<'_>, report: &mut Vec<Finding>) {
    for (face, area, wall) in walls(context) {
        let Some(layer) = stack::cladding(wall).and_then(|at| wall.layers.get(at)) else { continue };
        let Some(metal) = stuff_metal(context.model, &layer.stuff) else { continue };
        let Some(wood) = under(context, wall, "furring") else { continue };
        let subject = format!("{}.{}", area_name(context, face, area), layer.name);
        let finding = sheet(context, (&subject, &layer.name), &metal, wood, layer.origin);
        report.extend(finding.map(|finding| match furring(wall) {
            Some(furring) => finding.also(furring.origin, "the strips"),
            None => finding,
        }));
    }
}

/// A fastener in treated wood, held or holding.
fn fastener(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Option<Finding> {
    let model = context.model;
    let target = fastening.fasten.into.and_then(|into| stack::holds_in(model, fastening.wall, into));
    let target = target.and_then(|at| fastening.wall.layers.get(at)).and_then(|layer| match &layer.kind {
        LayerKind::Gap(gap) => model.material_of(&gap.furring.first()?.stuff),
        _ => model.material_of(&layer.stuff),
    });
    let wood = [fastening.of, target].into_iter().flatten().find(|wood| is_treated(Some(wood)))?;
    let product = fastening.fasten.product;
    // Told by `fastener.wrong_finish`.
    if rusts(model, product) == Some(true) {
        return None;
    }
    let name = model.product_name(product);
    let unknown = |missing: String| Some(context.unknown(&META, fastening.subject.clone(), fastening.at, missing));
    let finish = model.product(product).and_then(|product| product.finish);
    match (product_metal(model, product).and_then(|made| made.family), finish) {
        (Some(Metal::Aluminium | Metal::Zinc), _) => {}
        (Some(Metal::Galvanised), None) => {
            return unknown(format!("whether `{name}` is hot-dip galvanised (`finish`), in `{}`", wood.name));
        }
        (None, _) => return unknown(format!("what metal `{name}` is, in `{}`", wood.name)),
        _ => return None,
    }
    let message = format!("`{name}` stands in `{}`, whose copper eats it", wood.name);
    let finding = context.fault(&META, fastening.subject.clone(), fastening.at, message);
    Some(
        finding
            .on_principle("common practice: makers of preservatives", false)
            .help("take stainless or heavy hot-dip galvanised fasteners"),
    )
}
