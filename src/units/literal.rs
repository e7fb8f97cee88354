//! From a number as written to its value: exact for lengths, checked everywhere, never a panic.

use super::angle::Angle;
use super::dimension::{Dimension, Quantity};
use super::fraction::Fraction;
use super::number::{Number, absurd_angle, no_value, within_reach};
use super::problem::UnitProblem;
use super::unit::{Scale, Unit};
use crate::syntax::Literal;

/// Nanometres in a metre.
const NM: Fraction = Fraction::whole(1_000_000_000);

/// The value of a number with its unit. A length that is no whole number of nanometres is rounded, half away from zero.
pub fn evaluate(literal: &Literal) -> Result<Number, UnitProblem> {
    let amount = amount(literal)?;
    if literal.unit.is_empty() {
        return Ok(Number::Bare(amount));
    }
    let unit = Unit::parse(&literal.unit)?;
    match unit.dimension {
        Dimension::LENGTH => match nanometres(amount, unit.scale) {
            Some(exact) => within_reach(exact.rounded()),
            None => Number::of(amount.value() * unit.scale.value(), Dimension::LENGTH),
        },
        Dimension::NUMBER => match unit.scale {
            Scale::Exact(scale) => amount.checked_mul(scale).map(Number::Ratio).ok_or_else(no_value),
            Scale::Real(scale) => Fraction::from_f64(amount.value() * scale).map(Number::Ratio).ok_or_else(no_value),
        },
        Dimension::ANGLE if &*literal.unit == "deg" => degrees(amount),
        _ => measured(amount, unit),
    }
}

/// Whether the length is a whole number of nanometres as written; true for everything that is not a length.
/// `1/3in` is not, and stands for the nearest nanometre.
pub fn is_exact(literal: &Literal) -> bool {
    let unit = Unit::parse(&literal.unit).ok().filter(|unit| unit.dimension == Dimension::LENGTH);
    match (unit, amount(literal)) {
        (Some(unit), Ok(amount)) => nanometres(amount, unit.scale).is_some_and(|exact| exact.denominator() == 1),
        _ => true,
    }
}

/// `8ft 6-1/2in` as one length. Negative feet make the whole negative. Rounded once.
pub fn feet_inches(feet: &Literal, inches: &Literal) -> Result<Number, UnitProblem> {
    let (feet, inches) = (amount_in(feet, "ft")?, amount_in(inches, "in")?);
    let inches = if feet.numerator() < 0 { inches.negated() } else { inches };
    let total = feet.checked_mul(Fraction::whole(12)).and_then(|feet| feet.checked_add(inches));
    let inch = Fraction::whole(super::Length::INCH.0);
    let exact = total.and_then(|total| total.checked_mul(inch)).ok_or_else(super::number::absurd_length)?;
    within_reach(exact.rounded())
}

/// `4:12` as the ratio 1/3. Both are bare, and the run is not 0.
pub fn pitch(rise: &Literal, run: &Literal) -> Result<Number, UnitProblem> {
    if !rise.unit.is_empty() || !run.unit.is_empty() {
        return Err(UnitProblem::new("text.dimension", "a pitch is two bare numbers").help("write it as `4:12`"));
    }
    let (rise, run) = (amount(rise)?, amount(run)?);
    let inverse = run.inverse().ok_or_else(|| {
        UnitProblem::new("text.no_value", "a pitch over a run of 0 has no value").help("write it as `4:12`")
    })?;
    rise.checked_mul(inverse).map(Number::Ratio).ok_or_else(no_value)
}

fn amount(literal: &Literal) -> Result<Fraction, UnitProblem> {
    if literal.denominator == 0 {
        return Err(UnitProblem::new("text.no_value", "a fraction over 0 has no value"));
    }
    Fraction::new(literal.numerator, literal.denominator).ok_or_else(no_value)
}

fn amount_in(literal: &Literal, unit: &str) -> Result<Fraction, UnitProblem> {
    if &*literal.unit == unit {
        return amount(literal);
    }
    Err(UnitProblem::new("text.dimension", format!("`{unit}` is missing in feet and inches"))
        .help("write it as `8ft 6-1/2in`"))
}

/// `None` where it does not fit an exact fraction.
fn nanometres(amount: Fraction, scale: Scale) -> Option<Fraction> {
    match scale {
        Scale::Exact(metres) => amount.checked_mul(metres)?.checked_mul(NM),
        Scale::Real(_) => None,
    }
}

fn degrees(amount: Fraction) -> Result<Number, UnitProblem> {
    let parts = amount.checked_mul(Fraction::whole(Angle::PER_DEGREE)).map(Fraction::rounded);
    // A million turns is beyond any use of an angle.
    let furthest = i128::from(Angle::degrees(360_000_000).0);
    match parts.filter(|parts| (-furthest..=furthest).contains(parts)) {
        Some(parts) => i64::try_from(parts).map(|parts| Number::Angle(Angle(parts))).map_err(|_| absurd_angle()),
        None => Err(absurd_angle()),
    }
}

/// One rounding where the factor is exact: 0.48 kPa is 480 Pa.
fn measured(amount: Fraction, unit: Unit) -> Result<Number, UnitProblem> {
    let above_zero = amount.checked_add(Fraction::whole(-unit.zero)).ok_or_else(no_value)?;
    let exact = match unit.scale {
        Scale::Exact(scale) => above_zero.checked_mul(scale),
        Scale::Real(_) => None,
    };
    let value = exact.map_or_else(|| above_zero.value() * unit.scale.value(), Fraction::value);
    // Nothing in a wall comes near; beyond it, products would leave the range of a float.
    if value.abs() > 1e60 {
        return Err(UnitProblem::new(
            "text.absurd_size",
            format!("this is {} of an absurd size", unit.dimension.name()),
        )
        .help("check the figure and its unit"));
    }
    if unit.dimension == Dimension::TEMPERATURE && value < -273.15 {
        return Err(UnitProblem::new("text.absurd_size", "this is colder than anything can be")
            .help("the lowest temperature is -273.15 °C"));
    }
    match unit.dimension {
        Dimension::ANGLE => Number::of(value, Dimension::ANGLE),
        dimension => Ok(Number::Quantity(Quantity { value, dimension })),
    }
}
