//! Heat and moisture through a wall hour by hour, in one dimension: finite volumes, implicit in time.
//!
//! Each cell has a temperature and a relative humidity. Heat is conducted and carried by vapour (its own heat and that of
//! evaporation); vapour diffuses down its pressure; materials hold water by their sorption isotherm. The air of a gap is a
//! cell of its own that changes with outside air and brings heat and vapour in and out; a share of the driving rain may be
//! put into one layer, as ANSI/ASHRAE 160 asks (1 % of what is deposited on the wall; from memory).
//! Liquid moves within a layer by its water content (see [`liquid`]), and an outer face that drinks takes up rain. What evaporates
//! does so in the middle of a cell, so that a wet face dries a little slower than it should. The balances are those of
//! EN 15026:2007 (from memory).
//!
//! Left out, and to be said wherever figures of it stand: liquid does not pass from layer to layer, and does not move in frost;
//! freezing gives and takes no heat; no hysteresis; conductivity does not rise with water; no air moves through the layers; water
//! that a layer cannot hold stays beside it, but for rain, which runs off.
//! Sun and sky act on the outer surface alone, and are what [`Hour`] says.
//!
//! Valid for layers with steady properties between about −40 and 80 °C.

mod blocks;
mod isotherm;
pub mod liquid;
pub mod made_sun;
pub mod made_year;
mod march;
mod mesh;
mod run;
#[cfg(test)]
mod tests;
pub mod vapour;

pub use isotherm::Isotherm;
pub use run::{Ledger, Run};

/// Air on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// °C.
    pub temperature: f64,
    /// Vapour pressure, Pa.
    pub pressure: f64,
}

impl Air {
    /// From temperature in °C and relative humidity 0…1.
    pub fn of(temperature: f64, humidity: f64) -> Self {
        Self { temperature, pressure: humidity * vapour::saturation(temperature).0 }
    }
}

/// What lies between the air and a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// W/(m²·K); 0 lets no heat through.
    pub heat: f64,
    /// kg/(m²·s·Pa); 0 lets no vapour through.
    pub vapour: f64,
}

/// Vapour that a film lets through for each W/(m²·K) of heat that its air takes by convection, kg/(m²·s·Pa) by W/(m²·K):
/// 7 × 10⁻⁹, the analogy of Lewis rounded (from memory).
pub const LEWIS: f64 = 7e-9;

impl Film {
    /// Lets nothing through.
    pub const SEALED: Self = Self { heat: 0.0, vapour: 0.0 };
    /// Of a room: 0.13 m²·K/W, of which 2.5 W/(m²·K) by convection (ISO 6946:2017 from memory).
    pub const ROOM: Self = Self { heat: 1.0 / 0.13, vapour: 2.5 * LEWIS };
    /// In the wind: 0.04 m²·K/W, of which 20 W/(m²·K) by convection (ISO 6946:2017, 4 m/s, from memory).
    pub const WIND: Self = Self { heat: 1.0 / 0.04, vapour: 20.0 * LEWIS };
}

/// One layer of a solid.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// m.
    pub thickness: f64,
    /// W/(m·K).
    pub conductivity: f64,
    /// Dry, kg/m³.
    pub density: f64,
    /// Dry, J/(kg·K).
    pub heat_capacity: f64,
    /// Vapour resistance factor, dry cup and wet cup. Permeability goes straight from that at 25 % relative humidity, the middle
    /// of a dry cup, to that at 72 %, the middle of a wet one, and is steady beyond (the cups of ISO 12572 from memory).
    pub vapour_factor: (f64, f64),
    /// Water by relative humidity.
    pub isotherm: Isotherm,
    /// Water absorption coefficient, kg/(m²·√s): what a wetted face takes up by the root of time. 0: liquid stays where it is.
    pub absorption: f64,
    /// How many cells it is cut into.
    pub cells: usize,
}

impl Solid {
    /// Cells that a layer of `thickness` metres deserves: one for each 20 mm, 5 to 8. A thin board
    /// with dry air on one side and moist air on the other holds 2 % less water in four cells than in twelve; found by trying.
    pub fn cells_for(thickness: f64) -> usize {
        (libm::ceil(thickness.max(0.0) / 0.02) as usize).clamp(5, 8)
    }
}

/// One thing of a wall, from outside to inside.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Holds heat and water.
    Solid(Solid),
    /// Too thin to hold anything.
    Sheet {
        /// m²·K/W.
        resistance: f64,
        /// Equivalent air layer thickness, m, dry cup and wet cup; between them by the humidity beside it, as in a solid.
        air_layer: (f64, f64),
    },
    /// Air between two layers, one cell.
    Gap {
        /// m.
        depth: f64,
        /// m²·K/W, from one side to the other.
        resistance: f64,
        /// Its air changes with that outside, as often as [`Hour::air_changes`] says.
        open: bool,
    },
}

/// Rain that gets in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leak {
    /// Index of the solid piece that takes it.
    pub piece: usize,
    /// Share of the rain deposited on the wall: 0.01 by ANSI/ASHRAE 160 (from memory).
    pub share: f64,
}

/// A wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// From outside to inside.
    pub pieces: Vec<Piece>,
    /// Film outside.
    pub outside: Film,
    /// Film inside.
    pub inside: Film,
    /// Rain that gets in, if any.
    pub leak: Option<Leak>,
    /// The outermost piece takes up the rain on its face, as fast as it comes and as liquid moves in it.
    pub drinks: bool,
}

/// What acts on the wall for a while.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hour {
    /// Air outside.
    pub outside: Air,
    /// Air inside.
    pub inside: Air,
    /// Sun taken up by the outer surface, W/m²; 0 where it is not known.
    pub sun: f64,
    /// What the outer surface loses to the sky beyond what its film takes, W/m²; 0 where it is not known. The sol-air temperature
    /// is that of the air plus sun less sky, by the film.
    pub sky: f64,
    /// How often the air of open gaps changes with that outside when they are as warm as it, 1/s.
    pub air_changes: f64,
    /// How much warmth adds to that: the square of air changes for each kelvin by which a gap is warmer or colder than outside,
    /// 1/(s²·K).
    pub draws: f64,
    /// Rain deposited on the wall, kg/(m²·s).
    pub rain: f64,
}

/// Below this difference, K, warmth draws less than by its root: so that nothing jumps where the gap is as warm as outside.
const HARDLY: f64 = 0.01;

impl Hour {
    /// How often the air of a gap changes when it is this warm, 1/s, and how that grows with its temperature, 1/(s·K). Wind and
    /// warmth add by their squares, as flows through openings do (ASHRAE Handbook of Fundamentals, from memory).
    pub fn changes(&self, gap: f64) -> (f64, f64) {
        let warmer = gap - self.outside.temperature;
        let far = libm::sqrt(warmer * warmer + HARDLY * HARDLY);
        let changes = libm::sqrt(self.air_changes * self.air_changes + self.draws * (far - HARDLY));
        let grows = if changes > 1e-12 { self.draws * warmer / far / (2.0 * changes) } else { 0.0 };
        (changes, grows)
    }
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Failure {
    /// Nothing holds heat or water.
    #[error("the wall has no layer that holds heat or water")]
    Empty,
    /// A measure that cannot be.
    #[error("{what} of layer {piece} (from outside, counted from 0) is {value}")]
    Measure {
        /// Index of the piece.
        piece: usize,
        /// "thickness".
        what: &'static str,
        /// As given.
        value: f64,
    },
    /// Weather or a start that cannot be.
    #[error("{what} is {value}")]
    Given {
        /// "temperature outside".
        what: &'static str,
        /// As given.
        value: f64,
    },
    /// No step, however short, gave an answer.
    #[error("no answer {seconds} s after the start, in steps of less than {SHORTEST} s")]
    Stuck {
        /// s.
        seconds: f64,
    },
}

/// Steps are not made shorter than this, s.
const SHORTEST: f64 = 0.1;
