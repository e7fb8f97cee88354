//! Fixes that take more than a clause, by what they do.

mod names;
mod parts;
mod places;
mod sizes;

pub(super) use names::{advised_name, authority, detail, take_out};
pub(super) use parts::{
    barrier, isolate, jamb_over_sill, joint, longer, one_fixed_point, open_bottom, openness, stainless,
};
pub(super) use places::{
    into_floor, lower_slots, marks_of_studs, meet, move_away, onto_strips, raise_base, raise_nailer, shift_joint,
    to_course_line, weeps_off_strips,
};
pub(super) use sizes::{bore, closer, deepen, deeper_trim, exposure, loads, longer_stem, steeper, thicker, wider_lap};

use super::ask::Ask;
use crate::syntax::{Item, ItemKind};
use crate::units::{Length, Number, System, display, evaluate, feet_inches};

/// The length an argument says.
fn length_of(item: &Item) -> Option<Length> {
    let number = match &item.kind {
        ItemKind::Quantity(literal) => evaluate(literal),
        ItemKind::FeetInches(feet, inches) => feet_inches(feet, inches),
        _ => return None,
    };
    match number.ok()? {
        Number::Length(length) => Some(length),
        _ => None,
    }
}

/// A length in the unit of the argument it takes the place of.
fn written_like(item: &Item, length: Length) -> String {
    let inches = match &item.kind {
        ItemKind::Quantity(literal) => ["in", "ft"].contains(&&*literal.unit),
        ItemKind::FeetInches(..) => true,
        _ => false,
    };
    display::source(length, if inches { System::Imperial } else { System::Metric })
}

impl Ask<'_> {
    /// A length as a person reads it.
    fn shown(&self, length: Length) -> String {
        display::both(length, self.glance.model.project.units)
    }

    /// How far the finding is beyond its limit.
    fn short_by(&self) -> Option<Length> {
        let (found, limit) = (self.finding.measured.as_ref()?.value?, self.finding.limit.as_ref()?.value?);
        let gap = Length::snap_m((limit - found).abs());
        Some(display::gap_up(gap, self.glance.model.project.units))
    }
}
