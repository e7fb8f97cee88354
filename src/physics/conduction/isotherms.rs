//! Lines of one temperature, by marching squares on the corners of the cells.

use super::Field;

/// A line of one temperature: its points in order, m; closed if the last is the first.
pub type Stroke = Vec<(f64, f64)>;

/// A side of the grid that a line crosses: the corner it starts from, and whether it goes up.
type Crossing = (usize, usize, bool);

/// Lines of one temperature through a field.
#[must_use]
pub fn isotherm(field: &Field, level: f64) -> Vec<Stroke> {
    let corners = Corners::of(field);
    let mut pieces = Vec::new();
    for row in 0..field.grid.rows() {
        for column in 0..field.grid.columns() {
            if field.grid.at(column, row).is_some() {
                pieces.extend(corners.in_cell(column, row, level));
            }
        }
    }
    strung(&pieces)
        .into_iter()
        .map(|chain| chain.iter().filter_map(|at| corners.point(field, *at, level)).collect())
        .collect()
}

/// Temperatures at the corners of cells.
struct Corners {
    across: usize,
    values: Vec<Option<f64>>,
}

impl Corners {
    fn of(field: &Field) -> Corners {
        let at = |y: f64| field.grid.x.iter().map(move |x| field.temperature((*x, y)));
        Corners { across: field.grid.x.len(), values: field.grid.y.iter().flat_map(|y| at(*y)).collect() }
    }

    fn value(&self, column: usize, row: usize) -> Option<f64> {
        self.values.get(row * self.across + column).copied().flatten()
    }

    /// Pieces of the line in a cell, from side to side.
    fn in_cell(&self, column: usize, row: usize, level: f64) -> Vec<(Crossing, Crossing)> {
        let around = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)];
        let sides: [Crossing; 4] =
            [(column, row, false), (column + 1, row, true), (column, row + 1, false), (column, row, true)];
        let values = around.map(|(column, row)| self.value(column, row));
        let [Some(a), Some(b), Some(c), Some(d)] = values else { return Vec::new() };
        let above = [a, b, c, d].map(|value| value >= level);
        let crossed: Vec<Crossing> =
            (0..4).filter(|side| above[*side] != above[(side + 1) % 4]).map(|side| sides[side]).collect();
        match crossed[..] {
            [one, other] => vec![(one, other)],
            // A saddle: the mean of the corners says which two belong together.
            [low, right, high, left] if above[0] == ((a + b + c + d) / 4.0 >= level) => {
                vec![(low, right), (high, left)]
            }
            [low, right, high, left] => vec![(left, low), (right, high)],
            _ => Vec::new(),
        }
    }

    /// Where the line crosses a side.
    fn point(&self, field: &Field, (column, row, up): Crossing, level: f64) -> Option<(f64, f64)> {
        let (to_column, to_row) = if up { (column, row + 1) } else { (column + 1, row) };
        let (from, to) = (self.value(column, row)?, self.value(to_column, to_row)?);
        let share = (level - from) / (to - from);
        let between = |lines: &[f64], from: usize, to: usize| {
            Some(lines.get(from)? + (lines.get(to)? - lines.get(from)?) * share)
        };
        Some((between(&field.grid.x, column, to_column)?, between(&field.grid.y, row, to_row)?))
    }
}

/// Pieces strung to lines: each crossing belongs to two pieces at most.
fn strung(pieces: &[(Crossing, Crossing)]) -> Vec<Vec<Crossing>> {
    let mut at: std::collections::BTreeMap<Crossing, Vec<usize>> = std::collections::BTreeMap::new();
    for (index, (one, other)) in pieces.iter().enumerate() {
        at.entry(*one).or_default().push(index);
        at.entry(*other).or_default().push(index);
    }
    let mut used = vec![false; pieces.len()];
    let mut lines = Vec::new();
    // Ends first, so that open lines are not begun in their middle.
    let ends = at.iter().filter(|(_, pieces)| pieces.len() == 1).map(|(crossing, _)| *crossing);
    for start in ends.chain(pieces.iter().map(|(one, _)| *one)) {
        let mut line = vec![start];
        let mut here = start;
        while let Some(piece) = at.get(&here).and_then(|pieces| pieces.iter().find(|piece| !used[**piece])) {
            used[*piece] = true;
            let (one, other) = pieces[*piece];
            here = if one == here { other } else { one };
            line.push(here);
        }
        if line.len() > 1 {
            lines.push(line);
        }
    }
    lines
}
