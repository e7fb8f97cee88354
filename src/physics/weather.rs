//! Two lengths that weather gives a wall: how wide its windy edges are, and how high the dams of its flashings stand.

/// Width in metres of the zone along the edges of a wall where suction is greatest: the lesser of a tenth of the least
/// width of the building and two fifths of its height, but no less than 4 % of that width or 1 m. Note to 4.1.7.6 of the
/// Canadian code, as read on a public page; low buildings only (height no more than 20 m and less than the least width).
pub fn edge_zone(least_width: f64, height: f64) -> f64 {
    edge_zone_from(least_width, height, 1.0)
}

/// The same with another least width: 0.914 m (3 ft) in ASCE 7, from memory.
pub fn edge_zone_from(least_width: f64, height: f64, least: f64) -> f64 {
    (0.1 * least_width).min(0.4 * height).max(0.04 * least_width).max(least)
}

/// Least height in metres of the dams at the ends of a flashing under a driving-rain wind pressure in pascals: 25 mm, or
/// 1 mm for every 10 Pa. 9.27.3.8.(4)(c) of the Canadian code, from memory. 10 Pa hold up a column of water 1.02 mm high.
pub fn end_dam(pressure: f64) -> f64 {
    (pressure / 10_000.0).max(0.025)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_zone_has_a_floor_and_a_low_building_a_narrow_one() {
        assert_eq!(edge_zone(5.0, 3.0), 1.0);
        // 0.4 × 3 = 1.2 is less than a tenth of 20 and more than 4 % of it.
        assert!((edge_zone(20.0, 3.0) - 1.2).abs() < 1e-12);
        assert!((edge_zone(40.0, 3.0) - 1.6).abs() < 1e-12);
    }

    #[test]
    fn a_dam_is_never_lower_than_an_inch_or_so() {
        assert_eq!(end_dam(0.0), 0.025);
        assert!((end_dam(400.0) - 0.040).abs() < 1e-12);
    }
}
