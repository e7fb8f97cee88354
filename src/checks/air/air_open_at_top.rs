//! The air barrier is open at the top of the wall.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.open_at_top`
pub struct AirOpenAtTop;

static META: RuleMeta = RuleMeta {
    id: "air.open_at_top",
    catalogue: "AI-03",
    title: "the air barrier is open at the top",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Along each top, rake and parapet, a named part joins the barrier of the wall to that of the ceiling or roof.

# Why
The outer barrier stops at the top plate and the ceiling's starts inside it: air goes over the wall into the roof.

# Example
    detail bare_top { at top, gap_end closed }

# Better
    detail taped_top {
        at  top
        air seals to ceiling with tapes.acrylic_wide, width 50mm
    }

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
The roof's own barrier is taken as declared in `building`.
",
};

static WORDS: Words = Words {
    kind: "top",
    help: "carry the barrier over the plate and join it: `air seals to ceiling with …`, before the soffit is boxed",
};

impl Rule for AirOpenAtTop {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
