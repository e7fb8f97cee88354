//! A small fastener less noble than the large thing it holds.

use super::metal_pair::{report_all, small_base, touches};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `fastener.less_noble`
pub struct FastenerLessNoble;

static META: RuleMeta = RuleMeta {
    id: "fastener.less_noble",
    catalogue: "CO-02",
    title: "a fastener is less noble than what it holds, and is eaten",
    grade: Grade::S2,
    before: "H4",
    limits: &["galvanic.outdoor", "galvanic.sheltered"],
    explain: "\
# What it checks
Every fastener whose metal is less noble than the metal it holds or holds in, by the same table of pairs as `metal.pair`:
a small base metal on a large noble one is the worst there is.

# Why
The whole sheet works on the one screw. A zinc screw in copper or stainless sheet is gone in a few years, and lets go.

# Example
    part flashing flashings.copper {
        fasten screws.galvanised 4.5mm x 40mm, into sheathing
    }

# Better
    part flashing flashings.copper {
        fasten screws.stainless_pan 4mm x 25mm, into sheathing
    }

# Basis
Military finishing practice as read on a public page: make the smaller part the nobler one. Common practice, no code; it
warns.

# Known gaps
How wet the contact is follows from where it stands, not from a sum. `isolated` parts do not count as kept apart from their
own fasteners.
",
};

impl Rule for FastenerLessNoble {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report_all(context, &META, &touches(context), small_base, report);
    }
}
