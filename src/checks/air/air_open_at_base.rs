//! The air barrier is open at the foot of the wall.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `air.open_at_base`
pub struct AirOpenAtBase;

static META: RuleMeta = RuleMeta {
    id: "air.open_at_base",
    catalogue: "AI-02",
    title: "the air barrier is open at the base",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Along each base, step, deck line and roof line, a named part joins the barrier of the wall to what stands below it.

# Why
The wall leaks all round the sill plate: cold floors, and frost on the rim joist.

# Example
    detail bare_base { at base, gap_end open }

# Better
    detail taped_base {
        at  base
        air seals to foundation with membranes.self_adhered, width 75mm, primer yes
    }

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.
Named places that leak are from government guidance.

# Known gaps
Whether the bond lasts on that surface is told by the rules for tapes.
",
};

static WORDS: Words = Words {
    kind: "base",
    help: "bridge it with a named part: `air seals to foundation with …`, primed, 75 mm (3 in) wide or more",
};

impl Rule for AirOpenAtBase {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
