//! Angles held as whole billionths of a degree, so that 22.5° stays 22.5°.

/// An angle in whole billionths of a degree.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Angle(pub i64);

impl Angle {
    /// Parts in a degree.
    pub const PER_DEGREE: i64 = 1_000_000_000;

    /// Whole degrees.
    pub const fn degrees(degrees: i64) -> Self {
        Angle(degrees.saturating_mul(Self::PER_DEGREE))
    }

    /// From a computed angle in radians, put on the grid half away from zero.
    pub fn snap_radians(radians: f64) -> Self {
        Angle((radians.to_degrees() * Self::PER_DEGREE as f64).round() as i64)
    }

    /// In degrees.
    pub fn as_degrees(self) -> f64 {
        self.0 as f64 / Self::PER_DEGREE as f64
    }

    /// In radians.
    pub fn as_radians(self) -> f64 {
        self.as_degrees().to_radians()
    }

    /// Rise over run.
    pub fn tangent(self) -> f64 {
        libm::tan(self.as_radians())
    }
}
