//! One implicit step: the balance of every cell at the end of the step, and the corrections that close it (Newton's way).

use super::blocks::{Row, solve};
use super::mesh::{Cell, Face, Mesh, Store};
use super::vapour::{AIR_CAPACITY, VAPOUR_CAPACITY, WATER_CAPACITY, heat, saturation};
use super::{Air, Film, Hour};

/// Corrections after which a step is given up.
const MOST: usize = 25;
/// A cell is closed when no more is open than this in a step, J/m² and kg/m² ...
const CLOSED: (f64, f64) = (1e-6, 1e-12);
/// ... or when the last correction was no more than this, K and relative humidity: rounding.
const STILL: (f64, f64) = (1e-10, 1e-13);
/// Most that one correction moves a temperature, K.
const STRIDE: f64 = 25.0;

/// What flows: water in kg and heat in J on each m², by the second.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Flow {
    pub water: f64,
    pub heat: f64,
}

/// What crosses the edges of the wall.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Edges {
    /// Through the film.
    pub outside: Flow,
    pub sun: Flow,
    /// Less than nothing where the surface loses heat to the sky.
    pub sky: Flow,
    pub inside: Flow,
    pub gap: Flow,
    pub rain: Flow,
    /// Of the rain, what the outer face took up, kg/(m²·s).
    pub drunk: f64,
}

/// Temperature and relative humidity of a cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct State {
    pub temperature: f64,
    pub humidity: f64,
}

/// One side of a face: temperature, vapour pressure, and how the pressure changes with temperature and humidity.
#[derive(Clone, Copy, Debug, Default)]
struct Side {
    /// What conduction sees.
    temperature: f64,
    /// What vapour carries.
    warmth: f64,
    pressure: f64,
    by: [f64; 2],
    /// What drives liquid, and how it grows with humidity.
    liquid: (f64, f64),
}

/// A flow through a face, and how it changes with what stands before it and after it.
#[derive(Clone, Copy, Debug, Default)]
struct Through {
    flow: Flow,
    water_by: [[f64; 2]; 2],
    heat_by: [[f64; 2]; 2],
}

/// Room to work in, kept from step to step.
#[derive(Clone, Debug, Default)]
pub(super) struct March {
    rows: Vec<Row>,
    old: Vec<Store>,
    sides: Vec<Side>,
    vapour: Vec<f64>,
    liquid: Vec<f64>,
}

/// What acts during a step.
pub(super) struct Acting<'h> {
    pub hour: &'h Hour,
    pub outside: Film,
    /// Rain that each cell takes, kg/(m²·s).
    pub rain: &'h [f64],
    /// Rain on the outer face that the first cell may drink, kg/(m²·s).
    pub face: f64,
}

impl March {
    /// From `states` to those `seconds` later, put in their place; what crosses the edges meanwhile. `None`, and states not to
    /// be used, where no answer was found.
    pub fn step(&mut self, mesh: &Mesh, acting: &Acting<'_>, seconds: f64, states: &mut [State]) -> Option<Edges> {
        self.old = mesh.cells.iter().zip(&*states).map(|(cell, s)| cell.store(s.temperature, s.humidity)).collect();
        let beside = |at: Option<usize>| at.and_then(|at| Some((mesh.cells.get(at)?, states.get(at)?.humidity)));
        let faces = mesh.faces.iter().enumerate();
        self.vapour = faces.map(|(at, face)| face.vapour(beside(at.checked_sub(1)), beside(Some(at)))).collect();
        // Water that is frozen at the start of the step stays where it is.
        let thawed = |at: usize| states.get(at).is_some_and(|state| state.temperature >= 0.0);
        let leads = |(at, face): (usize, &Face)| if at > 0 && thawed(at - 1) && thawed(at) { face.liquid } else { 0.0 };
        self.liquid = mesh.faces.iter().enumerate().map(leads).collect();
        let acting = &Acting { face: if thawed(0) { acting.face } else { 0.0 }, ..*acting };
        let mut still = false;
        for _ in 0..MOST {
            let (edges, closed) = self.balance(mesh, acting, seconds, states);
            if closed || still {
                return Some(edges);
            }
            if !solve(&mut self.rows) {
                return None;
            }
            still = correct(&self.rows, states);
        }
        None
    }

    /// Fills the rows with what is open in every cell; whether nothing is.
    fn balance(&mut self, mesh: &Mesh, acting: &Acting<'_>, seconds: f64, states: &[State]) -> (Edges, bool) {
        self.sides = mesh.cells.iter().zip(states).map(|(cell, state)| Side::of(cell, *state)).collect();
        self.rows.resize(mesh.cells.len(), Row::default());
        let mut edges = Edges::default();
        let mut closed = true;
        let outer = Side::air(acting.hour.outside, sol(acting));
        let inner = Side::air(acting.hour.inside, acting.hour.inside.temperature);
        let last = mesh.cells.len();
        let mut before = Through::default();
        for at in 0..=last {
            let sides = (if at > 0 { self.sides[at - 1] } else { outer }, self.sides.get(at).copied().unwrap_or(inner));
            let after = through([mesh.faces[at].heat, self.vapour[at], self.liquid[at]], &sides.0, &sides.1);
            if at == 0 {
                edges.cross_outside(acting, after.flow);
            } else {
                let sources = sources(mesh, acting, at - 1, states[at - 1]);
                edges.gap.add(sources.gap.flow);
                edges.rain.add(sources.rain);
                edges.drunk += sources.drunk;
                let store = mesh.cells[at - 1].store(states[at - 1].temperature, states[at - 1].humidity);
                let row = row(&store, &self.old[at - 1], seconds, &before, &after, &sources);
                closed &= row.right[0].abs() <= CLOSED.0 && row.right[1].abs() <= CLOSED.1;
                self.rows[at - 1] = row;
            }
            before = after;
        }
        edges.inside = Flow { water: -before.flow.water, heat: -before.flow.heat };
        (edges, closed)
    }
}

impl Flow {
    fn add(&mut self, other: Flow) {
        self.water += other.water;
        self.heat += other.heat;
    }
}

impl Edges {
    /// What goes into the wall is what sun and sky leave and what the film brings.
    fn cross_outside(&mut self, acting: &Acting<'_>, into: Flow) {
        if acting.outside.heat > 0.0 {
            self.sun.heat = acting.hour.sun;
            self.sky.heat = -acting.hour.sky;
        }
        self.outside = Flow { water: into.water, heat: into.heat - self.sun.heat - self.sky.heat };
    }
}

impl Side {
    fn of(cell: &Cell, State { temperature, humidity }: State) -> Self {
        let (full, slope) = saturation(temperature);
        let liquid = cell.liquid(humidity);
        Self { temperature, warmth: temperature, pressure: humidity * full, by: [humidity * slope, full], liquid }
    }

    fn air(air: Air, temperature: f64) -> Self {
        Self { temperature, warmth: air.temperature, pressure: air.pressure, ..Self::default() }
    }
}

/// Temperature outside as the surface feels it.
fn sol(acting: &Acting<'_>) -> f64 {
    let gain = acting.hour.sun - acting.hour.sky;
    let warmer = if acting.outside.heat > 0.0 { gain / acting.outside.heat } else { 0.0 };
    acting.hour.outside.temperature + warmer
}

/// Vapour down its pressure, liquid down its potential, heat down the temperature and with both.
fn through([conducts, lets, leads]: [f64; 3], before: &Side, after: &Side) -> Through {
    let vapour = lets * (before.pressure - after.pressure);
    let liquid = leads * (before.liquid.0 - after.liquid.0);
    let middle = (before.warmth + after.warmth) / 2.0;
    let (carried, warm) = (heat(middle), WATER_CAPACITY * middle);
    let conducted = conducts * (before.temperature - after.temperature);
    let flow = Flow { water: vapour + liquid, heat: conducted + vapour * carried + liquid * warm };
    let mut water_by = [before.by.map(|by| lets * by), after.by.map(|by| -lets * by)];
    let warmth = (vapour * VAPOUR_CAPACITY + liquid * WATER_CAPACITY) / 2.0;
    let mut heat_by = water_by.map(|by| by.map(|by| carried * by));
    heat_by[0][0] += conducts + warmth;
    heat_by[1][0] += warmth - conducts;
    for (side, grows) in [(0, leads * before.liquid.1), (1, -leads * after.liquid.1)] {
        water_by[side][1] += grows;
        heat_by[side][1] += warm * grows;
    }
    Through { flow, water_by, heat_by }
}

/// What comes into a cell from elsewhere.
struct Sources {
    /// Air that changes; only what concerns the cell itself is filled.
    gap: Through,
    rain: Flow,
    /// Part of the rain, and how it and its heat change with the humidity of the cell.
    drunk: f64,
    drunk_by: [f64; 2],
}

fn sources(mesh: &Mesh, acting: &Acting<'_>, at: usize, state: State) -> Sources {
    let outside = acting.hour.outside;
    let cell = &mesh.cells[at];
    let (drunk, grows) = if at == 0 && acting.face > 0.0 {
        let (sucks, grows) = cell.sucks(state.humidity);
        if sucks < acting.face { (sucks, grows) } else { (acting.face, 0.0) }
    } else {
        (0.0, 0.0)
    };
    let water = acting.rain.get(at).copied().unwrap_or(0.0) + drunk;
    let warm = WATER_CAPACITY * outside.temperature.max(0.0);
    let rain = Flow { water, heat: water * warm };
    let drunk_by = [grows, grows * warm];
    if !cell.is_open() {
        return Sources { gap: Through::default(), rain, drunk, drunk_by };
    }
    let (changes, more) = acting.hour.changes(state.temperature);
    let volumes = changes * cell.depth;
    let arrives = super::vapour::density(outside.pressure, outside.temperature);
    let (leaves, by) = cell.vapour_in_air(state.temperature, state.humidity);
    let dry = AIR_CAPACITY * (outside.temperature - state.temperature);
    // What a cubic metre of air that changes brings.
    let each = Flow {
        water: arrives - leaves,
        heat: dry + arrives * heat(outside.temperature) - leaves * heat(state.temperature),
    };
    let flow = Flow { water: volumes * each.water, heat: volumes * each.heat };
    let mut water_by = by.map(|by| -volumes * by);
    let mut heat_by = water_by.map(|by| by * heat(state.temperature));
    water_by[0] += more * cell.depth * each.water;
    heat_by[0] += more * cell.depth * each.heat - volumes * (AIR_CAPACITY + leaves * VAPOUR_CAPACITY);
    Sources {
        gap: Through { flow, water_by: [water_by, [0.0; 2]], heat_by: [heat_by, [0.0; 2]] },
        rain,
        drunk,
        drunk_by,
    }
}

/// The balance of one cell: heat first, water second.
fn row(store: &Store, old: &Store, seconds: f64, before: &Through, after: &Through, sources: &Sources) -> Row {
    let gap = &sources.gap;
    let heat = before.flow.heat - after.flow.heat + gap.flow.heat + sources.rain.heat;
    let water = before.flow.water - after.flow.water + gap.flow.water + sources.rain.water;
    let own = |k: usize| {
        let drunk = if k == 1 { sources.drunk_by } else { [0.0; 2] };
        let heat = before.heat_by[1][k] - after.heat_by[0][k] + gap.heat_by[0][k] + drunk[1];
        let water = before.water_by[1][k] - after.water_by[0][k] + gap.water_by[0][k] + drunk[0];
        (store.heat_by[k] - seconds * heat, store.water_by[k] - seconds * water)
    };
    let ((heat_by_warmth, water_by_warmth), (heat_by_wet, water_by_wet)) = (own(0), own(1));
    let side = |heat: [f64; 2], water: [f64; 2], sign: f64| {
        [heat[0], heat[1], water[0], water[1]].map(|by| sign * seconds * by)
    };
    Row {
        before: side(before.heat_by[0], before.water_by[0], -1.0),
        own: [heat_by_warmth, heat_by_wet, water_by_warmth, water_by_wet],
        after: side(after.heat_by[1], after.water_by[1], 1.0),
        right: [old.heat - store.heat + seconds * heat, old.water - store.water + seconds * water],
    }
}

/// Moves the states; whether hardly.
fn correct(rows: &[Row], states: &mut [State]) -> bool {
    let mut still = true;
    for (row, state) in rows.iter().zip(states) {
        let [warmer, wetter] = row.right;
        still &= warmer.abs() <= STILL.0 && wetter.abs() <= STILL.1;
        state.temperature += warmer.clamp(-STRIDE, STRIDE);
        let wanted = state.humidity + wetter;
        // Isotherms bend upward and break at 1: who comes from below stops there and looks at the steep side first.
        let most = if state.humidity < 1.0 { 1.0 } else { f64::INFINITY };
        state.humidity = wanted.clamp(state.humidity * 0.1, most);
    }
    still
}
