//! Sums of the block `hourly`: hourly heat and moisture.

use serde_json::Value;
use wythe::physics::hourly::{Air, Film, Hour, Isotherm, LEWIS, Piece, Run, Solid, Wall};

use super::super::sums::{Answer, Inputs, numbers};

/// So open that the surface is as the air.
const HELD: Film = Film { heat: 1e9, vapour: 1.0 };

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    Some(match sum {
        "heat_step" => numbers(heat_step(given)),
        "humidity_step" => numbers(humidity_step(given)),
        "wet_surface" => numbers([wet_surface(given)]),
        "taken_up" => numbers(taken_up(given)),
        "spread" => numbers(spread(given)),
        "gap_in_the_sun" => numbers(gap_in_the_sun(given)),
        "march_temperature" => numbers(march(given, |run, piece| Some(mean(run, piece).0))),
        "march_humidity" => numbers(march(given, |run, piece| Some(mean(run, piece).1))),
        "march_water" => numbers(march(given, |run, piece| {
            let solid = given.list("pieces")[piece][0] == "solid";
            solid.then(|| run.water_in(piece))
        })),
        _ => return None,
    })
}

fn floats(given: Inputs<'_>, key: &str) -> Vec<f64> {
    given.list(key).iter().map(|value| value.as_f64().unwrap()).collect()
}

fn solid(thickness: f64, cells: usize) -> Solid {
    Solid {
        thickness,
        conductivity: 100.0,
        density: 1.0,
        heat_capacity: 1e9,
        vapour_factor: (1e9, 1e9),
        isotherm: Isotherm::straight(1e-6).unwrap(),
        absorption: 0.0,
        cells,
    }
}

fn still(outside: Air, inside: Air) -> Hour {
    Hour { outside, inside, sun: 0.0, sky: 0.0, air_changes: 0.0, draws: 0.0, rain: 0.0 }
}

fn lone(solid: Solid) -> Wall {
    Wall { pieces: vec![Piece::Solid(solid)], outside: HELD, inside: Film::SEALED, leak: None, drinks: false }
}

/// Value at a depth, between the middles of cells.
fn at(run: &Run<'_>, of: impl Fn((f64, f64)) -> f64, cell: f64, depth: f64) -> f64 {
    let all: Vec<f64> = run.inside_of(0).map(of).collect();
    let place = depth / cell - 0.5;
    let low = place.floor() as usize;
    all[low] + (all[low + 1] - all[low]) * (place - low as f64)
}

fn heat_step(given: Inputs<'_>) -> Vec<f64> {
    let heat_capacity = given.number("capacity");
    let (thickness, cells) = (0.4, 400);
    let wall = lone(Solid { conductivity: given.number("conductivity"), heat_capacity, ..solid(thickness, cells) });
    let mut run = Run::new(&wall, 0.0, 0.1).unwrap();
    let seconds = given.number("hours") * 3600.0;
    run.longest = seconds / 600.0;
    let hour = still(Air { temperature: 10.0, pressure: 0.0 }, Air::of(0.0, 0.1));
    run.go(seconds, &hour).unwrap();
    floats(given, "depths").into_iter().map(|depth| at(&run, |cell| cell.0, 0.001, depth)).collect()
}

fn humidity_step(given: Inputs<'_>) -> Vec<f64> {
    let (factor, slope) = (given.number("factor"), given.number("slope"));
    let isotherm = Isotherm::straight(slope).unwrap();
    let wall = lone(Solid { vapour_factor: (factor, factor), isotherm, ..solid(0.06, 600) });
    let mut run = Run::new(&wall, 20.0, 0.3).unwrap();
    let seconds = given.number("days") * 86_400.0;
    run.longest = seconds / 500.0;
    run.go(seconds, &still(Air::of(20.0, 0.8), Air::of(20.0, 0.3))).unwrap();
    floats(given, "depths").into_iter().map(|depth| at(&run, |cell| cell.1, 1e-4, depth)).collect()
}

/// A sheet with free water over it, sealed behind, until it has the temperature it keeps.
fn wet_surface(given: Inputs<'_>) -> f64 {
    let film = Film { heat: given.number("film"), vapour: given.number("film") * LEWIS };
    let pad = Solid { vapour_factor: (0.001, 0.001), heat_capacity: 1e6, ..solid(0.01, 1) };
    let wall = Wall { outside: film, ..lone(pad) };
    let air = Air::of(given.number("temperature"), given.number("humidity"));
    let mut run = Run::new(&wall, air.temperature, 1.001).unwrap();
    run.go(24.0 * 3600.0, &still(air, air)).unwrap();
    let (temperature, humidity) = run.inside_of(0).next().unwrap();
    assert!(humidity >= 1.0, "dried out");
    temperature
}

/// Tight to vapour, all at 20 °C, straight isotherm: only liquid moves.
fn drinking(given: Inputs<'_>, thickness: f64, cells: usize) -> Wall {
    let isotherm = Isotherm::straight(given.number("saturated")).unwrap();
    let layer =
        Solid { isotherm, absorption: given.number("absorption"), heat_capacity: 1e6, ..solid(thickness, cells) };
    Wall { outside: Film::SEALED, drinks: true, ..lone(layer) }
}

/// Water in a deep dry layer whose face is held wet, after these hours, kg/m².
fn taken_up(given: Inputs<'_>) -> Vec<f64> {
    let wall = drinking(given, given.number("depth"), 400);
    let mut run = Run::new(&wall, 20.0, 1e-4).unwrap();
    let air = Air::of(20.0, 0.5);
    let hour = Hour { rain: 1.0, ..still(air, air) };
    let mut passed = 0.0;
    let mut at = |hours: f64| {
        let step = (hours - passed) * 3600.0;
        run.longest = step / 400.0;
        run.go(step, &hour).unwrap();
        passed = hours;
        run.drunk()
    };
    floats(given, "hours").into_iter().map(&mut at).collect()
}

/// Shares of free saturation at depths of a layer, sealed, whose outer half was full.
fn spread(given: Inputs<'_>) -> Vec<f64> {
    let (depth, cells) = (given.number("depth"), 200);
    let half = match &drinking(given, depth / 2.0, cells / 2).pieces[0] {
        Piece::Solid(solid) => solid.clone(),
        _ => unreachable!(),
    };
    let whole = Solid { thickness: depth, cells, ..half };
    let wall = Wall { outside: Film::SEALED, ..lone(whole) };
    let mut run = Run::new(&wall, 20.0, 0.2).unwrap();
    run.set_cells(0, cells / 2, 20.0, 1.0).unwrap();
    let air = Air::of(20.0, 0.5);
    let seconds = given.number("hours") * 3600.0;
    run.longest = seconds / 2000.0;
    run.go(seconds, &still(air, air)).unwrap();
    floats(given, "depths")
        .into_iter()
        .map(|at_depth| at(&run, |cell| cell.1, depth / cells as f64, at_depth))
        .collect()
}

/// A thin sheet of metal before a gap with a tight board behind it, until nothing changes.
fn gap_in_the_sun(given: Inputs<'_>) -> [f64; 2] {
    let sheet = Solid { conductivity: 160.0, heat_capacity: 1e6, ..solid(0.001, 1) };
    let gap = Piece::Gap { depth: 0.019, resistance: 0.18, open: true };
    let board = Solid { heat_capacity: 1e6, ..solid(0.01, 1) };
    let wall = Wall {
        pieces: vec![Piece::Solid(sheet), gap, Piece::Solid(board)],
        outside: Film { heat: 25.0, vapour: 0.0 },
        ..lone(solid(0.01, 1))
    };
    let air = Air { temperature: given.number("temperature"), pressure: 0.0 };
    let (sun, sky) = (given.number("sun"), given.number("sky"));
    let hour = Hour { sun, sky, air_changes: given.number("wind"), draws: given.number("draws"), ..still(air, air) };
    let mut run = Run::new(&wall, air.temperature, 0.01).unwrap();
    run.longest = 1e8;
    for _ in 0..40 {
        run.go(1e8, &hour).unwrap();
    }
    let (gap, _) = run.inside_of(1).next().unwrap();
    [gap, hour.changes(gap).0 * 3600.0]
}

fn piece(value: &Value) -> Piece {
    let of = |at: usize| value[at].as_f64().unwrap();
    match value[0].as_str().unwrap() {
        "sheet" => Piece::Sheet { resistance: 0.0, air_layer: (of(1), of(1)) },
        "gap" => Piece::Gap { depth: of(1), resistance: of(2), open: true },
        _ => Piece::Solid(Solid {
            thickness: of(1),
            conductivity: of(2),
            density: of(3),
            heat_capacity: of(4),
            vapour_factor: (of(5), of(6)),
            isotherm: Isotherm::bent(of(7), of(8)).unwrap(),
            absorption: 0.0,
            cells: of(9) as usize,
        }),
    }
}

fn mean(run: &Run<'_>, piece: usize) -> (f64, f64) {
    let count = run.inside_of(piece).count() as f64;
    run.inside_of(piece).fold((0.0, 0.0), |sum, cell| (sum.0 + cell.0 / count, sum.1 + cell.1 / count))
}

fn march(given: Inputs<'_>, answer: impl Fn(&Run<'_>, usize) -> Option<f64>) -> Vec<f64> {
    let pieces: Vec<Piece> = given.list("pieces").iter().map(piece).collect();
    let wall = Wall { pieces, outside: Film::WIND, inside: Film::ROOM, leak: None, drinks: false };
    let start = floats(given, "start");
    let mut run = Run::new(&wall, start[0], start[1]).unwrap();
    run.longest = 300.0;
    for half_day in given.list("weather") {
        let of = |at: usize| half_day[at].as_f64().unwrap();
        let air_changes = given.number("changes");
        let hour = Hour { air_changes, ..still(Air::of(of(0), of(1)), Air::of(of(2), of(3))) };
        run.go(43_200.0, &hour).unwrap();
    }
    let thick = (0..wall.pieces.len()).filter(|at| !matches!(wall.pieces[*at], Piece::Sheet { .. }));
    thick.filter_map(|at| answer(&run, at)).collect()
}
