//! An acceptance whose day is past.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::eval::Date;
use crate::model::Accept;

/// `accept.lapsed`
pub struct AcceptLapsed;

static META: RuleMeta = RuleMeta {
    id: "accept.lapsed",
    catalogue: "",
    title: "an acceptance has lapsed",
    grade: Grade::S2,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
The `until` of every `accept` against today's date, which the run is told from outside.

# Why
A fault that was tolerated for a season is forgotten in the next one. When the day is past, the fault counts again.

# Example
    accept gap.shallow on lower because \"the mock-up drained\" by \"site lead\" until 2025-05-01

# Better
Mend the fault, or look again and set a new day.

# Basis
The language itself: an acceptance never outlives its day.

# Known gaps
Without today's date it cannot tell.
",
};

impl Rule for AcceptLapsed {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    /// Acceptances are known only once all findings are: see `settle`.
    fn run(&self, _: &CheckContext<'_>, _: &mut Vec<Finding>) {}
}

/// The acceptance ended before today.
pub(in crate::checks) fn found(context: &CheckContext<'_>, accept: &Accept) -> Finding {
    let until = accept.until.map(|until| until.to_string()).unwrap_or_default();
    let message = format!("the acceptance of `{}` on `{}` ended on {until}", accept.rule, accept.place);
    context
        .fault(&META, accept.place.as_str(), accept.origin, message)
        .on_principle("the acceptance itself", true)
        .help("mend the fault, or look at it again and set a new day after `until`")
}

/// Nobody said what day it is.
pub(in crate::checks) fn cannot_tell(context: &CheckContext<'_>, accept: &Accept, until: Date) -> Finding {
    context.unknown(&META, accept.place.as_str(), accept.origin, format!("today's date; it ends on {until}"))
}
