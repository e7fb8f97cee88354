//! Air through cracks: the power law between flow and pressure.

/// Flow at another pressure by the power law Q = C Δpⁿ (textbook; n from 0.5 for sharp holes to 1 for hairline cracks, 0.65 is
/// usual): `flow` at `from` Pa, wanted at `to` Pa, in the unit it is given in. 0 where a pressure is not positive.
pub fn at_pressure(flow: f64, from: f64, to: f64, exponent: f64) -> f64 {
    if from <= 0.0 || to <= 0.0 { 0.0 } else { flow * (to / from).powf(exponent) }
}

#[cfg(test)]
mod tests {
    use super::*;

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
