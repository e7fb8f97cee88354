//! Lengths held as whole nanometres, so that marks never drift along a wall.

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
        Length(millimetres * 1_000_000)
    }

    /// Millimetres from a float: the one named place where a computed figure is put back on the grid (half away from zero).
    pub fn snap_mm(millimetres: f64) -> Self {
        Length((millimetres * 1e6).round() as i64)
    }

    /// In millimetres, for physics and for the page.
    pub fn as_mm(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// In metres, for physics.
    pub fn as_m(self) -> f64 {
        self.0 as f64 / 1e9
    }

    /// Without its sign.
    pub fn abs(self) -> Self {
        Length(self.0.abs())
    }

    /// `self × numerator ÷ denominator`, rounded half away from zero; exact in between. `denominator` must not be 0.
    pub fn scale(self, numerator: i64, denominator: i64) -> Self {
        let product = i128::from(self.0) * i128::from(numerator);
        let (product, denominator) =
            if denominator < 0 { (-product, -i128::from(denominator)) } else { (product, i128::from(denominator)) };
        let half = if product < 0 { -denominator / 2 } else { denominator / 2 };
        Length(((product + half) / denominator.max(1)) as i64)
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
        Length(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0 * times)
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
        Area(self.0 + other.0)
    }
}

impl Sub for Area {
    type Output = Area;
    fn sub(self, other: Area) -> Area {
        Area(self.0 - other.0)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        Length(lengths.map(|length| length.0).sum())
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Area>>(areas: I) -> Area {
        Area(areas.map(|area| area.0).sum())
    }
}
