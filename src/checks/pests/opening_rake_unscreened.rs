//! A rake whose slot is a door.

use super::{mouse, openings};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `opening.rake_unscreened`
pub struct OpeningRakeUnscreened;

static META: RuleMeta = RuleMeta {
    id: "opening.rake_unscreened",
    catalogue: "PE-06",
    title: "the slot under the rake lets wasps, bats and flies in",
    grade: Grade::S3,
    before: "H6",
    limits: &["pest.opening"],
    explain: "\
# What it checks
The slot along every rake: over the limit it has a screen, and the holes of the screen are not over it.

# Why
The top of a gable is warm and quiet. Wasps, bats and cluster flies find the slot, and nobody sees them from the ground.

# Example
    gap_end open 12mm, faces sheltered

# Better
    gap_end open 12mm, screen meshes.insect, faces sheltered

# Basis
Common practice: 5 mm or less, or a mesh; no source. It warns.

# Known gaps
Whether the screen is whole behind the rake board cannot be seen on paper: look before the board goes on.
",
};

impl Rule for OpeningRakeUnscreened {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some(limit) = context.length_limit(&META, "pest.opening", report) else { return };
        for hole in openings(context).iter().filter(|hole| hole.kind == "rake") {
            report.extend(mouse(context, &META, hole, limit).map(|finding| hole.on_wall(context, finding)));
        }
    }
}
