//! The grid: lines where materials or surfaces begin and end, and finer ones between them.

use super::{Fault, Rect, Section};

/// Rectangles that the section is cut into.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Grid {
    /// Lines along y, from left to right, m.
    pub x: Vec<f64>,
    /// Lines along x, from below, m.
    pub y: Vec<f64>,
    /// Region of each cell by index, row by row from below; nothing where there is no material.
    pub region: Vec<Option<usize>>,
    /// Lengths below this are none, m.
    pub near: f64,
}

/// Lines closer than this part of the whole are one.
const SAME: f64 = 1e-9;

impl Grid {
    /// The grid of a section with `parts` steps (more in what is ten times as wide) between two lines that it needs.
    ///
    /// # Errors
    /// The fault of the section, or that there would be more than `most` cells.
    pub fn of(section: &Section, parts: usize, most: usize) -> Result<Grid, Fault> {
        section.check()?;
        let rects = || section.regions.iter().map(|region| region.at);
        let inner =
            |low: f64, high: f64, lines: Vec<f64>| lines.into_iter().filter(move |line| *line > low && *line < high);
        let (left, right) = (least(rects().map(|at| at.left)), -least(rects().map(|at| -at.right)));
        let (low, high) = (least(rects().map(|at| at.low)), -least(rects().map(|at| -at.high)));
        let near = SAME * (right - left).max(high - low);
        let touched = || section.touches.iter().map(|touch| touch.at);
        let all = || rects().chain(touched());
        let coarse_x =
            joined(inner(left, right, all().flat_map(|at| [at.left, at.right]).collect()).chain([left, right]), near);
        let coarse_y =
            joined(inner(low, high, all().flat_map(|at| [at.low, at.high]).collect()).chain([low, high]), near);
        let (x, y) = (refined(&coarse_x, parts), refined(&coarse_y, parts));
        let cells = x.len().saturating_sub(1).saturating_mul(y.len().saturating_sub(1));
        if cells > most {
            return Err(Fault::TooMany { cells });
        }
        let mut grid = Grid { x, y, region: vec![None; cells], near };
        for (index, region) in section.regions.iter().enumerate() {
            grid.fill(region.at, Some(index));
        }
        for touch in &section.touches {
            grid.fill(touch.at, None);
        }
        Ok(grid)
    }

    /// A line holds no cell.
    fn fill(&mut self, at: Rect, with: Option<usize>) {
        let columns = span(&self.x, at.left, at.right, self.near);
        for row in span(&self.y, at.low, at.high, self.near) {
            let start = row * self.columns();
            if let Some(cells) = self.region.get_mut(start + columns.start..start + columns.end) {
                cells.fill(with);
            }
        }
    }

    /// Cells side by side.
    #[must_use]
    pub fn columns(&self) -> usize {
        self.x.len().saturating_sub(1)
    }

    /// Cells above each other.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.y.len().saturating_sub(1)
    }

    /// Width of a column, m.
    #[must_use]
    pub fn width(&self, column: usize) -> f64 {
        self.x[column + 1] - self.x[column]
    }

    /// Height of a row, m.
    #[must_use]
    pub fn height(&self, row: usize) -> f64 {
        self.y[row + 1] - self.y[row]
    }

    /// Cells that hold material.
    #[must_use]
    pub fn filled(&self) -> usize {
        self.region.iter().flatten().count()
    }

    /// Region of a cell; nothing beyond the edge.
    #[must_use]
    pub fn at(&self, column: usize, row: usize) -> Option<usize> {
        if column >= self.columns() { None } else { self.region.get(row * self.columns() + column).copied().flatten() }
    }
}

fn least(of: impl Iterator<Item = f64>) -> f64 {
    of.fold(f64::INFINITY, f64::min)
}

/// Lines in order, those that are one taken once.
fn joined(lines: impl Iterator<Item = f64>, near: f64) -> Vec<f64> {
    let mut lines: Vec<f64> = lines.collect();
    lines.sort_by(f64::total_cmp);
    lines.dedup_by(|b, a| *b - *a <= near);
    lines
}

/// Steps between lines, closer at both ends: that is where surfaces and other materials begin, and where heat turns.
fn refined(coarse: &[f64], parts: usize) -> Vec<f64> {
    let shortest = least(coarse.windows(2).map(|pair| pair[1] - pair[0]));
    let mut lines = Vec::new();
    for pair in coarse.windows(2) {
        let (from, length) = (pair[0], pair[1] - pair[0]);
        // Steps grow with the order of magnitude, so that a foil does not set the steps of a whole wall.
        // A little is added so that rounding of the last bit does not choose.
        let count = parts * (1 + libm::floor(libm::log10(length / shortest) + SAME) as usize);
        for step in 0..count {
            let share = step as f64 / count as f64;
            lines.push(from + length * 0.5 * (1.0 - libm::cos(std::f64::consts::PI * share)));
        }
    }
    lines.extend(coarse.last());
    lines
}

/// Cells between two lines.
fn span(lines: &[f64], from: f64, to: f64, near: f64) -> std::ops::Range<usize> {
    let first = lines.partition_point(|line| *line < from - near);
    // Air may lie beside the material, beyond all lines.
    first..lines.partition_point(|line| *line < to - near).min(lines.len().saturating_sub(1)).max(first)
}
