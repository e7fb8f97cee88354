//! What comes in is what is held; what cannot be is an answer, not a crash.

use super::*;

fn a_wall() -> Wall {
    let gap = Piece::Gap { depth: 0.019, resistance: 0.18, open: true };
    let sheet = |dry: f64| Piece::Sheet { resistance: 0.0, air_layer: (dry, dry / 4.0) };
    let pieces = vec![
        Piece::Solid(wood(0.019, 3)),
        gap,
        sheet(0.1),
        Piece::Solid(wood(0.0111, 3)),
        Piece::Solid(wool(0.14, 7)),
        sheet(5.0),
        Piece::Solid(plain(0.0127, 3, 8.0)),
    ];
    Wall { pieces, outside: Film::WIND, inside: Film::ROOM, leak: Some(Leak { piece: 3, share: 0.01 }), drinks: false }
}

#[test]
fn nothing_gets_out_of_a_closed_box() {
    let pieces = vec![
        Piece::Solid(wood(0.02, 4)),
        Piece::Gap { depth: 0.02, resistance: 0.18, open: false },
        Piece::Solid(wool(0.1, 6)),
    ];
    let wall = wall(Film::SEALED, pieces, Film::SEALED);
    let mut run = Run::new(&wall, 20.0, 0.4).unwrap();
    run.set(0, 5.0, 0.95).unwrap();
    let air = Air::of(0.0, 0.5);
    settle(&mut run, &still(air, air));
    assert_eq!(run.water_ledger().moved, 0.0);
    near(run.water_ledger().stored, 0.0, 1e-9);
    near(run.heat_ledger().stored, 0.0, 0.05);
    // One temperature and one vapour pressure, hence one humidity, everywhere.
    let all: Vec<_> = (0..3).flat_map(|piece| run.inside_of(piece).collect::<Vec<_>>()).collect();
    assert!(
        all.iter().all(|(t, humidity)| (t - all[0].0).abs() < 1e-3 && (humidity - all[0].1).abs() < 1e-3),
        "{all:?}"
    );
}

#[test]
fn a_month_of_weather_balances() {
    let wall = a_wall();
    let mut run = Run::new(&wall, 10.0, 0.7).unwrap();
    for hour in 0..720 {
        let swing = (f64::from(hour) / 24.0 * std::f64::consts::TAU).sin();
        let weather = Hour {
            sun: 600.0 * swing.max(0.0),
            sky: 40.0 - 20.0 * swing,
            air_changes: (20.0 + 15.0 * swing) / 3600.0,
            draws: 1e-4,
            rain: if hour % 50 < 5 { 0.5 / 3600.0 } else { 0.0 },
            ..still(Air::of(-5.0 + 8.0 * swing, 0.8), Air::of(21.0, 0.4))
        };
        run.go(3600.0, &weather).unwrap();
    }
    assert!(run.water_ledger().open_by() < 1e-6, "{:?}", run.water_ledger());
    assert!(run.heat_ledger().open_by() < 1e-6, "{:?}", run.heat_ledger());
    // 75 h of 0.5 L/(m²·h), of which one percent gets in.
    near(run.water_ledger().rain + run.ran_off(), 75.0 * 0.5 * 0.01, 1e-9);
}

#[test]
fn rain_that_finds_no_room_runs_off() {
    let wall = a_wall();
    let mut run = Run::new(&wall, 10.0, 0.7).unwrap();
    run.set(3, 10.0, 1.0).unwrap();
    let hour = Hour { rain: 10.0 / 3600.0, ..still(Air::of(10.0, 0.99), Air::of(10.0, 0.99)) };
    run.go(24.0 * 3600.0, &hour).unwrap();
    near(run.water_ledger().rain + run.ran_off(), 2.4, 1e-9);
    assert!(run.ran_off() > 2.0, "{}", run.ran_off());
}

#[test]
fn what_cannot_be_is_told() {
    let air = Air::of(10.0, 0.5);
    assert_eq!(Run::new(&wall(HELD, vec![], HELD), 10.0, 0.5).unwrap_err(), Failure::Empty);
    let thin = wall(HELD, vec![Piece::Solid(wood(0.0, 3))], HELD);
    let Failure::Measure { piece: 0, what: "thickness", .. } = Run::new(&thin, 10.0, 0.5).unwrap_err() else {
        panic!()
    };
    let sound = a_wall();
    assert!(Run::new(&sound, f64::NAN, 0.5).is_err());
    assert!(Run::new(&sound, 10.0, 0.0).is_err());
    let mut run = Run::new(&sound, 10.0, 0.5).unwrap();
    for hour in [
        Hour { rain: f64::NAN, ..still(air, air) },
        Hour { air_changes: -1.0, ..still(air, air) },
        still(Air { temperature: f64::INFINITY, pressure: 0.0 }, air),
    ] {
        assert!(matches!(run.go(3600.0, &hour), Err(Failure::Given { .. })));
    }
    let leak = Some(Leak { piece: 1, share: 0.01 });
    assert!(Run::new(&Wall { leak, ..a_wall() }, 10.0, 0.5).is_err());
}
