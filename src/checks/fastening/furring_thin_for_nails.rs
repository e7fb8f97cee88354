//! Strips too thin for the nails or screws of the cladding.

use super::{fastenings, on_wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::Fastening;
use crate::model::LayerKind;

/// `furring.thin_for_nails`
pub struct FurringThinForNails;

static META: RuleMeta = RuleMeta {
    id: "furring.thin_for_nails",
    catalogue: "FA-04",
    title: "the strips are too thin for what is nailed into them",
    grade: Grade::S2,
    before: "H4",
    limits: &["furring.thickness", "furring.thickness_smooth"],
    explain: "\
# What it checks
Where cladding is fixed into furring: thickness of the strip against what a smooth nail wants, or a screw or
ring-shank nail.

# Why
A strip of 19 mm holds half a nail. It works loose with the seasons, and the heads stand out.

# Example
    gap cavity 10mm ventilated, furring spruce 10mm x 64mm
    layer boards boards.larch 20mm {
        fasten screws.stainless 4.5mm x 50mm, into furring
    }

# Better
    gap cavity 10mm ventilated, furring spruce 10mm x 64mm
    layer boards boards.larch 20mm {
        fasten screws.stainless_facade 4.8mm x 140mm, into studs
    }

# Basis
19 mm: NBC 9.27.5.3, from memory. 38 mm for smooth nails: trade discussions that advise ring shanks on 19 mm.

# Known gaps
Trims that hang on strips are not asked. Strips of metal take screws made for them.
",
};

impl Rule for FurringThinForNails {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context).iter().filter(|one| one.is_cladding && one.fasten.into == Some("furring"))
        {
            report.extend(judge(context, fastening).map(|finding| on_wall(context, fastening, finding)));
        }
    }
}

fn judge(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Option<Finding> {
    let (layer, gap) = fastening.wall.gap()?;
    let furring = gap.furring.first()?;
    let unknown = |missing: String| Some(context.unknown(&META, fastening.subject.clone(), fastening.at, missing));
    let Some(material) = context.model.material_of(&furring.stuff) else {
        return unknown(format!("material of the furring of `{}` is not said", layer.name));
    };
    if material.kind == "metal" || !matches!(layer.kind, LayerKind::Gap(_)) {
        return None;
    }
    let name = context.model.product_name(fastening.fasten.product);
    let shank = context.model.product(fastening.fasten.product).and_then(|product| product.shank);
    let limit = match shank {
        Some("smooth") => "furring.thickness_smooth",
        Some(_) => "furring.thickness",
        None => return unknown(format!("`shank` of `{name}` is not said")),
    };
    let Some((limit, least)) = context.limit(limit).and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown(format!("no rule set in force has a limit `{limit}`"));
    };
    if furring.thickness >= least {
        return None;
    }
    let message =
        format!("`{name}` holds in strips of {}; {} is wanted", context.shown(furring.thickness), context.shown(least));
    let advice = if shank == Some("smooth") {
        "take ring-shank nails or screws, or strips of 38 mm"
    } else {
        "take thicker strips, or fix through the strip into the studs (`into studs`)"
    };
    Some(
        context
            .fault(&META, fastening.subject.clone(), fastening.at, message)
            .against(limit)
            .measured(context.measure(furring.thickness))
            .wanted(context.measure(least))
            .also(furring.origin, "the strips")
            .help(advice),
    )
}
