//! Fasteners made for indoors on an outside wall.

use crate::checks::fastening::{fastenings, on_wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::Fastening;
use crate::model::{Model, ProductId};

/// `fastener.wrong_finish`
pub struct FastenerWrongFinish;

static META: RuleMeta = RuleMeta {
    id: "fastener.wrong_finish",
    catalogue: "CO-06",
    title: "a fastener outdoors has the finish of one for indoors",
    grade: Grade::S1,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
The finish of every fastener of cladding, furring, trims, blocks and parts of details: neither electroplated nor
bare steel. Stainless, copper, brass and aluminium need no finish.

# Why
A few thousandths of a millimetre of zinc are gone in two years. Then the heads stain the wall, and then they let go.

# Example
    fasten screws.plated 4.5mm x 50mm, into furring

# Better
    fasten screws.stainless 4.5mm x 50mm, into furring

# Basis
OBC 9.20.13.2, public copy, asks it of the fasteners of flashings; of all others it is common practice, so it warns.

# Known gaps
How thick a coating is, and whether it suits salt air, is not judged. Metals that eat each other are told by
`metal.pair`.
",
};

impl Rule for FastenerWrongFinish {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context) {
            report.extend(judge(context, &fastening).map(|finding| on_wall(context, &fastening, finding)));
        }
    }
}

/// Whether a fastener rusts outdoors; `None` if it does not say what it is.
pub(super) fn rusts(model: &Model, product: ProductId) -> Option<bool> {
    let product = model.product(product)?;
    let metal = product.of.and_then(|id| model.material(id)?.metal);
    match (metal, product.finish) {
        (Some("stainless" | "copper" | "brass" | "aluminium"), _) => Some(false),
        (_, Some("electroplated")) | (Some("steel"), Some("bare" | "mill")) => Some(true),
        (Some("galvanised"), _) | (_, Some("hot_dip" | "stainless" | "coated" | "painted")) => Some(false),
        _ => None,
    }
}

fn judge(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Option<Finding> {
    let product = fastening.fasten.product;
    let name = context.model.product_name(product);
    let Some(rusts) = rusts(context.model, product) else {
        let missing = format!("finish of `{name}`, which holds {} (`finish`)", fastening.what);
        return Some(context.unknown(&META, fastening.subject.clone(), fastening.at, missing));
    };
    if !rusts {
        return None;
    }
    let finish = context.model.product(product).and_then(|product| product.finish).unwrap_or("bare");
    let message = format!("{} is held by `{name}`, which is {finish}: it rusts outdoors", fastening.what);
    let finding = context
        .fault(&META, fastening.subject.clone(), fastening.at, message)
        .on_principle("OBC 9.20.13.2, public copy, of fasteners of flashings; else common practice", false);
    Some(finding.help("take hot-dip galvanised or stainless, and stainless in salt air and in tannin woods"))
}
