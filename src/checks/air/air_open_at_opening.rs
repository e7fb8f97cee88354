//! The air barrier is open round an opening.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.open_at_opening`
pub struct AirOpenAtOpening;

static META: RuleMeta = RuleMeta {
    id: "air.open_at_opening",
    catalogue: "AI-04",
    title: "the air barrier is open at an opening",
    grade: Grade::S1,
    before: "H2",
    limits: &[],
    explain: "\
# What it checks
At head, jambs and sill of each opening, a named part joins the barrier to the frame.

# Why
The ring round a window is the longest joint of a wall. One open side lets air, and the water it carries, past the frame.

# Example
    detail loose_window {
        at   window
        jamb { air seals to frame with tapes.acrylic }
    }

# Better
    detail sealed_window {
        at  window
        air seals to frame with tapes.acrylic_wide, width 25mm
    }

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.
OBC 9.7.6.1.(3): windows are sealed to the air barrier.

# Known gaps
Gaps inside the window itself are its maker's.
",
};

static WORDS: Words =
    Words { kind: "opening", help: "seal the frame to the barrier on all four sides: `air seals to frame with …`" };

impl Rule for AirOpenAtOpening {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
