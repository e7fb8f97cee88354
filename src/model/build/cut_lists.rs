//! Lists to cut that come from no wall.

use super::Builder;
use crate::diagnose::Diagnostic;
use crate::eval::Bound;
use crate::model::{Alike, CutList};
use crate::source::Span;
use crate::units::{Length, display};

/// More of one length than any job has; the bound keeps plans quick.
const MOST: i64 = 10_000;

impl Builder<'_> {
    pub(super) fn cut_list(&mut self, bound: &Bound) {
        let name = bound.name().unwrap_or_default().to_owned();
        let mut stocks = Vec::new();
        for clause in bound.all("stock") {
            let price = clause.number("amount");
            if price.is_some_and(|price| price <= 0.0) {
                self.problem(not_positive(clause.span, "a price"));
            }
            for length in clause.lengths("lengths") {
                if self.more_than_nothing(clause.span, "stock", length) {
                    stocks.push((length, price.filter(|price| *price > 0.0)));
                }
            }
        }
        let (pieces, offcuts) = (self.alike(bound, "piece"), self.alike(bound, "offcut"));
        for (word, what) in [("stock", "length of stock"), ("piece", "piece")] {
            if !bound.has(word) {
                let title = format!("`{name}` has no {what}");
                let help = format!("add a line `{word} 3660mm`");
                self.problem(Diagnostic::error("cutlist.incomplete", bound.span, title).help(help));
            }
        }
        let longest = stocks.iter().map(|(length, _)| *length).chain(offcuts.iter().map(|offcut| offcut.length)).max();
        for piece in &pieces {
            if let Some(longest) = longest.filter(|longest| piece.length > *longest) {
                let problem = self.too_long(piece, longest, &name);
                self.problem(problem);
            }
        }
        let mut least = |word: &str, label: &str| {
            let clause = bound.clause(word)?;
            let length = clause.length(label)?;
            if length < Length::ZERO {
                self.problem(Diagnostic::error("size.negative", clause.span, format!("`{word}` is less than 0")));
            }
            (length >= Length::ZERO).then_some(length)
        };
        let (kerf, keep) = (least("kerf", "width"), least("keep", "length"));
        self.model.cut_lists.push(CutList { name, stocks, kerf, keep, offcuts, pieces, origin: bound.span });
    }

    fn alike(&mut self, bound: &Bound, word: &'static str) -> Vec<Alike> {
        let mut found = Vec::new();
        for clause in bound.all(word) {
            let Some(length) = clause.length("length") else { continue };
            let count = clause.clause("count").map_or(Some(1), |count| count.integer("number"));
            let Some(count) = count else { continue };
            let counted = (1..=MOST).contains(&count);
            if !counted {
                let at = clause.clause("count").map_or(clause.span, |count| count.span);
                let title = format!("a count is 1 to {MOST}, not {count}");
                self.problem(Diagnostic::error("cutlist.count", at, title));
            }
            if self.more_than_nothing(clause.span, word, length) && counted {
                let mark = clause.clause("mark").and_then(|mark| mark.text("words"));
                found.push(Alike { length, count: count.unsigned_abs(), mark, origin: clause.span });
            }
        }
        found
    }

    fn more_than_nothing(&mut self, at: Span, what: &str, length: Length) -> bool {
        let positive = length > Length::ZERO;
        if !positive {
            self.problem(not_positive(at, what));
        }
        positive
    }

    fn too_long(&self, piece: &Alike, longest: Length, name: &str) -> Diagnostic {
        let shown = |length: Length| display::both(length, self.model.project.units);
        let title = format!(
            "a piece of {} is longer than the longest stock of `{name}`, {}, by {}",
            shown(piece.length),
            shown(longest),
            shown(piece.length - longest)
        );
        Diagnostic::error("cutlist.too_long", piece.origin, title)
            .help("add a longer `stock`, or make the piece of two")
    }
}

fn not_positive(at: Span, what: &str) -> Diagnostic {
    super::problems::not_positive(at, what)
}
