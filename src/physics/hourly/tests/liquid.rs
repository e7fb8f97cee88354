//! Liquid in layers: what a wetted face takes up, how it spreads, what stops it.

use super::*;

/// Tight to vapour, so that only liquid moves; straight isotherm.
fn thirsty(thickness: f64, cells: usize, absorption: f64) -> Solid {
    Solid {
        vapour_factor: (1e9, 1e9),
        absorption,
        isotherm: Isotherm::straight(300.0).unwrap(),
        ..wood(thickness, cells)
    }
}

fn wetted(solid: Solid) -> Wall {
    Wall { drinks: true, ..wall(Film::SEALED, vec![Piece::Solid(solid)], Film::SEALED) }
}

/// More rain than anything drinks.
fn pour(celsius: f64) -> Hour {
    Hour { rain: 1.0, ..still(Air::of(celsius, 0.5), Air::of(celsius, 0.5)) }
}

#[test]
fn a_deep_dry_layer_takes_up_the_root_of_time() {
    let absorption = 0.02;
    let wall = wetted(thirsty(0.12, 240, absorption));
    let mut run = Run::new(&wall, 20.0, 1e-4).unwrap();
    for hours in 1..=16_i32 {
        run.longest = 30.0;
        run.go(3600.0, &pour(20.0)).unwrap();
        let closed = absorption * (f64::from(hours) * 3600.0).sqrt();
        if [1, 4, 9, 16].contains(&hours) {
            near(run.drunk(), closed, 0.02 * closed);
        }
    }
    near(run.water_ledger().stored, run.drunk(), 1e-9);
    assert!(run.water_ledger().open_by() < 1e-6 && run.heat_ledger().open_by() < 1e-6);
}

#[test]
fn light_rain_is_drunk_whole_and_a_full_board_drinks_no_more() {
    let wall = wetted(thirsty(0.02, 5, 0.01));
    let mut run = Run::new(&wall, 15.0, 0.3).unwrap();
    run.go(3600.0, &Hour { rain: 1e-5, ..pour(15.0) }).unwrap();
    near(run.drunk(), 0.036, 1e-9);
    for _ in 0..24 * 20 {
        run.go(3600.0, &pour(15.0)).unwrap();
    }
    near(run.water_in(0), 300.0 * 0.02, 0.01);
    let before = run.drunk();
    run.go(24.0 * 3600.0, &pour(15.0)).unwrap();
    assert!(run.drunk() - before < 1e-3);
}

#[test]
fn water_spreads_until_it_stands_evenly() {
    let wall = wall(Film::SEALED, vec![Piece::Solid(thirsty(0.02, 8, 0.02))], Film::SEALED);
    let mut run = Run::new(&wall, 20.0, 0.2).unwrap();
    run.set_cells(0, 4, 20.0, 0.9).unwrap();
    let air = Air::of(20.0, 0.5);
    settle(&mut run, &still(air, air));
    run.inside_of(0).for_each(|(_, humidity)| near(humidity, 0.55, 1e-6));
    near(run.water_ledger().stored, 0.0, 1e-9);
}

#[test]
fn frozen_water_stays_where_it_is() {
    let wall = wetted(thirsty(0.02, 8, 0.02));
    let mut run = Run::new(&wall, -5.0, 0.2).unwrap();
    run.set_cells(0, 4, -5.0, 0.9).unwrap();
    run.go(24.0 * 3600.0, &pour(-5.0)).unwrap();
    let humid: Vec<f64> = run.inside_of(0).map(|(_, humidity)| humidity).collect();
    near(humid[0], 0.9, 1e-6);
    near(humid[7], 0.2, 1e-6);
    near(run.drunk(), 0.0, 1e-12);
    let filled: Vec<f64> = run.filling(0).map(|(_, share)| share).collect();
    near(filled[0], 0.9, 1e-6);
}

#[test]
fn a_board_that_wicks_dries_sooner() {
    let left = |absorption: f64| {
        let board = Solid { absorption, ..wood(0.02, 8) };
        let wall = wall(Film::WIND, vec![Piece::Solid(board)], Film::SEALED);
        let mut run = Run::new(&wall, 15.0, 0.6).unwrap();
        run.set(0, 15.0, 1.0).unwrap();
        for _ in 0..24 * 20 {
            run.go(3600.0, &still(Air::of(15.0, 0.6), Air::of(15.0, 0.6))).unwrap();
        }
        run.water_in(0)
    };
    assert!(left(0.01) < 0.9 * left(0.0), "{} {}", left(0.01), left(0.0));
}
