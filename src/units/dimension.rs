//! What kind of thing a number measures, as powers of base units, and numbers that know it.

/// Powers of metre, kilogram, second, kelvin, ampere and radian. Temperatures as points on a scale are a kind of their own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dimension {
    /// Metre, kilogram, second, kelvin, ampere, radian.
    pub powers: [i8; 6],
    /// A point on the Celsius scale rather than a difference.
    pub point: bool,
}

impl Dimension {
    const fn of(powers: [i8; 6]) -> Self {
        Self { powers, point: false }
    }
    /// A bare number, a percentage, a pitch.
    pub const NUMBER: Self = Self::of([0, 0, 0, 0, 0, 0]);
    /// m
    pub const LENGTH: Self = Self::of([1, 0, 0, 0, 0, 0]);
    /// m²
    pub const AREA: Self = Self::of([2, 0, 0, 0, 0, 0]);
    /// rad
    pub const ANGLE: Self = Self::of([0, 0, 0, 0, 0, 1]);
    /// kg
    pub const MASS: Self = Self::of([0, 1, 0, 0, 0, 0]);
    /// s
    pub const TIME: Self = Self::of([0, 0, 1, 0, 0, 0]);
    /// K, a difference
    pub const TEMPERATURE_DIFFERENCE: Self = Self::of([0, 0, 0, 1, 0, 0]);
    /// °C, a point on the scale
    pub const TEMPERATURE: Self = Self { powers: [0, 0, 0, 1, 0, 0], point: true };
    /// Pa
    pub const PRESSURE: Self = Self::of([-1, 1, -2, 0, 0, 0]);
    /// N
    pub const FORCE: Self = Self::of([1, 1, -2, 0, 0, 0]);
    /// kg/m³
    pub const DENSITY: Self = Self::of([-3, 1, 0, 0, 0, 0]);
    /// kg/m²
    pub const SURFACE_MASS: Self = Self::of([-2, 1, 0, 0, 0, 0]);
    /// W/(m·K)
    pub const CONDUCTIVITY: Self = Self::of([1, 1, -3, -1, 0, 0]);
    /// J/(kg·K)
    pub const HEAT_CAPACITY: Self = Self::of([2, 0, -2, -1, 0, 0]);
    /// kg/(Pa·s·m²) = s/m
    pub const PERMEANCE: Self = Self::of([-1, 0, 1, 0, 0, 0]);
    /// 1/K
    pub const EXPANSION: Self = Self::of([0, 0, 0, -1, 0, 0]);
    /// V
    pub const VOLTAGE: Self = Self::of([2, 1, -3, 0, -1, 0]);
    /// m/s
    pub const SPEED: Self = Self::of([1, 0, -1, 0, 0, 0]);
    /// m³/(s·m²), air leakage through an area
    pub const LEAKAGE: Self = Self::of([1, 0, -1, 0, 0, 0]);
}

/// A number in SI base units with its dimension. Lengths given by a person are kept exact as [`crate::units::Length`] instead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// In SI base units; degrees Celsius for a temperature point.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
}
