//! Mistakes of the text and findings, by file, as an editor shows them.

use std::collections::BTreeMap;

use crate::checks::Settled;
use crate::diagnose::{Diagnostic, Fix, Severity};
use crate::model::Model;
use crate::session::Glance;
use crate::source::{FileId, Span};

/// One squiggle.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Where.
    pub span: Span,
    /// How much it matters.
    pub severity: Severity,
    /// Rule id or code.
    pub code: &'static str,
    /// The message, then place, basis and advice, one a line.
    pub message: String,
    /// Other places that belong to it.
    pub related: Vec<(Span, String)>,
    /// Edits that mend it.
    pub fixes: Vec<Fix>,
}

/// All marks of a project by file. Accepted findings are notes that say so.
pub fn marks(glance: &Glance) -> BTreeMap<FileId, Vec<Mark>> {
    let mut by_file: BTreeMap<FileId, Vec<Mark>> = BTreeMap::new();
    let texts = glance.problems.iter().map(of_problem);
    let findings = glance.findings.iter().map(|settled| of_finding(&glance.model, settled));
    for mark in texts.chain(findings) {
        by_file.entry(mark.span.file).or_default().push(mark);
    }
    by_file
}

pub(super) fn of_problem(problem: &Diagnostic) -> Mark {
    let mut lines = vec![problem.title.clone()];
    lines.extend(problem.help.iter().map(|help| format!("help: {help}")));
    let related = problem.others.iter().map(|label| (label.span, label.text.clone())).collect();
    Mark {
        span: problem.main.span,
        severity: problem.severity,
        code: problem.code,
        message: lines.join("\n"),
        related,
        fixes: problem.fixes.clone(),
    }
}

pub(super) fn of_finding(model: &Model, settled: &Settled) -> Mark {
    let finding = &settled.finding;
    let mut lines = vec![finding.message.clone()];
    if !finding.place.is_empty() {
        lines.push(finding.place.clone());
    }
    lines.extend(finding.help.iter().map(|help| format!("help: {help}")));
    if !finding.basis.citation.is_empty() {
        lines.push(format!("rule: {} ({})", finding.rule, finding.basis.citation));
    }
    let accepted = settled.accepted.and_then(|at| model.accepts.get(at));
    if let Some(accept) = accepted {
        lines.push(format!("accepted by {}: {}", accept.by, accept.why));
    }
    Mark {
        span: finding.at,
        severity: if accepted.is_some() { Severity::Note } else { finding.severity },
        code: finding.rule,
        message: lines.join("\n"),
        related: finding.others.clone(),
        fixes: finding.fixes.clone(),
    }
}
