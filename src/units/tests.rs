//! Values of numbers as written, against published factors.

use proptest::prelude::*;

use super::*;
use crate::source::Span;
use crate::syntax::{Literal, Operator};

pub(super) fn literal(numerator: i128, denominator: i128, unit: &str) -> Literal {
    Literal { numerator, denominator, unit: unit.into(), unit_span: Span::default() }
}

fn value(numerator: i128, denominator: i128, unit: &str) -> Number {
    evaluate(&literal(numerator, denominator, unit)).unwrap()
}

fn length(numerator: i128, denominator: i128, unit: &str) -> Length {
    value(numerator, denominator, unit).length().unwrap()
}

fn problem(unit: &str) -> UnitProblem {
    evaluate(&literal(1, 1, unit)).unwrap_err()
}

/// Within `part` of the published figure, relative to it.
fn near(given: Number, wanted: f64, part: f64) {
    let off = (given.si() - wanted).abs() / wanted.abs();
    assert!(off <= part, "{given:?} is not {wanted}");
}

#[test]
fn lengths_are_exact() {
    // International yard: 1 in = 25.4 mm (exact by definition).
    assert_eq!(length(1, 1, "in"), Length(25_400_000));
    assert_eq!(length(1, 64, "in"), Length(396_875));
    assert_eq!(length(1, 16, "in"), Length(1_587_500));
    assert_eq!(length(1, 1, "ft"), Length(304_800_000));
    assert_eq!(length(1, 1, "yd"), Length(914_400_000));
    assert_eq!(length(3, 4, "in"), Length(19_050_000));
    assert_eq!(length(-18, 1, "in"), Length(-457_200_000));
    assert_eq!(length(125, 10, "mm"), Length(12_500_000));
    assert_eq!(length(1, 1, "um"), Length(1000));
    assert_eq!(length(1500, 1, "mm2/m"), Length(1_500_000));
    assert_eq!(length(0, 1, ""), Length::ZERO);
}

#[test]
fn what_is_no_whole_nanometre_is_rounded_and_says_so() {
    assert_eq!(length(1, 3, "in"), Length(8_466_667));
    assert_eq!(length(-1, 3, "in"), Length(-8_466_667));
    assert!(!is_exact(&literal(1, 3, "in")));
    assert!(is_exact(&literal(1, 64, "in")));
    assert!(is_exact(&literal(1, 3, "kPa")));
    // 1/2 nm: half away from zero.
    assert_eq!(length(1, 2_000_000, "mm"), Length(1));
    assert_eq!(length(-1, 2_000_000, "mm"), Length(-1));
}

#[test]
fn feet_and_inches_are_one_length() {
    let both = |feet, numerator, denominator| {
        feet_inches(&literal(feet, 1, "ft"), &literal(numerator, denominator, "in")).unwrap().length().unwrap()
    };
    assert_eq!(both(8, 13, 2), Length(2_603_500_000));
    assert_eq!(both(-1, 6, 1), Length(-457_200_000));
    assert_eq!(both(0, 1, 64), Length(396_875));
    assert!(feet_inches(&literal(8, 1, "ft"), &literal(6, 1, "mm")).is_err());
    assert!(feet_inches(&literal(i128::MAX, 1, "ft"), &literal(6, 7, "in")).is_err());
}

#[test]
fn published_factors() {
    near(value(1, 1, "lbf"), 4.4482216152605, 1e-15); // exact arithmetic, recomputed
    near(value(1, 1, "lb"), 0.45359237, 1e-15); // international pound, exact
    near(value(1, 1, "psf"), 47.88026, 1e-7); // NIST SP 811, from memory
    near(value(1, 1, "psi"), 6894.757, 1e-7); // NIST SP 811, from memory
    near(value(1, 1, "ft2.h.degF/Btu"), 0.1761101837, 1e-9); // exact arithmetic, recomputed
    near(value(1, 1, "perm"), 57.2135e-12, 1e-12); // exact arithmetic, recomputed, mercury at 0 °C
    near(value(60, 1, "ng/(Pa.s.m2)"), 1.0487 * 57.2135e-12, 1e-4); // exact arithmetic, recomputed
    // Made from its parts: grain 64.79891 mg, foot 0.3048 m, mercury 3386.389 Pa (recomputed).
    near(value(1, 1, "perm"), 64.79891e-6 / (3600.0 * 0.3048 * 0.3048 * 3386.389), 1e-6);
    near(value(1, 1, "lb/ft2"), 4.882428, 1e-6); // NIST SP 811, from memory
    near(value(1, 1, "ft2"), 0.09290304, 1e-15); // square of the international foot
    near(value(36, 1, "km/h"), 10.0, 1e-15);
    near(value(1, 1, "kWh"), 3.6e6, 1e-15);
}

#[test]
fn one_rounding_only() {
    assert_eq!(value(48, 100, "kPa").si(), 480.0);
    assert_eq!(value(36, 1000, "W/(m.K)").si(), 0.036);
    assert_eq!(value(236, 10, "um/(m.K)").si(), 23.6e-6);
    assert_eq!(value(2, 100, "L/(s.m2)").si(), 2e-5);
}

#[test]
fn dimensions_of_compounds() {
    let dimension = |unit: &str| value(1, 1, unit).dimension();
    assert_eq!(dimension("W/(m.K)"), Dimension::CONDUCTIVITY);
    assert_eq!(dimension("J/(kg.K)"), Dimension::HEAT_CAPACITY);
    assert_eq!(dimension("um/(m.K)"), Dimension::EXPANSION);
    assert_eq!(dimension("ng/(Pa.s.m2)"), Dimension::PERMEANCE);
    assert_eq!(dimension("perm"), Dimension::PERMEANCE);
    assert_eq!(dimension("m2.K/W"), Dimension::RESISTANCE);
    assert_eq!(dimension("kg/m3"), Dimension::DENSITY);
    assert_eq!(dimension("lb/ft2"), Dimension::SURFACE_MASS);
    assert_eq!(dimension("L/(s.m2)"), Dimension::LEAKAGE);
    assert_eq!(dimension("W/m2/K"), Dimension::TRANSMITTANCE);
    assert_eq!(dimension("W/(m2.degC)"), Dimension::TRANSMITTANCE);
    assert_eq!(dimension("mm/h"), Dimension::SPEED);
    assert_eq!(dimension("V"), Dimension::VOLTAGE);
    assert_eq!(value(20, 1, "mm/m"), value(2, 1, "%"));
}

#[test]
fn temperatures_are_points_on_a_scale() {
    assert_eq!(value(-25, 1, "degC").si(), -25.0);
    assert_eq!(value(-40, 1, "degF").si(), -40.0);
    assert_eq!(value(212, 1, "degF").si(), 100.0);
    assert_eq!(value(5, 1, "degF").dimension(), Dimension::TEMPERATURE);
    assert_eq!(evaluate(&literal(-300, 1, "degC")).unwrap_err().code, "text.absurd_size");
    let (cold, warm, step) = (value(-10, 1, "degC"), value(20, 1, "degC"), value(5, 1, "K"));
    assert_eq!(warm.minus(cold), Ok(value(30, 1, "K")));
    assert_eq!(cold.plus(step), Ok(value(-5, 1, "degC")));
    assert!(cold.plus(warm).is_err() && step.minus(cold).is_err());
    assert!(cold.times(value(2, 1, "")).is_err() && cold.over(value(2, 1, "")).is_err());
}

#[test]
fn slopes_come_three_ways() {
    let pitched = pitch(&literal(4, 1, ""), &literal(12, 1, "")).unwrap();
    assert_eq!(pitched, Number::Ratio(Fraction::new(1, 3).unwrap()));
    // 4 in 12 is 18.435 degrees (exact arithmetic, recomputed).
    let off = value(18_435, 1000, "deg").slope().unwrap() - pitched.slope().unwrap();
    assert!(off.abs() < 1e-5, "{off}");
    assert_eq!(value(2, 1, "%").slope(), Some(0.02));
    assert_eq!(value(90, 1, "deg").slope(), None);
    assert!(pitch(&literal(4, 1, ""), &literal(0, 1, "")).is_err());
    assert_eq!(value(225, 10, "deg"), Number::Angle(Angle(22_500_000_000)));
    // Angles lie on a grid of billionths of a degree: half a step is 8.8e-12 rad.
    near(value(1, 1, "rad"), 1.0, 8.8e-12);
}

#[test]
fn habits_get_their_own_help() {
    for (slip, right) in [
        ("'", "ft"),
        ("\"", "in"),
        ("″", "in"),
        ("mm.", "mm"),
        ("inch", "in"),
        ("inches", "in"),
        ("feet", "ft"),
        ("C", "degC"),
        ("°C", "degC"),
        ("kpa", "kPa"),
        ("MM", "mm"),
        ("KG", "kg"),
        ("lbs", "lb"),
        ("m²", "m2"),
        ("W/m·K", "W/(m.K)"),
        ("W/m.K", "W/(m.K)"),
        ("µm/(m.K)", "um/(m.K)"),
        ("w/(m.k)", "W/(m.K)"),
        ("year", "a"),
        ("kg/m³", "kg/m3"),
        ("m^2", "m2"),
        ("lbs/ft2", "lb/ft2"),
        ("F", "degF"),
    ] {
        assert_eq!(problem(slip).unit.as_deref(), Some(right), "{slip}: {:?}", problem(slip));
    }
    assert!(problem("o.c.").help.unwrap().contains("on centre"));
    assert!(problem("mil").help.unwrap().contains("0.15mm"));
    assert_eq!(problem("prem").help.as_deref(), Some("did you mean `perm`?"));
    assert_eq!(problem("W/(m.Q)").title, "`W/(m.Q)` is not a unit");
    for strange in ["", "m4", "m/", "/m", "m.", "W/(m.K", "m)", "2", "m2/()", "%2", "%/m", "ß", "𝄞", "m..m"] {
        if !strange.is_empty() {
            assert!(Unit::parse(strange).is_err(), "{strange}");
        }
    }
}

#[test]
fn sums_keep_to_their_dimension() {
    let (depth, upstand, two) = (value(19, 1, "mm"), value(81, 1, "mm"), value(2, 1, ""));
    assert_eq!(depth.plus(upstand), Ok(value(100, 1, "mm")));
    assert_eq!(value(0, 1, "").plus(depth), Ok(depth));
    assert_eq!(depth.minus(value(0, 1, "")), Ok(depth));
    assert_eq!(depth.times(two), Ok(value(38, 1, "mm")));
    assert_eq!(depth.over(value(3, 1, "")), Ok(Number::Length(Length(6_333_333))));
    assert_eq!(upstand.over(depth), Ok(Number::Bare(Fraction::new(81, 19).unwrap())));
    assert_eq!(value(2, 1, "m").times(value(3, 1, "m")), Ok(value(6, 1, "m2")));
    assert_eq!(value(6, 1, "m2").over(value(3, 1, "m")), Ok(value(2, 1, "m")));
    assert_eq!(value(30, 1, "%").times(depth), Ok(Number::Length(Length(5_700_000))));
    assert_eq!(depth.plus(value(2, 1, "kPa")).unwrap_err().title, "a pressure cannot be added to a length");
    assert_eq!(depth.minus(two).unwrap_err().title, "a bare number cannot be taken from a length");
    assert!(depth.over(value(0, 1, "")).is_err() && depth.over(value(0, 1, "mm")).is_err());
    assert!(value(900, 1, "km").plus(value(900, 1, "km")).is_err());
}

#[test]
fn a_wrong_dimension_names_both() {
    let wrong = mismatch("2kPa", value(2, 1, "kPa"), Dimension::LENGTH);
    assert_eq!(wrong.title, "`2kPa` is a pressure, a length is wanted");
    assert_eq!(value(1, 1, "kg").times(value(1, 1, "K")).unwrap().dimension().name(), "a value in kg·K");
    assert_eq!(Dimension::FORCE.base_units(), "kg·m/s²");
    assert_eq!(Dimension::EXPANSION.base_units(), "1/K");
    assert_eq!(Dimension::CONDUCTIVITY.base_units(), "kg·m/(s³·K)");
}

#[test]
fn absurd_sizes_are_refused() {
    for (numerator, denominator, unit) in
        [(i128::MAX, 1, "mm"), (1_000_001, 1, "km"), (i128::MIN, 1, "in"), (1, 0, "in"), (i128::MAX, 1, "deg")]
    {
        assert!(evaluate(&literal(numerator, denominator, unit)).is_err(), "{numerator}/{denominator}{unit}");
    }
    assert_eq!(evaluate(&literal(1_000_001, 1, "km")).unwrap_err().code, "text.absurd_size");
    assert_eq!(length(i128::MAX, i128::MAX, "m"), Length(1_000_000_000));
}

/// Reads `-6-1/2in` and `19.05mm` as the grammar does.
fn read(text: &str) -> Number {
    let (sign, text) = text.strip_prefix('-').map_or((1, text), |rest| (-1, rest));
    let (figure, unit) = text.split_at(text.find(char::is_alphabetic).unwrap());
    let parse = |digits: &str| digits.parse::<i128>().unwrap();
    let (numerator, denominator) = match (figure.split_once('/'), figure.split_once('.')) {
        (Some((above, below)), _) => {
            let (whole, above) = above.split_once('-').unwrap_or(("0", above));
            (parse(whole) * parse(below) + parse(above), parse(below))
        }
        (_, Some((whole, part))) => {
            let unit = 10i128.pow(part.len() as u32);
            (parse(whole) * unit + parse(part), unit)
        }
        _ => (parse(figure), 1),
    };
    value(sign * numerator, denominator, unit)
}

proptest! {
    #[test]
    fn what_is_written_for_an_edit_reads_back_exactly(nm in -1_000_000_000_000i64..1_000_000_000_000, marks in -99_999i64..99_999) {
        for length in [Length(nm), Length(marks * 396_875)] {
            for system in [System::Metric, System::Imperial] {
                prop_assert_eq!(read(&display::source(length, system)), Number::Length(length));
            }
        }
    }

    #[test]
    fn no_literal_panics(numerator: i128, denominator: i128, unit in "[a-zA-Z%°'\"./()23²µ]{0,8}", digits in 0..9i128) {
        for unit in [unit.as_str(), "mm", "in", "deg", "degF", "perm", "W/(m.K)", "%", ""] {
            for numerator in [numerator, digits] {
                let _ = is_exact(&literal(numerator, denominator, unit));
                let _ = evaluate(&literal(numerator, denominator, unit));
                let _ = feet_inches(&literal(numerator, denominator, "ft"), &literal(denominator, numerator, "in"));
                let _ = pitch(&literal(numerator, denominator, ""), &literal(denominator, numerator, ""));
            }
        }
    }

    #[test]
    fn no_sum_panics(a: i128, b in 1..1_000_000i128, c: i64, d in 1..1000i128, left in 0..6usize, right in 0..6usize) {
        let units = ["mm", "", "%", "deg", "kPa", "degC"];
        let of = |n, d, place: usize| evaluate(&literal(n, d, units[place]));
        if let (Ok(left), Ok(right)) = (of(a % (1 << 50), b, left), of(i128::from(c), d, right)) {
            for operator in [Operator::Add, Operator::Subtract, Operator::Multiply, Operator::Divide] {
                let _ = left.apply(operator, right).and_then(|sum| sum.apply(operator, left));
            }
            prop_assert_eq!(left.plus(right).ok(), right.plus(left).ok());
        }
    }

    #[test]
    fn a_length_scaled_up_and_down_is_itself(nm in -1_000_000_000_000i64..1_000_000_000_000, times in 1..500i64) {
        let (length, by) = (Number::Length(Length(nm)), Number::Bare(Fraction::whole(times)));
        prop_assert_eq!(length.times(by).unwrap().over(by), Ok(length));
        prop_assert_eq!((Length(nm) * times).scale(1, times), Length(nm));
    }
}
