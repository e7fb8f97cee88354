//! A wall on its way through time.

use super::march::{Acting, Edges, Flow, March, State};
use super::mesh::Mesh;
use super::{Failure, Hour, Piece, SHORTEST, Wall};

/// Water (kg/m²) or heat (J/m²) that came into the wall since the start, by where it came in; less than 0 where more went out.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ledger {
    /// Through the outer film.
    pub outside: f64,
    /// With the sun that the outer surface took up.
    pub sun: f64,
    /// From the sky; less than 0, what the outer surface lost to it.
    pub sky: f64,
    /// Through the inner surface.
    pub inside: f64,
    /// With the air of open gaps.
    pub gap: f64,
    /// With rain.
    pub rain: f64,
    /// What the wall holds more than at the start.
    pub stored: f64,
    /// All that crossed an edge, both ways.
    pub moved: f64,
}

impl Ledger {
    /// What is open between what came in and what is held, by all that moved.
    pub fn open_by(&self) -> f64 {
        let open = (self.stored - self.came_in()).abs();
        if open > 0.0 { open / self.moved.max(f64::MIN_POSITIVE) } else { 0.0 }
    }

    fn came_in(&self) -> f64 {
        self.outside + self.sun + self.sky + self.inside + self.gap + self.rain
    }

    fn add(&mut self, all: [f64; 6], seconds: f64) {
        let [outside, sun, sky, inside, gap, rain] = all;
        self.outside += seconds * outside;
        self.sun += seconds * sun;
        self.sky += seconds * sky;
        self.inside += seconds * inside;
        self.gap += seconds * gap;
        self.rain += seconds * rain;
        self.moved += seconds * all.iter().map(|flow| flow.abs()).sum::<f64>();
    }
}

/// A wall with its temperatures and humidities now.
#[derive(Clone, Debug)]
pub struct Run<'w> {
    wall: &'w Wall,
    mesh: Mesh,
    states: Vec<State>,
    march: March,
    /// Next step, s.
    pace: f64,
    /// Longest step, s: an hour unless set.
    pub longest: f64,
    passed: f64,
    water: Ledger,
    heat: Ledger,
    start: (f64, f64),
    ran_off: f64,
    drunk: f64,
    steps: usize,
}

impl<'w> Run<'w> {
    /// All of it at one temperature (°C) and relative humidity (above 0, up to 1).
    pub fn new(wall: &'w Wall, temperature: f64, humidity: f64) -> Result<Self, Failure> {
        let mesh = Mesh::of(wall)?;
        if let Some(leak) = wall.leak {
            given("share of rain that leaks in", leak.share, 0.0, 1.0)?;
            if !matches!(wall.pieces.get(leak.piece), Some(Piece::Solid(_))) {
                return Err(Failure::Given { what: "layer that takes the rain", value: leak.piece as f64 });
            }
        }
        let states = vec![State { temperature, humidity }; mesh.cells.len()];
        let (pace, longest) = (3600.0, 3600.0);
        let (water, heat) = (Ledger::default(), Ledger::default());
        let march = March::default();
        let mut run = Self {
            wall,
            mesh,
            states,
            march,
            pace,
            longest,
            passed: 0.0,
            water,
            heat,
            start: (0.0, 0.0),
            ran_off: 0.0,
            drunk: 0.0,
            steps: 0,
        };
        run.restart()?;
        Ok(run)
    }

    /// Gives a piece another start.
    pub fn set(&mut self, piece: usize, temperature: f64, humidity: f64) -> Result<(), Failure> {
        self.set_cells(piece, usize::MAX, temperature, humidity)
    }

    /// Gives the outermost `count` cells of a piece another start.
    pub fn set_cells(&mut self, piece: usize, count: usize, temperature: f64, humidity: f64) -> Result<(), Failure> {
        let own = self.mesh.cells.iter().zip(&mut self.states).filter(|(cell, _)| cell.piece == piece);
        for (_, state) in own.take(count) {
            *state = State { temperature, humidity };
        }
        self.restart()
    }

    /// Begins the ledgers anew from what stands now.
    pub fn restart(&mut self) -> Result<(), Failure> {
        for state in &self.states {
            given("temperature of the wall", state.temperature, -100.0, 200.0)?;
            given("relative humidity of the wall", state.humidity, 1e-4, 2.0)?;
        }
        self.start = self.held();
        (self.water, self.heat) = (Ledger::default(), Ledger::default());
        (self.ran_off, self.drunk) = (0.0, 0.0);
        Ok(())
    }

    /// Lets `hour` act for `seconds`.
    pub fn go(&mut self, seconds: f64, hour: &Hour) -> Result<(), Failure> {
        check(hour)?;
        let mut left = seconds;
        while left > 1e-9 * seconds {
            let step = self.pace.min(self.longest).min(left);
            let (rain, off) = self.rain(hour, step);
            let leaks = self.wall.leak.map_or(0.0, |leak| leak.share);
            let face = if self.wall.drinks { hour.rain * (1.0 - leaks) } else { 0.0 };
            let acting = Acting { hour, outside: self.wall.outside, rain: &rain, face };
            let mut next = self.states.clone();
            match self.march.step(&self.mesh, &acting, step, &mut next) {
                Some(edges) => {
                    self.states = next;
                    self.book(&edges, step);
                    self.ran_off += off * step;
                    left -= step;
                    self.pace = (self.pace.max(step) * 2.0).min(self.longest);
                }
                None if step <= SHORTEST => return Err(Failure::Stuck { seconds: self.passed }),
                None => self.pace = step / 4.0,
            }
        }
        Ok(())
    }

    /// Rain into each cell, kg/(m²·s), no more than finds room there in a step; and what runs off.
    fn rain(&self, hour: &Hour, seconds: f64) -> (Vec<f64>, f64) {
        let Some(leak) = self.wall.leak.filter(|_| hour.rain > 0.0) else { return (Vec::new(), 0.0) };
        let whole: f64 = self.cells(leak.piece).map(|at| self.mesh.cells[at].depth).sum();
        let mut rain = vec![0.0; self.states.len()];
        let mut off = 0.0;
        for at in self.cells(leak.piece) {
            let (cell, state) = (&self.mesh.cells[at], self.states[at]);
            let comes = hour.rain * leak.share * cell.depth / whole;
            let room = cell.room(cell.store(state.temperature, state.humidity).water) / seconds;
            rain[at] = comes.min(room);
            off += comes - rain[at];
        }
        (rain, off)
    }

    fn book(&mut self, edges: &Edges, seconds: f64) {
        let all = [edges.outside, edges.sun, edges.sky, edges.inside, edges.gap, edges.rain];
        self.water.add(all.map(|flow: Flow| flow.water), seconds);
        self.heat.add(all.map(|flow: Flow| flow.heat), seconds);
        self.drunk += edges.drunk * seconds;
        self.passed += seconds;
        self.steps += 1;
    }

    fn held(&self) -> (f64, f64) {
        let stores = self.mesh.cells.iter().zip(&self.states).map(|(cell, s)| cell.store(s.temperature, s.humidity));
        stores.fold((0.0, 0.0), |sum, store| (sum.0 + store.water, sum.1 + store.heat))
    }

    fn cells(&self, piece: usize) -> impl Iterator<Item = usize> {
        self.mesh.cells.iter().enumerate().filter(move |(_, cell)| cell.piece == piece).map(|(at, _)| at)
    }

    /// Balance of water since the start, kg/m².
    pub fn water_ledger(&self) -> Ledger {
        Ledger { stored: self.held().0 - self.start.0, ..self.water }
    }

    /// Balance of heat since the start, J/m².
    pub fn heat_ledger(&self) -> Ledger {
        Ledger { stored: self.held().1 - self.start.1, ..self.heat }
    }

    /// Rain that the outer face took up since the start, kg/m².
    pub fn drunk(&self) -> f64 {
        self.drunk
    }

    /// Temperature of every cell of a piece, °C, and the share of free saturation that it holds; nothing for what takes no water.
    pub fn filling(&self, piece: usize) -> impl Iterator<Item = (f64, f64)> {
        let of = |at: usize| {
            let (cell, state) = (self.mesh.cells.get(at)?, self.states.get(at)?);
            Some((state.temperature, cell.filled(state.humidity)?))
        };
        self.cells(piece).filter_map(of)
    }

    /// Rain that found no room in its layer since the start, kg/m²: it ran off.
    pub fn ran_off(&self) -> f64 {
        self.ran_off
    }

    /// Steps taken.
    pub fn steps(&self) -> usize {
        self.steps
    }

    /// Of every cell of a piece, from outside: temperature in °C and relative humidity, which stands a hair above 1 where water
    /// lies free. Nothing for a sheet.
    pub fn inside_of(&self, piece: usize) -> impl Iterator<Item = (f64, f64)> {
        self.cells(piece).filter_map(|at| self.states.get(at)).map(|state| (state.temperature, state.humidity))
    }

    /// Water that a piece holds, kg/m²; in a gap its vapour as well.
    pub fn water_in(&self, piece: usize) -> f64 {
        let water = |at: usize| {
            let (cell, state) = (self.mesh.cells.get(at)?, self.states.get(at)?);
            Some(cell.store(state.temperature, state.humidity).water)
        };
        self.cells(piece).filter_map(water).sum()
    }
}

fn given(what: &'static str, value: f64, least: f64, most: f64) -> Result<(), Failure> {
    if value >= least && value <= most { Ok(()) } else { Err(Failure::Given { what, value }) }
}

fn check(hour: &Hour) -> Result<(), Failure> {
    given("temperature outside", hour.outside.temperature, -100.0, 200.0)?;
    given("temperature inside", hour.inside.temperature, -100.0, 200.0)?;
    given("vapour pressure outside", hour.outside.pressure, 0.0, 1e6)?;
    given("vapour pressure inside", hour.inside.pressure, 0.0, 1e6)?;
    given("sun taken up by the surface", hour.sun, 0.0, 2000.0)?;
    given("heat lost to the sky", hour.sky, -500.0, 500.0)?;
    given("draught of a warm gap", hour.draws, 0.0, 1.0)?;
    given("air changes of the gap", hour.air_changes, 0.0, 1e3)?;
    given("rain on the wall", hour.rain, 0.0, 1.0)
}
