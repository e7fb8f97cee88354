//! One shape for everything the compiler has to say about a text; the renderers live beside it.

mod suggest;

pub use suggest::{did_you_mean, nearest};

use crate::source::Span;

/// How much a message matters to the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Breaks a rule whose limit is published, or the text cannot be understood.
    Violation,
    /// Breaks a rule whose limit is habit or memory, or shortens the life of the wall.
    Warning,
    /// A check that could not be made because a fact is missing.
    Unknown,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word used in JSON and settings.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Violation => "violation",
            Severity::Warning => "warning",
            Severity::Unknown => "unknown",
            Severity::Note => "note",
        }
    }
}

/// A span with a few words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is there; lower case, no full stop; may be empty.
    pub text: String,
}

/// An edit that mends the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What it does, as an imperative.
    pub title: String,
    /// Replacements; none overlap.
    pub edits: Vec<(Span, String)>,
}

/// One message with at least one place. It cannot be built without a span.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// Stable dotted code, such as `text.unknown_word`; a rule's id for findings.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// Makes sense alone in one line; lower case, no full stop.
    pub title: String,
    /// The main place.
    pub main: Label,
    /// Other places, in any file.
    pub others: Vec<Label>,
    /// What to do, one line each.
    pub help: Vec<String>,
    /// Edits that an editor can apply.
    pub fixes: Vec<Fix>,
}

impl Diagnostic {
    /// A mistake in the text.
    pub fn error(code: &'static str, span: Span, title: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Violation,
            title: title.into(),
            main: Label { span, text: String::new() },
            others: Vec::new(),
            help: Vec::new(),
            fixes: Vec::new(),
        }
    }

    /// A doubt about the text that does not stop it from being understood.
    pub fn warning(code: &'static str, span: Span, title: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, span, title) }
    }

    /// Sets the words at the main place.
    pub fn label(mut self, text: impl Into<String>) -> Self {
        self.main.text = text.into();
        self
    }

    /// Adds another place.
    pub fn also(mut self, span: Span, text: impl Into<String>) -> Self {
        self.others.push(Label { span, text: text.into() });
        self
    }

    /// Adds a line of advice.
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }

    /// Adds an edit of one span.
    pub fn fix(mut self, title: impl Into<String>, span: Span, replacement: impl Into<String>) -> Self {
        self.fixes.push(Fix { title: title.into(), edits: vec![(span, replacement.into())] });
        self
    }
}

impl Diagnostic {
    /// Moves every place in it.
    pub fn move_spans(&mut self, to: &dyn Fn(Span) -> Span) {
        self.main.span = to(self.main.span);
        self.others.iter_mut().for_each(|label| label.span = to(label.span));
        self.fixes.iter_mut().flat_map(|fix| &mut fix.edits).for_each(|(span, _)| *span = to(*span));
    }
}

/// Sorts by place, then code, then words, and drops exact repeats, so that every run prints the same.
pub fn settle(problems: &mut Vec<Diagnostic>) {
    problems.sort_by(|a, b| (a.main.span, a.code, &a.title).cmp(&(b.main.span, b.code, &b.title)));
    problems.dedup();
}
