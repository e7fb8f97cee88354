//! Wind on the outside of a wall: exposure, and the suction that pulls one piece of cladding off.
//! Indicative: an engineer confirms. The static procedure of the Canadian code (4.1.7, 2015 and 2020); other countries
//! write the same sum with other factors.

/// How much more or less wind there is at `height` metres than at 10 m over open country: `(h/10)^0.2`, not less than 0.9;
/// over rough country `0.7·(h/12)^0.3`, not less than 0.7. NBC 4.1.7.3: the open form read on a public page, the rough one
/// from memory. Valid to 20 m.
pub fn exposure_factor(height: f64, rough: bool) -> f64 {
    if rough {
        (0.7 * libm::pow((height / 12.0).max(0.0), 0.3)).max(0.7)
    } else {
        libm::pow((height / 10.0).max(0.0), 0.2).max(0.9)
    }
}

/// Pressure in Pa on the outside of a surface: importance × reference pressure × exposure × `coefficient` (gust and shape
/// taken together, negative for suction). NBC 4.1.7.3, public code site. Specified, not multiplied by a load factor.
pub fn external(importance: f64, reference: f64, exposure: f64, coefficient: f64) -> f64 {
    importance * reference * exposure * coefficient
}

/// The greatest suction in Pa that pulls one piece off the wall, positive outward: the suction outside, and the pressure
/// behind it (`inside` is gust and shape taken together, 2.0 × 0.3 for a house with few openings; its exposure 0.9 or that
/// of the height). No relief is taken for air that passes through joints.
pub fn net_suction(importance: f64, reference: f64, exposure: f64, coefficient: f64, inside: f64) -> f64 {
    let outward = -external(importance, reference, exposure, coefficient.min(0.0));
    outward + importance * reference * INSIDE_EXPOSURE * inside
}

/// Exposure that goes with pressure inside a low building: NBC 4.1.7.3, from memory.
const INSIDE_EXPOSURE: f64 = 0.9;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn low_walls_have_a_floor_and_rough_country_slows_the_wind() {
        assert_eq!(exposure_factor(3.0, false), 0.9);
        assert_eq!(exposure_factor(0.0, true), 0.7);
        assert!(exposure_factor(10.0, true) < exposure_factor(10.0, false));
        assert!(exposure_factor(-1.0, false).is_finite());
    }

    #[test]
    fn a_push_does_not_pull() {
        assert_eq!(net_suction(1.0, 450.0, 1.0, 1.75, 0.0), 0.0);
        assert!(net_suction(1.0, 450.0, 1.0, -2.1, 0.6) > net_suction(1.0, 450.0, 1.0, -1.8, 0.6));
    }
}
