//! What a solved grid tells: flows through surfaces, their temperatures, temperatures and fluxes inside.

use super::solve::{beside, conductivity, side};
use super::{Film, Grid, Section};

/// A side of a cell that a film touches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    /// Cell by index.
    pub cell: usize,
    /// Which way it looks, in steps along x and y.
    pub way: (isize, isize),
    /// Its middle, m.
    pub at: (f64, f64),
    /// Its length, m.
    pub length: f64,
    /// Film by index.
    pub film: usize,
    /// From the middle of the cell to the film, W/(m·K).
    pub conductance: f64,
}

/// Temperatures of a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// The grid.
    pub grid: Grid,
    /// Of the middle of each cell, °C.
    pub temperatures: Vec<Option<f64>>,
    /// Sides that films touch.
    pub surfaces: Vec<Surface>,
    films: Vec<Film>,
    conductivities: Vec<f64>,
}

impl Field {
    pub(super) fn new(section: &Section, grid: Grid, temperatures: Vec<Option<f64>>, surfaces: Vec<Surface>) -> Field {
        let conductivities = (0..grid.region.len()).map(|cell| conductivity(section, &grid, cell)).collect();
        Field { grid, temperatures, surfaces, films: section.films.clone(), conductivities }
    }

    /// Heat that a surface gives to the section, W/m.
    fn flow_in(&self, surface: &Surface) -> f64 {
        let inside = self.temperatures[surface.cell].unwrap_or_default();
        surface.conductance * (self.films[surface.film].temperature - inside)
    }

    /// Heat that each film gives to the section, W/m; less than 0 where it takes it.
    #[must_use]
    pub fn flows(&self) -> Vec<f64> {
        let mut flows = vec![0.0; self.films.len()];
        for surface in &self.surfaces {
            flows[surface.film] += self.flow_in(surface);
        }
        flows
    }

    /// All heat that comes in, W/m.
    #[must_use]
    pub fn through(&self) -> f64 {
        self.surfaces.iter().map(|surface| self.flow_in(surface).max(0.0)).sum()
    }

    /// What comes in and does not go out, by what goes through: 0 if the arithmetic were exact.
    #[must_use]
    pub fn imbalance(&self) -> f64 {
        let (sum, through) = (self.flows().iter().sum::<f64>(), self.through());
        if through > 0.0 { (sum / through).abs() } else { 0.0 }
    }

    /// Temperature of a surface, °C.
    #[must_use]
    pub fn surface_temperature(&self, surface: &Surface) -> f64 {
        let Film { temperature, resistance } = self.films[surface.film];
        temperature - self.flow_in(surface) / surface.length * resistance
    }

    /// Heat that a surface takes in for each area, W/m².
    #[must_use]
    pub fn surface_flux(&self, surface: &Surface) -> f64 {
        self.flow_in(surface) / surface.length
    }

    /// The coldest surface of a film: its temperature, °C, and where.
    #[must_use]
    pub fn coldest(&self, film: usize) -> Option<(f64, (f64, f64))> {
        let of_film = self.surfaces.iter().filter(|surface| surface.film == film);
        of_film.map(|surface| (self.surface_temperature(surface), surface.at)).min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Temperature of the side that a cell shows one way, °C: both half cells carry the same heat, and an adiabatic one none.
    fn side_temperature(&self, cell: usize, way: (isize, isize)) -> f64 {
        let own = self.temperatures[cell].unwrap_or_default();
        let Some(other) = beside(&self.grid, cell, way) else {
            let surface = self.surfaces_of(cell).find(|surface| surface.way == way);
            return surface.map_or(own, |surface| self.surface_temperature(surface));
        };
        let passes = |cell: usize| self.conductivities[cell] / side(&self.grid, cell, way).1;
        let (near, far) = (passes(cell), passes(other));
        (near * own + far * self.temperatures[other].unwrap_or(own)) / (near + far)
    }

    /// Surfaces are in the order of their cells.
    fn surfaces_of(&self, cell: usize) -> impl Iterator<Item = &Surface> {
        let from = self.surfaces.partition_point(|surface| surface.cell < cell);
        self.surfaces[from..].iter().take_while(move |surface| surface.cell == cell)
    }

    /// Slopes of the temperature in the four halves of a cell, K/m: left, right, lower, upper.
    fn slopes(&self, cell: usize) -> [f64; 4] {
        let own = self.temperatures[cell].unwrap_or_default();
        [((-1, 0), -1.0), ((1, 0), 1.0), ((0, -1), -1.0), ((0, 1), 1.0)]
            .map(|(way, sign)| sign * (self.side_temperature(cell, way) - own) / side(&self.grid, cell, way).1)
    }

    /// Temperature at a point of a cell, °C: straight from its middle to its sides.
    fn in_cell(&self, cell: usize, (x, y): (f64, f64)) -> f64 {
        let (column, row) = (cell % self.grid.columns(), cell / self.grid.columns());
        let dx = x - (self.grid.x[column] + self.grid.x[column + 1]) / 2.0;
        let dy = y - (self.grid.y[row] + self.grid.y[row + 1]) / 2.0;
        let [left, right, low, high] = self.slopes(cell);
        let slope = |offset: f64, before: f64, after: f64| offset * if offset < 0.0 { before } else { after };
        self.temperatures[cell].unwrap_or_default() + slope(dx, left, right) + slope(dy, low, high)
    }

    /// Cells that hold a point, up to four where it lies on lines.
    fn cells_at(&self, (x, y): (f64, f64)) -> impl Iterator<Item = usize> {
        let around = |lines: &[f64], at: f64| {
            let near = self.grid.near;
            let first = lines.partition_point(|line| *line < at - near).saturating_sub(1);
            first..lines.partition_point(|line| *line <= at + near)
        };
        let (columns, rows) = (around(&self.grid.x, x), around(&self.grid.y, y));
        let inside = self.grid.x.first().is_some_and(|left| x >= left - self.grid.near);
        let inside = inside && self.grid.y.first().is_some_and(|low| y >= low - self.grid.near);
        rows.flat_map(move |row| columns.clone().map(move |column| (column, row)))
            .filter(move |(column, row)| inside && self.grid.at(*column, *row).is_some())
            .map(|(column, row)| row * self.grid.columns() + column)
    }

    /// Temperature at a point, °C; nothing where there is no material. Where cells meet, their mean.
    #[must_use]
    pub fn temperature(&self, at: (f64, f64)) -> Option<f64> {
        let (sum, count) =
            self.cells_at(at).fold((0.0, 0.0), |(sum, count), cell| (sum + self.in_cell(cell, at), count + 1.0));
        (count > 0.0).then(|| sum / count)
    }

    /// Heat flux at a point along x and y, W/m²; nothing where there is no material. Where cells meet, their mean.
    #[must_use]
    pub fn flux(&self, at: (f64, f64)) -> Option<(f64, f64)> {
        let (mut sum, mut count) = ((0.0, 0.0), 0.0);
        for cell in self.cells_at(at) {
            let [left, right, low, high] = self.slopes(cell);
            let conductivity = self.conductivities[cell];
            sum.0 -= conductivity * (left + right) / 2.0;
            sum.1 -= conductivity * (low + high) / 2.0;
            count += 1.0;
        }
        (count > 0.0).then(|| (sum.0 / count, sum.1 / count))
    }
}
