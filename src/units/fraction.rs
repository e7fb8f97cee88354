//! Exact fractions: what a person wrote, before it becomes a length or a measured value.

use std::cmp::Ordering;

/// A fraction in lowest terms with a positive denominator. Used for bare numbers, percentages, pitches and unit factors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Fraction {
    numerator: i128,
    denominator: i128,
}

impl Fraction {
    /// Nothing.
    pub const ZERO: Self = Self { numerator: 0, denominator: 1 };
    /// One.
    pub const ONE: Self = Self { numerator: 1, denominator: 1 };

    /// In lowest terms; `None` where the denominator is 0 or a part is the most negative `i128`.
    pub const fn new(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator == 0 || numerator == i128::MIN || denominator == i128::MIN {
            return None;
        }
        // A common divisor of two numbers other than `i128::MIN` fits in `i128`.
        let divisor = common_divisor(numerator.unsigned_abs(), denominator.unsigned_abs()) as i128;
        let sign = if denominator < 0 { -1 } else { 1 };
        Some(Self { numerator: sign * (numerator / divisor), denominator: sign * (denominator / divisor) })
    }

    /// A whole number.
    pub const fn whole(number: i64) -> Self {
        Self { numerator: number as i128, denominator: 1 }
    }

    /// For tables of constants, where the denominator is seen to be at least 1.
    pub(crate) const fn constant(numerator: i128, denominator: i128) -> Self {
        match Self::new(numerator, denominator) {
            Some(fraction) => fraction,
            None => Self::ZERO,
        }
    }

    /// The nearest fraction to a computed value; `None` where it is not finite or 1e30 and more.
    pub fn from_f64(value: f64) -> Option<Self> {
        const FINEST: u32 = 120; // steps of 2^-120, far below anything a wall needs
        if !value.is_finite() || value.abs() >= 1e30 {
            return None;
        }
        let bits = value.to_bits();
        let exponent = ((bits >> 52) & 0x7ff) as i32 - 1075;
        let mantissa = i128::from((bits & ((1 << 52) - 1)) | (1 << 52));
        let signed = if value < 0.0 { -mantissa } else { mantissa };
        if value == 0.0 {
            Some(Self::ZERO)
        } else if exponent >= 0 {
            Self::new(signed << exponent, 1)
        } else {
            let steps = exponent.unsigned_abs();
            let lost = steps.saturating_sub(FINEST).min(126);
            Self::new(signed / (1 << lost), 1 << steps.min(FINEST))
        }
    }

    /// With sign.
    pub const fn numerator(self) -> i128 {
        self.numerator
    }

    /// 1 or more.
    pub const fn denominator(self) -> i128 {
        self.denominator
    }

    /// Is it nothing?
    pub const fn is_zero(self) -> bool {
        self.numerator == 0
    }

    /// The whole number, if it is one and fits.
    pub fn as_whole(self) -> Option<i64> {
        if self.denominator == 1 { i64::try_from(self.numerator).ok() } else { None }
    }

    /// As a float.
    pub fn value(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }

    /// With the other sign.
    pub const fn negated(self) -> Self {
        // Neither part is ever `i128::MIN`.
        Self { numerator: -self.numerator, denominator: self.denominator }
    }

    /// Exact sum, or `None` on overflow.
    pub fn checked_add(self, other: Self) -> Option<Self> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let right = other.numerator.checked_mul(self.denominator)?;
        Self::new(left.checked_add(right)?, self.denominator.checked_mul(other.denominator)?)
    }

    /// Exact product, or `None` on overflow.
    pub fn checked_mul(self, other: Self) -> Option<Self> {
        // Crosswise in lowest terms first, so that only a true overflow fails.
        let (a, b) = (Self::new(self.numerator, other.denominator)?, Self::new(other.numerator, self.denominator)?);
        Self::new(a.numerator.checked_mul(b.numerator)?, a.denominator.checked_mul(b.denominator)?)
    }

    /// One over it; `None` for nothing.
    pub const fn inverse(self) -> Option<Self> {
        Self::new(self.denominator, self.numerator)
    }

    /// The nearest whole number, half away from zero.
    pub const fn rounded(self) -> i128 {
        let (whole, rest) = (self.numerator / self.denominator, self.numerator % self.denominator);
        // `rest >= denominator - rest` rather than `2 * rest >= denominator`: no overflow.
        let away = rest.unsigned_abs() >= self.denominator.unsigned_abs() - rest.unsigned_abs();
        match (away, self.numerator < 0) {
            (true, false) => whole + 1,
            (true, true) => whole - 1,
            (false, _) => whole,
        }
    }
}

impl PartialOrd for Fraction {
    /// Exact where the cross products fit, by float otherwise.
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        let left = self.numerator.checked_mul(other.denominator);
        let right = other.numerator.checked_mul(self.denominator);
        match (left, right) {
            (Some(left), Some(right)) => Some(left.cmp(&right)),
            _ => self.value().partial_cmp(&other.value()),
        }
    }
}

/// Euclid's; 1 where both are 0.
const fn common_divisor(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    if a == 0 { 1 } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn rounding_is_half_away_from_zero() {
        for (numerator, denominator, nearest) in
            [(1, 2, 1), (-1, 2, -1), (1, 3, 0), (2, 3, 1), (-5, 2, -3), (7, -2, -4)]
        {
            assert_eq!(Fraction::new(numerator, denominator).map(Fraction::rounded), Some(nearest));
        }
    }

    #[test]
    fn nothing_over_nothing_is_no_fraction() {
        assert_eq!(Fraction::new(1, 0), None);
        assert_eq!(Fraction::new(i128::MIN, 1), None);
        assert_eq!(Fraction::ZERO.inverse(), None);
        assert_eq!(Fraction::from_f64(f64::NAN), None);
        assert_eq!(Fraction::from_f64(1e300), None);
        assert_eq!(Fraction::from_f64(1e-300).map(Fraction::is_zero), Some(true));
    }

    proptest! {
        #[test]
        fn a_float_comes_back_from_its_fraction(value in -1e12..1e12f64) {
            prop_assert_eq!(Fraction::from_f64(value).map(Fraction::value), Some(value));
        }

        #[test]
        fn no_pair_panics(a: i128, b: i128, c: i128, d: i128) {
            if let (Some(left), Some(right)) = (Fraction::new(a, b), Fraction::new(c, d)) {
                let _ = (left.checked_add(right), left.checked_mul(right), left.rounded(), left.partial_cmp(&right));
            }
        }
    }
}
