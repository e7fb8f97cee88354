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

/// How far a piece moves from the day it goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// Shorter on the coldest day by so many metres.
    pub shortens: f64,
    /// Longer on the hottest.
    pub lengthens: f64,
}

/// How far a piece `length` metres long moves that goes on at `set` °C, between `coldest` and `hottest`. Neither is less than
/// nothing: a piece that goes on hotter than it ever gets only shortens.
pub fn travel(expansion: f64, length: f64, set: f64, coldest: f64, hottest: f64) -> Travel {
    Travel {
        shortens: change(expansion, length, (set - coldest).max(0.0)),
        lengthens: change(expansion, length, (hottest - set).max(0.0)),
    }
}

/// Change of width in metres of wood `width` metres wide when its moisture content goes `from` … `to` (shares, 0…1), with
/// `per_percent` for each percent; positive when it swells. Straight-line, valid from 6 % to fibre saturation, about 28 %: more
/// water does not swell wood further.
pub fn swelling(width: f64, from: f64, to: f64, per_percent: f64) -> f64 {
    width * (to.min(FIBRE_SATURATION) - from.min(FIBRE_SATURATION)) * 100.0 * per_percent
}

/// Moisture content above which wood swells no further, a share (wood handbooks: 0.25 to 0.30; from memory).
const FIBRE_SATURATION: f64 = 0.28;

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
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn what_a_piece_travels_in_all_does_not_hang_on_the_day_it_goes_on(
            length in 0.1f64..8.0,
            set in -20.0f64..40.0,
            other in -20.0f64..40.0,
            from in 0.05f64..0.28,
            to in 0.05f64..0.28,
        ) {
            let all = |set: f64| {
                let travel = travel(23.5e-6, length, set, -30.0, 60.0);
                travel.shortens + travel.lengthens
            };
            prop_assert!((all(set) - all(other)).abs() < 1e-12);
            // Warmer on the day: less to grow, more to shrink. Longer: more of both.
            let (cool, warm) = (travel(23.5e-6, length, set.min(other), -30.0, 60.0), travel(23.5e-6, length, set.max(other), -30.0, 60.0));
            prop_assert!(warm.lengthens <= cool.lengthens && warm.shortens >= cool.shortens);
            prop_assert!(travel(23.5e-6, 2.0 * length, set, -30.0, 60.0).lengthens >= cool.lengthens.min(warm.lengthens));
            // In millimetres a thousand times as much; there and back is nothing.
            prop_assert!((travel(23.5e-6, length * 1e3, set, -30.0, 60.0).shortens / 1e3 - travel(23.5e-6, length, set, -30.0, 60.0).shortens).abs() < 1e-12);
            prop_assert!((swelling(length, from, to, 0.0026) + swelling(length, to, from, 0.0026)).abs() < 1e-15);
            prop_assert!((frame_shrinkage(length, from.max(to), from.min(to), 0.002) + swelling(length, from.max(to), from.min(to), 0.002)).abs() < 1e-12);
        }
    }

    #[test]
    fn sodden_wood_swells_no_further() {
        assert_eq!(swelling(0.14, 0.28, 0.60, 0.0026), 0.0);
    }

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
