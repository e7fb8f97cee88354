//! Units behind a number: those of the dimension the slot wants, the project's own first.

use super::{CompletionKind, Desk};
use crate::eval::dimension;
use crate::schema::SlotKind;
use crate::source::Span;
use crate::units::{ATOMS, Dimension, System, Unit};

/// Compound units in use, for people who look for one.
const COMPOUND: [&str; 18] = [
    "W/(m.K)",
    "kg/m3",
    "lb/ft3",
    "J/(kg.K)",
    "kJ/(kg.K)",
    "ng/(Pa.s.m2)",
    "um/(m.K)",
    "kg/m2",
    "lb/ft2",
    "kg/m",
    "lb/ft",
    "m/s",
    "km/h",
    "L/(s.m2)",
    "mm2/m",
    "mm/h",
    "N/m",
    "m2.K/W",
];

/// Units that are seldom meant where a length of a wall is written.
const SELDOM: [&str; 4] = ["km", "um", "yd", "rad"];

impl Desk<'_> {
    /// Units that fit the number in hand.
    pub(super) fn units_of(&mut self, slots: &[(&'static str, &'static SlotKind)]) {
        let wanted: Vec<Dimension> = slots.iter().filter_map(|(_, kind)| dimension_of(kind)).collect();
        let any = slots.iter().any(|(_, kind)| matches!(kind, SlotKind::Any));
        self.units(&wanted, any);
    }

    /// Units of some dimensions behind the number in hand.
    pub(super) fn units(&mut self, wanted: &[Dimension], any: bool) {
        let word = self.word();
        let number = word.rfind("..").map_or(0, |at| at + 2);
        let figures = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '-' | '/' | ':');
        let own = word.get(number..).unwrap_or_default();
        let unit = number + own.find(|letter| !figures(letter)).unwrap_or(own.len());
        let replace = Span::new(self.file, self.pen.word + unit, self.offset);
        let imperial = self.glance.model.project.units == System::Imperial;
        let known = ATOMS.iter().map(|atom| (atom.name, atom.says));
        for (name, says) in known.chain(COMPOUND.map(|name| (name, ""))) {
            let Ok(found) = Unit::parse(name) else { continue };
            if !any && !wanted.contains(&found.dimension) {
                continue;
            }
            let ours = match name {
                "in" | "ft" | "psf" | "degF" | "lb" | "lbf" | "perm" | "lb/ft2" | "lb/ft" | "lb/ft3" => imperial,
                _ => !imperial,
            };
            let order = if SELDOM.contains(&name) { 7 } else { 3 - u8::from(ours) };
            let said = if says.is_empty() { found.dimension.name().into_owned() } else { says.to_owned() };
            self.offer(name, CompletionKind::Unit, replace).detail(said).order(order);
        }
    }
}

/// The dimension of the numbers in a slot.
pub(super) fn dimension_of(kind: &SlotKind) -> Option<Dimension> {
    Some(match kind {
        SlotKind::Length
        | SlotKind::Lengths
        | SlotKind::LengthTuple
        | SlotKind::Range
        | SlotKind::Size
        | SlotKind::Point
        | SlotKind::Points
        | SlotKind::PointOrStart
        | SlotKind::Where => Dimension::LENGTH,
        SlotKind::Number | SlotKind::NumberTuple | SlotKind::Slope => Dimension::NUMBER,
        SlotKind::Quantity(name) | SlotKind::QuantityTuple(name) => dimension(name),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_compound_unit_can_be_read() {
        for unit in COMPOUND {
            assert!(Unit::parse(unit).is_ok(), "{unit}");
        }
    }
}
