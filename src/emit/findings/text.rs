//! The report for people: each mistake and finding with its place in the text, its place on the wall, and what to do.

use std::fmt::Write as _;

use codespan_reporting::diagnostic::{Diagnostic as Shown, Label as ShownLabel, Severity as Weight};
use codespan_reporting::term::{Config, emit_to_write_style};

use super::not_checked;
use super::painter::{Paint, Painter};
use crate::checks::{Finding, Settled};
use crate::diagnose::{Diagnostic, Severity};
use crate::emit::footer::{count, footer_line};
use crate::session::Checked;
use crate::source::{FileId, Files, Span};

/// Mistakes of the text shown in full; the rest are counted. The JSON has them all.
const MISTAKES_SHOWN: usize = 200;
/// Longest line of a text that is shown, in bytes; longer ones are only named.
const LINE_SHOWN: usize = 400;

/// The whole report: mistakes of the text, then findings in their order, then the line every output carries.
pub fn text(checked: &Checked, paint: Paint) -> String {
    let mut out = String::new();
    out.push_str(&mistakes(&checked.project.files, &checked.problems, paint));
    for settled in &checked.findings {
        out.push_str(&finding(checked, settled, paint));
    }
    let day = checked.today.map_or_else(|| "no date given".to_owned(), |today| format!("today {today}"));
    let _ = writeln!(out, "{}", footer_line(checked));
    out.push_str(&not_checked::summary(checked));
    let _ = writeln!(out, "{day} · {}", count(checked.rules_run, "rule ran", "rules ran"));
    out
}

/// Mistakes of the text alone, as the formatter shows them.
pub fn mistakes(files: &Files, problems: &[Diagnostic], paint: Paint) -> String {
    let mut out = String::new();
    for problem in problems.iter().take(MISTAKES_SHOWN) {
        out.push_str(&mistake(files, problem, paint));
    }
    if let Some(more @ 1..) = problems.len().checked_sub(MISTAKES_SHOWN) {
        let _ = writeln!(out, "and {} that are not shown; the JSON report has them\n", count(more, "more", "more"));
    }
    out
}

fn mistake(files: &Files, problem: &Diagnostic, paint: Paint) -> String {
    let word = if problem.severity == Severity::Violation { "mistake" } else { word(problem.severity) };
    let others = problem.others.iter().map(|label| (label.span, label.text.as_str()));
    let notes = problem.help.iter().map(|line| format!("help: {line}")).collect();
    let places = std::iter::once((problem.main.span, problem.main.text.as_str())).chain(others);
    let heading = Heading { word, code: problem.code, title: &problem.title, weight: weight(problem.severity) };
    block(files, &heading, places, notes, paint)
}

fn finding(checked: &Checked, settled: &Settled, paint: Paint) -> String {
    let finding = &settled.finding;
    let accepted = settled.accepted.is_some();
    let title = match finding.severity {
        Severity::Unknown => finding.message.strip_prefix("cannot tell ").unwrap_or(&finding.message),
        _ => &finding.message,
    };
    let heading = Heading {
        word: if accepted { "accepted" } else { word(finding.severity) },
        code: finding.rule,
        title,
        weight: if accepted { Weight::Help } else { weight(finding.severity) },
    };
    let others = finding.others.iter().map(|(span, text)| (*span, text.as_str()));
    let places = std::iter::once((finding.at, "")).chain(others);
    let mut notes = facts(finding);
    notes.extend(acceptance(checked, settled));
    notes.extend(finding.help.iter().map(|line| format!("help: {line}")));
    block(&checked.project.files, &heading, places, notes, paint)
}

/// What stands before the first colon.
struct Heading<'a> {
    word: &'static str,
    code: &'a str,
    title: &'a str,
    weight: Weight,
}

/// The word for people.
pub(super) fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Violation => "fault",
        Severity::Warning => "warning",
        Severity::Unknown => "can't tell",
        Severity::Note => "note",
    }
}

fn weight(severity: Severity) -> Weight {
    match severity {
        Severity::Violation => Weight::Error,
        Severity::Warning => Weight::Warning,
        Severity::Unknown => Weight::Bug,
        Severity::Note => Weight::Note,
    }
}

/// Where on the wall, how far off, by which rule, how bad.
pub fn facts(finding: &Finding) -> Vec<String> {
    let mut lines = Vec::new();
    if !finding.place.is_empty() {
        lines.push(format!("where: {}", finding.place));
    }
    match (&finding.measured, &finding.limit) {
        (Some(measured), Some(limit)) => lines.push(format!("measured {}, wanted {}", measured.shown, limit.shown)),
        (Some(measured), None) => lines.push(format!("measured {}", measured.shown)),
        (None, Some(limit)) => lines.push(format!("wanted {}", limit.shown)),
        (None, None) => {}
    }
    if !finding.path.is_empty() {
        lines.push(format!("way: {}", finding.path.join(" → ")));
    }
    if !finding.basis.citation.is_empty() {
        lines.push(format!("basis: {}", finding.basis.citation));
    }
    let defences = match finding.defences {
        None => String::new(),
        Some(0) => " · nothing stands behind it".to_owned(),
        Some(number) => {
            let names: Vec<String> = finding.behind.iter().map(|name| format!("`{name}`")).collect();
            let which = if names.is_empty() { String::new() } else { format!(": {}", names.join(", ")) };
            format!(" · {} behind it{which}", count(number as usize, "defence", "defences"))
        }
    };
    lines.push(format!("{} {}{}{defences}", finding.grade.word(), finding.grade.phrase(), hold_point(finding.before)));
    lines
}

/// " · before H1, furring": what must not begin before it is mended.
pub fn hold_point(code: &str) -> String {
    match work(code) {
        Some(work) => format!(" · before {code}, {work}"),
        None if code.is_empty() => String::new(),
        None => format!(" · before {code}"),
    }
}

/// The work that a hold point stands before: "furring" for `H1`.
pub fn work(code: &str) -> Option<&'static str> {
    Some(match code {
        "H0" => "work starts",
        "H1" => "furring",
        "H2" => "trims",
        "H3" => "cladding near it",
        "H4" => "the first course",
        "H5" => "the section is left",
        "H6" => "the top is closed",
        "H7" => "the scaffold leaves",
        _ => return None,
    })
}

/// Who accepted it, why and until when; nothing if it was not accepted.
pub fn acceptance(checked: &Checked, settled: &Settled) -> Option<String> {
    let accept = checked.model.accepts.get(settled.accepted?)?;
    let mut line = format!("accepted: \"{}\", by {}", accept.why, accept.by);
    if let Some(until) = accept.until {
        let _ = write!(line, ", until {until}");
    }
    if let Some(authority) = &accept.authority {
        let _ = write!(line, ", on authority of {}", authority.role);
        authority.reference.iter().for_each(|reference| line.push_str(&format!(", {reference}")));
        authority.dated.iter().for_each(|dated| line.push_str(&format!(", {dated}")));
    }
    Some(line)
}

/// One message with its snippets. The first place is the main one.
fn block<'a>(
    files: &Files,
    heading: &Heading<'_>,
    places: impl Iterator<Item = (Span, &'a str)>,
    mut notes: Vec<String>,
    paint: Paint,
) -> String {
    let mut labels = Vec::new();
    let mut unseen = Vec::new();
    for (at, (span, words)) in places.enumerate() {
        let make = if at == 0 { ShownLabel::primary } else { ShownLabel::secondary };
        if can_show(files, span) {
            labels.push(make(span.file, span.range()).with_message(words));
        } else {
            unseen.push(named(files, span, words));
        }
    }
    notes.splice(0..0, unseen);
    let shown = Shown::<FileId>::new(heading.weight).with_message(heading.title).with_labels(labels).with_notes(notes);
    let mut painter = Painter::new(paint, heading.word, heading.code);
    match emit_to_write_style(&mut painter, &Config::default(), files, &shown) {
        Ok(()) => painter.finish(),
        // Every label was proved to fit its file; should one not, the message is still given.
        Err(_) => format!("{}[{}]: {}\n\n", heading.word, heading.code, heading.title),
    }
}

/// Whether the lines at both ends of a span exist and are short enough for a page.
fn can_show(files: &Files, span: Span) -> bool {
    let text = files.text(span.file);
    let range = span.range();
    let (Some(before), Some(_), Some(after)) =
        (text.get(..range.start), text.get(range.clone()), text.get(range.end..))
    else {
        return false;
    };
    let line_start = |text: &str| text.rfind('\n').map_or(0, |at| at + 1);
    let line_end = |text: &str| text.find('\n').unwrap_or(text.len());
    let first = before.len() - line_start(before) + line_end(text.get(range.start..).unwrap_or(""));
    let last = range.end - line_start(text.get(..range.end).unwrap_or("")) + line_end(after);
    first <= LINE_SHOWN && last <= LINE_SHOWN
}

fn named(files: &Files, span: Span, words: &str) -> String {
    let at = files.position(span.file, span.start);
    let words = if words.is_empty() { String::new() } else { format!(": {words}") };
    format!("in {}, line {}, column {}{words}", files.path(span.file), at.line, at.column)
}
