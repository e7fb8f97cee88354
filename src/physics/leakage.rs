//! Air through cracks: the power law between flow and pressure, its fit to readings, and the areas and rates it is told as.

/// Flow at another pressure by the power law Q = C Δpⁿ (textbook; n from 0.5 for sharp holes to 1 for hairline cracks, 0.65 is
/// usual): `flow` at `from` Pa, wanted at `to` Pa, in the unit it is given in. 0 where a pressure is not positive.
pub fn at_pressure(flow: f64, from: f64, to: f64, exponent: f64) -> f64 {
    if from <= 0.0 || to <= 0.0 { 0.0 } else { flow * (to / from).powf(exponent) }
}

/// Q = C Δpⁿ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerLaw {
    /// Flow at 1 Pa, m³/(s·Paⁿ).
    pub coefficient: f64,
    /// 0.5 for sharp holes to 1 for hairline cracks.
    pub exponent: f64,
}

impl PowerLaw {
    /// Flow in m³/s at `pressure` Pa; against the wind where that is negative.
    pub fn flow(self, pressure: f64) -> f64 {
        (self.coefficient * libm::pow(pressure.abs(), self.exponent)).copysign(pressure)
    }

    /// The area in m² of one opening, with the coefficient of discharge `discharge`, that lets as much through at `pressure` Pa:
    /// Q / (Cd √(2 Δp/ρ)), `density` in kg/m³. 0 without pressure.
    pub fn area(self, pressure: f64, discharge: f64, density: f64) -> f64 {
        let speed = libm::sqrt(2.0 * pressure.max(0.0) / density);
        if speed > 0.0 { self.flow(pressure) / (discharge * speed) } else { 0.0 }
    }

    /// Effective leakage area, m²: at 4 Pa, coefficient 1 (the form of ASTM E779, from memory).
    pub fn effective_area(self, density: f64) -> f64 {
        self.area(4.0, 1.0, density)
    }

    /// Equivalent leakage area, m²: at 10 Pa, coefficient 0.611 (the form of CGSB 149.10, from memory).
    pub fn equivalent_area(self, density: f64) -> f64 {
        self.area(10.0, 0.611, density)
    }
}

/// The power law nearest to readings of (pressure Pa, flow m³/s): the straight line of least squares through their logarithms.
/// `None` with fewer than two different pressures; readings that are not positive do not count.
pub fn fit(readings: &[(f64, f64)]) -> Option<PowerLaw> {
    let points: Vec<(f64, f64)> = readings
        .iter()
        .filter(|(pressure, flow)| *pressure > 0.0 && *flow > 0.0)
        .map(|(pressure, flow)| (libm::log(*pressure), libm::log(*flow)))
        .collect();
    let count = points.len() as f64;
    let (mean_x, mean_y) = (
        points.iter().map(|point| point.0).sum::<f64>() / count,
        points.iter().map(|point| point.1).sum::<f64>() / count,
    );
    let spread: f64 = points.iter().map(|(x, _)| (x - mean_x) * (x - mean_x)).sum();
    if points.len() < 2 || spread < 1e-12 {
        return None;
    }
    let slope = points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum::<f64>() / spread;
    Some(PowerLaw { coefficient: libm::exp(mean_y - slope * mean_x), exponent: slope })
}

/// Flow through each m² of envelope in L/(s·m²) from changes of air in an hour: volume m³, envelope m². `None` without envelope.
pub fn each_area(changes: f64, volume: f64, envelope: f64) -> Option<f64> {
    (envelope > 0.0).then(|| changes * volume / 3.6 / envelope)
}

/// Changes of air in an hour from the flow through each m² of envelope, L/(s·m²). `None` without volume.
pub fn changes(each_area: f64, volume: f64, envelope: f64) -> Option<f64> {
    (volume > 0.0).then(|| each_area * envelope * 3.6 / volume)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_fit_finds_the_law_it_was_made_of(
            coefficient in 1e-4f64..0.5,
            exponent in 0.5f64..1.0,
            pressure in 1.0f64..40.0,
            scale in 0.1f64..100.0,
        ) {
            let law = PowerLaw { coefficient, exponent };
            let readings: Vec<(f64, f64)> = (1..6).map(|at| pressure * f64::from(at)).map(|at| (at, law.flow(at))).collect();
            let found = fit(&readings).unwrap();
            prop_assert!((found.coefficient / coefficient - 1.0).abs() < 1e-9);
            prop_assert!((found.exponent - exponent).abs() < 1e-9);
            // Another unit of flow changes the coefficient and nothing else.
            let scaled: Vec<(f64, f64)> = readings.iter().map(|(at, flow)| (*at, flow * scale)).collect();
            let other = fit(&scaled).unwrap();
            prop_assert!((other.exponent - found.exponent).abs() < 1e-9);
            prop_assert!((other.coefficient / found.coefficient / scale - 1.0).abs() < 1e-9);
            prop_assert!(law.flow(pressure + 1.0) > law.flow(pressure));
            prop_assert_eq!(law.flow(-pressure), -law.flow(pressure));
            let back = changes(each_area(3.0, 400.0, 480.0).unwrap(), 400.0, 480.0).unwrap();
            prop_assert!((back - 3.0).abs() < 1e-12);
        }
    }

    #[test]
    fn one_reading_makes_no_law() {
        assert_eq!(fit(&[(50.0, 0.6)]), None);
        assert_eq!(fit(&[(50.0, 0.6), (50.0, 0.7)]), None);
        assert_eq!(fit(&[]), None);
        assert_eq!(PowerLaw { coefficient: 0.05, exponent: 0.65 }.area(0.0, 1.0, 1.2), 0.0);
    }

    /// Worked by hand and recomputed: C 0.05 m³/(s·Paⁿ), n 0.65 gives 0.1231 at 4, 0.6358 at 50 and 0.8275 at 75 Pa; and 2.0 at
    /// 75 Pa is 1.537 at 50 and 0.298 at 4.
    #[test]
    fn flows_follow_the_worked_case() {
        for (pressure, flow) in [(4.0, 0.1231), (10.0, 0.2233), (50.0, 0.6358)] {
            let found = at_pressure(0.8275, 75.0, pressure, 0.65);
            assert!((found - flow).abs() < 1e-3 * flow, "{pressure} Pa: {found}");
        }
        assert!((at_pressure(2.0, 75.0, 50.0, 0.65) - 1.537).abs() < 1e-3);
        assert!((at_pressure(2.0, 75.0, 4.0, 0.65) - 0.298).abs() < 1e-3);
        assert_eq!(at_pressure(2.0, 75.0, 0.0, 0.65), 0.0);
    }
}
