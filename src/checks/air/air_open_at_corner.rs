//! The air barrier is open where two faces meet.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.open_at_corner`
pub struct AirOpenAtCorner;

static META: RuleMeta = RuleMeta {
    id: "air.open_at_corner",
    catalogue: "AI-04",
    title: "the air barrier is open at a corner",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Along each upright edge that meets another face, a named part joins the barriers of both.

# Why
Two sheets that both stop at the corner leave a slit from foundation to roof.

# Example
    right, detail bare_corner, meets east      // its detail names no `air` part

# Better
    detail wrapped_corner {
        at  corner
        air seals to neighbour with tapes.acrylic, width 50mm
    }

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
A face that meets nothing is told by `building.open`.
",
};

static WORDS: Words =
    Words { kind: "corner", help: "wrap the membrane round the corner, or tape it: `air seals to neighbour with …`" };

impl Rule for AirOpenAtCorner {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
