//! The hourly balance against closed forms. Textbook solutions of conduction and diffusion; numbers by scipy stand in
//! `tests/outside/physics/hourly.toml`.

mod balance;
mod limits;
mod liquid;
mod random;
mod steady;
mod sun;

use super::*;

/// A wall of these pieces between held surfaces: films so thin that they do not count.
pub(super) const HELD: Film = Film { heat: 1e9, vapour: 1.0 };

/// Wood-like, with nothing special about it.
pub(super) fn wood(thickness: f64, cells: usize) -> Solid {
    Solid {
        thickness,
        conductivity: 0.12,
        density: 450.0,
        heat_capacity: 1600.0,
        vapour_factor: (50.0, 20.0),
        isotherm: Isotherm::bent(72.0, 550.0).unwrap(),
        absorption: 0.0,
        cells,
    }
}

/// Holds next to no water and lets vapour through.
pub(super) fn wool(thickness: f64, cells: usize) -> Solid {
    Solid {
        thickness,
        conductivity: 0.038,
        density: 30.0,
        heat_capacity: 1030.0,
        vapour_factor: (1.0, 1.0),
        isotherm: Isotherm::bent(0.3, 300.0).unwrap(),
        absorption: 0.0,
        cells,
    }
}

/// Straight isotherm and a steady vapour factor: what closed forms ask for.
pub(super) fn plain(thickness: f64, cells: usize, factor: f64) -> Solid {
    let isotherm = Isotherm::straight(100.0).unwrap();
    Solid { vapour_factor: (factor, factor), isotherm, ..wood(thickness, cells) }
}

pub(super) fn wall(outside: Film, pieces: Vec<Piece>, inside: Film) -> Wall {
    Wall { pieces, outside, inside, leak: None, drinks: false }
}

/// Weather without sun, rain and wind in the gap.
pub(super) fn still(outside: Air, inside: Air) -> Hour {
    Hour { outside, inside, sun: 0.0, sky: 0.0, air_changes: 0.0, draws: 0.0, rain: 0.0 }
}

/// Lets one weather act until nothing changes.
pub(super) fn settle(run: &mut Run<'_>, hour: &Hour) {
    run.longest = 1e9;
    for _ in 0..60 {
        run.go(1e8, hour).unwrap();
    }
}

pub(super) fn near(ours: f64, theirs: f64, within: f64) {
    assert!((ours - theirs).abs() <= within, "{ours} is not within {within} of {theirs}");
}
