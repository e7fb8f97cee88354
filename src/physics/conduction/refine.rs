//! The grid made finer until the answer stands still.

use super::{Fault, Field, Grid, Section, solve};

/// How fine it may become, and when it is enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// Cells that are not passed.
    pub most_cells: usize,
    /// The flow moves by less than this part of it from one grid to one twice as fine.
    pub flow: f64,
    /// Temperatures that are asked for move by less than this, K.
    pub temperature: f64,
}

impl Default for Effort {
    /// ISO 10211:2017 asks that the flow moves by less than 1 % when the steps are halved. That temperatures move by less than
    /// half of the 0.1 K it allows a program (both from memory) is our own addition.
    fn default() -> Effort {
        Effort { most_cells: 200_000, flow: 0.01, temperature: 0.05 }
    }
}

/// The finest answer, and how far it moved to get there.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// The last grid.
    pub field: Field,
    /// Heat that comes in, W/m, on each grid from the coarsest.
    pub flows: Vec<f64>,
    /// By which part of itself the flow moved with the last halving of the steps; infinite if there was but one grid.
    pub flow_moved: f64,
    /// By how much the temperature that moved most did, K; infinite if there was but one grid.
    pub temperature_moved: f64,
    /// Both moved less than they may.
    pub settled: bool,
}

/// Steps of the coarsest grid between two lines.
const FIRST: usize = 2;
/// Steps of the finest.
const LAST: usize = 64;

/// Solves on finer and finer grids until the flow, the coldest surfaces and the temperatures at `points` settle.
///
/// # Errors
/// What is wrong with the section; not that it did not settle, which the answer tells.
pub fn settle(section: &Section, points: &[(f64, f64)], effort: Effort) -> Result<Settled, Fault> {
    let watched = |field: &Field| -> Vec<f64> {
        let coldest =
            (0..section.films.len()).filter_map(|film| field.coldest(film)).map(|(temperature, _)| temperature);
        coldest.chain(points.iter().filter_map(|point| field.temperature(*point))).collect()
    };
    let mut parts = FIRST;
    let field = solve(section, Grid::of(section, parts, effort.most_cells)?)?;
    let (mut seen, flows) = (watched(&field), vec![field.through()]);
    let (moved, settled) = (f64::INFINITY, false);
    let mut best = Settled { field, flows, flow_moved: moved, temperature_moved: moved, settled };
    while !best.settled && parts < LAST {
        parts *= 2;
        let Ok(grid) = Grid::of(section, parts, effort.most_cells) else { break };
        best.field = solve(section, grid)?;
        let (now, flow) = (watched(&best.field), best.field.through());
        let before = best.flows.last().copied().unwrap_or_default();
        best.flow_moved = if flow > 0.0 { ((flow - before) / flow).abs() } else { 0.0 };
        best.temperature_moved = now.iter().zip(&seen).map(|(now, before)| (now - before).abs()).fold(0.0, f64::max);
        best.flows.push(flow);
        best.settled = best.flow_moved < effort.flow && best.temperature_moved < effort.temperature;
        seen = now;
    }
    Ok(best)
}
