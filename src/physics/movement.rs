//! How much pieces grow and shrink: with heat, and as a frame of fresh wood dries.

/// Change of length in metres of a piece `length` metres long with `expansion` per kelvin over `kelvins`; negative when it
/// cools. Straight-line expansion, valid from −50 to 90 °C for solid pieces; moisture is not in it.
pub fn change(expansion: f64, length: f64, kelvins: f64) -> f64 {
    expansion * length * kelvins
}

/// Gap in metres to leave at the end of a piece that goes on at `set` °C and may reach `hottest` °C, so that `least` metres
/// are left then: g(T) = g_min + αL(T_max − T). Common practice; no standard holds the sum. A maker's number outranks it.
pub fn gap_when_set(least: f64, expansion: f64, length: f64, set: f64, hottest: f64) -> f64 {
    least + change(expansion, length, (hottest - set).max(0.0))
}

/// Lap in metres to leave so that `least` metres are left on the coldest day: lap(T) = lap_min + αL(T − T_min).
pub fn lap_when_set(least: f64, expansion: f64, length: f64, set: f64, coldest: f64) -> f64 {
    least + change(expansion, length, (set - coldest).max(0.0))
}

/// How far a frame settles, in metres: depth of its horizontal wood (m) times the loss of moisture content in percent
/// times `per_percent` (0.002 in the note to 9.27.3.8.(4) of the Canadian code, 2020, as read in a public copy; a wood
/// handbook gives 0.0025). `from` and `to` are shares, 0…1. Wood that gets wetter does not lift the frame: 0 then.
pub fn frame_shrinkage(wood: f64, from: f64, to: f64, per_percent: f64) -> f64 {
    wood * ((from - to) * 100.0).max(0.0) * per_percent
}

/// Slope, rise over run, that is left of `slope` over a ledge `ledge` metres deep when its inner edge sinks by `drop`
/// metres and its outer edge does not. Negative: it falls back to the wall. `None` for a ledge of no depth.
pub fn slope_after(slope: f64, ledge: f64, drop: f64) -> Option<f64> {
    (ledge > 0.0).then(|| slope - drop / ledge)
}

/// Slope to bend it to, so that `wanted` is left.
pub fn slope_to_start_with(wanted: f64, ledge: f64, drop: f64) -> Option<f64> {
    (ledge > 0.0).then(|| wanted + drop / ledge)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cooling_asks_for_no_gap_and_warming_for_no_lap() {
        assert_eq!(gap_when_set(0.0015, 24e-6, 3.0, 80.0, 65.0), 0.0015);
        assert_eq!(lap_when_set(0.010, 24e-6, 3.0, -40.0, -30.0), 0.010);
    }

    #[test]
    fn a_ledge_of_no_depth_has_no_slope() {
        assert_eq!(slope_after(0.06, 0.0, 0.001), None);
        assert_eq!(slope_to_start_with(0.06, 0.0, 0.001), None);
        assert_eq!(frame_shrinkage(0.349, 0.08, 0.19, 0.002), 0.0);
    }

    #[test]
    fn what_is_started_with_leaves_what_is_wanted() {
        let start = slope_to_start_with(0.06, 0.039, 0.0077).unwrap();
        assert!((slope_after(start, 0.039, 0.0077).unwrap() - 0.06).abs() < 1e-12);
    }
}
