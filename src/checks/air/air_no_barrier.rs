//! A wall of which no layer is the air barrier.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.no_barrier`
pub struct AirNoBarrier;

static META: RuleMeta = RuleMeta {
    id: "air.no_barrier",
    catalogue: "AI-01",
    title: "no layer is the air barrier",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Each assembly in use has one layer that `controls air`.

# Why
Three layers each do some of it, none is sealed, and nobody owns the joints.

# Example
    layer membrane membranes.vapour_open, controls water

# Better
    layer membrane membranes.vapour_open, controls water and air, seam tapes.acrylic

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
It can always tell. Which layer is the best one for it is not judged.
",
};

static WORDS: Words =
    Words { kind: "assembly", help: "pick one layer and say `controls air`; its seams and edges then belong to it" };

impl Rule for AirNoBarrier {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
