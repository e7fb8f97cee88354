//! Steady heat in a plane section of several materials, by finite volumes on a grid of rectangles.
//!
//! The method is that of ISO 10211:2017 (clause numbers not seen): conductivities are constant in each region, surfaces have a
//! temperature and a resistance of their own, everything else at the edge lets nothing through. All sides run along x or y.
//! What is oblique has to be cut into steps by whoever describes it.
//! Valid for steady state without sources; lengths in m, conductivities in W/(m·K), temperatures in °C, flows in W per m of depth.

mod field;
mod grid;
mod isotherms;
mod refine;
mod results;
mod solve;
#[cfg(test)]
mod tests;

pub use field::{Field, Surface};
pub use grid::Grid;
pub use isotherms::{Stroke, isotherm};
pub use refine::{Effort, Settled, settle};
pub use results::{Coupling, Flank, coupling, temperature_factor};
pub use solve::solve;

/// A rectangle along the axes; one of no width or no height is a line, where a surface is meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Left, m.
    pub left: f64,
    /// Lower, m.
    pub low: f64,
    /// Right, m.
    pub right: f64,
    /// Upper, m.
    pub high: f64,
}

/// A piece of one material. Where two overlap the later one is there: a screw is drawn over the insulation it goes through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Region {
    /// Where.
    pub at: Rect,
    /// Conductivity, W/(m·K); more than 0.
    pub conductivity: f64,
}

/// Air (or anything else of one temperature) that the section gives heat to or takes it from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// °C.
    pub temperature: f64,
    /// Of the surface, m²·K/W; 0 holds the surface itself at the temperature.
    pub resistance: f64,
}

/// Surfaces that a film touches: every side of material on the border of this rectangle or line, with no material beyond it.
/// A rectangle takes the place of all material drawn in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Where.
    pub at: Rect,
    /// Index into [`Section::films`].
    pub film: usize,
}

/// What heat goes through.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Materials, the later over the earlier.
    pub regions: Vec<Region>,
    /// Temperatures around it.
    pub films: Vec<Film>,
    /// Which surfaces have which; the first that holds a surface counts. Surfaces that none holds are adiabatic.
    pub touches: Vec<Touch>,
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// There is no material.
    Empty,
    /// A region by index is no rectangle of some size, or its conductivity is no number above 0.
    BadRegion(usize),
    /// A film by index has a temperature that is no number, or a resistance below 0.
    BadFilm(usize),
    /// A touch by index names a film that is not there, or no rectangle.
    BadTouch(usize),
    /// A touch by index meets no side of any material.
    TouchesNothing(usize),
    /// A region by index (part of it) is joined to no surface with a temperature: its temperature is anything.
    Loose(usize),
    /// Even the coarsest grid has more cells than were allowed.
    TooMany {
        /// Cells it would have.
        cells: usize,
    },
    /// The arithmetic gave no finite numbers: conductivities or sizes too far apart.
    NotFinite,
}

impl Rect {
    /// From two opposite corners, in any order.
    #[must_use]
    pub fn of(a: (f64, f64), b: (f64, f64)) -> Rect {
        Rect { left: a.0.min(b.0), low: a.1.min(b.1), right: a.0.max(b.0), high: a.1.max(b.1) }
    }

    /// Whether a point is in it or on its border, give or take `near`.
    #[must_use]
    pub fn holds(&self, (x, y): (f64, f64), near: f64) -> bool {
        x >= self.left - near && x <= self.right + near && y >= self.low - near && y <= self.high + near
    }

    fn is_finite(&self) -> bool {
        [self.left, self.low, self.right, self.high].iter().all(|side| side.is_finite())
    }
}

impl Section {
    /// Whether every number of it can be used.
    ///
    /// # Errors
    /// The first that cannot.
    pub fn check(&self) -> Result<(), Fault> {
        if self.regions.is_empty() {
            return Err(Fault::Empty);
        }
        let bad_region = |region: &Region| {
            let size = region.at.is_finite() && region.at.right > region.at.left && region.at.high > region.at.low;
            !(size && region.conductivity.is_finite() && region.conductivity > 0.0)
        };
        if let Some(index) = self.regions.iter().position(bad_region) {
            return Err(Fault::BadRegion(index));
        }
        let bad_film =
            |film: &Film| !(film.temperature.is_finite() && film.resistance.is_finite() && film.resistance >= 0.0);
        if let Some(index) = self.films.iter().position(bad_film) {
            return Err(Fault::BadFilm(index));
        }
        let bad_touch = |touch: &Touch| !touch.at.is_finite() || touch.film >= self.films.len();
        match self.touches.iter().position(bad_touch) {
            Some(index) => Err(Fault::BadTouch(index)),
            None => Ok(()),
        }
    }
}
