//! A stop that was accepted by nobody who may.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::Accept;

/// `accept.no_authority`
pub struct AcceptNoAuthority;

static META: RuleMeta = RuleMeta {
    id: "accept.no_authority",
    catalogue: "",
    title: "a stop is accepted without authority",
    grade: Grade::S2,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
An `accept` that matches a finding of grade S1 (stop) must name who stands behind it: a role, the letter or drawing in which
they did, and its date.

# Why
What will leak, rot, burn or fall is not for the crew to wave through. Until somebody with authority answers for it, the
finding stays.

# Example
    accept drain.no_exit on lower because \"it never rains there\" by \"site lead\"

# Better
    accept drain.no_exit on lower because \"drained inside, sheet A7\" by \"site lead\" {
        authority of \"envelope engineer\"
        reference \"letter 14\"
        dated     2026-09-01
    }

# Basis
The language itself.

# Known gaps
It believes what is written: it has no way to read the letter.
",
};

impl Rule for AcceptNoAuthority {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    /// Acceptances are known only once all findings are: see `settle`.
    fn run(&self, _: &CheckContext<'_>, _: &mut Vec<Finding>) {}
}

/// No authority is named.
pub(in crate::checks) fn found(context: &CheckContext<'_>, accept: &Accept, about: &Finding) -> Finding {
    let message =
        format!("`{}` at `{}` is a stop: nobody with authority is named who accepts it", about.rule, about.subject);
    context
        .fault(&META, accept.place.as_str(), accept.origin, message)
        .on_principle("the acceptance itself", true)
        .also(about.at, "the stop that stays")
        .help("add `authority of \"role\"`, `reference \"letter\"` and `dated` to the acceptance, or mend the fault")
}

/// An authority is named, but not where it answered.
pub(in crate::checks) fn cannot_tell(
    context: &CheckContext<'_>,
    accept: &Accept,
    about: &Finding,
    missing: &str,
) -> Finding {
    let finding = context.unknown(&META, accept.place.as_str(), accept.origin, missing);
    finding.also(about.at, "the stop that stays until then")
}
