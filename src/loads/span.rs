//! Strips of furring as beams between their fasteners, in the wind at the corners.

use super::{Fastening, Suction, between_strips, number};
use crate::model::Model;
use crate::model::{Direction, Furring, Limit};
use crate::physics::fastening;
use crate::units::Length;

/// One strip between two fasteners.
pub struct StripSpan<'m> {
    /// The strips.
    pub furring: &'m Furring,
    /// Between two fasteners.
    pub span: Length,
    /// The longest that stays within stress and deflection, m.
    pub longest: f64,
    /// Width of a strip.
    pub width: Length,
    /// From strip to strip.
    pub across: Length,
    /// Greatest deflection between two fasteners as a share of the span.
    pub bends: f64,
    /// Greatest stress, Pa.
    pub stress: f64,
    /// Share of the span it may bend.
    pub may_bend: f64,
    /// Stress allowed, Pa; the limit that gives it.
    pub strength: (&'m Limit, f64),
}

/// Strips of wood that one fastening holds, under the wind on a face; `None` where it holds none. The error is the missing fact.
pub fn strip_span<'m>(
    model: &'m Model,
    wind: &Suction<'_>,
    one: &Fastening<'m>,
) -> Option<Result<StripSpan<'m>, String>> {
    let wood = one.of.is_some_and(|material| matches!(material.kind, "wood" | "wood_board"));
    let furring = one.wall.gap()?.1.furring.first().filter(|_| one.is_furring && wood)?;
    Some(of_furring(model, wind, one, furring))
}

fn of_furring<'m>(
    model: &'m Model,
    wind: &Suction<'_>,
    one: &Fastening<'m>,
    furring: &'m Furring,
) -> Result<StripSpan<'m>, String> {
    let (limit, strength) = number(model, "furring.stress")?;
    let (_, modulus) = number(model, "furring.modulus")?;
    let (_, may_bend) = number(model, "furring.deflection_share")?;
    let lying = furring.direction == Some(Direction::Horizontal);
    let studs = one.wall.frame().and_then(|(_, frame)| frame.spacing).filter(|_| lying);
    let span = one.fasten.spacing.or(studs);
    let span = span.ok_or_else(|| format!("spacing of the fasteners of {} is not said (`every`)", one.what))?;
    let sizes = furring.width.zip(between_strips(furring));
    let (width, across) = sizes.ok_or_else(|| format!("width or spacing of {} is not said", one.what))?;
    let load = wind.corner * across.as_m();
    let (wide, thick) = (width.as_m(), furring.thickness.as_m());
    let longest = fastening::longest_span(load, wide, thick, modulus, strength, may_bend);
    let found = fastening::continuous(load, span.as_m(), wide, thick, modulus);
    let found = found.ok_or_else(|| format!("size of {} is not said", one.what))?;
    let bends = found.deflection / span.as_m().max(1e-9);
    Ok(StripSpan {
        furring,
        span,
        longest,
        width,
        across,
        bends,
        stress: found.stress,
        may_bend,
        strength: (limit, strength),
    })
}
