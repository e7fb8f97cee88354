//! An acceptance that accepts nothing.

use crate::checks::{CheckContext, Finding, Grade, RULES, Remedy, Rule, RuleMeta, rule};
use crate::diagnose::nearest;
use crate::model::Accept;

/// `accept.stale`
pub struct AcceptStale;

static META: RuleMeta = RuleMeta {
    id: "accept.stale",
    catalogue: "",
    title: "an acceptance accepts nothing",
    grade: Grade::S3,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
Whether each `accept` matches a finding: the same rule, at its place or within it.

# Why
An acceptance that matches nothing is either a mended fault, whose line can go, or a misspelt rule or place, which hides
nothing and lulls whoever reads it.

# Example
    accept gap.shalow on lower because \"it drained\" by \"site lead\"

# Better
    accept gap.shallow on lower because \"it drained\" by \"site lead\"

# Basis
The language itself: acceptances stay true.

# Known gaps
With `not_worse_than` it cannot tell when the finding has no measured value to compare.
",
};

impl Rule for AcceptStale {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    /// Acceptances are known only once all findings are: see `settle`.
    fn run(&self, _: &CheckContext<'_>, _: &mut Vec<Finding>) {}
}

/// It matches nothing.
pub(in crate::checks) fn found(context: &CheckContext<'_>, accept: &Accept) -> Finding {
    let Accept { rule: id, place, .. } = accept;
    let finding = if rule(id).is_some_and(|rule| rule.meta().id == *id) {
        context
            .fault(
                &META,
                place.as_str(),
                accept.origin,
                format!("nothing to accept: `{id}` finds no fault at `{place}`"),
            )
            .help("take the line out if the fault was mended, or correct the place")
    } else {
        let ids = RULES.iter().map(|rule| rule.meta().id);
        let near = nearest(id, ids);
        let advice = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => "a rule has a dotted name, such as `gap.shallow`".to_owned(),
        };
        context
            .fault(&META, place.as_str(), accept.origin, format!("nothing to accept: there is no rule `{id}`"))
            .advise(advice, near.map(|near| Remedy::Word(near.to_owned())))
    };
    finding.on_principle("the acceptance itself", false)
}

/// There is a finding, but nothing to compare with what was accepted.
pub(in crate::checks) fn cannot_compare(context: &CheckContext<'_>, accept: &Accept, about: &Finding) -> Finding {
    let missing =
        format!("a measured value of `{}` at `{}` to compare with `not_worse_than`", about.rule, about.subject);
    context.unknown(&META, accept.place.as_str(), accept.origin, missing).also(about.at, "what it would accept")
}
