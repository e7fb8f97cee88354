//! What is fixed through the wall from outside and carried by its frame: deck ledgers, and rows of brackets.

use super::{DetailId, Fasten, Stuff, Where};
use crate::source::Span;
use crate::units::Length;

/// A board bolted to the frame through the wall, which carries a deck.
#[derive(Clone, Debug)]
pub struct Ledger {
    /// Its name.
    pub name: String,
    /// Out from the wall.
    pub depth: Length,
    /// Up the wall.
    pub height: Length,
    /// Height of its upper edge on the face.
    pub top: Length,
    /// From.
    pub from: Where,
    /// To.
    pub to: Where,
    /// Clear space left behind it for water; absent if not said.
    pub stands_off: Option<Length>,
    /// What it is of.
    pub stuff: Stuff,
    /// How the wall is built along it.
    pub detail: Option<DetailId>,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// Its line.
    pub origin: Span,
}

/// Brackets or clips through the insulation, at one height.
#[derive(Clone, Debug)]
pub struct BracketRow {
    /// Its name.
    pub name: String,
    /// What they are.
    pub stuff: Stuff,
    /// Height on the face.
    pub height: Length,
    /// From.
    pub from: Option<Where>,
    /// To.
    pub to: Option<Where>,
    /// Centre to centre; absent if not said.
    pub spacing: Option<Length>,
    /// How each passes through the wall.
    pub detail: Option<DetailId>,
    /// What holds each.
    pub fasten: Option<Fasten>,
    /// Its line.
    pub origin: Span,
}

impl BracketRow {
    /// How many stand along a stretch, one at each end; absent if the spacing is not said.
    pub fn count(&self, along: Length) -> Option<u64> {
        let spacing = self.spacing.filter(|spacing| *spacing > Length::ZERO)?;
        // A last short space gets a bracket of its own, so that none is wider than was said.
        let spaces = (along.0.max(0) - 1).max(0) / spacing.0 + 1;
        u64::try_from(spaces + 1).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(spacing: Option<Length>) -> BracketRow {
        BracketRow {
            name: String::new(),
            stuff: Stuff::default(),
            height: Length::ZERO,
            from: None,
            to: None,
            spacing,
            detail: None,
            fasten: None,
            origin: Span::default(),
        }
    }

    #[test]
    fn one_bracket_stands_at_each_end() {
        let by_400 = row(Some(Length::mm(400)));
        assert_eq!(by_400.count(Length::mm(1200)), Some(4));
        assert_eq!(by_400.count(Length::mm(1201)), Some(5));
        assert_eq!(by_400.count(Length::mm(100)), Some(2));
        assert_eq!(row(None).count(Length::mm(1200)), None);
        assert_eq!(row(Some(Length::ZERO)).count(Length::mm(1200)), None);
    }
}
