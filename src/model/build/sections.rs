//! Sections of work, and the trade that does a thing.

use super::Builder;
use super::outline::place_along;
use crate::diagnose::Diagnostic;
use crate::eval::Bound;
use crate::model::{DryIn, Section};

impl Builder<'_> {
    pub(super) fn section(&mut self, bound: &Bound) {
        let Some(on) = bound.paths("face").into_iter().next() else { return };
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let dry_in = bound
            .clause("dry_in")
            .and_then(|clause| Some(DryIn::from_word(clause.word("method")?, clause.length("length"))));
        let loads = bound.clause("loads").map_or(1, |clause| self.loads(clause));
        self.model.sections.push(Section {
            name: bound.name().unwrap_or_default().to_owned(),
            on,
            face: None,
            from: place_along(bound, "from"),
            to: place_along(bound, "to"),
            up_to: bound.length("height"),
            course: bound.clause("course").and_then(|clause| clause.integer("number")),
            dry_in,
            platform: bound.clause("platform").and_then(|clause| clause.number("rating")),
            decks: bound.all("deck").filter_map(|clause| clause.length("height")).collect(),
            reach: length("reach", "height"),
            loads,
            by: trade(bound),
            note: bound.clause("note").and_then(|clause| clause.text("text")),
            origin: bound.span,
        });
    }
}

impl Builder<'_> {
    /// One load at least; more than a hundred are none that anybody carries.
    fn loads(&mut self, clause: &Bound) -> u64 {
        let Some(count) = clause.integer("number") else { return 1 };
        if !(1..=100).contains(&count) {
            let title = format!("a kit goes up in 1 to 100 loads, not {count}");
            self.problem(Diagnostic::error("section.loads", clause.span, title));
        }
        count.clamp(1, 100).unsigned_abs()
    }
}

/// The trade named under `by`.
pub(super) fn trade(bound: &Bound) -> Option<&'static str> {
    bound.clause("by").and_then(|clause| clause.word("trade"))
}
