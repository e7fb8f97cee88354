//! A number as the language has them, and sums that keep lengths exact and refuse to mix dimensions.

use super::angle::Angle;
use super::dimension::{Dimension, Quantity};
use super::fraction::Fraction;
use super::length::Length;
use super::problem::UnitProblem;
use crate::syntax::Operator;

/// The longest length that is taken seriously: 1000 km. It leaves room to add nine thousand of them.
pub const FURTHEST: Length = Length(1_000_000_000_000_000);

/// A number with what it measures. Lengths, angles, bare numbers and ratios are exact;
/// a `Quantity` never has one of their dimensions, so every value has one form only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Number {
    /// A length, or an area per length (`1500mm2/m` is 1.5 mm).
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// A number without a unit: a count, a factor, or the `0` that is also a length.
    Bare(Fraction),
    /// `5%` as 1/20, `4:12` as 1/3, `20mm/m` as 1/50.
    Ratio(Fraction),
    /// Anything else, in SI base units; degrees Celsius for a temperature.
    Quantity(Quantity),
}

impl Number {
    /// From a computed value in SI base units, in its one form; a problem where it is not finite or absurdly long.
    pub fn of(value: f64, dimension: Dimension) -> Result<Self, UnitProblem> {
        if !value.is_finite() {
            return Err(no_value());
        }
        match dimension {
            Dimension::LENGTH if value.abs() > FURTHEST.as_m() => Err(absurd_length()),
            Dimension::LENGTH => Ok(Number::Length(Length::snap_m(value))),
            Dimension::ANGLE if value.abs() > 1e6 => Err(absurd_angle()),
            Dimension::ANGLE => Ok(Number::Angle(Angle::snap_radians(value))),
            Dimension::NUMBER => Fraction::from_f64(value).map(Number::Bare).ok_or_else(no_value),
            _ => Ok(Number::Quantity(Quantity { value, dimension })),
        }
    }

    /// What it measures.
    pub fn dimension(self) -> Dimension {
        match self {
            Number::Length(_) => Dimension::LENGTH,
            Number::Angle(_) => Dimension::ANGLE,
            Number::Bare(_) | Number::Ratio(_) => Dimension::NUMBER,
            Number::Quantity(quantity) => quantity.dimension,
        }
    }

    /// In SI base units (radians for an angle, degrees Celsius for a temperature).
    pub fn si(self) -> f64 {
        match self {
            Number::Length(length) => length.as_m(),
            Number::Angle(angle) => angle.as_radians(),
            Number::Bare(fraction) | Number::Ratio(fraction) => fraction.value(),
            Number::Quantity(quantity) => quantity.value,
        }
    }

    /// The length; a bare `0` is one.
    pub fn length(self) -> Option<Length> {
        match self {
            Number::Length(length) => Some(length),
            Number::Bare(fraction) if fraction.is_zero() => Some(Length::ZERO),
            Number::Bare(_) | Number::Angle(_) | Number::Ratio(_) | Number::Quantity(_) => None,
        }
    }

    /// The angle.
    pub fn angle(self) -> Option<Angle> {
        if let Number::Angle(angle) = self { Some(angle) } else { None }
    }

    /// The whole bare number, for counts.
    pub fn count(self) -> Option<i64> {
        if let Number::Bare(fraction) = self { fraction.as_whole() } else { None }
    }

    /// Rise over run from `2%`, `4:12`, `6deg` (below 90°) or a bare `0`.
    pub fn slope(self) -> Option<f64> {
        match self {
            Number::Ratio(fraction) => Some(fraction.value()),
            Number::Angle(angle) if angle.0.unsigned_abs() < Angle::degrees(90).0.unsigned_abs() => {
                Some(angle.tangent())
            }
            Number::Bare(fraction) if fraction.is_zero() => Some(0.0),
            Number::Bare(_) | Number::Angle(_) | Number::Length(_) | Number::Quantity(_) => None,
        }
    }

    /// The SI value, if that is what it measures. A bare `0` will do for a length.
    pub fn in_dimension(self, wanted: Dimension) -> Option<f64> {
        let zero_length = wanted == Dimension::LENGTH && self.length().is_some();
        (self.dimension() == wanted || zero_length).then(|| self.si())
    }

    /// `self operator other`.
    pub fn apply(self, operator: Operator, other: Self) -> Result<Self, UnitProblem> {
        match operator {
            Operator::Add => self.plus(other),
            Operator::Subtract => self.minus(other),
            Operator::Multiply => self.times(other),
            Operator::Divide => self.over(other),
        }
    }

    /// Sum of two of the same dimension. A bare `0` joins lengths; a difference in kelvins moves a temperature.
    pub fn plus(self, other: Self) -> Result<Self, UnitProblem> {
        match (self, other) {
            (Number::Bare(a), Number::Bare(b) | Number::Ratio(b)) | (Number::Ratio(a), Number::Bare(b)) => {
                sum(a, b).map(Number::Bare)
            }
            (Number::Ratio(a), Number::Ratio(b)) => sum(a, b).map(Number::Ratio),
            (Number::Angle(Angle(a)), Number::Angle(Angle(b))) => {
                a.checked_add(b).map(|sum| Number::Angle(Angle(sum))).ok_or_else(absurd_angle)
            }
            (Number::Quantity(a), Number::Quantity(b)) => add_quantities(a, b),
            _ => match (self.length(), other.length()) {
                (Some(a), Some(b)) => within_reach(i128::from(a.0) + i128::from(b.0)),
                _ => Err(unlike("added to", other, self)),
            },
        }
    }

    /// Difference of two of the same dimension. Two temperatures differ by kelvins.
    pub fn minus(self, other: Self) -> Result<Self, UnitProblem> {
        if let (Number::Quantity(a), Number::Quantity(b)) = (self, other) {
            return subtract_quantities(a, b);
        }
        match other.negated() {
            Some(negative) if self.joins(other) => self.plus(negative),
            _ => Err(unlike("taken from", other, self)),
        }
    }

    /// Product; a length times a number stays exact.
    pub fn times(self, other: Self) -> Result<Self, UnitProblem> {
        match (self, other) {
            (Number::Ratio(a), Number::Bare(b) | Number::Ratio(b)) | (Number::Bare(a), Number::Ratio(b)) => {
                product(a, b).map(Number::Ratio)
            }
            (Number::Bare(a), Number::Bare(b)) => product(a, b).map(Number::Bare),
            (Number::Length(length), Number::Bare(by) | Number::Ratio(by))
            | (Number::Bare(by) | Number::Ratio(by), Number::Length(length)) => scaled_length(length, by),
            (Number::Angle(angle), Number::Bare(by) | Number::Ratio(by))
            | (Number::Bare(by) | Number::Ratio(by), Number::Angle(angle)) => scaled_angle(angle, by),
            _ => self.combine(other, self.si() * other.si(), self.dimension().times(other.dimension())),
        }
    }

    /// Quotient; a length over a length is a bare number, exactly.
    pub fn over(self, other: Self) -> Result<Self, UnitProblem> {
        if other.si() == 0.0 && !other.dimension().point {
            return Err(UnitProblem::new("text.no_value", "a division by 0 has no value"));
        }
        match (self, other) {
            (_, Number::Bare(by)) => self.times(Number::Bare(by.inverse().ok_or_else(no_value)?)),
            (Number::Length(a), Number::Length(b)) => quotient(a.0, b.0),
            (Number::Angle(a), Number::Angle(b)) => quotient(a.0, b.0),
            (_, Number::Ratio(by)) => self.times(Number::Bare(by.inverse().ok_or_else(no_value)?)),
            _ => self.combine(other, self.si() / other.si(), self.dimension().over(other.dimension())),
        }
    }

    fn combine(self, other: Self, value: f64, dimension: Option<Dimension>) -> Result<Self, UnitProblem> {
        if self.dimension().point || other.dimension().point {
            return Err(UnitProblem::new("text.dimension", "a temperature cannot be multiplied or divided")
                .help("a difference of temperature is written in `K`"));
        }
        Self::of(value, dimension.ok_or_else(no_value)?)
    }

    fn negated(self) -> Option<Self> {
        Some(match self {
            Number::Length(length) => Number::Length(-length),
            Number::Angle(Angle(angle)) => Number::Angle(Angle(angle.checked_neg()?)),
            Number::Bare(fraction) => Number::Bare(fraction.negated()),
            Number::Ratio(fraction) => Number::Ratio(fraction.negated()),
            Number::Quantity(_) => return None,
        })
    }

    /// May the two be added?
    fn joins(self, other: Self) -> bool {
        self.dimension() == other.dimension() || self.length().is_some() && other.length().is_some()
    }
}

/// `2kPa` is a pressure, a length is wanted.
pub fn mismatch(written: &str, given: Number, wanted: Dimension) -> UnitProblem {
    let given_name = match given {
        Number::Ratio(_) => "a ratio".into(),
        Number::Bare(_) | Number::Length(_) | Number::Angle(_) | Number::Quantity(_) => given.dimension().name(),
    };
    let problem =
        UnitProblem::new("text.dimension", format!("`{written}` is {given_name}, {} is wanted", wanted.name()));
    match (given, wanted) {
        (Number::Bare(_), Dimension::LENGTH) => problem.help(format!("add the unit: `{written}mm` or `{written}in`")),
        (_, Dimension::TEMPERATURE_DIFFERENCE) if given.dimension() == Dimension::TEMPERATURE => {
            problem.help("a difference of temperature is written in `K`")
        }
        (_, Dimension::TEMPERATURE) if given.dimension() == Dimension::TEMPERATURE_DIFFERENCE => {
            problem.help("a temperature is written in `degC` or `degF`")
        }
        (_, Dimension::FORCE) if given.dimension() == Dimension::MASS => {
            problem.help("a force is written in `N`, `kN` or `lbf`")
        }
        _ => problem,
    }
}

fn sum(a: Fraction, b: Fraction) -> Result<Fraction, UnitProblem> {
    a.checked_add(b).or_else(|| Fraction::from_f64(a.value() + b.value())).ok_or_else(no_value)
}

fn product(a: Fraction, b: Fraction) -> Result<Fraction, UnitProblem> {
    a.checked_mul(b).or_else(|| Fraction::from_f64(a.value() * b.value())).ok_or_else(no_value)
}

fn quotient(a: i64, b: i64) -> Result<Number, UnitProblem> {
    Fraction::new(i128::from(a), i128::from(b)).map(Number::Bare).ok_or_else(no_value)
}

fn scaled_length(length: Length, by: Fraction) -> Result<Number, UnitProblem> {
    within_reach(product(Fraction::whole(length.0), by).map_err(|_| absurd_length())?.rounded())
}

fn scaled_angle(angle: Angle, by: Fraction) -> Result<Number, UnitProblem> {
    let parts = product(Fraction::whole(angle.0), by).map_err(|_| absurd_angle())?.rounded();
    i64::try_from(parts).map(|parts| Number::Angle(Angle(parts))).map_err(|_| absurd_angle())
}

/// The length of so many nanometres, unless it is absurd.
pub(super) fn within_reach(nanometres: i128) -> Result<Number, UnitProblem> {
    match i64::try_from(nanometres) {
        Ok(short) if short.unsigned_abs() <= FURTHEST.0.unsigned_abs() => Ok(Number::Length(Length(short))),
        _ => Err(absurd_length()),
    }
}

fn add_quantities(a: Quantity, b: Quantity) -> Result<Number, UnitProblem> {
    let (left, right) = (a.dimension, b.dimension);
    if left.point && right.point {
        return Err(UnitProblem::new("text.dimension", "two temperatures cannot be added")
            .help("a difference of temperature is written in `K`"));
    }
    if left.as_difference() != right.as_difference() {
        return Err(unlike("added to", Number::Quantity(b), Number::Quantity(a)));
    }
    Number::of(a.value + b.value, Dimension { point: left.point || right.point, ..left })
}

fn subtract_quantities(a: Quantity, b: Quantity) -> Result<Number, UnitProblem> {
    let (left, right) = (a.dimension, b.dimension);
    if left.as_difference() != right.as_difference() || right.point && !left.point {
        return Err(unlike("taken from", Number::Quantity(b), Number::Quantity(a)));
    }
    Number::of(a.value - b.value, Dimension { point: left.point && !right.point, ..left })
}

fn unlike(verb: &str, moved: Number, other: Number) -> UnitProblem {
    let (moved, other) = (moved.dimension().name(), other.dimension().name());
    UnitProblem::new("text.dimension", format!("{moved} cannot be {verb} {other}"))
}

pub(super) fn no_value() -> UnitProblem {
    UnitProblem::new("text.no_value", "this has no value that can be worked with")
}

pub(super) fn absurd_length() -> UnitProblem {
    UnitProblem::new("text.absurd_size", "this is an absurd length: more than 1000 km")
        .help("check the figure and its unit")
}

pub(super) fn absurd_angle() -> UnitProblem {
    UnitProblem::new("text.absurd_size", "this is an absurd angle").help("check the figure and its unit")
}
