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
pub const INSIDE_EXPOSURE: f64 = 0.9;

/// Gust factor that goes with pressure inside a building: NBC 4.1.7.3, public page.
pub const INSIDE_GUST: f64 = 2.0;

/// What a wall carries in Pa, positive inward: pressure outside less pressure inside (NBC 4.1.7.3).
pub fn net(outside: f64, inside: f64) -> f64 {
    outside - inside
}

/// Where on a wall a piece hangs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zone {
    /// Away from the edges.
    Field,
    /// In the windy strip at the corners.
    Corner,
}

/// Gust and shape taken together of the greatest suction on the cladding of a wall of a low building, negative, for a piece
/// that carries the wind of `area` m²: −1.8 in the field and −2.1 at the corners up to 1 m², both −1.5 from 50 m² on, in
/// proportion to the logarithm between. NBC 4.1.7.6, figure for single walls, from memory. Height up to 20 m.
pub fn wall_suction(zone: Zone, area: f64) -> f64 {
    let small = if zone == Zone::Field { -1.8 } else { -2.1 };
    by_logarithm(area, (1.0, small), (50.0, -1.5))
}

/// The same for the greatest push: 1.75 up to 1 m², 1.3 from 50 m² on; from memory as well.
pub fn wall_push(area: f64) -> f64 {
    by_logarithm(area, (1.0, 1.75), (50.0, 1.3))
}

/// How leaky a building is to the wind, for the pressure inside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Openings {
    /// Spread evenly and small: no large opening.
    Even,
    /// Not evenly spread, shut in storms: a house.
    ShutInStorms,
    /// Large ones that may stand open in a storm.
    Large,
}

/// Least and greatest shape factor of the pressure inside: −0.15…0, −0.45…0.3 and −0.7…0.7 (NBC 4.1.7; the middle one read
/// on a public page, the others from memory).
pub fn inside_shapes(openings: Openings) -> (f64, f64) {
    match openings {
        Openings::Even => (-0.15, 0.0),
        Openings::ShutInStorms => (-0.45, 0.3),
        Openings::Large => (-0.7, 0.7),
    }
}

/// Between two points of (area, value) in proportion to the logarithm of the area; level outside them.
pub(super) fn by_logarithm(area: f64, small: (f64, f64), large: (f64, f64)) -> f64 {
    let area = area.clamp(small.0, large.0);
    let part = libm::log(area / small.0) / libm::log(large.0 / small.0);
    small.1 + part * (large.1 - small.1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn wind_grows_with_height_and_pressure_and_eases_over_area(
            height in 1.0f64..20.0,
            higher in 0.0f64..10.0,
            area in 0.1f64..100.0,
            larger in 0.0f64..100.0,
            reference in 100.0f64..1500.0,
        ) {
            for rough in [false, true] {
                prop_assert!(exposure_factor(height + higher, rough) >= exposure_factor(height, rough));
            }
            for zone in [Zone::Field, Zone::Corner] {
                prop_assert!(wall_suction(zone, area + larger) >= wall_suction(zone, area));
                prop_assert!(wall_suction(zone, area) <= -1.5);
            }
            prop_assert!(wall_suction(Zone::Corner, area) <= wall_suction(Zone::Field, area));
            prop_assert!(wall_push(area + larger) <= wall_push(area));
            // Twice the pressure, twice the load; in kilopascals a thousandth of it.
            let suction = |reference: f64| net_suction(1.0, reference, exposure_factor(height, false), -2.1, 0.6);
            prop_assert!((suction(2.0 * reference) / suction(reference) - 2.0).abs() < 1e-12);
            prop_assert!((suction(reference / 1e3) * 1e3 / suction(reference) - 1.0).abs() < 1e-12);
        }
    }

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
