//! A sill pan whose outer edge is glued shut.

use super::rings;
use crate::checks::pieces::{Once, called};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `sill.sealed_outside`
pub struct SillSealedOutside;

static META: RuleMeta = RuleMeta {
    id: "sill.sealed_outside",
    catalogue: "LA-06",
    title: "the pan below an opening is sealed at its outer edge",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
The pan below a window or door is not sealed at its outer edge: `sealed` is neither `outside` nor `both`.

# Why
A pan is there to let a leak out. Sealed outside it holds the water like a bath, against the rough sill.

# Example
    part pan membranes.self_adhered, slope 6%, back_dam 25mm, end_dams 150mm, sealed both

# Better
    part pan membranes.self_adhered, slope 6%, back_dam 25mm, end_dams 150mm, sealed inside

# Basis
Guides and trade articles: leave the bottom flange unsealed, or seal it in short lengths. No clause was read, so it
warns.

# Known gaps
It can always tell: what a detail does not seal is open. A pan that is missing is told by `sill.no_pan`.
",
};

impl Rule for SillSealedOutside {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for (_, _, opening, run, _) in rings(context, "sill") {
            let pan = context.plan.parts_of(run).find(|part| part.spec.kind == "pan");
            let Some(pan) = pan.filter(|pan| matches!(pan.spec.sealed, Some("outside" | "both"))) else { continue };
            if !super::first_use(&mut once, run, pan) {
                continue;
            }
            let message = format!(
                "`{}` below `{}` is sealed at its outer edge: it holds water like a bath",
                called(&pan.spec),
                opening.name
            );
            let finding = context
                .fault(&META, pan.name.clone(), pan.spec.origin, message)
                .on_principle("guides: the outer edge of a sill stays unsealed; the clause was not read", false)
                .also(opening.origin, "used here")
                .help("seal the inner edge only: `sealed inside`; leave the outer one open");
            report.push(context.on_run(finding, run, run.segment));
        }
    }
}
