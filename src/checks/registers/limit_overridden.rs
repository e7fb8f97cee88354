//! A number of a rule set that the project replaces.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::diagnose::Severity;

/// `limit.overridden`
pub struct LimitOverridden;

static META: RuleMeta = RuleMeta {
    id: "limit.overridden",
    catalogue: "",
    title: "the project judges by a number of its own",
    grade: Grade::S4,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
Each limit and option of a rule set of the project against the rule sets below it, and against the one it is `like`. Where
it says something else, that is noted, with what it stands in place of.

# Why
A wall that passes only because a number was changed should not look like one that passes by the code.

# Example
    limits ours {
        like  std.limits.canada_part9_2020
        limit clearance.ground 150mm
    }

# Better
    limits ours {
        like  std.limits.canada_part9_2020
        limit clearance.ground 150mm {
            clause \"letter of the authority, 2026-03-02\"
            source \"the letter itself\"
            sure   published
        }
    }

# Basis
The language itself: every number shows whose it is. A note, never a fault: a changed number may be right.

# Known gaps
It can always tell: rule sets are texts. Whether the new number is stricter or laxer is not judged.
",
};

impl Rule for LimitOverridden {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for set in &context.model.rule_sets {
            for (name, limit) in set.overrides() {
                let Some(instead) = &limit.instead_of else { continue };
                let message = format!("`{name}` is {instead}");
                let finding = context.fault(&META, format!("{}.{name}", set.name), limit.origin, message);
                let finding = finding.on_principle("the project's own rule set", false);
                let source = match limit.source.as_str() {
                    "" => "say why, with `source`, and how sure it is, with `sure`".to_owned(),
                    source => format!("because: {source}"),
                };
                report.push(Finding { severity: Severity::Note, ..finding.help(source) });
            }
        }
    }
}
