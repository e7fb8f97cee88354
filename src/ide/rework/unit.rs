//! The length under the cursor in the other unit: exactly, or to the nearest mark of a tape, and by how much that differs.

use super::super::mend::draft::Draft;
use super::super::spot::Spot;
use super::{Rework, ReworkKind};
use crate::session::Glance;
use crate::syntax::{Item, ItemKind};
use crate::units::{Length, Number, System, display, evaluate, feet_inches};

/// The length in inches, or in millimetres.
pub fn convert(glance: &Glance, spot: &Spot<'_>) -> Vec<Rework> {
    let Some((item, length, system)) = spot.item.and_then(read) else { return Vec::new() };
    let step = match system {
        System::Imperial => Length::INCH / 16,
        System::Metric => Length::MM,
    };
    let (below, rest) = (length.0.div_euclid(step.0), length.0.rem_euclid(step.0));
    let near = Length((below + i64::from(rest * 2 >= step.0)) * step.0);
    let mark = if system == System::Imperial { "1/16 in" } else { "1 mm" };
    let old = glance.project.files.slice(item.span);
    let made = |length: Length, how: String| {
        let new = display::source(length, system);
        let title = format!("Write {old} as {new}: {how}");
        let edits = Draft::new(glance, item.span.file)?.cut(item.span, new).edits()?;
        Some(Rework { title, kind: ReworkKind::Rewrite, edits })
    };
    let is_exact = system == System::Metric || (length.0 % 396_875) == 0;
    let exact = is_exact.then(|| made(length, "the same length".to_owned())).flatten();
    let off = Length(near.0 - length.0);
    let than = if off.0 > 0 { "longer" } else { "shorter" };
    let how = format!("to the nearest {mark}, {} {than}", display::length(off.abs(), System::Metric));
    let round = (off.0 != 0).then(|| made(near, how)).flatten();
    exact.into_iter().chain(round).collect()
}

/// A length as written, with the system it is to be written in.
fn read(item: &Item) -> Option<(&Item, Length, System)> {
    let (number, to) = match &item.kind {
        ItemKind::Quantity(literal) => {
            let to = match &*literal.unit {
                "in" | "ft" => System::Metric,
                "mm" | "cm" | "m" => System::Imperial,
                _ => return None,
            };
            (evaluate(literal), to)
        }
        ItemKind::FeetInches(feet, inches) => (feet_inches(feet, inches), System::Metric),
        _ => return None,
    };
    let Ok(Number::Length(length)) = number else { return None };
    Some((item, length, to))
}
