//! An opening that a mouse passes.

use super::{mouse, openings};
use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::units::Length;

/// `opening.unscreened`
pub struct OpeningUnscreened;

static META: RuleMeta = RuleMeta {
    id: "opening.unscreened",
    catalogue: "PE-01",
    title: "an opening of the gap lets mice in",
    grade: Grade::S2,
    before: "H4",
    limits: &["pest.opening", "pest.round_hole"],
    explain: "\
# What it checks
The least dimension of every opening of the gap to the outside: over the limit it has a screen, and the holes of the
screen are not over it. Where a detail gives no slot, the gap is open in its whole depth. Slots drilled in trims are held
to the same limit, round weeps to one of their own.

# Why
A mouse needs six millimetres. It nests in the gap, chews the membrane and the cables, and climbs to the attic.

# Example
    gap_end open, faces down

# Better
    gap_end open, screen meshes.insect, faces down

# Basis
Public guidance on rodents: 6 mm for a slot. Round weeps of 8 mm in a channel are common practice, and water needs them:
they have a limit of their own. Both warn.

# Known gaps
Rakes are asked by `opening.rake_unscreened`. Ends of channels, and holes in a pierced floor, are not looked at.
",
};

impl Rule for OpeningUnscreened {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some(slot) = context.length_limit(&META, "pest.opening", report) else { return };
        for hole in openings(context).iter().filter(|hole| hole.kind != "rake") {
            report.extend(mouse(context, &META, hole, slot).map(|finding| hole.on_wall(context, finding)));
        }
        report.extend(judge_each(context, drilled));
    }
}

/// Weeps and vents of trims: the smaller dimension of a slot, or the diameter of a round hole.
fn drilled(context: &CheckContext<'_>, laid: &Laid<'_>) -> Option<Finding> {
    laid.trim.holes.iter().filter(|row| matches!(row.purpose, "weep" | "vent")).find_map(|row| {
        let (name, least): (_, Length) = match row.slot {
            Some(length) => ("pest.opening", row.height.min(length)),
            None => ("pest.round_hole", row.height),
        };
        let (limit, most) = context.limit(name).and_then(|limit| Some((limit, limit.length()?)))?;
        if least <= most {
            return None;
        }
        let what = if row.slot.is_some() { "slots" } else { "round holes" };
        let message = format!(
            "the {what} of `{}` are {}: a mouse passes more than {}",
            laid.trim.name,
            context.shown(least),
            context.shown(most)
        );
        let finding = context.fault(&META, laid.subject.as_str(), row.origin, message).against(limit);
        let finding = finding.measured(context.measure(least)).wanted(context.measure(most));
        Some(finding.help("drill more and smaller ones: slots of 5 mm (3/16 in) drain as well"))
    })
}
