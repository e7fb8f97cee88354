//! What can be wrong with a number, ready to become a message once its place is known.

use crate::diagnose::Diagnostic;
use crate::source::Span;

/// A mistake in a number, its unit or a sum. It knows no place; [`UnitProblem::at`] gives it one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitProblem {
    /// Stable dotted code: `text.unknown_unit`, `text.absurd_size`, `text.no_value`, `text.dimension`.
    pub code: &'static str,
    /// One line that makes sense alone.
    pub title: String,
    /// What to do.
    pub help: Option<String>,
    /// What the unit text should be, where that is sure. Empty means: delete the unit.
    pub unit: Option<String>,
}

impl UnitProblem {
    pub(crate) fn new(code: &'static str, title: impl Into<String>) -> Self {
        Self { code, title: title.into(), help: None, unit: None }
    }

    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    pub(crate) fn unit(mut self, unit: impl Into<String>) -> Self {
        self.unit = Some(unit.into());
        self
    }

    /// The message: at `unit` where the unit is what is wrong, else at `whole`, the number with its unit or the sum.
    pub fn at(&self, whole: Span, unit: Span) -> Diagnostic {
        let span = if self.code == "text.unknown_unit" { unit } else { whole };
        let mut message = Diagnostic::error(self.code, span, &self.title);
        message.help.extend(self.help.clone());
        match &self.unit {
            Some(right) => message.fix(format!("write `{right}`"), unit, right.clone()),
            None => message,
        }
    }
}
