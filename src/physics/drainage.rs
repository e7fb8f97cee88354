//! Water between two faces that stand close: how fast it runs down, and how much of it stays.

/// Gravity, m/s².
const GRAVITY: f64 = 9.806_65;
/// Density of water at 20 °C, kg/m³ (common tables, from memory).
const WATER: f64 = 998.2;
/// Viscosity of water at 20 °C, Pa·s (common tables, from memory).
const VISCOSITY: f64 = 1.002e-3;
/// Surface tension of water against air at 20 °C, N/m (common tables, from memory).
const TENSION: f64 = 0.0728;
/// Flow between plates is laminar below this Reynolds number, taken with twice their distance (textbook).
const LAMINAR: f64 = 2300.0;

/// What runs down each metre of a gap `depth` metres deep that is full of water at 20 °C, m³/(s·m): ρ g d³/(12 μ), laminar
/// flow between plates (textbook, from memory). No gap lets more through: real ones hold water, and it runs as rivulets.
/// `None` for no gap, and where the flow is turbulent, from about 1.1 mm on.
pub fn film(depth: f64) -> Option<f64> {
    let flow = WATER * GRAVITY * depth * depth * depth / (12.0 * VISCOSITY);
    (depth > 0.0 && 2.0 * flow * WATER / VISCOSITY <= LAMINAR).then_some(flow)
}

/// How high water stands between two upright wet faces `depth` metres apart, in metres: 2 γ/(ρ g d) (textbook, from memory; the
/// water wets both faces). `None` for no gap.
pub fn capillary_rise(depth: f64) -> Option<f64> {
    (depth > 0.0).then(|| 2.0 * TENSION / (WATER * GRAVITY * depth))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_deeper_gap_lets_more_down_and_holds_less_up(depth in 1e-5f64..1.2e-3, more in 1.0f64..3.0) {
            prop_assert!(capillary_rise(depth * more).unwrap() <= capillary_rise(depth).unwrap());
            if let (Some(one), Some(other)) = (film(depth), film(depth * more)) {
                prop_assert!((other / one / (more * more * more) - 1.0).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_wide_gap_holds_little_and_has_no_laminar_film() {
        assert!(capillary_rise(0.010).unwrap() < capillary_rise(0.001).unwrap() / 9.9);
        assert!(film(0.001).is_some());
        for depth in [0.0, -1.0, 0.002, 0.019] {
            assert_eq!(film(depth), None);
        }
        assert_eq!(capillary_rise(0.0), None);
    }
}
