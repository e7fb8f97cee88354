//! Moist air: saturation in two named forms, humidity ratio, dew point, wet bulb, enthalpy, density; −40 to 60 °C.
//!
//! The ASHRAE form (Hyland and Wexler's equations as the ASHRAE Handbook of Fundamentals 2017, chapter 1, prints them;
//! constants from memory, held against psychrolib and the steam formulation of CoolProp) is for air. The form of
//! ISO 13788:2012, annex E, is for the monthly method; it lies up to 1.1 % lower, at −30 °C. A sum says which it takes.

/// Standard pressure of the air, Pa.
pub const STANDARD_PRESSURE: f64 = 101_325.0;
/// Gas constant of water vapour, J/(kg·K).
pub const VAPOUR_GAS: f64 = 461.5;
/// Mass of a molecule of water by that of air.
const WATER_BY_AIR: f64 = 0.621_945;
/// Gas constant of dry air, J/(kg·K).
const AIR_GAS: f64 = 287.042;
/// Triple point, °C: over ice up to it, over water above.
const TRIPLE: f64 = 0.01;
/// Absolute zero, °C.
const ZERO: f64 = -273.15;

/// Saturation pressure in Pa at `celsius`, ASHRAE form: over ice up to 0.01 °C, over water above. Valid −100 to 200 °C.
pub fn saturation(celsius: f64) -> f64 {
    let kelvin = celsius - ZERO;
    let of = |terms: [f64; 5], log: f64, over: f64| {
        let series = terms.iter().rev().fold(0.0, |sum, term| sum * kelvin + term);
        libm::exp(over / kelvin + series + log * libm::log(kelvin))
    };
    if celsius <= TRIPLE {
        const ICE: [f64; 5] = [6.392_524_7, -9.677_843e-3, 6.221_570_1e-7, 2.074_782_5e-9, -9.484_024e-13];
        of(ICE, 4.163_501_9, -5.674_535_9e3)
    } else {
        const WATER: [f64; 5] = [1.391_499_3, -4.864_023_9e-2, 4.176_476_8e-5, -1.445_209_3e-8, 0.0];
        of(WATER, 6.545_967_3, -5.800_220_6e3)
    }
}

/// Saturation pressure in Pa at `celsius`, form of ISO 13788:2012, annex E: over ice below 0 °C, over water from there up.
pub fn saturation_iso(celsius: f64) -> f64 {
    saturation_iso_with_slope(celsius).0
}

/// The same with its slope, Pa/K.
pub fn saturation_iso_with_slope(celsius: f64) -> (f64, f64) {
    let (a, b) = if celsius >= 0.0 { (17.269, 237.3) } else { (21.875, 265.5) };
    let below = b + celsius;
    let pressure = 610.5 * libm::exp(a * celsius / below);
    (pressure, pressure * a * b / (below * below))
}

/// Temperature in °C at which a vapour pressure in Pa saturates, form of ISO 13788:2012, annex E. `None` for no vapour.
pub fn dew_point_iso(pressure: f64) -> Option<f64> {
    (pressure > 0.0 && pressure.is_finite()).then(|| {
        let log = libm::log(pressure / 610.5);
        if log >= 0.0 { 237.3 * log / (17.269 - log) } else { 265.5 * log / (21.875 - log) }
    })
}

/// Dew point in °C, below freezing the frost point, of a vapour pressure in Pa, ASHRAE form. `None` outside −100 to 200 °C.
pub fn dew_point(pressure: f64) -> Option<f64> {
    crossing(-100.0, 200.0, |celsius| saturation(celsius) - pressure)
}

/// Kilograms of vapour in a kilogram of dry air. `pressure` is that of the vapour, `air` that of all, Pa.
/// `None` where the vapour would be all of the air.
pub fn humidity_ratio(pressure: f64, air: f64) -> Option<f64> {
    (pressure >= 0.0 && pressure < air).then(|| WATER_BY_AIR * pressure / (air - pressure))
}

/// Heat in moist air above that of dry air and water at 0 °C, J for each kilogram of dry air.
pub fn enthalpy(celsius: f64, ratio: f64) -> f64 {
    (1.006 * celsius + ratio * (2501.0 + 1.86 * celsius)) * 1e3
}

/// Room of moist air that holds a kilogram of dry air, m³. `air` is the pressure of all, Pa.
pub fn volume(celsius: f64, ratio: f64, air: f64) -> f64 {
    AIR_GAS * (celsius - ZERO) * (1.0 + 1.607_858 * ratio) / air
}

/// Mass of moist air, kg/m³.
pub fn density(celsius: f64, ratio: f64, air: f64) -> f64 {
    (1.0 + ratio) / volume(celsius, ratio, air)
}

/// Mass of vapour, kg/m³, at its pressure in Pa and at `celsius`.
pub fn vapour_density(pressure: f64, celsius: f64) -> f64 {
    pressure / (VAPOUR_GAS * (celsius - ZERO))
}

/// Wet bulb in °C of air at `celsius` with humidity `ratio`, over ice below 0 °C. `None` where no wet bulb from −100 °C up to
/// `celsius` fits, as for air above saturation.
pub fn wet_bulb(celsius: f64, ratio: f64, air: f64) -> Option<f64> {
    let of = |bulb: f64| {
        let saturated = humidity_ratio(saturation(bulb), air).unwrap_or(f64::INFINITY);
        let cooled = 1.006 * (celsius - bulb);
        if bulb >= 0.0 {
            ((2501.0 - 2.326 * bulb) * saturated - cooled) / (2501.0 + 1.86 * celsius - 4.186 * bulb)
        } else {
            ((2830.0 - 0.24 * bulb) * saturated - cooled) / (2830.0 + 1.86 * celsius - 2.1 * bulb)
        }
    };
    crossing(-100.0, celsius, |bulb| of(bulb) - ratio)
}

/// Where a rising sum crosses zero, by halving, to a billionth; `None` where it does not between the ends.
fn crossing(low: f64, high: f64, sum: impl Fn(f64) -> f64) -> Option<f64> {
    // At saturation the wet bulb is the air's own temperature, but for the last bits.
    let at_end = sum(high);
    if !(sum(low) <= 0.0 && at_end >= -1e-12) {
        return None;
    }
    let (mut low, mut high) = (low, high);
    while high - low > 1e-9 {
        let middle = (low + high) / 2.0;
        if sum(middle) < 0.0 { low = middle } else { high = middle }
    }
    Some((low + high) / 2.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn warmer_air_holds_more_and_is_full_at_its_dew_point(celsius in -39.0f64..60.0, warmer in 0.01f64..10.0) {
            for (full, dew) in [(saturation as fn(f64) -> f64, dew_point as fn(f64) -> Option<f64>), (saturation_iso, dew_point_iso)] {
                prop_assert!(full(celsius + warmer) > full(celsius));
                let back = dew(full(celsius));
                prop_assert!(back.is_some_and(|back| (back - celsius).abs() < 1e-3), "{celsius} {back:?}");
            }
        }

        #[test]
        fn a_wet_bulb_lies_between_the_dew_point_and_the_air(celsius in 1.0f64..45.0, humidity in 0.1f64..0.99) {
            let pressure = humidity * saturation(celsius);
            let wet = wet_bulb(celsius, humidity_ratio(pressure, 101_325.0).unwrap(), 101_325.0).unwrap();
            prop_assert!(dew_point(pressure).unwrap() - 0.02 <= wet && wet <= celsius + 0.02, "{wet}");
        }
    }

    #[test]
    fn both_forms_rise_and_come_back() {
        for tenth in -400..600 {
            let celsius = f64::from(tenth) / 10.0;
            assert!(saturation(celsius + 0.1) > saturation(celsius));
            assert!(saturation_iso(celsius + 0.1) > saturation_iso(celsius));
            assert!((dew_point(saturation(celsius)).unwrap() - celsius).abs() < 1e-6);
            assert!((dew_point_iso(saturation_iso(celsius)).unwrap() - celsius).abs() < 1e-9);
        }
    }

    #[test]
    fn the_slope_is_that_of_the_curve() {
        for celsius in [-30.0, -5.0, 5.0, 35.0] {
            let (_, slope) = saturation_iso_with_slope(celsius);
            let by_steps = (saturation_iso(celsius + 1e-4) - saturation_iso(celsius - 1e-4)) / 2e-4;
            assert!((slope / by_steps - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn dew_point_lies_below_wet_bulb_below_air_and_all_meet_at_saturation() {
        for celsius in (-39..60).map(f64::from) {
            for humidity in [0.05, 0.5, 0.95] {
                let vapour = humidity * saturation(celsius);
                let ratio = humidity_ratio(vapour, STANDARD_PRESSURE).unwrap();
                let bulb = wet_bulb(celsius, ratio, STANDARD_PRESSURE).unwrap();
                assert!(dew_point(vapour).unwrap() < bulb && bulb < celsius, "{celsius} {humidity}");
            }
            let ratio = humidity_ratio(saturation(celsius), STANDARD_PRESSURE).unwrap();
            assert!((wet_bulb(celsius, ratio, STANDARD_PRESSURE).unwrap() - celsius).abs() < 1e-6);
        }
    }

    #[test]
    fn what_cannot_be_is_not_told() {
        assert_eq!(humidity_ratio(2e5, STANDARD_PRESSURE), None);
        assert_eq!(dew_point_iso(0.0), None);
        assert_eq!(dew_point(0.0), None);
        assert_eq!(wet_bulb(20.0, 0.1, STANDARD_PRESSURE), None);
    }
}
