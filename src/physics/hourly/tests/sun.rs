//! Sun and sky on the outer surface, and the air that a warm gap draws.

use super::*;

#[test]
fn a_wall_sealed_behind_comes_to_the_sol_air_temperature() {
    // Nothing leaves but by the film: T = T_a + (sun − sky)/h (ASHRAE Handbook of Fundamentals, from memory).
    let film = Film { heat: 20.0, vapour: 0.0 };
    let wall = wall(film, vec![Piece::Solid(wood(0.02, 5))], Film::SEALED);
    let mut run = Run::new(&wall, 10.0, 0.5).unwrap();
    let hour = Hour { sun: 480.0, sky: 30.0, ..still(Air::of(5.0, 0.6), Air::of(20.0, 0.5)) };
    settle(&mut run, &hour);
    run.inside_of(0).for_each(|(temperature, _)| near(temperature, 5.0 + 450.0 / 20.0, 1e-6));
    // What sun brings and sky takes the film carries off.
    run.restart().unwrap();
    run.go(3600.0, &hour).unwrap();
    let heat = run.heat_ledger();
    near(heat.sun, 480.0 * 3600.0, 1e-6);
    near(heat.sky, -30.0 * 3600.0, 1e-6);
    near(heat.outside, -450.0 * 3600.0, 1.0);
    assert!(heat.open_by() < 1e-6);
}

#[test]
fn a_daily_wave_of_sun_goes_in_by_its_damping_depth() {
    // Half space behind a film, sun S cos ωt: amplitude at the surface S/|h + k√(iω/a)|, textbook.
    let solid = Solid { vapour_factor: (1e9, 1e9), ..plain(0.8, 400, 1.0) };
    let capacity = solid.density * solid.heat_capacity + solid.isotherm.water(0.01).0 * vapour::WATER_CAPACITY;
    let rate = std::f64::consts::TAU / 86_400.0;
    let bends = (rate * capacity / solid.conductivity / 2.0).sqrt();
    let (film, swing) = (Film { heat: 15.0, vapour: 0.0 }, 100.0);
    let real = film.heat + solid.conductivity * bends;
    let surface = swing / (real * real + (solid.conductivity * bends).powi(2)).sqrt();
    let wall = wall(film, vec![Piece::Solid(solid)], Film::SEALED);
    let mut run = Run::new(&wall, 0.0, 0.01).unwrap();
    run.longest = 120.0;
    let mut ends = vec![(f64::MAX, f64::MIN); 400];
    for step in 0..720 * 12 {
        let now = 120.0 * f64::from(step + 1);
        // A steady part keeps the sun above nothing; the sky takes it again.
        let sun = swing + swing * (rate * now).cos();
        let air = Air { temperature: 0.0, pressure: 0.0 };
        run.go(120.0, &Hour { sun, sky: swing, ..still(air, air) }).unwrap();
        if step >= 720 * 10 {
            let all = run.inside_of(0).zip(&mut ends);
            all.for_each(|((t, _), ends)| *ends = (ends.0.min(t), ends.1.max(t)));
        }
    }
    for at in [0, 10, 30, 60] {
        let x = (at as f64 + 0.5) * 0.002;
        near((ends[at].1 - ends[at].0) / 2.0, surface * (-x * bends).exp(), 0.02 * surface);
    }
}

#[test]
fn wind_and_warmth_add_by_their_squares() {
    let hour = Hour { air_changes: 0.003, draws: 4e-6, ..still(Air::of(0.0, 0.5), Air::of(20.0, 0.5)) };
    near(hour.changes(0.0).0, 0.003, 1e-12);
    near(hour.changes(4.0).0, 0.005, 1e-5);
    near(hour.changes(-4.0).0, 0.005, 1e-5);
    for gap in [-12.0, -0.5, 0.003, 1.0, 30.0] {
        let slope = (hour.changes(gap + 1e-6).0 - hour.changes(gap - 1e-6).0) / 2e-6;
        near(hour.changes(gap).1, slope, 1e-6 * slope.abs() + 1e-12);
    }
}

#[test]
fn a_gap_in_the_sun_draws_until_the_air_carries_off_what_comes_in() {
    // A thin dark sheet of metal before a gap that is sealed behind: K (T_sol − T) = d ρc n(T) (T − T_a), solved here by halving.
    let sheet = Solid { conductivity: 160.0, vapour_factor: (1e9, 1e9), ..wood(0.001, 1) };
    let pieces = vec![
        Piece::Solid(sheet),
        Piece::Gap { depth: 0.019, resistance: 0.18, open: true },
        Piece::Solid(Solid { vapour_factor: (1e9, 1e9), ..wood(0.012, 3) }),
    ];
    let film = Film { heat: 25.0, vapour: 0.0 };
    let wall = wall(film, pieces, Film::SEALED);
    let air = Air { temperature: 10.0, pressure: 0.0 };
    let hour = Hour { sun: 500.0, draws: 3e-5, ..still(air, air) };
    let mut run = Run::new(&wall, 10.0, 0.01).unwrap();
    settle(&mut run, &hour);
    let (gap, _) = run.inside_of(1).next().unwrap();
    let lets = 1.0 / (1.0 / 25.0 + 0.001 / 160.0 + 0.09);
    let open = |t: f64| lets * (30.0 - t) - 0.019 * vapour::AIR_CAPACITY * hour.changes(t).0 * (t - 10.0);
    let (mut low, mut high) = (10.0, 30.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if open(middle) > 0.0 { low = middle } else { high = middle }
    }
    near(gap, low, 0.02);
    assert!(hour.changes(gap).0 > 0.01, "{gap}");
}

#[test]
fn sun_on_wet_boards_drives_vapour_inward() {
    // Wet boards before a board of wood, no gap: with sun by day more water gets behind than without.
    let behind = |sun: f64| {
        let pieces = vec![Piece::Solid(wood(0.02, 5)), Piece::Solid(plain(0.0127, 5, 8.0))];
        let wall = wall(Film::WIND, pieces, Film::SEALED);
        let mut run = Run::new(&wall, 15.0, 0.6).unwrap();
        run.set(0, 15.0, 1.0).unwrap();
        for hour in 0..72 {
            let sun = sun * (f64::from(hour % 24) / 24.0 * std::f64::consts::TAU).sin().max(0.0);
            run.go(3600.0, &Hour { sun, ..still(Air::of(15.0, 0.7), Air::of(20.0, 0.5)) }).unwrap();
        }
        run.water_in(1) - 0.6 * 100.0 * 0.0127
    };
    assert!(behind(600.0) > 1.2 * behind(0.0), "{} {}", behind(600.0), behind(0.0));
}
