//! Random walls in random weather: balances close, nothing is no number, air that is drier dries.

use proptest::prelude::*;

use super::*;

fn solid() -> impl Strategy<Value = Solid> {
    let measures = (0.005..0.2_f64, 0.02..2.0_f64, 15.0..2400.0_f64, 800.0..2000.0_f64);
    (measures, 1.0..300.0_f64, 0.2..1.0_f64, 0.1..200.0_f64, 1.5..60.0_f64, (1..5_usize, absorption())).prop_map(
        |((thickness, conductivity, density, heat_capacity), dry, wet, at_80, times, (cells, absorption))| Solid {
            thickness,
            conductivity,
            density,
            heat_capacity,
            vapour_factor: (dry, (dry * wet).max(1.0)),
            isotherm: Isotherm::bent(at_80, at_80 * times).unwrap(),
            absorption,
            cells,
        },
    )
}

fn absorption() -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 2 => (-4.0..-0.5_f64).prop_map(|power| 10.0_f64.powf(power))]
}

fn piece() -> impl Strategy<Value = Piece> {
    prop_oneof![
        4 => solid().prop_map(Piece::Solid),
        1 => (0.0..0.1_f64, (0.01..1000.0_f64, 0.01..1000.0_f64))
            .prop_map(|(resistance, air_layer)| Piece::Sheet { resistance, air_layer }),
        1 => (0.005..0.1_f64, any::<bool>()).prop_map(|(depth, open)| Piece::Gap { depth, resistance: 0.18, open }),
    ]
}

fn any_wall() -> impl Strategy<Value = Wall> {
    (prop::collection::vec(piece(), 0..7), solid(), any::<(bool, bool)>()).prop_map(
        |(mut pieces, last, (leaks, drinks))| {
            pieces.push(Piece::Solid(last));
            let leak = leaks.then_some(Leak { piece: pieces.len() - 1, share: 0.01 });
            Wall { pieces, outside: Film::WIND, inside: Film::ROOM, leak, drinks }
        },
    )
}

fn hour() -> impl Strategy<Value = Hour> {
    let outside = (-40.0..45.0_f64, 0.02..1.0_f64);
    let sun = (prop_oneof![1 => Just(0.0), 1 => 0.0..900.0_f64], -10.0..90.0_f64);
    let gap = (0.0..0.1_f64, prop_oneof![1 => Just(0.0), 1 => 0.0..2e-3_f64]);
    let rain = prop_oneof![2 => Just(0.0), 1 => 0.0..5e-3_f64];
    let room = (15.0..25.0_f64, 0.1..0.95_f64);
    (outside, room, sun, gap, rain).prop_map(|(out, room, (sun, sky), (air_changes, draws), rain)| Hour {
        outside: Air::of(out.0, out.1),
        inside: Air::of(room.0, room.1),
        sun,
        sky,
        air_changes,
        draws,
        rain,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn balances_close_and_numbers_are_numbers(
        wall in any_wall(),
        hours in prop::collection::vec(hour(), 1..40),
        start in (-10.0..30.0_f64, 0.05..1.001_f64),
    ) {
        let mut run = Run::new(&wall, start.0, start.1).unwrap();
        for hour in &hours {
            // Hours of weather and weeks of it.
            run.go(3600.0, hour).unwrap();
            run.go(20_000.0, hour).unwrap();
        }
        prop_assert!(run.water_ledger().open_by() < 1e-6, "{:?}", run.water_ledger());
        prop_assert!(run.heat_ledger().open_by() < 1e-6, "{:?}", run.heat_ledger());
        for piece in 0..wall.pieces.len() {
            for (temperature, humidity) in run.inside_of(piece) {
                prop_assert!(temperature.is_finite() && (-80.0..150.0).contains(&temperature), "{temperature}");
                prop_assert!(humidity.is_finite() && humidity > 0.0 && humidity < 1.1, "{humidity}");
            }
        }
    }

    #[test]
    fn more_dry_air_never_makes_the_gap_wetter(
        back in solid(),
        depth in 0.01..0.05_f64,
        changes in (0.0..0.05_f64, 0.0..0.05_f64),
        warmth in 0.0..25.0_f64,
        wet in 0.85..1.0_f64,
    ) {
        let pieces = vec![Piece::Gap { depth, resistance: 0.18, open: true }, Piece::Solid(back)];
        let wall = wall(Film::SEALED, pieces, Film::SEALED);
        // All at one temperature, so that only the vapour counts, held there by a great capacity.
        let wall = Wall { pieces: wall.pieces.into_iter().map(heavy).collect(), ..wall };
        let air = Air::of(warmth, 0.4);
        let gap_after = |air_changes: f64| {
            let mut run = Run::new(&wall, warmth, wet).unwrap();
            for _ in 0..100 {
                run.go(3600.0, &Hour { air_changes, ..still(air, air) }).unwrap();
            }
            let gap = run.inside_of(0).next().unwrap();
            (gap.1, run.water_in(1))
        };
        let (few, many) = (gap_after(changes.0.min(changes.1)), gap_after(changes.0.max(changes.1)));
        prop_assert!(many.0 <= few.0 + 1e-9 && many.1 <= few.1 + 1e-9, "{few:?} {many:?}");
    }

    #[test]
    fn a_wall_cut_at_no_seam_is_the_same_wall(solid in solid(), hours in prop::collection::vec(hour(), 1..10)) {
        // Liquid does not pass a seam.
        let solid = Solid { absorption: 0.0, ..solid };
        let whole = wall(Film::WIND, vec![Piece::Solid(Solid { cells: 4, ..solid.clone() })], Film::ROOM);
        let half = Solid { cells: 2, thickness: solid.thickness / 2.0, ..solid };
        let halves = wall(Film::WIND, vec![Piece::Solid(half.clone()), Piece::Solid(half)], Film::ROOM);
        let (mut one, mut two) = (Run::new(&whole, 10.0, 0.5).unwrap(), Run::new(&halves, 10.0, 0.5).unwrap());
        for hour in &hours {
            one.go(3600.0, hour).unwrap();
            two.go(3600.0, hour).unwrap();
        }
        near(one.water_in(0), two.water_in(0) + two.water_in(1), 1e-7);
    }
}

fn heavy(piece: Piece) -> Piece {
    match piece {
        Piece::Solid(solid) => Piece::Solid(Solid { heat_capacity: 1e10, ..solid }),
        other => other,
    }
}
