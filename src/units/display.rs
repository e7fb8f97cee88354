//! How numbers are shown to people: one place for all of it, without locale, rounded once, half away from zero.

use super::angle::Angle;
use super::digits::{Keep, decimal};
use super::dimension::{Dimension, Quantity};
use super::length::{Area, Length};
use super::number::Number;

/// Which units come first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// Millimetres, kilopascals, degrees Celsius.
    #[default]
    Metric,
    /// Feet and inches, pounds per square foot, degrees Fahrenheit.
    Imperial,
}

impl System {
    /// The other one.
    pub fn other(self) -> Self {
        match self {
            System::Metric => System::Imperial,
            System::Imperial => System::Metric,
        }
    }
}

/// How finely a tape is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tape {
    /// To 1/16 in.
    #[default]
    Sixteenth,
    /// To 1/32 in.
    ThirtySecond,
}

impl Tape {
    /// Marks in an inch.
    fn marks(self) -> i64 {
        match self {
            Tape::Sixteenth => 16,
            Tape::ThirtySecond => 32,
        }
    }

    /// The nearest mark, counted from 0.
    fn nearest(self, length: Length) -> i64 {
        length.scale(self.marks(), Length::INCH.0).0
    }
}

/// `1234.5 mm`: one decimal, two below 1 mm so that a sheet of 0.15 mm is not shown as 0.2 mm.
pub fn mm(length: Length) -> String {
    format!("{} mm", mm_figure(length))
}

/// The figure of [`mm`] without its unit, for table columns and dimension lines.
pub fn mm_figure(length: Length) -> String {
    let places = if length.abs() < Length::MM { 2 } else { 1 };
    let step = 10_i64.pow(6 - places);
    let steps = length.scale(1, step).0;
    let unit = 10_u64.pow(places);
    let (whole, part) = (steps.unsigned_abs() / unit, steps.unsigned_abs() % unit);
    let digits = format!("{whole}.{part:0width$}", width = places as usize);
    let sign = if steps < 0 { "-" } else { "" };
    format!("{sign}{}", digits.trim_end_matches('0').trim_end_matches('.'))
}

/// `12.35 m`, to the centimetre.
pub fn metres(length: Length) -> String {
    format!("{} m", decimal(length.as_m(), Keep::Places(2)))
}

/// A length as a piece is cut by the figure on paper: down to whole 0.5 mm, or to whole sixteenths of an inch.
pub fn cut_down(length: Length, system: System) -> Length {
    let step = match system {
        System::Metric => Length::MM.0 / 2,
        System::Imperial => Length::INCH.0 / 16,
    };
    Length(length.0.div_euclid(step) * step)
}

/// A gap as it is left by the figure on paper: up to whole 0.5 mm, or to whole sixteenths of an inch.
pub fn gap_up(length: Length, system: System) -> Length {
    Length(-cut_down(Length(-length.0), system).0)
}

/// `8 ft 6-1/2 in`, `8 ft`, `3/4 in`, `0 in`; to the nearest mark of the tape.
pub fn feet_inches(length: Length, tape: Tape) -> String {
    let marks = tape.nearest(length);
    let (feet, rest) =
        (marks.unsigned_abs() / (tape.marks() as u64 * 12), marks.unsigned_abs() % (tape.marks() as u64 * 12));
    let sign = if marks < 0 { "-" } else { "" };
    match (feet, rest) {
        (0, rest) => format!("{sign}{} in", inch_figure(rest, tape)),
        (feet, 0) => format!("{sign}{feet} ft"),
        (feet, rest) => format!("{sign}{feet} ft {} in", inch_figure(rest, tape)),
    }
}

/// `102-1/2 in`, never feet; to the nearest mark of the tape.
pub fn inches(length: Length, tape: Tape) -> String {
    let marks = tape.nearest(length);
    let sign = if marks < 0 { "-" } else { "" };
    format!("{sign}{} in", inch_figure(marks.unsigned_abs(), tape))
}

/// `6-1/2`, `3/4`, `0`.
fn inch_figure(marks: u64, tape: Tape) -> String {
    let per_inch = tape.marks() as u64;
    let (whole, part) = (marks / per_inch, marks % per_inch);
    // Both are powers of two apart from an odd factor of `part`.
    let shared = 1_u64 << part.trailing_zeros().min(per_inch.trailing_zeros());
    let fraction = format!("{}/{}", part / shared, per_inch / shared);
    match (whole, part) {
        (whole, 0) => whole.to_string(),
        (0, _) => fraction,
        (whole, _) => format!("{whole}-{fraction}"),
    }
}

/// In one system, as a crew says it: feet from 24 in on (common practice, no source); thousandths of an inch below
/// 1/16 in, so that a thin sheet is not shown as 0 in.
pub fn length(length: Length, system: System) -> String {
    match system {
        System::Metric => mm(length),
        System::Imperial if length.0 != 0 && length.abs() < Length::INCH / 16 => {
            format!("{} in", decimal(length.as_inches(), Keep::Places(3)))
        }
        System::Imperial if length.abs() <= Length::INCH * 24 => inches(length, Tape::default()),
        System::Imperial => feet_inches(length, Tape::default()),
    }
}

/// `19 mm (3/4 in)`, or the other way round.
pub fn both(value: Length, primary: System) -> String {
    format!("{} ({})", length(value, primary), length(value, primary.other()))
}

/// As the language reads it back, exactly: `19.05mm`, `6-1/2in`; feet are not used. Falls back to millimetres where
/// inches would need more than 1/64. A text for edits, not for people.
pub fn source(length: Length, system: System) -> String {
    const SIXTY_FOURTH: u64 = 396_875;
    let nm = length.0.unsigned_abs();
    let sign = if length.0 < 0 { "-" } else { "" };
    if system == System::Imperial && nm.is_multiple_of(SIXTY_FOURTH) {
        let (whole, part) = (nm / SIXTY_FOURTH / 64, nm / SIXTY_FOURTH % 64);
        let shared = 1_u64 << part.trailing_zeros().min(6);
        let fraction = format!("{}/{}", part / shared, 64 / shared);
        return match (whole, part) {
            (whole, 0) => format!("{sign}{whole}in"),
            (0, _) => format!("{sign}{fraction}in"),
            (whole, _) => format!("{sign}{whole}-{fraction}in"),
        };
    }
    let digits = format!("{}.{:06}", nm / 1_000_000, nm % 1_000_000);
    format!("{sign}{}mm", digits.trim_end_matches('0').trim_end_matches('.'))
}

/// `12.35 m²` or `132.9 ft²`, to four significant digits.
pub fn area(area: Area, system: System) -> String {
    quantity(Quantity { value: area.as_m2(), dimension: Dimension::AREA }, system)
}

/// `12.35 m² (132.9 ft²)`, or the other way round.
pub fn area_both(value: Area, primary: System) -> String {
    format!("{} ({})", area(value, primary), area(value, primary.other()))
}

/// Rise over run as `2%`.
pub fn slope_percent(slope: f64) -> String {
    format!("{}%", decimal(slope * 100.0, Keep::Places(1)))
}

/// Rise over run as `18.4°`.
pub fn slope_degrees(slope: f64) -> String {
    format!("{}°", decimal(libm::atan(slope).to_degrees(), Keep::Places(1)))
}

/// Rise over run as `4:12`, rise to a tenth.
pub fn slope_in_12(slope: f64) -> String {
    format!("{}:12", decimal(slope * 12.0, Keep::Places(1)))
}

/// `22.5°`, to a hundredth.
pub fn angle(angle: Angle) -> String {
    format!("{}°", decimal(angle.as_degrees(), Keep::Places(2)))
}

/// `-25 °C` or `-13 °F`, to a tenth.
pub fn temperature(celsius: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} °C", decimal(celsius, Keep::Places(1))),
        System::Imperial => format!("{} °F", decimal(celsius * 1.8 + 32.0, Keep::Places(1))),
    }
}

/// A wind in m/s: `2 m/s` or `4.5 mph`, to two significant digits. A mile is 1609.344 m.
pub fn wind(metres_per_second: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} m/s", decimal(metres_per_second, Keep::Significant(2))),
        System::Imperial => format!("{} mph", decimal(metres_per_second * 3600.0 / 1609.344, Keep::Significant(2))),
    }
}

/// A thermal resistance in m²·K/W as the trade says it: `RSI 5.73` or `R-32.6`.
pub fn resistance(value: f64, system: System) -> String {
    match system {
        System::Metric => format!("RSI {}", decimal(value, Keep::Places(2))),
        // 1 ft²·h·°F/Btu is 0.1761101837 m²·K/W, as the unit table has it.
        System::Imperial => format!("R-{}", decimal(value / 0.176_110_183_7, Keep::Places(1))),
    }
}

/// One share of a whole as `12.5%`, to a tenth.
pub fn percent(share: f64) -> String {
    slope_percent(share)
}

/// A unit to show a dimension in, and how many of it make one SI unit.
struct Shown(Dimension, &'static str, f64, &'static str, f64);

/// Metric unit and factor, then imperial. Imperial factors are the inverses of those in the unit table.
const SHOWN: &[Shown] = &[
    Shown(Dimension::AREA, "m²", 1.0, "ft²", 1.0 / 0.09290304),
    Shown(Dimension::VOLUME, "m³", 1.0, "ft³", 1.0 / 0.028316846592),
    Shown(Dimension::MASS, "kg", 1.0, "lb", 1.0 / 0.45359237),
    Shown(Dimension::TEMPERATURE_DIFFERENCE, "K", 1.0, "°F difference", 1.8),
    Shown(Dimension::FORCE, "N", 1.0, "lbf", 1.0 / 4.4482216152605),
    Shown(Dimension::PRESSURE, "Pa", 1.0, "psf", 0.09290304 / 4.4482216152605),
    Shown(Dimension::LINE_LOAD, "N/m", 1.0, "lbf/ft", 0.3048 / 4.4482216152605),
    Shown(Dimension::DENSITY, "kg/m³", 1.0, "lb/ft³", 0.028316846592 / 0.45359237),
    Shown(Dimension::SURFACE_MASS, "kg/m²", 1.0, "lb/ft²", 0.09290304 / 0.45359237),
    Shown(Dimension::LINE_MASS, "kg/m", 1.0, "lb/ft", 0.3048 / 0.45359237),
    Shown(Dimension::CONDUCTIVITY, "W/(m·K)", 1.0, "W/(m·K)", 1.0),
    Shown(Dimension::RESISTANCE, "m²·K/W", 1.0, "ft²·h·°F/Btu", 1.0 / 0.1761101837),
    Shown(Dimension::TRANSMITTANCE, "W/(m²·K)", 1.0, "Btu/(ft²·h·°F)", 0.1761101837),
    Shown(Dimension::CONDUCTANCE, "W/K", 1.0, "Btu/(h·°F)", 1.0 / 0.527_527_926),
    Shown(Dimension::HEAT_CAPACITY, "J/(kg·K)", 1.0, "J/(kg·K)", 1.0),
    Shown(Dimension::HEAT_PER_LENGTH, "W/m", 1.0, "Btu/(ft·h)", 0.3048 / 0.293_071_070_172),
    Shown(Dimension::HEAT_FLUX, "W/m²", 1.0, "Btu/(ft²·h)", 0.09290304 / 0.293_071_070_172),
    Shown(Dimension::PERMEANCE, "ng/(Pa·s·m²)", 1e12, "perm", 1e12 / 57.2135),
    Shown(Dimension::EXPANSION, "µm/(m·K)", 1e6, "µm/(m·K)", 1e6),
    Shown(Dimension::VOLTAGE, "V", 1.0, "V", 1.0),
    Shown(Dimension::SPEED, "m/s", 1.0, "m/s", 1.0),
    Shown(Dimension::FLOW, "L/s", 1000.0, "cfm", 60.0 / 0.028316846592),
    Shown(Dimension::FLOW_PER_LENGTH, "L/(s·m)", 1000.0, "L/(s·m)", 1000.0),
    Shown(Dimension::ENERGY, "J", 1.0, "J", 1.0),
    Shown(Dimension::POWER, "W", 1.0, "W", 1.0),
];

/// Any measured value with its usual unit, to four significant digits: `0.48 kPa`, `60 ng/(Pa·s·m²)`, `0.036 W/(m·K)`.
/// Base units where a dimension has no usual one.
pub fn quantity(given: Quantity, system: System) -> String {
    kept(given, system, Keep::Significant(4))
}

/// The same with as many digits as a figure deserves; lengths and angles keep their own.
pub fn kept(given: Quantity, system: System, keep: Keep) -> String {
    let Quantity { value, dimension } = given;
    match dimension {
        Dimension::LENGTH => return length(Length::snap_m(value), system),
        Dimension::ANGLE => return angle(Angle::snap_radians(value)),
        Dimension::TEMPERATURE => return temperature(value, system),
        Dimension::TIME => return time(value),
        Dimension::PRESSURE if system == System::Metric && value.abs() >= 100.0 => return prefixed(value, "Pa", keep),
        Dimension::FORCE if system == System::Metric => return prefixed(value, "N", keep),
        _ => {}
    }
    let Some(Shown(_, metric, to_metric, imperial, to_imperial)) = SHOWN.iter().find(|shown| shown.0 == dimension)
    else {
        return format!("{} {}", decimal(value, keep), dimension.base_units()).trim_end().to_owned();
    };
    match system {
        System::Metric => format!("{} {metric}", decimal(value * to_metric, keep)),
        System::Imperial => format!("{} {imperial}", decimal(value * to_imperial, keep)),
    }
}

/// An air leakage, which shares its dimension with a speed: `0.02 L/(s·m²)`.
pub fn leakage(metres_per_second: f64) -> String {
    format!("{} L/(s·m²)", significant(metres_per_second * 1000.0))
}

/// An air leakage in one system, with as many digits as it deserves: `0.36 L/(s·m²)` or `0.071 cfm/ft²`.
pub fn leakage_in(metres_per_second: f64, system: System, keep: Keep) -> String {
    match system {
        System::Metric => format!("{} L/(s·m²)", decimal(metres_per_second * 1000.0, keep)),
        // Feet in a minute are cubic feet in a minute through a square foot.
        System::Imperial => format!("{} cfm/ft²", decimal(metres_per_second * 60.0 / 0.3048, keep)),
    }
}

/// A free area per metre of wall, which shares its dimension with a length: `1500 mm²/m`.
pub fn area_per_metre(length: Length) -> String {
    format!("{} mm²/m", significant(length.as_m() * 1e6))
}

/// The same in one system: `1500 mm²/m` or `0.709 in²/ft`, with as many digits as it deserves.
pub fn area_per_length(metres: f64, system: System, keep: Keep) -> String {
    match system {
        System::Metric => format!("{} mm²/m", decimal(metres * 1e6, keep)),
        // One inch of width in square inches for each foot.
        System::Imperial => format!("{} in²/ft", decimal(metres / 0.0254 * 12.0, keep)),
    }
}

/// An area of some square centimetres: `480 cm²`, `74 in²`.
pub fn small_area(square_metres: f64, system: System, keep: Keep) -> String {
    match system {
        System::Metric => format!("{} cm²", decimal(square_metres * 1e4, keep)),
        System::Imperial => format!("{} in²", decimal(square_metres / 0.000_645_16, keep)),
    }
}

/// A depth of rain: `58 mm` or `2.3 in`, inches in decimals as a gauge has them, with as many digits as it deserves.
pub fn depth_of_rain(metres: f64, system: System, keep: Keep) -> String {
    match system {
        System::Metric => format!("{} mm", decimal(metres * 1000.0, keep)),
        System::Imperial => format!("{} in", decimal(metres / 0.0254, keep)),
    }
}

/// A conductivity in W/(m·K): `0.036 W/(m·K)` or `0.25 Btu·in/(ft²·h·°F)`. One inch of what conducts 1 W/(m·K) passes
/// 0.1761101837 / 0.0254 Btu in an hour through a square foot for each °F.
pub fn conductivity(value: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} W/(m·K)", decimal(value, Keep::Significant(4))),
        System::Imperial => {
            format!("{} Btu·in/(ft²·h·°F)", decimal(value * 0.176_110_183_7 / 0.0254, Keep::Significant(2)))
        }
    }
}

/// Heat that goes through for each metre of an edge and each kelvin, W/(m·K): `0.079 W/(m·K)` or `0.046 Btu/(ft·h·°F)`. A Btu in an
/// hour for each °F is 0.527527926 W/K.
pub fn coupling(value: f64, system: System, keep: Keep) -> String {
    match system {
        System::Metric => format!("{} W/(m·K)", decimal(value, keep)),
        System::Imperial => format!("{} Btu/(ft·h·°F)", decimal(value * 0.3048 / 0.527_527_926, keep)),
    }
}

/// Any number of the language: `19 mm`, `22.5°`, `3`, `5%`, `0.48 kPa`.
pub fn number(given: Number, system: System) -> String {
    match given {
        Number::Length(value) => length(value, system),
        Number::Angle(value) => angle(value),
        Number::Bare(fraction) => decimal(fraction.value(), Keep::Significant(6)),
        Number::Ratio(fraction) => percent(fraction.value()),
        Number::Quantity(value) => quantity(value, system),
    }
}

fn significant(value: f64) -> String {
    decimal(value, Keep::Significant(4))
}

/// With `k` or `M` where that is shorter.
fn prefixed(value: f64, unit: &str, keep: Keep) -> String {
    let (factor, prefix) = match value.abs() {
        size if size >= 1e6 => (1e6, "M"),
        size if size >= 1e3 || unit == "Pa" => (1e3, "k"),
        _ => (1.0, ""),
    };
    // Places behind the point are those of the unit without prefix.
    let keep = if let Keep::Significant(_) = keep { keep } else { Keep::Significant(4) };
    format!("{} {prefix}{unit}", decimal(value / factor, keep))
}

/// In the largest of second, minute, hour, day and year that gives 1 or more.
fn time(seconds: f64) -> String {
    const STEPS: [(f64, &str); 4] = [(31_557_600.0, "a"), (86_400.0, "day"), (3600.0, "h"), (60.0, "min")];
    let (factor, unit) = STEPS.into_iter().find(|&(factor, _)| seconds.abs() >= factor).unwrap_or((1.0, "s"));
    let figure = significant(seconds / factor);
    let plural = if unit == "day" && figure != "1" { "s" } else { "" };
    format!("{figure} {unit}{plural}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const INCH: i64 = Length::INCH.0;

    #[test]
    fn lengths_as_a_crew_reads_them() {
        assert_eq!(mm(Length(1_234_500_000)), "1234.5 mm");
        assert_eq!(mm(Length::mm(19)), "19 mm");
        assert_eq!(mm(Length(19_050_000)), "19.1 mm");
        assert_eq!(mm(Length(-19_050_000)), "-19.1 mm");
        assert_eq!(mm(Length(150_000)), "0.15 mm");
        assert_eq!(mm(Length(999_999)), "1 mm");
        assert_eq!(mm(Length(-4_000)), "0 mm");
        assert_eq!(feet_inches(Length(INCH * 205 / 2), Tape::Sixteenth), "8 ft 6-1/2 in");
        assert_eq!(feet_inches(Length(-INCH * 205 / 2), Tape::Sixteenth), "-8 ft 6-1/2 in");
        assert_eq!(feet_inches(Length(INCH * 96), Tape::Sixteenth), "8 ft");
        assert_eq!(feet_inches(Length(INCH * 96 - 1), Tape::Sixteenth), "8 ft");
        assert_eq!(feet_inches(Length(INCH * 193 / 2), Tape::Sixteenth), "8 ft 1/2 in");
        assert_eq!(feet_inches(Length(INCH / 32), Tape::ThirtySecond), "1/32 in");
        assert_eq!(feet_inches(Length(INCH / 32), Tape::Sixteenth), "1/16 in"); // half away from zero
        assert_eq!(feet_inches(Length::ZERO, Tape::Sixteenth), "0 in");
        assert_eq!(inches(Length(INCH * 205 / 2), Tape::Sixteenth), "102-1/2 in");
        assert_eq!(both(Length::mm(19), System::Metric), "19 mm (3/4 in)");
        assert_eq!(both(Length::INCH * 16, System::Imperial), "16 in (406.4 mm)");
        assert_eq!(both(Length(600_000), System::Metric), "0.6 mm (0.024 in)");
        assert_eq!(source(Length(INCH * 13 / 2), System::Imperial), "6-1/2in");
        assert_eq!(source(Length::mm(19), System::Imperial), "19mm");
        assert_eq!(source(Length(-12_500_000), System::Metric), "-12.5mm");
    }

    #[test]
    fn measured_values_in_their_usual_units() {
        let of = |value, dimension| quantity(Quantity { value, dimension }, System::Metric);
        assert_eq!(of(480.0, Dimension::PRESSURE), "0.48 kPa");
        assert_eq!(of(75.0, Dimension::PRESSURE), "75 Pa");
        assert_eq!(of(1159.0, Dimension::FORCE), "1.159 kN");
        assert_eq!(of(60e-12, Dimension::PERMEANCE), "60 ng/(Pa·s·m²)");
        assert_eq!(of(0.036, Dimension::CONDUCTIVITY), "0.036 W/(m·K)");
        assert_eq!(of(23.6e-6, Dimension::EXPANSION), "23.6 µm/(m·K)");
        assert_eq!(of(2.0, Dimension { powers: [0, 1, 0, 1, 0, 0], point: false }), "2 kg·K");
        assert_eq!(of(50.0 * 31_557_600.0, Dimension::TIME), "50 a");
        assert_eq!(of(86_400.0, Dimension::TIME), "1 day");
        assert_eq!(of(3600.0, Dimension::TIME), "1 h");
        let perm = Quantity { value: 57.2135e-12, dimension: Dimension::PERMEANCE };
        assert_eq!(quantity(perm, System::Imperial), "1 perm"); // exact arithmetic, recomputed
        let resistance = Quantity { value: 0.1761101837, dimension: Dimension::RESISTANCE };
        assert_eq!(quantity(resistance, System::Imperial), "1 ft²·h·°F/Btu"); // exact arithmetic, recomputed
        assert_eq!(leakage(2e-5), "0.02 L/(s·m²)");
        assert_eq!(area_per_metre(Length(1_500_000)), "1500 mm²/m");
        assert_eq!(area_both(Length::mm(1000) * Length::mm(2500), System::Metric), "2.5 m² (26.91 ft²)");
        assert_eq!(temperature(-25.0, System::Imperial), "-13 °F");
    }

    #[test]
    fn slopes_three_ways() {
        // 4 in 12 is 18.435° (exact arithmetic, recomputed).
        assert_eq!(slope_degrees(4.0 / 12.0), "18.4°");
        assert_eq!(slope_in_12(4.0 / 12.0), "4:12");
        assert_eq!(slope_percent(0.02), "2%");
    }

    proptest! {
        #[test]
        fn millimetres_come_back_within_their_last_digit(nm in -1_000_000_000_000i64..1_000_000_000_000) {
            let shown: f64 = mm_figure(Length(nm)).parse().unwrap();
            let half = if nm.abs() < 1_000_000 { 5_000.0 } else { 50_000.0 };
            prop_assert!((shown * 1e6 - nm as f64).abs() <= half + 0.01);
        }

        #[test]
        fn no_length_panics(nm: i64) {
            for system in [System::Metric, System::Imperial] {
                let _ = (both(Length(nm), system), source(Length(nm), system), metres(Length(nm)));
                let _ = (feet_inches(Length(nm), Tape::ThirtySecond), area_per_metre(Length(nm)));
            }
        }
    }
}
