//! A section whose top edge is open to the rain overnight.

use super::{named, on_line, stops};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::Dry;

/// `section.no_dry_in`
pub struct SectionNoDryIn;

static META: RuleMeta = RuleMeta {
    id: "section.no_dry_in",
    catalogue: "BL-02",
    title: "tonight's rain can get behind today's work",
    grade: Grade::S2,
    before: "H5",
    limits: &["dry_in.flap"],
    explain: "\
# What it checks
Every section that ends below the top of the wall says how its top edge is kept dry overnight: a flap of
membrane turned out over it, long enough; a cover; a sealed edge. Or its stop line is where a flashing of the
wall lies ready under the membrane above it: a floor joint, a shelf between claddings.

# Why
The gap is open upward until the next lift is on. One night of rain runs down behind the boards that were fixed
today, into insulation and joints that nobody sees again.

# Example
    section low on west from 0mm to 4800mm up to 2025mm {
        dry_in flap 60mm
    }

# Better
    section low on west from 0mm to 4800mm up to 2025mm {
        dry_in flap 150mm
    }

# Basis
Common practice: 150 mm of turned-out flap, or sealed and covered.

# Known gaps
Whether the flap is there in the evening is seen on the wall. Wind-driven rain under a loose cover is not judged.
",
};

impl Rule for SectionNoDryIn {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let wanted = || stops(context).any(|(stop, _)| matches!(stop.dry, Dry::Flap(_) | Dry::Open | Dry::Untold(_)));
        if !wanted() {
            return;
        }
        let Some((limit, least)) = context.length_limit(&META, "dry_in.flap", report) else { return };
        for (stop, section) in stops(context) {
            let advice = format!(
                "end at a course line and turn a flap of membrane {} out over it, or seal and cover the edge",
                context.shown(least)
            );
            let finding = match &stop.dry {
                Dry::Flap(length) if *length < least => context
                    .fault(
                        &META,
                        named(section),
                        section.origin,
                        format!(
                            "the flap over the top edge of `{}` is {}; {} is wanted",
                            section.name,
                            context.shown(*length),
                            context.shown(least)
                        ),
                    )
                    .against(limit)
                    .measured(context.measure(*length))
                    .wanted(context.measure(least))
                    .help(advice),
                Dry::Open => context
                    .fault(
                        &META,
                        named(section),
                        section.origin,
                        format!("the gap of `{}` is open upward at its stop line overnight", section.name),
                    )
                    .against(limit)
                    .help(advice),
                Dry::Untold(missing) => context.unknown(&META, named(section), section.origin, *missing).help(advice),
                _ => continue,
            };
            report.push(on_line(context, finding, stop, section));
        }
    }
}
