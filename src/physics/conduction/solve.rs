//! One grid solved: harmonic conductances between cells, surfaces with their films, sparse Cholesky.

use std::collections::VecDeque;

use rsparse::data::Sprs;

use super::{Fault, Field, Film, Grid, Section, Surface};

/// Order of elimination that `rsparse` calls Cholesky's: least degree of A + Aᵀ.
const LEAST_DEGREE: i8 = 0;

/// One of the four neighbours of a cell: steps along x and y.
const WAYS: [(isize, isize); 4] = [(0, -1), (-1, 0), (1, 0), (0, 1)];

/// Temperatures of the section on this grid.
///
/// # Errors
/// What is wrong with the section: see [`Fault`].
pub fn solve(section: &Section, grid: Grid) -> Result<Field, Fault> {
    section.check()?;
    let surfaces = surfaces(section, &grid)?;
    let numbers = numbered(&grid);
    let count = grid.filled();
    joined_to_films(&grid, &surfaces)?;
    // Temperatures are reckoned from the first film's, so that a section all at one temperature has exactly no flow.
    let base = section.films.first().map_or(0.0, |film| film.temperature);
    let mut diagonal = vec![0.0; count];
    let mut known = vec![0.0; count];
    for surface in &surfaces {
        if let Some(number) = numbers[surface.cell] {
            diagonal[number] += surface.conductance;
            known[number] += surface.conductance * (section.films[surface.film].temperature - base);
        }
    }
    let matrix = matrix(section, &grid, &numbers, diagonal);
    if !matrix.x.iter().chain(&known).all(|value| value.is_finite()) {
        return Err(Fault::NotFinite);
    }
    rsparse::cholsol(&matrix, &mut known, LEAST_DEGREE).map_err(|_| Fault::NotFinite)?;
    if !known.iter().all(|value| value.is_finite()) {
        return Err(Fault::NotFinite);
    }
    let temperatures = numbers.iter().map(|number| number.map(|number| known[number] + base)).collect();
    Ok(Field::new(section, grid, temperatures, surfaces))
}

/// The number of each cell that holds material, among the unknowns.
fn numbered(grid: &Grid) -> Vec<Option<usize>> {
    let mut next = 0..;
    grid.region.iter().map(|region| region.and_then(|_| next.next())).collect()
}

/// The cell that lies a step away.
pub(super) fn beside(grid: &Grid, cell: usize, (right, up): (isize, isize)) -> Option<usize> {
    let (column, row) = (cell % grid.columns(), cell / grid.columns());
    let (column, row) = (column.checked_add_signed(right)?, row.checked_add_signed(up)?);
    grid.at(column, row).map(|_| row * grid.columns() + column)
}

/// Length of the side a cell shows one way, and half its depth that way, m.
pub(super) fn side(grid: &Grid, cell: usize, (right, _): (isize, isize)) -> (f64, f64) {
    let (width, height) = (grid.width(cell % grid.columns()), grid.height(cell / grid.columns()));
    if right != 0 { (height, width / 2.0) } else { (width, height / 2.0) }
}

/// The matrix, column by column with its rows in order: every entry is written once, for the solver does not add up entries
/// of one place but keeps the last of them.
fn matrix(section: &Section, grid: &Grid, numbers: &[Option<usize>], diagonal: Vec<f64>) -> Sprs<f64> {
    let count = diagonal.len();
    let (mut starts, mut rows, mut values) = (vec![0], Vec::with_capacity(count * 5), Vec::with_capacity(count * 5));
    for (cell, number) in numbers.iter().enumerate() {
        let Some(number) = *number else { continue };
        let links = WAYS.map(|way| {
            let other = beside(grid, cell, way)?;
            Some((numbers[other]?, link(section, grid, cell, other, way)))
        });
        let sum: f64 = links.iter().flatten().map(|(_, conductance)| conductance).sum();
        let (before, after) = links.split_at(2);
        let own = [Some((number, -(sum + diagonal[number])))];
        for (row, conductance) in before.iter().chain(&own).chain(after).flatten() {
            rows.push(*row);
            values.push(-conductance);
        }
        starts.push(rows.len() as isize);
    }
    Sprs { nzmax: rows.len(), m: count, n: count, p: starts, i: rows, x: values }
}

/// Conductance between the middles of two cells side by side, W/(m·K): half of each in a row.
fn link(section: &Section, grid: &Grid, cell: usize, other: usize, way: (isize, isize)) -> f64 {
    let (length, near_half) = side(grid, cell, way);
    let (_, far_half) = side(grid, other, way);
    length / (near_half / conductivity(section, grid, cell) + far_half / conductivity(section, grid, other))
}

/// Conductivity of a cell, W/(m·K); 0 where there is no material.
pub(super) fn conductivity(section: &Section, grid: &Grid, cell: usize) -> f64 {
    grid.region[cell].map_or(0.0, |region| section.regions[region].conductivity)
}

/// Sides of material with nothing beyond that a film touches.
fn surfaces(section: &Section, grid: &Grid) -> Result<Vec<Surface>, Fault> {
    let mut found = Vec::new();
    let mut met = vec![false; section.touches.len()];
    for (cell, _) in grid.region.iter().enumerate().filter(|(_, region)| region.is_some()) {
        for way in WAYS.into_iter().filter(|way| beside(grid, cell, *way).is_none()) {
            let at = middle(grid, cell, way);
            let mut held = section.touches.iter().enumerate().filter(|(_, touch)| touch.at.holds(at, grid.near));
            let Some((index, touch)) = held.next() else { continue };
            met[index] = true;
            // One that lies under an earlier one is met all the same.
            held.for_each(|(later, _)| met[later] = true);
            let Film { resistance, .. } = section.films[touch.film];
            let (length, half) = side(grid, cell, way);
            let conductance = length / (half / conductivity(section, grid, cell) + resistance);
            found.push(Surface { cell, way, at, length, film: touch.film, conductance });
        }
    }
    match met.iter().position(|met| !met) {
        Some(index) => Err(Fault::TouchesNothing(index)),
        None => Ok(found),
    }
}

/// The middle of a side.
fn middle(grid: &Grid, cell: usize, (right, up): (isize, isize)) -> (f64, f64) {
    let (column, row) = (cell % grid.columns(), cell / grid.columns());
    let along = |lines: &[f64], from: usize, step: isize| match step {
        0 => (lines[from] + lines[from + 1]) / 2.0,
        step if step < 0 => lines[from],
        _ => lines[from + 1],
    };
    (along(&grid.x, column, right), along(&grid.y, row, up))
}

/// Whether all material is joined to a film; a piece that is not would have any temperature.
fn joined_to_films(grid: &Grid, surfaces: &[Surface]) -> Result<(), Fault> {
    let mut reached = vec![false; grid.region.len()];
    let mut next: VecDeque<usize> = surfaces.iter().map(|surface| surface.cell).collect();
    while let Some(cell) = next.pop_front() {
        if !std::mem::replace(&mut reached[cell], true) {
            next.extend(WAYS.iter().filter_map(|way| beside(grid, cell, *way)).filter(|other| !reached[*other]));
        }
    }
    match grid.region.iter().zip(reached).find_map(|(region, reached)| region.filter(|_| !reached)) {
        Some(region) => Err(Fault::Loose(region)),
        None => Ok(()),
    }
}
