//! Shows problems as a person would see them.

use codespan_reporting::diagnostic::{Diagnostic as Shown, Label, LabelStyle};
use codespan_reporting::term;

use crate::diagnose::{Diagnostic, Severity};
use crate::source::{FileId, Files};
use crate::syntax::parse;

/// The problems of a text, rendered.
pub(super) fn problems(text: &str) -> String {
    let mut files = Files::default();
    let file = files.add("wall.wythe", text.into());
    parse(file, text).problems.iter().map(|problem| one(&files, problem)).collect()
}

fn one(files: &Files, problem: &Diagnostic) -> String {
    let label = |style, label: &crate::diagnose::Label| {
        Label::<FileId>::new(style, label.span.file, label.span.range()).with_message(&label.text)
    };
    let mut labels = vec![label(LabelStyle::Primary, &problem.main)];
    labels.extend(problem.others.iter().map(|other| label(LabelStyle::Secondary, other)));
    let mut notes: Vec<String> = problem.help.iter().map(|help| format!("help: {help}")).collect();
    notes.extend(problem.fixes.iter().map(|fix| format!("fix: {}", fix.title)));
    let blank = if problem.severity == Severity::Warning { Shown::warning() } else { Shown::error() };
    let shown = blank.with_code(problem.code).with_message(&problem.title).with_labels(labels).with_notes(notes);
    term::emit_into_string(&term::Config::default(), files, &shown).unwrap()
}
