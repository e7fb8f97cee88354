//! A hole through the wall that is not sealed to the air barrier.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `service.unsealed`
pub struct ServiceUnsealed;

static META: RuleMeta = RuleMeta {
    id: "service.unsealed",
    catalogue: "AI-06",
    title: "a hole through the wall is not sealed to the air barrier",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Each pipe, duct, box and cable names the part that seals it, and that part is sealed to the air barrier.

# Why
A pipe caulked to the cladding is not sealed: the cladding is not the barrier, and air goes round behind it.

# Example
    pipe drain 40mm at (1200mm, 600mm), seal sealant, sealed to cladding

# Better
    pipe drain 40mm at (1200mm, 600mm), seal collar with seals.pipe_collar, flange 50mm

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
Whether the collar fits the pipe is not checked. A hole with no `seal` clause is one about which it cannot tell.
",
};

static WORDS: Words =
    Words { kind: "service", help: "use a gasket, a flanged boot or a taped collar on the air barrier itself" };

impl Rule for ServiceUnsealed {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
