//! Zinc and steel in wood that eats them.

use super::fastener_wrong_finish::rusts;
use super::product_metal;
use crate::checks::fastening::{fastenings, on_wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::Fastening;
use crate::physics::galvanic::Metal;

/// `fastener.in_acid_wood`
pub struct FastenerInAcidWood;

static META: RuleMeta = RuleMeta {
    id: "fastener.in_acid_wood",
    catalogue: "CO-07",
    title: "a fastener is eaten by the acid of its wood",
    grade: Grade::S3,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
Fasteners that hold wood of a tannin species (`species tannin`: cedar, oak, larch and their like) are neither zinc
nor zinc-coated nor steel.

# Why
The wet wood blackens round steel, streaks the wall, and dissolves zinc.

# Example
    layer boards boards.cedar 19mm, fasten screws.galvanised 4.5mm x 50mm, into furring

# Better
    layer boards boards.cedar 19mm, fasten screws.stainless 4.5mm x 50mm, into furring

# Basis
Common practice: stainless for cedar and redwood is the usual specification.

# Known gaps
A fastener that rusts in any wood is told by `fastener.wrong_finish`. Metal trims on the wet ends of boards are not
looked at.
",
};

impl Rule for FastenerInAcidWood {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for fastening in fastenings(context) {
            if rusts(context.model, fastening.fasten.product) == Some(false) {
                report.extend(judge(context, &fastening).map(|finding| on_wall(context, &fastening, finding)));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, fastening: &Fastening<'_>) -> Option<Finding> {
    let wood = fastening.of.filter(|material| material.kind == "wood")?;
    let name = context.model.product_name(fastening.fasten.product);
    let unknown = |missing: String| Some(context.unknown(&META, fastening.subject.clone(), fastening.at, missing));
    let Some(family) = product_metal(context.model, fastening.fasten.product).and_then(|made| made.family) else {
        return match wood.species {
            Some("tannin") => unknown(format!("what metal `{name}` is, which holds {}", fastening.what)),
            _ => None,
        };
    };
    if !matches!(family, Metal::Zinc | Metal::Galvanised | Metal::Steel | Metal::CoatedSteel) {
        return None;
    }
    match wood.species {
        Some("tannin") => {}
        Some(_) => return None,
        None => return unknown(format!("whether `{}` is a tannin species (`species`)", wood.name)),
    }
    let message = format!("{} is of `{}`, whose acid eats `{name}` and streaks the wall", fastening.what, wood.name);
    let finding = context.fault(&META, fastening.subject.clone(), fastening.at, message);
    Some(finding.on_principle("common practice: stainless in cedar, redwood and oak", false).help("take stainless"))
}
