//! A mitre of wood or plastic that opens with the seasons.

use crate::checks::pieces::{Once, called, faces, pieces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Material, Product};
use crate::source::Span;
use crate::units::Length;

/// `mitre.opens`
pub struct MitreOpens;

static META: RuleMeta = RuleMeta {
    id: "mitre.opens",
    catalogue: "MO-06",
    title: "a mitre opens",
    grade: Grade::S4,
    before: "H5",
    limits: &["mitre.leg"],
    explain: "\
# What it checks
Trims and parts that are `mitred` and of wood or plastic: width of the leg that is cut at the mitre.

# Why
Wood swells across the grain and not along it; plastic grows along. A wide mitre gaps at its inner or outer end
every year, and end grain drinks there.

# Example
    part trim trims.rake, mitred

# Better
    part trim trims.rake

# Basis
No mitres on legs over 90 mm in wood or plastic outdoors: common practice.

# Known gaps
Only what is said to be mitred is looked at.
",
};

impl Rule for MitreOpens {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for piece in pieces(context).iter().filter(|piece| piece.spec.mitred) {
            let product = context.model.product_of(&piece.spec.stuff);
            let mitre = Mitre {
                subject: &piece.name,
                name: called(piece.spec),
                at: piece.spec.origin,
                of: context.model.material_of(&piece.spec.stuff),
                leg: piece.spec.width.or(product.and_then(leg_of)),
            };
            let finding = judge(context, &mitre).filter(|_| once.first(piece));
            report.extend(finding.map(|finding| piece.on_wall(context, finding)));
        }
        for (_, face) in faces(context.model) {
            for trim in face.trims.iter().filter(|trim| trim.mitred) {
                let product = context.model.product(trim.product);
                let mitre = Mitre {
                    subject: &format!("{}.{}", face.name, trim.name),
                    name: &trim.name,
                    at: trim.origin,
                    of: product.and_then(|product| context.model.material(product.of?)),
                    leg: product.and_then(leg_of),
                };
                report.extend(judge(context, &mitre));
            }
        }
    }
}

fn leg_of(product: &Product) -> Option<Length> {
    product.width.or_else(|| product.size.get(1).copied())
}

struct Mitre<'c> {
    subject: &'c str,
    name: &'c str,
    at: Span,
    of: Option<&'c Material>,
    leg: Option<Length>,
}

fn judge(context: &CheckContext<'_>, mitre: &Mitre<'_>) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, mitre.subject, mitre.at, missing));
    let Some(material) = mitre.of else {
        return unknown(format!("material of `{}` is not said", mitre.name));
    };
    if !matches!(material.kind, "wood" | "wood_board" | "plastic") {
        return None;
    }
    let Some((limit, most)) = context.limit("mitre.leg").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `mitre.leg`".to_owned());
    };
    let Some(leg) = mitre.leg else {
        return unknown(format!("width of `{}` is not said", mitre.name));
    };
    (leg > most).then(|| {
        let message = format!(
            "`{}` is mitred across {}, and moves; {} at the most",
            mitre.name,
            context.shown(leg),
            context.shown(most)
        );
        context
            .fault(&META, mitre.subject, mitre.at, message)
            .against(limit)
            .measured(context.measure(leg))
            .wanted(context.measure(most))
            .help("return it, rebate it, or butt it and cap the end")
    })
}
