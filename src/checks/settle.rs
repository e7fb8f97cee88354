//! Runs the rules, silences what is about broken text, matches findings with acceptances, sorts and counts.

use std::collections::BTreeSet;

use super::registers::{accept_lapsed, accept_no_authority, accept_stale};
use super::{CheckContext, Finding, Grade, Of, RULES, Settled, Summary};
use crate::diagnose::{Diagnostic, Severity};
use crate::eval::Date;
use crate::model::Accept;

/// What the rules say of a model, or of a part of one, before acceptances.
#[derive(Clone, Debug, Default)]
pub struct Raw {
    /// In the order of the rules.
    pub findings: Vec<Finding>,
    /// Places about which nothing is said.
    pub silent: Silent,
}

/// Runs every rule of houses over the context, without acceptances.
pub fn raw(context: &CheckContext<'_>) -> Raw {
    let mut findings = run(context, Of::House);
    super::office::run(context, &mut findings);
    super::behind::count(context, &mut findings);
    let silent = Silent::of(context);
    findings.retain(|finding| !silent.covers(finding));
    Raw { findings, silent }
}

/// Runs the rules of plane cuts over the context of one, without acceptances.
pub fn raw_of_cut(context: &CheckContext<'_>) -> Raw {
    Raw { findings: run(context, Of::Cut), silent: Silent::default() }
}

fn run(context: &CheckContext<'_>, of: Of) -> Vec<Finding> {
    let mut findings: Vec<Finding> = Vec::new();
    for rule in RULES.iter().filter(|rule| rule.of() == of) {
        rule.run(context, &mut findings);
    }
    findings
}

/// Matches findings with the acceptances of a whole project, and sorts them.
pub fn settle(
    context: &CheckContext<'_>,
    findings: Vec<Finding>,
    silent: &Silent,
    today: Option<Date>,
) -> Vec<Settled> {
    let mut settled: Vec<Settled> = findings.into_iter().map(|finding| Settled { finding, accepted: None }).collect();
    let about_accepts = accept_all(context, silent, &mut settled, today);
    settled.extend(about_accepts.into_iter().map(|finding| Settled { finding, accepted: None }));
    settled.sort_by(|a, b| sort_key(&a.finding).cmp(&sort_key(&b.finding)));
    settled
}

/// Places about which nothing is said, because their text was not understood and that was said already.
#[derive(Clone, Debug, Default)]
pub struct Silent(BTreeSet<String>);

impl Silent {
    /// Broken faces, stretches and holes with a broken detail, areas of a broken assembly.
    fn of(context: &CheckContext<'_>) -> Self {
        let model = context.model;
        let mut places = BTreeSet::new();
        let broken = |id| model.detail(id).is_some_and(|detail| detail.broken);
        for face in &model.faces {
            if face.broken {
                places.insert(face.name.clone());
            }
            let services = face.services.iter().filter(|service| service.detail.is_some_and(broken));
            places.extend(services.map(|service| face.dotted(service)));
            let areas = face.areas.iter().filter(|area| model.assembly(area.assembly).is_some_and(|one| one.broken));
            places.extend(areas.map(|area| format!("{}.{}", face.name, area.name)));
        }
        let runs = context.plan.runs.iter().filter(|run| run.detail.is_some_and(broken));
        places.extend(runs.map(|run| run.name.clone()));
        let assemblies = model.assemblies.iter().filter(|assembly| assembly.broken);
        places.extend(assemblies.map(|assembly| assembly.name.clone()));
        Self(places)
    }

    /// Takes the places of another part.
    pub fn take(&mut self, other: &Silent) {
        self.0.extend(other.0.iter().cloned());
    }

    fn covers(&self, finding: &Finding) -> bool {
        self.covers_place(&finding.subject)
    }

    fn covers_place(&self, place: &str) -> bool {
        self.0.iter().any(|broken| within(place, broken))
    }
}

/// Whether a dotted subject is a place, or lies in it.
fn within(subject: &str, place: &str) -> bool {
    subject.strip_prefix(place).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

/// Marks what is accepted, and gives the findings about the acceptances themselves.
fn accept_all(
    context: &CheckContext<'_>,
    silent: &Silent,
    settled: &mut [Settled],
    today: Option<Date>,
) -> Vec<Finding> {
    let mut report = Vec::new();
    for (index, accept) in context.model.accepts.iter().enumerate() {
        if silent.covers_place(&accept.place) {
            continue;
        }
        let lapsed = match (accept.until, today) {
            (Some(until), Some(today)) => today > until,
            (Some(until), None) => {
                report.push(accept_lapsed::cannot_tell(context, accept, until));
                false
            }
            (None, _) => false,
        };
        if lapsed {
            report.push(accept_lapsed::found(context, accept));
        }
        let mut matched = false;
        for one in settled.iter_mut().filter(|one| matches(accept, &one.finding)) {
            matched = true;
            if !lapsed && one.accepted.is_none() && holds(context, accept, &mut one.finding, &mut report) {
                one.accepted = Some(index);
            }
        }
        if !matched && !lapsed {
            report.push(accept_stale::found(context, accept));
        }
    }
    report
}

fn matches(accept: &Accept, finding: &Finding) -> bool {
    accept.rule == finding.rule && within(&finding.subject, &accept.place)
}

/// Whether an acceptance that matches a finding covers it: it is not worse than what was accepted, and somebody with
/// authority stands behind it if it is a stop. Where not, the finding stays and says so.
fn holds(context: &CheckContext<'_>, accept: &Accept, finding: &mut Finding, report: &mut Vec<Finding>) -> bool {
    if let Some(most) = accept.not_worse_than {
        match worse(finding, most) {
            Some(true) => {
                finding.others.push((accept.origin, "worse than what is accepted here".to_owned()));
                return false;
            }
            Some(false) => {}
            None => {
                report.push(accept_stale::cannot_compare(context, accept, finding));
                return false;
            }
        }
    }
    if finding.grade != Grade::S1 {
        return true;
    }
    match &accept.authority {
        Some(authority) if authority.reference.is_some() && authority.dated.is_some() => true,
        Some(authority) => {
            let missing = if authority.reference.is_none() { "its `reference`" } else { "the day it is `dated`" };
            report.push(accept_no_authority::cannot_tell(context, accept, finding, missing));
            false
        }
        None => {
            report.push(accept_no_authority::found(context, accept, finding));
            false
        }
    }
}

/// Whether a finding is farther beyond its limit than the accepted value; `None` if it has no measured value or limit.
fn worse(finding: &Finding, accepted: f64) -> Option<bool> {
    let measured = finding.measured.as_ref()?.value?;
    let limit = finding.limit.as_ref()?.value?;
    Some(if measured < limit { measured < accepted } else { measured > accepted })
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
