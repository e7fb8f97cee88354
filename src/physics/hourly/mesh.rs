//! A wall cut into cells, with what stands between them.

use super::vapour::{AIR_CAPACITY, VAPOUR_GAS, WATER_CAPACITY, density, heat, saturation};
use super::{Failure, Film, Isotherm, Piece, Wall, liquid};
use crate::physics::layers::AIR_PERMEABILITY;

/// Vapour resistance of an air layer as metres of still air: it stirs itself (ISO 13788:2012, from memory).
const STIRRED: f64 = 0.01;
/// Relative humidity in the middle of a dry cup and of a wet cup.
const CUPS: (f64, f64) = (0.25, 0.72);
/// What holds less at free saturation takes no water, kg/m³.
const TAKES_NONE: f64 = 1.0;
/// Water beside the air of a gap beyond saturation, kg/m² for each unit of relative humidity.
const FILM: f64 = 1e3;

/// What a cell is of.
#[derive(Clone, Debug)]
enum Stuff {
    Solid { isotherm: Isotherm, dry_heat: f64, factor: (f64, f64), absorption: f64 },
    Air { open: bool },
}

/// One cell.
#[derive(Clone, Debug)]
pub(super) struct Cell {
    pub piece: usize,
    pub depth: f64,
    stuff: Stuff,
    /// From its middle to its side, m²·K/W.
    half: f64,
}

/// What a cell holds on each m² of wall: water in kg, heat in J, and how both change with temperature and humidity.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Store {
    pub water: f64,
    pub heat: f64,
    pub water_by: [f64; 2],
    pub heat_by: [f64; 2],
}

/// Between two cells, or a cell and the air.
#[derive(Clone, Debug, Default)]
pub(super) struct Face {
    /// W/(m²·K).
    pub heat: f64,
    /// Without the cells and sheets beside it, m²·s·Pa/kg.
    between: f64,
    /// Sheets: equivalent air layers, dry and wet, m.
    sheets: Vec<(f64, f64)>,
    /// Between cells of a layer in which liquid moves, 1/m; 0 elsewhere.
    pub liquid: f64,
}

/// All cells from outside to inside, and one face more.
#[derive(Clone, Debug)]
pub(super) struct Mesh {
    pub cells: Vec<Cell>,
    pub faces: Vec<Face>,
}

impl Cell {
    /// Changes with outside air.
    pub fn is_open(&self) -> bool {
        matches!(self.stuff, Stuff::Air { open: true })
    }

    /// Water that still finds room before free saturation, kg/m².
    pub fn room(&self, water: f64) -> f64 {
        match &self.stuff {
            Stuff::Solid { isotherm, .. } => (isotherm.saturated() * self.depth - water).max(0.0),
            Stuff::Air { .. } => 0.0,
        }
    }

    /// What drives liquid, kg/(m·s), and how it grows with humidity. Beyond saturation it grows no more.
    pub fn liquid(&self, humidity: f64) -> (f64, f64) {
        match &self.stuff {
            Stuff::Solid { isotherm, absorption, .. } if *absorption > 0.0 => {
                let (water, slope) = isotherm.water(humidity.min(1.0));
                let (full, filled) = (isotherm.saturated(), water / isotherm.saturated());
                let grows = if humidity < 1.0 { liquid::diffusivity(*absorption, full, filled) * slope } else { 0.0 };
                (liquid::potential(*absorption, full, filled), grows)
            }
            _ => (0.0, 0.0),
        }
    }

    /// What its wetted outer face sucks in when it is this humid, kg/(m²·s), and how that changes with humidity.
    pub fn sucks(&self, humidity: f64) -> (f64, f64) {
        let (own, grows) = self.liquid(humidity);
        let half = self.depth / 2.0;
        ((self.liquid(1.0).0 - own).max(0.0) / half, -grows / half)
    }

    /// Share of free saturation that it holds; nothing for air and for what takes none.
    pub fn filled(&self, humidity: f64) -> Option<f64> {
        match &self.stuff {
            Stuff::Solid { isotherm, .. } if isotherm.saturated() >= TAKES_NONE => {
                Some(isotherm.water(humidity.min(1.0)).0 / isotherm.saturated())
            }
            _ => None,
        }
    }

    /// From its middle to its side, m²·s·Pa/kg.
    fn resists_vapour(&self, humidity: f64) -> f64 {
        let still = match &self.stuff {
            Stuff::Air { .. } => STIRRED.min(self.depth),
            Stuff::Solid { factor, .. } => self.depth * between_cups(*factor, humidity),
        };
        still / 2.0 / AIR_PERMEABILITY
    }

    /// What it holds.
    pub fn store(&self, temperature: f64, humidity: f64) -> Store {
        match &self.stuff {
            Stuff::Solid { isotherm, dry_heat, .. } => {
                let (water, slope) = isotherm.water(humidity);
                let capacity = dry_heat + water * WATER_CAPACITY;
                Store {
                    water: water * self.depth,
                    heat: capacity * temperature * self.depth,
                    water_by: [0.0, slope * self.depth],
                    heat_by: [capacity * self.depth, slope * WATER_CAPACITY * temperature * self.depth],
                }
            }
            Stuff::Air { .. } => self.air(temperature, humidity),
        }
    }

    fn air(&self, temperature: f64, humidity: f64) -> Store {
        let (full, slope) = saturation(temperature);
        let kelvin = temperature + 273.15;
        let at_full = self.depth * full / (VAPOUR_GAS * kelvin);
        let (vapour, beside) = (at_full * humidity.min(1.0), FILM * (humidity - 1.0).max(0.0));
        let by_warmth = vapour * (slope / full - 1.0 / kelvin);
        let by_wet = if humidity < 1.0 {
            (at_full, at_full * heat(temperature))
        } else {
            (FILM, FILM * WATER_CAPACITY * temperature)
        };
        let dry = self.depth * AIR_CAPACITY;
        let own = dry + vapour * super::vapour::VAPOUR_CAPACITY + beside * WATER_CAPACITY;
        Store {
            water: vapour + beside,
            heat: dry * temperature + vapour * heat(temperature) + beside * WATER_CAPACITY * temperature,
            water_by: [by_warmth, by_wet.0],
            heat_by: [own + heat(temperature) * by_warmth, by_wet.1],
        }
    }

    /// What its air holds in each m³, kg, and how that changes with temperature and humidity.
    pub fn vapour_in_air(&self, temperature: f64, humidity: f64) -> (f64, [f64; 2]) {
        let (full, slope) = saturation(temperature);
        let at_full = density(full, temperature);
        (at_full * humidity, [at_full * humidity * (slope / full - 1.0 / (temperature + 273.15)), at_full])
    }
}

impl Face {
    /// kg/(m²·s·Pa) between cells of these humidities.
    pub fn vapour(&self, before: Option<(&Cell, f64)>, after: Option<(&Cell, f64)>) -> f64 {
        let sides = [before, after].into_iter().flatten().map(|(cell, humidity)| cell.resists_vapour(humidity));
        let sheets = if self.sheets.is_empty() { 0.0 } else { self.through_sheets(before, after) };
        1.0 / (self.between + sides.sum::<f64>() + sheets)
    }
}

impl Face {
    /// m²·s·Pa/kg, by the mean humidity of what lies beside them.
    fn through_sheets(&self, before: Option<(&Cell, f64)>, after: Option<(&Cell, f64)>) -> f64 {
        let beside = [before, after].into_iter().flatten();
        let (sum, count) = beside.fold((0.0, 0.0), |(sum, count), (_, humidity)| (sum + humidity, count + 1.0));
        let humidity = if count > 0.0 { sum / count } else { 0.0 };
        self.sheets.iter().map(|cups| between_cups(*cups, humidity) / AIR_PERMEABILITY).sum()
    }
}

/// Resistance between that in a dry and that in a wet cup, at this humidity: what lets vapour through goes straight between them.
fn between_cups((dry, wet): (f64, f64), humidity: f64) -> f64 {
    if dry <= 0.0 || wet <= 0.0 {
        return 0.0;
    }
    let share = ((humidity - CUPS.0) / (CUPS.1 - CUPS.0)).clamp(0.0, 1.0);
    1.0 / (1.0 / dry + share * (1.0 / wet - 1.0 / dry))
}

impl Mesh {
    /// Cuts a wall up.
    pub fn of(wall: &Wall) -> Result<Self, Failure> {
        let mut cells: Vec<Cell> = Vec::new();
        let (heat, vapour) = resistances(wall.outside)?;
        // What stands before each face without the cells beside it: resistances to heat and vapour.
        let mut between = vec![(heat, vapour, Vec::new())];
        for (at, piece) in wall.pieces.iter().enumerate() {
            check(at, piece)?;
            match piece {
                Piece::Sheet { resistance, air_layer } => {
                    if let Some(last) = between.last_mut() {
                        last.0 += resistance;
                        last.2.push(*air_layer);
                    }
                }
                Piece::Solid(solid) => {
                    let depth = solid.thickness / solid.cells as f64;
                    let stuff = Stuff::Solid {
                        isotherm: solid.isotherm.clone(),
                        dry_heat: solid.density * solid.heat_capacity,
                        factor: solid.vapour_factor,
                        absorption: solid.absorption,
                    };
                    let half = depth / solid.conductivity / 2.0;
                    cells.extend((0..solid.cells).map(|_| Cell { piece: at, depth, stuff: stuff.clone(), half }));
                    between.extend((0..solid.cells).map(|_| (0.0, 0.0, Vec::new())));
                }
                Piece::Gap { depth, resistance, open } => {
                    let stuff = Stuff::Air { open: *open };
                    cells.push(Cell { piece: at, depth: *depth, stuff, half: resistance / 2.0 });
                    between.push((0.0, 0.0, Vec::new()));
                }
            }
        }
        let (heat, vapour) = resistances(wall.inside)?;
        if let Some(last) = between.last_mut() {
            (last.0, last.1) = (last.0 + heat, last.1 + vapour);
        }
        if cells.is_empty() {
            return Err(Failure::Empty);
        }
        let half = |at: Option<usize>| at.and_then(|at| cells.get(at)).map_or(0.0, |cell| cell.half);
        let liquid = |at: usize| match (at.checked_sub(1).and_then(|before| cells.get(before)), cells.get(at)) {
            (Some(before), Some(after)) if before.piece == after.piece => 1.0 / after.depth,
            _ => 0.0,
        };
        let faces = between.into_iter().enumerate().map(|(at, (heat, vapour, sheets))| Face {
            heat: 1.0 / (heat + half(at.checked_sub(1)) + half(Some(at))),
            between: vapour,
            sheets,
            liquid: liquid(at),
        });
        let faces = faces.collect();
        Ok(Self { faces, cells })
    }
}

/// Of a film: what lets nothing through resists without end.
fn resistances(film: Film) -> Result<(f64, f64), Failure> {
    for (what, value) in [("heat through a film", film.heat), ("vapour through a film", film.vapour)] {
        if !(value >= 0.0 && value.is_finite()) {
            return Err(Failure::Given { what, value });
        }
    }
    Ok((1.0 / film.heat, 1.0 / film.vapour))
}

fn check(piece: usize, given: &Piece) -> Result<(), Failure> {
    let above = |what, value: f64| {
        if value > 0.0 && value.is_finite() { Ok(()) } else { Err(Failure::Measure { piece, what, value }) }
    };
    let not_below = |what, value: f64| {
        if value >= 0.0 && value.is_finite() { Ok(()) } else { Err(Failure::Measure { piece, what, value }) }
    };
    match given {
        Piece::Sheet { resistance, air_layer } => {
            not_below("resistance", *resistance)?;
            not_below("vapour thickness, dry", air_layer.0)?;
            not_below("vapour thickness, wet", air_layer.1)
        }
        Piece::Gap { depth, resistance, .. } => {
            above("depth", *depth)?;
            above("resistance", *resistance)
        }
        Piece::Solid(solid) => {
            above("thickness", solid.thickness)?;
            above("conductivity", solid.conductivity)?;
            above("density", solid.density)?;
            not_below("water absorption", solid.absorption)?;
            above("heat capacity", solid.heat_capacity)?;
            above("vapour factor, dry", solid.vapour_factor.0)?;
            above("vapour factor, wet", solid.vapour_factor.1)?;
            above("number of cells", solid.cells as f64)
        }
    }
}
