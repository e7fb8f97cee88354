//! Findings for programs. The order of fields is fixed; what is not known is `null`.

use schemars::JsonSchema;
use serde::Serialize;

use super::not_checked::{NotChecked, not_checked};
use crate::checks::{Finding, Measure, Settled, rule};
use crate::diagnose::Diagnostic;
use crate::emit::footer::{footer_line, rule_set_titles};
use crate::geometry::Point;
use crate::session::Checked;
use crate::source::Span;

/// Version of this layout; raised when a field changes its meaning.
const SCHEMA: u32 = 1;

/// The report of one project.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Report<'c> {
    schema: u32,
    line: String,
    today: Option<String>,
    rule_sets: Vec<String>,
    findings: Vec<Entry<'c>>,
    not_checked: NotChecked,
    summary: Counts,
}

#[derive(Debug, JsonSchema, Serialize)]
struct Entry<'c> {
    rule: &'c str,
    catalogue: Option<&'static str>,
    severity: &'static str,
    message: &'c str,
    file: &'c str,
    line: u32,
    column: u32,
    subject: Option<&'c str>,
    r#where: Option<&'c str>,
    from: Option<Place>,
    to: Option<Place>,
    grade: Option<&'static str>,
    before: Option<&'static str>,
    defences: Option<u32>,
    behind: &'c [String],
    measured: Option<Value<'c>>,
    limit: Option<Value<'c>>,
    basis: Option<&'c str>,
    help: &'c [String],
    path: &'c [String],
    accepted: Option<Acceptance<'c>>,
}

/// A point of a face, in millimetres: x to the right seen from outside, y up from the datum.
#[derive(Debug, JsonSchema, Serialize)]
struct Place {
    x_mm: f64,
    y_mm: f64,
}

/// A measured value: as people read it, and in SI units.
#[derive(Debug, JsonSchema, Serialize)]
struct Value<'c> {
    shown: &'c str,
    si: Option<f64>,
}

#[derive(Debug, JsonSchema, Serialize)]
struct Acceptance<'c> {
    by: &'c str,
    because: &'c str,
    until: Option<String>,
    authority: Option<Authority<'c>>,
}

#[derive(Debug, JsonSchema, Serialize)]
struct Authority<'c> {
    role: &'c str,
    reference: Option<&'c str>,
    dated: Option<String>,
}

#[derive(Debug, JsonSchema, Serialize)]
struct Counts {
    violations: usize,
    warnings: usize,
    notes: usize,
    unknown: usize,
    accepted: usize,
}

/// The report of one project, indented, with a line feed at the end.
pub fn json(checked: &Checked) -> String {
    write(&report(checked))
}

/// The reports of several projects as a list, in the order given.
pub fn json_list(checked: &[Checked]) -> String {
    write(&checked.iter().map(report).collect::<Vec<_>>())
}

/// Writing to memory fails only for maps whose keys are no strings, and there are none.
fn write(value: &impl Serialize) -> String {
    serde_json::to_string_pretty(value).unwrap_or_default() + "\n"
}

/// The report as a value to serialise.
pub fn report(checked: &Checked) -> Report<'_> {
    let mistakes = checked.problems.iter().map(|problem| of_mistake(checked, problem));
    let findings = checked.findings.iter().map(|settled| of_finding(checked, settled));
    let summary = checked.summary;
    Report {
        schema: SCHEMA,
        line: footer_line(checked),
        today: checked.today.map(|today| today.to_string()),
        rule_sets: rule_set_titles(checked),
        findings: mistakes.chain(findings).collect(),
        not_checked: not_checked(checked),
        summary: Counts {
            violations: summary.violations,
            warnings: summary.warnings,
            notes: summary.notes,
            unknown: summary.unknown,
            accepted: summary.accepted,
        },
    }
}

fn of_mistake<'c>(checked: &'c Checked, problem: &'c Diagnostic) -> Entry<'c> {
    let (file, line, column) = position(checked, problem.main.span);
    Entry {
        rule: problem.code,
        catalogue: None,
        severity: problem.severity.word(),
        message: &problem.title,
        file,
        line,
        column,
        subject: None,
        r#where: None,
        from: None,
        to: None,
        grade: None,
        before: None,
        defences: None,
        behind: &[],
        measured: None,
        limit: None,
        basis: None,
        help: &problem.help,
        path: &[],
        accepted: None,
    }
}

fn of_finding<'c>(checked: &'c Checked, settled: &'c Settled) -> Entry<'c> {
    let finding: &Finding = &settled.finding;
    let (file, line, column) = position(checked, finding.at);
    let catalogue = rule(finding.rule).and_then(|rule| some(rule.meta().catalogue));
    Entry {
        rule: finding.rule,
        catalogue,
        severity: finding.severity.word(),
        message: &finding.message,
        file,
        line,
        column,
        subject: some(&finding.subject),
        r#where: some(&finding.place),
        from: finding.stretch.as_ref().map(|stretch| place(stretch.from)),
        to: finding.stretch.as_ref().map(|stretch| place(stretch.to)),
        grade: Some(finding.grade.word()),
        before: some(finding.before),
        defences: finding.defences,
        behind: &finding.behind,
        measured: finding.measured.as_ref().map(value),
        limit: finding.limit.as_ref().map(value),
        basis: some(&finding.basis.citation),
        help: &finding.help,
        path: &finding.path,
        accepted: acceptance(checked, settled),
    }
}

fn position(checked: &Checked, span: Span) -> (&str, u32, u32) {
    let files = &checked.project.files;
    let at = files.position(span.file, span.start);
    (files.path(span.file), at.line, at.column)
}

fn some(text: &str) -> Option<&str> {
    Some(text).filter(|text| !text.is_empty())
}

fn place(point: Point) -> Place {
    Place { x_mm: point.x.as_mm(), y_mm: point.y.as_mm() }
}

fn value(measure: &Measure) -> Value<'_> {
    Value { shown: &measure.shown, si: measure.value }
}

fn acceptance<'c>(checked: &'c Checked, settled: &Settled) -> Option<Acceptance<'c>> {
    let accept = checked.model.accepts.get(settled.accepted?)?;
    let authority = accept.authority.as_ref().map(|authority| Authority {
        role: &authority.role,
        reference: authority.reference.as_deref(),
        dated: authority.dated.map(|dated| dated.to_string()),
    });
    Some(Acceptance {
        by: &accept.by,
        because: &accept.why,
        until: accept.until.map(|until| until.to_string()),
        authority,
    })
}
