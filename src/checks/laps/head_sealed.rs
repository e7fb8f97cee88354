//! A head flashing whose draining edge is glued shut.

use super::{first_use, flashings, rings};
use crate::checks::pieces::{Once, called};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::plan::Part;

/// `head.sealed`
pub struct HeadSealed;

static META: RuleMeta = RuleMeta {
    id: "head.sealed",
    catalogue: "LA-11",
    title: "the draining edge of a head flashing is sealed",
    grade: Grade::S2,
    before: "H4",
    limits: &["head_trim.held_up"],
    explain: "\
# What it checks
Over an opening, no flashing is sealed at its outer edge (`sealed outside`, `sealed both`), and no sealant of the
head laps a flashing.

# Why
The lower edge of the cladding over a head flashing is the one that lets water out. Sealed, it fills the gap above.

# Example
    head {
        part flashing aluminium 0.6mm, upstand 75mm, laps under water by 75mm, sealed outside
    }

# Better
    head {
        part flashing aluminium 0.6mm, upstand 75mm, laps under water by 75mm, holds_up 6mm
    }

# Basis
Common practice: 3 to 6 mm stay open; more wants a screen.

# Known gaps
It can always tell: what a detail does not seal is open. A bead that is not drawn and is run on site is not seen.
",
};

impl Rule for HeadSealed {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut once = Once::default();
        for (_, _, opening, run, _) in rings(context, "head") {
            let sealed = |part: &&Part| matches!(part.spec.sealed, Some("outside" | "both"));
            let bead =
                |part: &&Part| part.spec.kind == "sealant" && part.spec.laps.iter().any(|lap| lap.what == "flashing");
            let flashings = flashings(context, run);
            let found = flashings.iter().copied().find(sealed);
            let bead = || context.plan.parts_of(run).find(bead).filter(|_| !flashings.is_empty());
            let Some(part) = found.or_else(bead) else { continue };
            if !first_use(&mut once, run, part) {
                continue;
            }
            let message = format!(
                "`{}` seals the draining edge over `{}`: water in the gap above stays there",
                called(&part.spec),
                opening.name
            );
            let finding = context.fault(&META, part.name.clone(), part.spec.origin, message);
            let finding = finding.also(opening.origin, "used here");
            let limit = context.limit("head_trim.held_up");
            let finding = match limit.and_then(|limit| Some((limit, limit.length()?))) {
                Some((limit, open)) => finding
                    .against(limit)
                    .wanted(context.measure(open))
                    .help(format!("leave {} open above the flashing, and seal nothing there", context.shown(open))),
                None => finding.help("leave the edge above the flashing open"),
            };
            report.push(context.on_run(finding, run, run.segment));
        }
    }
}
