//! What it comes to when nothing changes any more.

use super::*;
use crate::physics::layers::{AIR_PERMEABILITY, SURFACE_INSIDE, SURFACE_OUTSIDE};
use crate::physics::moisture::{self, glaser, glaser::Slab};

/// Board, sheet, wool, board: dry enough that nothing condenses.
fn layered() -> Wall {
    let (board, inner) = (plain(0.012, 3, 50.0), plain(0.0125, 3, 8.0));
    let sheet = Piece::Sheet { resistance: 0.0, air_layer: (2.0, 2.0) };
    let wool = Solid { conductivity: 0.035, ..plain(0.14, 8, 1.0) };
    wall(Film::WIND, vec![Piece::Solid(board), Piece::Solid(wool), sheet, Piece::Solid(inner)], Film::ROOM)
}

#[test]
fn resistances_one_behind_another_carry_heat_and_vapour() {
    let wall = layered();
    let mut run = Run::new(&wall, 10.0, 0.5).unwrap();
    let hour = still(Air::of(-5.0, 0.5), Air::of(20.0, 0.3));
    settle(&mut run, &hour);
    run.restart().unwrap();
    run.go(3600.0, &hour).unwrap();
    // Vapour: films, boards, wool, sheet in a row (the way of ISO 13788 where nothing condenses).
    let films = 1.0 / Film::WIND.vapour + 1.0 / Film::ROOM.vapour;
    let resists = films + (0.012 * 50.0 + 0.14 + 2.0 + 0.0125 * 8.0) / AIR_PERMEABILITY;
    let flow = (hour.inside.pressure - hour.outside.pressure) / resists;
    near(run.water_ledger().inside / 3600.0, flow, 1e-6 * flow);
    near(run.water_ledger().outside / 3600.0, -flow, 1e-6 * flow);
    // Heat: the same, with what the vapour carries. Its own warmth is not quite the same on its way, hence the margin.
    let total = SURFACE_OUTSIDE + 0.012 / 0.12 + 0.14 / 0.035 + 0.0125 / 0.12 + SURFACE_INSIDE;
    let carried = flow * vapour::heat(20.0);
    near(run.heat_ledger().inside / 3600.0, 25.0 / total + carried, 1e-3);
}

#[test]
fn a_sheet_counts_by_its_dry_cup_in_dry_air_and_by_its_wet_cup_in_damp_air() {
    for (outside, inside, air_layer) in [(0.1, 0.2, 5.0), (0.8, 0.95, 0.25)] {
        let sheet = Piece::Sheet { resistance: 0.0, air_layer: (5.0, 0.25) };
        let board = || Piece::Solid(plain(0.01, 2, 1.0));
        let wall = wall(HELD, vec![board(), sheet, board()], HELD);
        let mut run = Run::new(&wall, 20.0, (outside + inside) / 2.0).unwrap();
        let hour = still(Air::of(20.0, outside), Air::of(20.0, inside));
        settle(&mut run, &hour);
        run.restart().unwrap();
        run.go(3600.0, &hour).unwrap();
        let flow = (hour.inside.pressure - hour.outside.pressure) * AIR_PERMEABILITY / (0.02 + air_layer);
        near(run.water_ledger().inside / 3600.0, flow, 1e-4 * flow);
    }
}

#[test]
fn temperatures_and_pressures_lie_on_straight_lines() {
    let wall = wall(HELD, vec![Piece::Solid(plain(0.1, 10, 20.0))], HELD);
    let mut run = Run::new(&wall, 10.0, 0.5).unwrap();
    let (outside, inside) = (Air::of(0.0, 0.6), Air::of(20.0, 0.5));
    settle(&mut run, &still(outside, inside));
    for (at, (temperature, humidity)) in run.inside_of(0).enumerate() {
        let share = (at as f64 + 0.5) / 10.0;
        near(temperature, 20.0 * share, 1e-3);
        let pressure = outside.pressure + (inside.pressure - outside.pressure) * share;
        near(humidity * vapour::saturation(temperature).0, pressure, 1e-4 * pressure);
    }
}

#[test]
fn a_wet_surface_cools_until_heat_in_pays_for_vapour_out() {
    // A wet sheet, sealed behind: h (T_a − T) = β (p_sat(T) − p_a) h_v, solved here by halving. The film carries the heat of
    // vapour at its own middle temperature, as the balance does.
    let film = Film { heat: 10.0, vapour: 10.0 * LEWIS };
    let pad = Solid { conductivity: 100.0, ..wood(0.01, 1) };
    let pad = Solid { vapour_factor: (0.001, 0.001), ..pad };
    let wall = wall(film, vec![Piece::Solid(pad)], Film::SEALED);
    let mut run = Run::new(&wall, 25.0, 1.002).unwrap();
    let air = Air::of(25.0, 0.4);
    for _ in 0..48 {
        run.go(3600.0, &still(air, air)).unwrap();
    }
    let (wet, humidity) = run.inside_of(0).next().unwrap();
    assert!((1.0..1.002).contains(&humidity), "dried out: {humidity}");
    let open = |t: f64| {
        film.heat * (25.0 - t)
            - film.vapour
                * (humidity * vapour::saturation(t).0 - air.pressure)
                * (vapour::heat((t + 25.0) / 2.0) - vapour::WATER_CAPACITY * t)
    };
    let (mut low, mut high) = (0.0, 25.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if open(middle) > 0.0 { low = middle } else { high = middle }
    }
    near(wet, low, 0.005);
    // Near the wet-bulb temperature of air at 25 °C and 40 % (16.2 °C by the psychrometric chart, from memory).
    near(wet, 16.2, 0.7);
}

#[test]
fn an_open_gap_stands_between_what_diffuses_in_and_what_air_takes_away() {
    let gap = Piece::Gap { depth: 0.02, resistance: 0.18, open: true };
    let wall = wall(Film::SEALED, vec![gap, Piece::Solid(plain(0.012, 4, 20.0))], Film::ROOM);
    let mut run = Run::new(&wall, 10.0, 0.5).unwrap();
    let hour = Hour { air_changes: 20.0 / 3600.0, ..still(Air::of(5.0, 0.7), Air::of(20.0, 0.5)) };
    settle(&mut run, &hour);
    let (warmth, humidity) = run.inside_of(0).next().unwrap();
    let pressure = humidity * vapour::saturation(warmth).0;
    let resists = 0.005 / AIR_PERMEABILITY + 0.012 * 20.0 / AIR_PERMEABILITY + 1.0 / Film::ROOM.vapour;
    let arrives = (hour.inside.pressure - pressure) / resists;
    let leaves = 0.02
        * hour.air_changes
        * (vapour::density(pressure, warmth) - vapour::density(hour.outside.pressure, hour.outside.temperature));
    near(arrives, leaves, 1e-6 * leaves);
    // And heat: through half the gap's resistance, the board and the film, against the air that goes.
    let conducted = (20.0 - warmth) / (0.09 + 0.012 / 0.12 + SURFACE_INSIDE);
    let away = 0.02 * hour.air_changes * vapour::AIR_CAPACITY * (warmth - 5.0);
    near(conducted, away, 0.01 * away + 0.05);
}

#[test]
fn frost_gathers_at_the_rate_of_the_monthly_method() {
    // Tight board outside, open wool, one plane of condensation: g = (p_i − p_c)/Z_i − (p_c − p_e)/Z_e with the temperature that
    // the plane has (ISO 13788 from memory). Held surfaces, so that both ways count the same.
    let board = Solid { isotherm: Isotherm::bent(20.0, 300.0).unwrap(), ..plain(0.01, 6, 200.0) };
    let wool = Solid { isotherm: Isotherm::bent(0.1, 100.0).unwrap(), vapour_factor: (1.0, 1.0), ..wool(0.1, 40) };
    let wall = wall(HELD, vec![Piece::Solid(board), Piece::Solid(wool)], HELD);
    let mut run = Run::new(&wall, 5.0, 0.9).unwrap();
    let hour = still(Air::of(-10.0, 0.8), Air::of(20.0, 0.5));
    for _ in 0..24 * 20 {
        run.go(3600.0, &hour).unwrap();
    }
    let before = run.water_in(0) + run.water_in(1);
    run.go(24.0 * 3600.0, &hour).unwrap();
    let rate = (run.water_in(0) + run.water_in(1) - before) / (24.0 * 3600.0);
    let plane = run.inside_of(1).next().unwrap().0 - 0.5 * (0.1 / 40.0) * 300.0;
    let full = vapour::saturation(plane).0;
    let inner = (hour.inside.pressure - full) * AIR_PERMEABILITY / 0.1;
    let outer = (full - hour.outside.pressure) * AIR_PERMEABILITY / (0.01 * 200.0);
    near(rate, inner - outer, 0.03 * (inner - outer));
    // And by the monthly method itself, which leaves out the heat that freed vapour brings to the plane: held closer than 10 %.
    let layers = vec![Slab { resistance: 0.01 / 0.12, air: 2.0 }, Slab { resistance: 0.1 / 0.038, air: 0.1 }];
    let cut = glaser::Wall { outside: 1e-9, layers, inside: 1e-9 }.cut().unwrap();
    let wet: Vec<bool> = cut.places.iter().map(|place| (place.air - 2.0).abs() < 1e-9).collect();
    assert_eq!(wet.iter().filter(|wet| **wet).count(), 1);
    let airs = (moisture::Air::of_humidity(-10.0, 0.8), moisture::Air::of_humidity(20.0, 0.5));
    let monthly: f64 = cut.between(airs.0, airs.1, &wet).gain.iter().sum();
    near(rate, monthly, 0.1 * monthly);
}
