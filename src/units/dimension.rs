//! What kind of thing a number measures, as powers of base units, and numbers that know it.

use std::borrow::Cow;

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
    /// m³
    pub const VOLUME: Self = Self::of([3, 0, 0, 0, 0, 0]);
    /// m³/s
    pub const FLOW: Self = Self::of([3, 0, -1, 0, 0, 0]);
    /// m³/(s·m), flow through a metre of wall
    pub const FLOW_PER_LENGTH: Self = Self::of([2, 0, -1, 0, 0, 0]);
    /// J
    pub const ENERGY: Self = Self::of([2, 1, -2, 0, 0, 0]);
    /// W
    pub const POWER: Self = Self::of([2, 1, -3, 0, 0, 0]);
    /// W/m
    pub const HEAT_PER_LENGTH: Self = Self::of([1, 1, -3, 0, 0, 0]);
    /// W/m²
    pub const HEAT_FLUX: Self = Self::of([0, 1, -3, 0, 0, 0]);
    /// m²·K/W
    pub const RESISTANCE: Self = Self::of([0, -1, 3, 1, 0, 0]);
    /// W/(m²·K)
    pub const TRANSMITTANCE: Self = Self::of([0, 1, -3, -1, 0, 0]);
    /// W/K
    pub const CONDUCTANCE: Self = Self::of([2, 1, -3, -1, 0, 0]);
    /// N/m
    pub const LINE_LOAD: Self = Self::of([0, 1, -2, 0, 0, 0]);
    /// kg/m
    pub const LINE_MASS: Self = Self::of([-1, 1, 0, 0, 0, 0]);
    /// kg/(m²·s), vapour flow through an area
    pub const VAPOUR_FLUX: Self = Self::of([-2, 1, -1, 0, 0, 0]);
    /// K·s, degree days
    pub const DEGREE_TIME: Self = Self::of([0, 0, 1, 1, 0, 0]);
    /// 1/m
    pub const PER_LENGTH: Self = Self::of([-1, 0, 0, 0, 0, 0]);

    /// Of the product of two numbers; `None` past the 127th power.
    pub fn times(self, other: Self) -> Option<Self> {
        self.combined(other, i8::checked_add)
    }

    /// Of the quotient of two numbers; `None` past the 127th power.
    pub fn over(self, other: Self) -> Option<Self> {
        self.combined(other, i8::checked_sub)
    }

    /// A temperature scale taken as a difference; anything else as it is.
    pub const fn as_difference(self) -> Self {
        Self { powers: self.powers, point: false }
    }

    fn combined(self, other: Self, join: fn(i8, i8) -> Option<i8>) -> Option<Self> {
        let mut powers = self.powers;
        for (power, more) in powers.iter_mut().zip(other.powers) {
            *power = join(*power, more)?;
        }
        Some(Self::of(powers))
    }

    /// For people, with its article: `a length`, `a thermal conductivity`; `a value in kg·m/s²` where it has no name.
    pub fn name(self) -> Cow<'static, str> {
        match NAMES.iter().find(|(dimension, _)| *dimension == self) {
            Some(&(_, name)) => Cow::Borrowed(name),
            None => Cow::Owned(format!("a value in {}", self.base_units())),
        }
    }

    /// In base units: `kg·m/s²`, `1/K`; empty for a bare number.
    pub fn base_units(self) -> String {
        const SYMBOLS: [&str; 6] = ["m", "kg", "s", "K", "A", "rad"];
        // Mass first, as the SI writes its derived units.
        const ORDER: [usize; 6] = [1, 0, 2, 3, 4, 5];
        let side = |sign: i32| -> Vec<String> {
            let powers = ORDER.iter().filter_map(|&place| Some((SYMBOLS.get(place)?, self.powers.get(place)?)));
            powers
                .map(|(symbol, &power)| (symbol, i32::from(power) * sign))
                .filter(|&(_, power)| power > 0)
                .map(|(symbol, power)| format!("{symbol}{}", raised(power)))
                .collect()
        };
        let (above, below) = (side(1), side(-1));
        let top = if above.is_empty() && !below.is_empty() { "1".to_owned() } else { above.join("·") };
        match below.len() {
            0 => top,
            1 => format!("{top}/{}", below.join("")),
            _ => format!("{top}/({})", below.join("·")),
        }
    }
}

/// `²`, `³`, `⁴`; nothing for 1.
fn raised(power: i32) -> String {
    const FIGURES: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    if power == 1 {
        return String::new();
    }
    let figure = |digit: char| digit.to_digit(10).and_then(|digit| FIGURES.get(digit as usize));
    power.to_string().chars().filter_map(figure).collect()
}

/// Names with their articles. Kinds that share their powers share a line.
const NAMES: &[(Dimension, &str)] = &[
    (Dimension::NUMBER, "a bare number"),
    (Dimension::LENGTH, "a length"),
    (Dimension::AREA, "an area"),
    (Dimension::VOLUME, "a volume"),
    (Dimension::ANGLE, "an angle"),
    (Dimension::MASS, "a mass"),
    (Dimension::TIME, "a time"),
    (Dimension::TEMPERATURE_DIFFERENCE, "a temperature difference"),
    (Dimension::TEMPERATURE, "a temperature"),
    (Dimension::PRESSURE, "a pressure"),
    (Dimension::FORCE, "a force"),
    (Dimension::LINE_LOAD, "a force per length"),
    (Dimension::DENSITY, "a density"),
    (Dimension::SURFACE_MASS, "a mass per area"),
    (Dimension::LINE_MASS, "a mass per length"),
    (Dimension::CONDUCTIVITY, "a thermal conductivity"),
    (Dimension::RESISTANCE, "a thermal resistance"),
    (Dimension::TRANSMITTANCE, "a thermal transmittance"),
    (Dimension::CONDUCTANCE, "a heat loss per kelvin"),
    (Dimension::HEAT_CAPACITY, "a heat capacity"),
    (Dimension::HEAT_FLUX, "a heat flow per area"),
    (Dimension::PERMEANCE, "a vapour permeance"),
    (Dimension::VAPOUR_FLUX, "a vapour flow"),
    (Dimension::EXPANSION, "an expansion per kelvin"),
    (Dimension::VOLTAGE, "a voltage"),
    (Dimension::SPEED, "a speed or a flow per area"),
    (Dimension::FLOW, "a flow"),
    (Dimension::FLOW_PER_LENGTH, "a flow per length"),
    (Dimension::ENERGY, "an energy"),
    (Dimension::POWER, "a power"),
    (Dimension::DEGREE_TIME, "a sum of degree days"),
    (Dimension::PER_LENGTH, "a number per length"),
];

/// A number in SI base units with its dimension. Lengths given by a person are kept exact as [`crate::units::Length`] instead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// In SI base units; degrees Celsius for a temperature point.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
}
