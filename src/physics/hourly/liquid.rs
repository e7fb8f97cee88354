//! How fast liquid moves in what was wetted, from the water absorption coefficient.
//!
//! The diffusivity of liquid rises with the water content from next to nothing to that of the wetted face, by three powers of ten:
//! D(w) = 3.8 (A / w_f)² · 1000^(w/w_f − 1), a usual form for building materials under rain (published 1995, from memory). The
//! number before it is the one with which a dry half space takes up A √t: Soil Science 119 (1975), page 158 (from memory), gives
//! 3.72 for this shape.

/// Diffusivity at free saturation by the square of A / w_f.
const FULL: f64 = 3.8;
/// How often the diffusivity at free saturation is that of nothing.
const RISE: f64 = 1000.0;

/// Diffusivity of liquid, m²/s, where a share `filled` of free saturation (`saturated`, kg/m³) is held; `absorption` in
/// kg/(m²·√s).
pub fn diffusivity(absorption: f64, saturated: f64, filled: f64) -> f64 {
    let ratio = absorption / saturated;
    FULL * ratio * ratio * libm::pow(RISE, filled.clamp(0.0, 1.0) - 1.0)
}

/// Its integral over the water from nothing to `filled`, kg/(m·s): liquid flows down this, whatever the water between.
pub fn potential(absorption: f64, saturated: f64, filled: f64) -> f64 {
    let most = diffusivity(absorption, saturated, filled) - diffusivity(absorption, saturated, 0.0);
    most * saturated / libm::log(RISE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_potential_is_the_integral_of_the_diffusivity() {
        let (absorption, saturated) = (0.02, 300.0);
        let steps = 20_000;
        for filled in [0.2, 0.7, 1.0] {
            let at = |step: i32| filled * (f64::from(step) + 0.5) / f64::from(steps);
            let sum: f64 = (0..steps).map(|step| diffusivity(absorption, saturated, at(step))).sum();
            let sum = sum * filled * saturated / f64::from(steps);
            let ours = potential(absorption, saturated, filled);
            assert!((ours - sum).abs() < 1e-6 * sum, "{ours} {sum}");
        }
        assert_eq!(potential(0.0, saturated, 0.5), 0.0);
    }
}
