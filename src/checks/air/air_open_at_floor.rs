//! The air barrier is open where a floor meets the wall.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.open_at_floor`
pub struct AirOpenAtFloor;

static META: RuleMeta = RuleMeta {
    id: "air.open_at_floor",
    catalogue: "AI-04",
    title: "the air barrier is open at a floor",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Where a barrier inside the frame meets a floor, the floor line names the part that carries it past the rim.

# Why
The inner membrane stops at the floor and starts again above it; the rim joist between is open.

# Example
    floor_line upper at 2700mm

# Better
    floor_line upper at 2700mm, detail wrapped_rim      // `air seals to itself with …`

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
A barrier outside the sheathing passes the floor without a joint and is not asked.
",
};

static WORDS: Words = Words {
    kind: "floor_line",
    help: "wrap the rim, or seal blocks between the joists, and name the part: `air seals to itself with …`",
};

impl Rule for AirOpenAtFloor {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
