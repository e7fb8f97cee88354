//! The air barrier is open between two parts of a wall.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.open_at_transition`
pub struct AirOpenAtTransition;

static META: RuleMeta = RuleMeta {
    id: "air.open_at_transition",
    catalogue: "AI-04",
    title: "the air barrier is open at a transition",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Where two areas meet, a named part joins their barriers, unless one layer runs through.

# Why
A shelf flashing that slits the membrane, or a barrier that changes from outside to inside, leaks along its whole length.

# Example
    between lower and upper, detail bare_shelf      // its detail names no `air` part

# Better
    detail sealed_shelf {
        at  transition
        air seals to neighbour with membranes.self_adhered, width 75mm
    }

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
Barriers in different planes need a part that reaches from one to the other; its reach is not measured.
",
};

static WORDS: Words =
    Words { kind: "transition", help: "join both barriers over the flashing: `air seals to neighbour with …`" };

impl Rule for AirOpenAtTransition {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
