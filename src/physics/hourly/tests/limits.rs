//! Solutions in closed form of what moves in time.

use super::*;
use crate::physics::layers::AIR_PERMEABILITY;

/// Deep, vapour tight: a half space for heat.
fn deep(cells: usize, depth: f64) -> Solid {
    Solid { vapour_factor: (1e9, 1e9), ..plain(depth, cells, 1.0) }
}

/// Free water warms with the layer: its heat counts.
fn diffusivity(solid: &Solid, humidity: f64) -> f64 {
    let capacity = solid.density * solid.heat_capacity + solid.isotherm.water(humidity).0 * vapour::WATER_CAPACITY;
    solid.conductivity / capacity
}

#[test]
fn a_step_of_warmth_goes_in_by_erfc() {
    let solid = deep(400, 0.4);
    let wall = wall(HELD, vec![Piece::Solid(solid.clone())], Film::SEALED);
    let mut run = Run::new(&wall, 0.0, 0.01).unwrap();
    run.longest = 60.0;
    let hour = still(Air { temperature: 10.0, pressure: 0.0 }, Air::of(0.0, 0.1));
    run.go(6.0 * 3600.0, &hour).unwrap();
    let spread = 2.0 * (diffusivity(&solid, 0.01) * 6.0 * 3600.0).sqrt();
    for (at, (temperature, _)) in run.inside_of(0).enumerate().step_by(20) {
        let depth = (at as f64 + 0.5) * 0.001;
        near(temperature, 10.0 * libm::erfc(depth / spread), 0.01);
    }
}

#[test]
fn a_step_of_humidity_goes_in_by_erfc() {
    // Straight isotherm, one temperature: D = δ p_sat / (dw/dφ). The heat of evaporation is swallowed by a great capacity.
    let solid = Solid { heat_capacity: 1e12, conductivity: 100.0, ..plain(0.06, 1200, 10.0) };
    let wall = wall(HELD, vec![Piece::Solid(solid)], Film::SEALED);
    let mut run = Run::new(&wall, 20.0, 0.3).unwrap();
    run.longest = 600.0;
    let hours = 48.0 * 3600.0;
    run.go(hours, &still(Air::of(20.0, 0.8), Air::of(20.0, 0.3))).unwrap();
    let diffusivity = AIR_PERMEABILITY / 10.0 * vapour::saturation(20.0).0 / 100.0;
    let spread = 2.0 * (diffusivity * hours).sqrt();
    for (at, (_, humidity)) in run.inside_of(0).enumerate().step_by(60) {
        let depth = (at as f64 + 0.5) * 0.06 / 1200.0;
        near(humidity, 0.3 + 0.5 * libm::erfc(depth / spread), 5e-4);
    }
    // What has gone in: 2 w' Δφ √(D t / π).
    let taken = 2.0 * 100.0 * 0.5 * (diffusivity * hours / std::f64::consts::PI).sqrt();
    near(run.water_ledger().stored, taken, 2e-3 * taken);
}

#[test]
fn a_daily_wave_dies_away_by_its_damping_depth() {
    let solid = deep(200, 0.6);
    let wall = wall(HELD, vec![Piece::Solid(solid.clone())], Film::SEALED);
    let mut run = Run::new(&wall, 0.0, 0.01).unwrap();
    run.longest = 120.0;
    let day = 86_400.0;
    let wave = |seconds: f64| 10.0 * (2.0 * std::f64::consts::PI * seconds / day).sin();
    let mut highest = vec![f64::MIN; 200];
    for step in 0..720 * 12 {
        // The wave at the end of the step: the balance is struck there.
        let now = 120.0 * f64::from(step + 1);
        run.go(120.0, &still(Air { temperature: wave(now), pressure: 0.0 }, Air::of(0.0, 0.1))).unwrap();
        if step >= 720 * 10 {
            run.inside_of(0).zip(&mut highest).for_each(|((t, _), most)| *most = most.max(t));
        }
    }
    let depth = (2.0 * diffusivity(&solid, 0.01) * day / (2.0 * std::f64::consts::PI)).sqrt();
    for at in [0, 10, 20, 40, 60] {
        let x = (at as f64 + 0.5) * 0.003;
        near(highest[at], 10.0 * (-x / depth).exp(), 0.03);
    }
}

#[test]
fn steps_twice_as_short_are_half_as_wrong() {
    let error = |longest: f64| {
        let solid = deep(400, 0.4);
        let wall = wall(HELD, vec![Piece::Solid(solid.clone())], Film::SEALED);
        let mut run = Run::new(&wall, 0.0, 0.01).unwrap();
        run.longest = longest;
        run.go(6.0 * 3600.0, &still(Air { temperature: 10.0, pressure: 0.0 }, Air::of(0.0, 0.1))).unwrap();
        let spread = 2.0 * (diffusivity(&solid, 0.01) * 6.0 * 3600.0).sqrt();
        let (temperature, _) = run.inside_of(0).nth(50).unwrap();
        (temperature - 10.0 * libm::erfc(50.5e-3 / spread)).abs()
    };
    let ratio = error(1200.0) / error(600.0);
    assert!((1.7..2.3).contains(&ratio), "{ratio}");
}
