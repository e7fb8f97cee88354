//! The table of unit names, and compound units such as `W/(m.K)` built from it.

use super::dimension::Dimension;
use super::fraction::Fraction;
use super::hints;
use super::problem::UnitProblem;

/// How many base units make one; exact wherever it is not a matter of π.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// Exactly this.
    Exact(Fraction),
    /// About this.
    Real(f64),
}

/// One name in the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Atom {
    /// As written after a number.
    pub name: &'static str,
    /// What it is called in full, for hover and completion.
    pub says: &'static str,
    /// What it measures. A temperature scale is a point only where the unit stands alone.
    pub dimension: Dimension,
    /// Base units in one.
    pub scale: Scale,
    /// The reading at 0 °C, for scales of temperature.
    pub zero: i64,
}

/// A whole unit text, understood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// What it measures.
    pub dimension: Dimension,
    /// Base units in one; kelvins in one degree for a temperature scale.
    pub scale: Scale,
    /// The reading at 0 °C; 0 for all but `degF`.
    pub zero: i64,
}

const fn exact(
    name: &'static str,
    says: &'static str,
    dimension: Dimension,
    numerator: i128,
    denominator: i128,
) -> Atom {
    Atom { name, says, dimension, scale: Scale::Exact(Fraction::constant(numerator, denominator)), zero: 0 }
}

/// Every unit name. Inch, foot, yard and pound are exact by the international yard and pound agreement of 1959
/// (NIST Special Publication 811, from memory); the metric ones by the SI.
pub const ATOMS: &[Atom] = &[
    exact("mm", "millimetre", Dimension::LENGTH, 1, 1000),
    exact("cm", "centimetre", Dimension::LENGTH, 1, 100),
    exact("m", "metre", Dimension::LENGTH, 1, 1),
    exact("km", "kilometre", Dimension::LENGTH, 1000, 1),
    exact("um", "micrometre", Dimension::LENGTH, 1, 1_000_000),
    exact("in", "inch, 25.4 mm", Dimension::LENGTH, 254, 10_000),
    exact("ft", "foot, 304.8 mm", Dimension::LENGTH, 3048, 10_000),
    exact("yd", "yard, 914.4 mm", Dimension::LENGTH, 9144, 10_000),
    exact("L", "litre", Dimension::VOLUME, 1, 1000),
    Atom {
        name: "deg",
        says: "degree of angle",
        dimension: Dimension::ANGLE,
        scale: Scale::Real(std::f64::consts::PI / 180.0),
        zero: 0,
    },
    exact("rad", "radian", Dimension::ANGLE, 1, 1),
    exact("%", "hundredth", Dimension::NUMBER, 1, 100),
    exact("s", "second", Dimension::TIME, 1, 1),
    exact("min", "minute", Dimension::TIME, 60, 1),
    exact("h", "hour", Dimension::TIME, 3600, 1),
    exact("day", "day", Dimension::TIME, 86_400, 1),
    // A year of 365.25 days (the Julian year of astronomy; from memory). Used for return periods only.
    exact("a", "year", Dimension::TIME, 31_557_600, 1),
    exact("kg", "kilogram", Dimension::MASS, 1, 1),
    exact("g", "gram", Dimension::MASS, 1, 1000),
    exact("mg", "milligram", Dimension::MASS, 1, 1_000_000),
    exact("ug", "microgram", Dimension::MASS, 1, 1_000_000_000),
    exact("ng", "nanogram", Dimension::MASS, 1, 1_000_000_000_000),
    exact("lb", "pound (mass), 0.45359237 kg", Dimension::MASS, 45_359_237, 100_000_000),
    exact("Pa", "pascal", Dimension::PRESSURE, 1, 1),
    exact("hPa", "hectopascal", Dimension::PRESSURE, 100, 1),
    exact("kPa", "kilopascal", Dimension::PRESSURE, 1000, 1),
    exact("MPa", "megapascal", Dimension::PRESSURE, 1_000_000, 1),
    exact("GPa", "gigapascal", Dimension::PRESSURE, 1_000_000_000, 1),
    // lbf over ft² (0.3048² m²) and over in² (0.0254² m²).
    exact("psf", "pound-force per square foot", Dimension::PRESSURE, 44_482_216_152_605, 929_030_400_000),
    exact("psi", "pound-force per square inch", Dimension::PRESSURE, 44_482_216_152_605, 6_451_600_000),
    exact("N", "newton", Dimension::FORCE, 1, 1),
    exact("kN", "kilonewton", Dimension::FORCE, 1000, 1),
    // 0.45359237 kg × 9.80665 m/s² = 4.4482216152605 N (exact arithmetic, recomputed).
    exact("lbf", "pound-force, 4.4482216152605 N", Dimension::FORCE, 44_482_216_152_605, 10_000_000_000_000),
    exact("K", "kelvin, a difference of temperature", Dimension::TEMPERATURE_DIFFERENCE, 1, 1),
    exact("degC", "degree Celsius, a temperature", Dimension::TEMPERATURE, 1, 1),
    Atom {
        name: "degF",
        says: "degree Fahrenheit, a temperature",
        dimension: Dimension::TEMPERATURE,
        scale: Scale::Exact(Fraction::constant(5, 9)),
        zero: 32,
    },
    exact("J", "joule", Dimension::ENERGY, 1, 1),
    exact("kJ", "kilojoule", Dimension::ENERGY, 1000, 1),
    exact("MJ", "megajoule", Dimension::ENERGY, 1_000_000, 1),
    exact("kWh", "kilowatt-hour", Dimension::ENERGY, 3_600_000, 1),
    // International Table Btu, 1055.05585262 J (NIST Special Publication 811, from memory). 1 ft²·h·°F/Btu = 0.1761101837 m²·K/W.
    exact("Btu", "British thermal unit", Dimension::ENERGY, 105_505_585_262, 100_000_000),
    exact("W", "watt", Dimension::POWER, 1, 1),
    exact("kW", "kilowatt", Dimension::POWER, 1000, 1),
    exact("V", "volt", Dimension::VOLTAGE, 1, 1),
    exact("mV", "millivolt", Dimension::VOLTAGE, 1, 1000),
    // 57.2135 ng/(Pa·s·m²): grain per hour, square foot and inch of mercury at 0 °C (exact arithmetic, recomputed; 57.375 with mercury at 60 °F is another unit).
    exact("perm", "US perm, 57.2135 ng/(Pa·s·m²), mercury at 0 °C", Dimension::PERMEANCE, 572_135, 10_i128.pow(16)),
];

impl Scale {
    /// As a float.
    pub fn value(self) -> f64 {
        match self {
            Scale::Exact(fraction) => fraction.value(),
            Scale::Real(value) => value,
        }
    }

    /// Product; exact as long as both are and it fits.
    fn times(self, other: Self) -> Self {
        match (self, other) {
            (Scale::Exact(a), Scale::Exact(b)) => {
                a.checked_mul(b).map_or_else(|| Scale::Real(a.value() * b.value()), Scale::Exact)
            }
            _ => Scale::Real(self.value() * other.value()),
        }
    }

    /// One over it. No unit is 0.
    fn inverse(self) -> Self {
        match self {
            Scale::Exact(fraction) => fraction.inverse().map_or(Scale::Real(0.0), Scale::Exact),
            Scale::Real(value) => Scale::Real(1.0 / value),
        }
    }
}

impl Atom {
    /// The atom of that name, to the letter.
    pub fn named(name: &str) -> Option<&'static Atom> {
        ATOMS.iter().find(|atom| atom.name == name)
    }

    /// As it counts inside a compound, where a degree is a difference.
    fn within(self) -> Unit {
        Unit { dimension: self.dimension.as_difference(), scale: self.scale, zero: 0 }
    }
}

impl Unit {
    /// Nothing yet.
    const ONE: Self = Self { dimension: Dimension::NUMBER, scale: Scale::Exact(Fraction::ONE), zero: 0 };

    /// Reads `mm`, `m2`, `kg/m3`, `W/(m.K)`, `m2.K/W`. The text must not be empty.
    pub fn parse(text: &str) -> Result<Self, UnitProblem> {
        if let Some(atom) = Atom::named(text) {
            return Ok(Unit { dimension: atom.dimension, scale: atom.scale, zero: atom.zero });
        }
        Reader::of(text).read().map_err(|slip| hints::explain(text, slip))
    }

    fn times(self, other: Self) -> Option<Self> {
        let dimension = self.dimension.times(other.dimension)?;
        Some(Self { dimension, scale: self.scale.times(other.scale), zero: 0 })
    }

    fn inverse(self) -> Option<Self> {
        Some(Self { dimension: Dimension::NUMBER.over(self.dimension)?, scale: self.scale.inverse(), zero: 0 })
    }
}

/// Is this a unit? Asks for no hints.
pub(super) fn readable(text: &str) -> bool {
    Atom::named(text).is_some() || Reader::of(text).read().is_ok()
}

/// Why a unit text could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Slip<'t> {
    /// No such name.
    Unknown(&'t str),
    /// `W/m.K` could be read two ways.
    Ambiguous,
    /// Anything else: a stray mark, a bracket without its partner, a power other than 2 or 3.
    Shape,
}

/// Goes through a compound unit from left to right.
struct Reader<'t> {
    rest: &'t str,
    sofar: Unit,
    /// A `/name` without brackets has been read, so a further `.` would be ambiguous.
    divided: bool,
}

impl<'t> Reader<'t> {
    fn of(text: &'t str) -> Self {
        Reader { rest: text, sofar: Unit::ONE, divided: false }
    }

    fn read(mut self) -> Result<Unit, Slip<'t>> {
        let first = self.atom()?;
        self.multiply(Some(first))?;
        while !self.rest.is_empty() {
            if self.eat('.') {
                if self.divided {
                    return Err(Slip::Ambiguous);
                }
                let next = self.atom()?;
                self.multiply(Some(next))?;
            } else if self.eat('/') {
                let group = if self.eat('(') { self.group()? } else { self.single()? };
                self.multiply(group.inverse())?;
            } else {
                return Err(Slip::Shape);
            }
        }
        Ok(self.sofar)
    }

    fn single(&mut self) -> Result<Unit, Slip<'t>> {
        self.divided = true;
        self.atom()
    }

    /// `m.K)` after the opening bracket.
    fn group(&mut self) -> Result<Unit, Slip<'t>> {
        let mut product = self.atom()?;
        while self.eat('.') {
            let next = self.atom()?;
            product = product.times(next).ok_or(Slip::Shape)?;
        }
        if self.eat(')') { Ok(product) } else { Err(Slip::Shape) }
    }

    /// A name with an optional power of 2 or 3.
    fn atom(&mut self) -> Result<Unit, Slip<'t>> {
        let end = self.rest.find(['.', '/', '(', ')']).unwrap_or(self.rest.len());
        let (name, rest) = self.rest.split_at(end);
        self.rest = rest;
        let (base, power) = match (name.strip_suffix('2'), name.strip_suffix('3')) {
            (Some(base), _) => (base, 2),
            (_, Some(base)) => (base, 3),
            _ => (name, 1),
        };
        if name.is_empty() || base == "%" {
            return Err(Slip::Shape);
        }
        let unit = Atom::named(base).ok_or(Slip::Unknown(name))?.within();
        (1..power).try_fold(unit, |product, _| product.times(unit)).ok_or(Slip::Shape)
    }

    fn multiply(&mut self, unit: Option<Unit>) -> Result<(), Slip<'t>> {
        self.sofar = unit.and_then(|unit| self.sofar.times(unit)).ok_or(Slip::Shape)?;
        Ok(())
    }

    fn eat(&mut self, mark: char) -> bool {
        match self.rest.strip_prefix(mark) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }
}
