//! Findings as SARIF 2.1.0, for services that show them beside the text. Every result has a place in a file.
//!
//! A check that cannot tell is a result of kind `open`; an accepted finding carries a suppression with its reason.

use std::collections::BTreeMap;

use serde::Serialize;

use super::not_checked::{NotChecked, not_checked};
use super::text::{acceptance, facts};
use crate::checks::{RULES, RuleMeta, Settled, rule};
use crate::diagnose::{Diagnostic, Fix, Severity};
use crate::emit::footer::{footer_line, rule_set_titles};
use crate::session::Checked;
use crate::source::{Files, Span};

const SCHEMA: &str = "https://json.schemastore.org/sarif-2.1.0.json";
/// Names of the folders that addresses are relative to. Their place on the machine is left out on purpose.
const PROJECT: &str = "PROJECT";
const LIBRARY: &str = "LIBRARY";

#[derive(Serialize)]
struct Log {
    version: &'static str,
    #[serde(rename = "$schema")]
    schema: &'static str,
    runs: Vec<Run>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run {
    tool: Tool,
    column_kind: &'static str,
    original_uri_base_ids: BTreeMap<&'static str, Base>,
    results: Vec<Entry>,
    properties: RunFacts,
}

#[derive(Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Serialize)]
struct Driver {
    name: &'static str,
    version: &'static str,
    rules: Vec<Descriptor>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Descriptor {
    id: String,
    short_description: Message,
    help: Message,
    properties: RuleFacts,
}

#[derive(Default, Serialize)]
struct RuleFacts {
    #[serde(skip_serializing_if = "str::is_empty")]
    catalogue: &'static str,
    #[serde(skip_serializing_if = "str::is_empty")]
    grade: &'static str,
    #[serde(skip_serializing_if = "str::is_empty")]
    before: &'static str,
}

#[derive(Serialize)]
struct Base {
    description: Message,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct RunFacts {
    line: String,
    today: Option<String>,
    rule_sets: Vec<String>,
    not_checked: NotChecked,
}

#[derive(Serialize)]
struct Message {
    text: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Entry {
    rule_id: String,
    rule_index: usize,
    kind: &'static str,
    level: &'static str,
    message: Message,
    locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    partial_fingerprints: BTreeMap<&'static str, String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    suppressions: Vec<Suppression>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Mend>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<usize>,
    physical_location: Physical,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    logical_locations: Vec<Logical>,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Message>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    region: Region,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Artifact {
    uri: String,
    uri_base_id: &'static str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Logical {
    fully_qualified_name: String,
}

#[derive(Serialize)]
struct Suppression {
    kind: &'static str,
    status: &'static str,
    justification: String,
    location: Location,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Mend {
    description: Message,
    artifact_changes: Vec<Change>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Change {
    artifact_location: Artifact,
    replacements: Vec<Replacement>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement {
    deleted_region: Region,
    inserted_content: Message,
}

/// The log of one run for each project.
pub fn sarif(checked: &[Checked]) -> String {
    let log = Log { version: "2.1.0", schema: SCHEMA, runs: checked.iter().map(run).collect() };
    serde_json::to_string_pretty(&log).unwrap_or_default() + "\n"
}

fn run(checked: &Checked) -> Run {
    let rules = rules(checked);
    let index: BTreeMap<&str, usize> = rules.iter().enumerate().map(|(at, rule)| (rule.id.as_str(), at)).collect();
    let at = |code: &str| index.get(code).copied().unwrap_or(0);
    let mistakes = checked.problems.iter().map(|problem| of_mistake(checked, problem, at(problem.code)));
    let findings = checked.findings.iter().map(|settled| of_finding(checked, settled, at(settled.finding.rule)));
    let results = mistakes.chain(findings).collect();
    let base = |text: &str| Base { description: words(text) };
    Run {
        column_kind: "utf16CodeUnits",
        original_uri_base_ids: [(PROJECT, base("the project folder")), (LIBRARY, base("the library within Wythe"))]
            .into(),
        results,
        properties: RunFacts {
            line: footer_line(checked),
            today: checked.today.map(|today| today.to_string()),
            rule_sets: rule_set_titles(checked),
            not_checked: not_checked(checked),
        },
        tool: Tool { driver: Driver { name: "wythe", version: env!("CARGO_PKG_VERSION"), rules } },
    }
}

/// Every rule that ran, then the kinds of mistakes that were found.
fn rules(checked: &Checked) -> Vec<Descriptor> {
    let mut rules: Vec<Descriptor> = RULES.iter().map(|rule| descriptor(rule.meta())).collect();
    let mut codes: Vec<&str> = checked.problems.iter().map(|problem| problem.code).collect();
    codes.extend(checked.findings.iter().map(|one| one.finding.rule).filter(|id| rule(id).is_none()));
    codes.sort_unstable();
    codes.dedup();
    rules.extend(codes.into_iter().map(|code| Descriptor {
        id: code.to_owned(),
        short_description: words("the text cannot be understood here"),
        help: words("the message names the form that is wanted; nothing that hangs on this place was checked"),
        properties: RuleFacts::default(),
    }));
    rules
}

fn descriptor(meta: &'static RuleMeta) -> Descriptor {
    let help = if meta.explain.trim().is_empty() { meta.title } else { meta.explain.trim() };
    Descriptor {
        id: meta.id.to_owned(),
        short_description: words(meta.title),
        help: words(help),
        properties: RuleFacts { catalogue: meta.catalogue, grade: meta.grade.word(), before: meta.before },
    }
}

fn of_mistake(checked: &Checked, problem: &Diagnostic, rule_index: usize) -> Entry {
    let files = &checked.project.files;
    let (kind, level) = standing(problem.severity);
    let lines: Vec<String> =
        std::iter::once(problem.title.clone()).chain(problem.help.iter().map(|line| format!("help: {line}"))).collect();
    let others = problem.others.iter().map(|label| (label.span, label.text.as_str()));
    Entry {
        rule_id: problem.code.to_owned(),
        rule_index,
        kind,
        level,
        message: words(&lines.join("\n")),
        locations: vec![location(files, problem.main.span)],
        related_locations: related(files, others),
        partial_fingerprints: fingerprint(&[problem.code, files.path(problem.main.span.file), &problem.title]),
        suppressions: Vec::new(),
        fixes: mends(files, &problem.fixes),
    }
}

fn of_finding(checked: &Checked, settled: &Settled, rule_index: usize) -> Entry {
    let files = &checked.project.files;
    let finding = &settled.finding;
    let (kind, level) = standing(finding.severity);
    let help = finding.help.iter().map(|line| format!("help: {line}"));
    let lines: Vec<String> = std::iter::once(finding.message.clone()).chain(facts(finding)).chain(help).collect();
    let mut main = location(files, finding.at);
    if !finding.subject.is_empty() {
        main.logical_locations.push(Logical { fully_qualified_name: finding.subject.clone() });
    }
    Entry {
        rule_id: finding.rule.to_owned(),
        rule_index,
        kind,
        level,
        message: words(&lines.join("\n")),
        locations: vec![main],
        related_locations: related(files, finding.others.iter().map(|(span, text)| (*span, text.as_str()))),
        partial_fingerprints: fingerprint(&[finding.rule, &finding.subject, &finding.message]),
        suppressions: suppression(checked, settled).into_iter().collect(),
        fixes: mends(files, &finding.fixes),
    }
}

/// Kind and level. The standard wants the level `none` for every kind but `fail`.
fn standing(severity: Severity) -> (&'static str, &'static str) {
    match severity {
        Severity::Violation => ("fail", "error"),
        Severity::Warning => ("fail", "warning"),
        Severity::Unknown => ("open", "none"),
        Severity::Note => ("fail", "note"),
    }
}

fn words(text: &str) -> Message {
    Message { text: text.to_owned() }
}

fn location(files: &Files, span: Span) -> Location {
    let physical_location = Physical { artifact_location: artifact(files, span), region: region(files, span) };
    Location { id: None, physical_location, logical_locations: Vec::new(), message: None }
}

fn related<'a>(files: &Files, places: impl Iterator<Item = (Span, &'a str)>) -> Vec<Location> {
    let numbered = places.enumerate();
    numbered
        .map(|(at, (span, text))| {
            let message = Some(text).filter(|text| !text.is_empty()).map(words);
            Location { id: Some(at), message, ..location(files, span) }
        })
        .collect()
}

fn artifact(files: &Files, span: Span) -> Artifact {
    let path = files.path(span.file);
    match path.strip_prefix("std/") {
        Some(name) if files.is_std(span.file) => Artifact { uri: address(name), uri_base_id: LIBRARY },
        _ => Artifact { uri: address(path), uri_base_id: PROJECT },
    }
}

/// A relative path as an address: all but letters, digits, `-._~/` escaped (RFC 3986).
fn address(path: &str) -> String {
    let mut address = String::new();
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            address.push(char::from(byte));
        } else {
            address.push_str(&format!("%{byte:02X}"));
        }
    }
    address
}

/// Lines and columns from one, columns in units of UTF-16; the end is one past the last unit.
fn region(files: &Files, span: Span) -> Region {
    let (start_line, start_column) = utf16(files, span, span.start);
    let (end_line, end_column) = utf16(files, span, span.end.max(span.start));
    Region { start_line, start_column, end_line, end_column }
}

fn utf16(files: &Files, span: Span, offset: u32) -> (usize, usize) {
    let line = files.position(span.file, offset).line as usize;
    let before = files.text(span.file).get(..offset as usize).unwrap_or("");
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let units: usize = before.get(start..).unwrap_or("").chars().map(char::len_utf16).sum();
    (line, units + 1)
}

fn mends(files: &Files, fixes: &[Fix]) -> Vec<Mend> {
    let whole = |fix: &&Fix| !fix.edits.is_empty();
    fixes
        .iter()
        .filter(whole)
        .map(|fix| Mend { description: words(&fix.title), artifact_changes: changes(files, fix) })
        .collect()
}

fn changes(files: &Files, fix: &Fix) -> Vec<Change> {
    let change = |(span, text): &(Span, String)| Change {
        artifact_location: artifact(files, *span),
        replacements: vec![Replacement { deleted_region: region(files, *span), inserted_content: words(text) }],
    };
    fix.edits.iter().map(change).collect()
}

fn suppression(checked: &Checked, settled: &Settled) -> Option<Suppression> {
    let accept = checked.model.accepts.get(settled.accepted?)?;
    Some(Suppression {
        kind: "inSource",
        status: "accepted",
        justification: acceptance(checked, settled)?,
        location: location(&checked.project.files, accept.origin),
    })
}

/// Tells the same finding in the next run although its line moved: FNV-1a, 64 bits, over rule, subject and message.
fn fingerprint(parts: &[&str]) -> BTreeMap<&'static str, String> {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in parts.iter().flat_map(|part| part.bytes().chain([0])) {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    [("wythe/v1", format!("{hash:016x}"))].into()
}
