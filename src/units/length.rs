//! Lengths held as whole nanometres, so that marks never drift along a wall. Sums stop at the largest length
//! rather than wrap or panic; what a person writes is kept far below that by [`crate::units::FURTHEST`].

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length in whole nanometres. 1/64 in is 396 875 nm, so inch fractions are exact.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(pub i64);

/// An area in square nanometres; the only product of two lengths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area(pub i128);

impl Length {
    /// No length.
    pub const ZERO: Length = Length(0);
    /// One millimetre.
    pub const MM: Length = Length(1_000_000);
    /// One inch, exactly 25.4 mm.
    pub const INCH: Length = Length(25_400_000);
    /// One foot, exactly 304.8 mm.
    pub const FOOT: Length = Length(304_800_000);

    /// Whole millimetres.
    pub const fn mm(millimetres: i64) -> Self {
        Length(millimetres.saturating_mul(1_000_000))
    }

    /// Millimetres from a float: the one named place where a computed figure is put back on the grid (half away from zero).
    pub fn snap_mm(millimetres: f64) -> Self {
        Length((millimetres * 1e6).round() as i64)
    }

    /// Metres from a float, put back on the grid like [`Length::snap_mm`].
    pub fn snap_m(metres: f64) -> Self {
        Length((metres * 1e9).round() as i64)
    }

    /// In millimetres, for physics and for the page.
    pub fn as_mm(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// In inches, for display and for rules published in inches.
    pub fn as_inches(self) -> f64 {
        self.0 as f64 / Length::INCH.0 as f64
    }

    /// In metres, for physics.
    pub fn as_m(self) -> f64 {
        self.0 as f64 / 1e9
    }

    /// Without its sign.
    pub fn abs(self) -> Self {
        Length(self.0.saturating_abs())
    }

    /// `self × numerator ÷ denominator`, rounded half away from zero; exact in between. `denominator` must not be 0.
    pub fn scale(self, numerator: i64, denominator: i64) -> Self {
        let product = i128::from(self.0) * i128::from(numerator);
        let (product, denominator) =
            if denominator < 0 { (-product, -i128::from(denominator)) } else { (product, i128::from(denominator)) };
        let half = if product < 0 { -denominator / 2 } else { denominator / 2 };
        let nearest = (product + half) / denominator.max(1);
        Length(nearest.clamp(i128::from(i64::MIN), i128::from(i64::MAX)) as i64)
    }
}

impl Area {
    /// In square metres.
    pub fn as_m2(self) -> f64 {
        self.0 as f64 / 1e18
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0.saturating_sub(other.0))
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        *self = *self + other;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        *self = *self - other;
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(self.0.saturating_neg())
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0.saturating_mul(times))
    }
}

impl Div<i64> for Length {
    type Output = Length;
    fn div(self, parts: i64) -> Length {
        self.scale(1, parts)
    }
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Length) -> Area {
        Area(i128::from(self.0) * i128::from(other.0))
    }
}

impl Add for Area {
    type Output = Area;
    fn add(self, other: Area) -> Area {
        Area(self.0.saturating_add(other.0))
    }
}

impl Sub for Area {
    type Output = Area;
    fn sub(self, other: Area) -> Area {
        Area(self.0.saturating_sub(other.0))
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Area>>(areas: I) -> Area {
        areas.fold(Area(0), Add::add)
    }
}
