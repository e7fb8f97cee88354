//! Heat through plane cuts (ISO 10211): coupling, psi, the coldest surface, and how far the answer can be trusted.

mod psi;
#[cfg(test)]
mod tests;

pub(super) use psi::{Edge, of_edge};

use super::{Figure, Found, Missing, Scene, Source, Studied, Study, Trust, Value, WallFigures, What};
use crate::model::{AirSide, CutRegion, HeatCut, Model, Sureness};
use crate::physics::conduction::{self, Effort, Fault, Film, Rect, Region, Section, Settled, Touch};
use crate::physics::resistance::{Flow, SURFACE_OUTSIDE, surface_inside};
use crate::units::{Dimension, Keep, Range, System, display};

/// Heat through cuts.
pub struct HeatCuts;

impl Study for HeatCuts {
    fn id(&self) -> &'static str {
        "heat_cut"
    }

    fn title(&self) -> &'static str {
        "heat through the cut"
    }
}

const fn what(key: &'static str, title: &'static str, dimension: Dimension, keep: Keep) -> What {
    What { key, title, dimension, keep }
}

/// Coupling, L2D.
pub static COUPLING: What =
    what("heat_cut.coupling", "coupling inside to outside, L2D", Dimension::CONDUCTIVITY, Keep::Significant(4));
/// Linear transmittance.
pub static PSI: What = what("heat_cut.psi", "psi, beyond the flanks", Dimension::CONDUCTIVITY, Keep::Places(3));
/// What goes in.
pub static FLOW: What =
    what("heat_cut.flow", "heat that the room gives", Dimension::HEAT_PER_LENGTH, Keep::Significant(4));
/// The coldest surface, with its own surface resistance.
pub static COLDEST: What =
    what("heat_cut.coldest", "coldest surface of the room", Dimension::TEMPERATURE, Keep::Places(1));
/// Its temperature factor.
pub static FACTOR: What = what("heat_cut.factor", "fRsi of that surface", Dimension::NUMBER, Keep::Places(2));
/// Temperature of a point.
pub static POINT: What = what("heat_cut.point", "temperature", Dimension::TEMPERATURE, Keep::Places(1));
/// Heat that does not go out.
pub static BALANCE: What =
    what("heat_cut.balance", "heat in less heat out, by what goes through", Dimension::NUMBER, Keep::Significant(1));
/// Movement of the flow.
pub static FLOW_MOVED: What = what(
    "heat_cut.flow_moved",
    "by how much of itself the last refinement moved the flow",
    Dimension::NUMBER,
    Keep::Significant(2),
);
/// Movement of temperatures.
pub static MOVED: What = what(
    "heat_cut.temperature_moved",
    "by how much the last refinement moved a temperature",
    Dimension::TEMPERATURE_DIFFERENCE,
    Keep::Significant(2),
);

/// The method, from memory.
pub(super) const METHOD: Source = Source { standard: "ISO 10211", edition: "2017", clause: "" };
/// The surface resistance and the factor, from memory.
const COLD: Source = Source { standard: "ISO 13788", edition: "2012", clause: "" };
/// Of a room, for its coldest surface, m²·K/W: ISO 13788:2012, from memory.
const COLD_ROOM: f64 = 0.25;
/// Of a room where none is said, °C: common practice.
const ROOM: f64 = 20.0;

/// A cut solved twice: with the resistances for the flow, and with those for the coldest surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// For the flow.
    pub flow: Settled,
    /// For the coldest surface.
    pub cold: Settled,
    /// Of each air of the cut, °C.
    pub temperatures: Vec<f64>,
    /// The coldest surface of the room: °C, and where, m.
    pub coldest: Option<(f64, (f64, f64))>,
    /// Heat that the room gives, W/m.
    pub given: f64,
    /// Inside and outside, °C, where all air is of one or the other; the error says why not.
    pub between: Result<(f64, f64), String>,
    /// Coupling, W/(m·K); none where there are other than two temperatures.
    pub coupling: Option<f64>,
}

/// W/(m·K) with how sure; the error is the missing fact.
pub type Psi = Result<(Range, Trust), String>;

/// A cut with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct CutFigures {
    /// Index into [`Model::heat_cuts`].
    pub cut: usize,
    /// The answer; the error is the missing fact.
    pub solved: Result<Solved, String>,
    /// Linear transmittance beyond the flanks; none of a cut that has none and stands for no edge.
    pub psi: Option<Psi>,
    /// As for a wall type.
    pub studies: Vec<Studied>,
}

/// Figures of every cut whose text was understood.
pub(super) fn of(scene: &Scene<'_>, walls: &[WallFigures], index: usize, cut: &HeatCut) -> Option<CutFigures> {
    if cut.broken {
        return None;
    }
    let solved = solve(scene.model, cut);
    let psi = solved.as_ref().ok().and_then(|solved| psi::of(scene.model, walls, cut, solved));
    let found = told(scene.model, cut, &solved, psi.as_ref());
    Some(CutFigures { cut: index, solved, psi, studies: vec![Studied { study: HeatCuts.id(), found }] })
}

/// Rough sums are trusted if they are off what is wanted by more than so many times what the last refinement moved them: each
/// further one moves them less.
const CLEAR_BY: f64 = 4.0;

/// Temperature factor of the coldest surface of the room, with the resistances for that: in full, or roughly where that is
/// enough to see that it is more than `wanted`. The rough sum costs a small part of the full one.
///
/// # Errors
/// The missing fact, in words.
pub fn coldest_factor(model: &Model, cut: &HeatCut, wanted: f64) -> Result<f64, String> {
    let (section, temperatures) = section(model, cut, true)?;
    let (inside, outside) = between(cut, &temperatures)?;
    let solved = |effort: Effort| {
        let cold = conduction::settle(&section, &[], effort).map_err(|fault| words(cut, &fault))?;
        let (coldest, _) = coldest(cut, &cold).ok_or("a surface of the room")?;
        let factor = conduction::temperature_factor(coldest, inside, outside);
        let factor = factor.ok_or_else(|| "a difference: inside and outside are as warm".to_owned())?;
        Ok::<_, String>((factor, cold.temperature_moved / (inside - outside).abs()))
    };
    let (rough, moved) = solved(Effort { flow: 1.0, temperature: f64::INFINITY, ..Effort::default() })?;
    if rough - wanted > CLEAR_BY * moved {
        return Ok(rough);
    }
    solved(Effort::default()).map(|(factor, _)| factor)
}

/// The coldest surface of the room: °C, and where, m.
fn coldest(cut: &HeatCut, cold: &Settled) -> Option<(f64, (f64, f64))> {
    let rooms = cut.airs.iter().enumerate().filter(|(_, air)| air.side == AirSide::Inside);
    rooms.filter_map(|(film, _)| cold.field.coldest(film)).min_by(|a, b| a.0.total_cmp(&b.0))
}

/// A cut as physics takes it, with the resistances for the flow or for the coldest surface, and the °C of each of its airs; the
/// error is the missing fact.
fn section(model: &Model, cut: &HeatCut, cold: bool) -> Result<(Section, Vec<f64>), String> {
    let temperatures: Vec<f64> = cut.airs.iter().map(|air| temperature(model, air)).collect::<Result<_, _>>()?;
    let regions = cut
        .regions
        .iter()
        .map(|region| Ok(Region { at: rect(region.at), conductivity: conductivity(model, region)?.0 }))
        .collect::<Result<Vec<Region>, String>>()?;
    let touches = cut.airs.iter().enumerate().map(|(film, air)| Touch { at: rect(air.at), film }).collect();
    let film = |(air, temperature): (&crate::model::CutAir, &f64)| Film {
        temperature: *temperature,
        resistance: resistance(air, cold),
    };
    let films = cut.airs.iter().zip(&temperatures).map(film).collect();
    Ok((Section { regions, films, touches }, temperatures))
}

/// Solves a cut.
///
/// # Errors
/// The missing fact, in words.
pub fn solve(model: &Model, cut: &HeatCut) -> Result<Solved, String> {
    let (section, temperatures) = section(model, cut, false)?;
    let (for_coldest, _) = self::section(model, cut, true)?;
    let points: Vec<(f64, f64)> = cut.points.iter().map(|(_, (x, y))| (x.as_m(), y.as_m())).collect();
    let settle =
        |section: &Section| conduction::settle(section, &points, Effort::default()).map_err(|fault| words(cut, &fault));
    let flow = settle(&section)?;
    let cold = settle(&for_coldest)?;
    let of_side =
        |side: AirSide| cut.airs.iter().enumerate().filter(move |(_, air)| air.side == side).map(|(at, _)| at);
    let coldest = coldest(cut, &cold);
    let flows = flow.field.flows();
    let given: f64 = of_side(AirSide::Inside).filter_map(|film| flows.get(film)).sum();
    let between = between(cut, &temperatures);
    let coupling =
        between.as_ref().ok().and_then(|(inside, outside)| conduction::coupling(given, *inside, *outside, &[]));
    let coupling = coupling.map(|coupling| coupling.whole);
    Ok(Solved { flow, cold, temperatures, coldest, given, between, coupling })
}

fn rect(((left, low), (right, high)): crate::model::Box2) -> Rect {
    Rect { left: left.as_m(), low: low.as_m(), right: right.as_m(), high: high.as_m() }
}

fn temperature(model: &Model, air: &crate::model::CutAir) -> Result<f64, String> {
    if let Some(said) = air.temperature {
        return Ok(said);
    }
    match air.side {
        AirSide::Inside => Ok(ROOM),
        AirSide::Outside => {
            let climate = model.site.as_ref().and_then(|site| site.climate.as_ref());
            let coldest = climate.and_then(|climate| climate.temperature.iter().copied().min_by(f64::total_cmp));
            coldest.ok_or_else(|| {
                "outside temperature (`temperature` of `outside`, or `temperature` of the site's climate)".to_owned()
            })
        }
        AirSide::Space => Err("temperature of `space`".to_owned()),
    }
}

fn resistance(air: &crate::model::CutAir, cold: bool) -> f64 {
    let room = air.side != AirSide::Outside;
    let flow = || air.resistance.unwrap_or(if room { surface_inside(Flow::Horizontal) } else { SURFACE_OUTSIDE });
    match (cold, room) {
        (false, _) => flow(),
        (true, true) => air.cold_resistance.unwrap_or(COLD_ROOM),
        (true, false) => air.cold_resistance.unwrap_or_else(flow),
    }
}

/// What makes a figure of the coldest surface no surer: that it is colder than the points of the cut, where nobody said how its
/// room is to be taken.
fn behind_furniture(cut: &HeatCut, doubt: &str) -> String {
    let mut rooms = cut.airs.iter().filter(|air| air.side != AirSide::Outside);
    let taken = rooms.any(|air| air.cold_resistance.is_none());
    let [si, ip] = [System::Metric, System::Imperial].map(|system| display::resistance(COLD_ROOM, system));
    let words = format!("as cold as behind furniture, {si} ({ip}) between room and surface");
    match (taken, doubt.is_empty()) {
        (false, _) => doubt.to_owned(),
        (true, true) => words,
        (true, false) => format!("{doubt}; {words}"),
    }
}

/// W/(m·K), and how sure it is.
fn conductivity(model: &Model, region: &CutRegion) -> Result<(f64, Sureness, String), String> {
    if let Some(said) = region.conductivity {
        return Ok((said, Sureness::Published, String::new()));
    }
    let name = region.stuff.as_ref().map_or("", |stuff| stuff.name.as_str());
    let material = region.stuff.as_ref().and_then(|stuff| model.material_of(stuff));
    let known = material.and_then(|material| material.conductivity.as_ref());
    let known = known.filter(|known| known.value.low > 0.0);
    known
        .map(|known| (known.value.middle(), known.sure, format!("conductivity of {}", name.replace('_', " "))))
        .ok_or_else(|| format!("conductivity of `{name}` (`conductivity`)"))
}

/// Inside and outside temperature, if there are only these two.
fn between(cut: &HeatCut, temperatures: &[f64]) -> Result<(f64, f64), String> {
    let of = |side: AirSide| {
        let mut all = cut.airs.iter().zip(temperatures).filter(|(air, _)| air.side == side).map(|(_, at)| *at);
        let first = all.next();
        first.filter(|first| all.all(|other| other == *first))
    };
    match (of(AirSide::Inside), of(AirSide::Outside)) {
        (Some(inside), Some(outside)) if inside == outside => {
            Err("a difference: inside and outside are as warm".to_owned())
        }
        (Some(inside), Some(outside)) => {
            let third = cut.airs.iter().any(|air| air.side == AirSide::Space);
            if third { Err("two temperatures only: a `space` has a third".to_owned()) } else { Ok((inside, outside)) }
        }
        _ => Err("one temperature inside and one outside".to_owned()),
    }
}

/// Why physics has no answer, in words of the cut.
fn words(cut: &HeatCut, fault: &Fault) -> String {
    let nth = |index: usize| format!("`region` {} of {}", index + 1, cut.regions.len());
    match fault {
        Fault::Empty => "material: it has no `region`".to_owned(),
        Fault::BadRegion(index) => format!("size and conductivity of {}", nth(*index)),
        Fault::BadFilm(index) | Fault::BadTouch(index) | Fault::TouchesNothing(index) => {
            let side = cut.airs.get(*index).map_or("air", |air| air.side.word());
            let nth = cut.airs.iter().take(*index).filter(|air| air.side.word() == side).count() + 1;
            format!("a surface that `{side}` {nth} touches: it lies on no edge of material")
        }
        Fault::Loose(index) => {
            format!("air that {} gives heat to: no air touches it or what it is joined to", nth(*index))
        }
        Fault::TooMany { cells } => format!("fewer lines: even the coarsest grid has {cells} cells"),
        Fault::NotFinite => "conductivities and sizes that are not so far apart".to_owned(),
    }
}

/// All figures of a cut.
fn told(model: &Model, cut: &HeatCut, solved: &Result<Solved, String>, psi: Option<&Psi>) -> Found {
    let mut found = Found::default();
    let solved = match solved {
        Ok(solved) => solved,
        Err(fact) => {
            found.missing.push(Missing { what: &FLOW, of: String::new(), fact: fact.clone() });
            return found;
        }
    };
    let (sure, doubt) = sureness(model, cut);
    let mut tell = |what: &'static What, of: &str, source: Source, value: Value| {
        found.figures.push(Figure { what, of: of.to_owned(), value, source, sure, doubt: doubt.clone() });
    };
    let (flow, cold) = (&solved.flow, &solved.cold);
    if let Some(coupling) = solved.coupling {
        tell(&COUPLING, "", METHOD, number(coupling));
    }
    if let Some(Ok((psi, trust))) = psi {
        let (of, doubt) = (psi::edge_name(model, cut), trust.doubt.clone());
        let value = Value::Number(*psi);
        found.figures.push(Figure { what: &PSI, of, value, source: METHOD, sure: trust.sure, doubt });
    }
    let behind = behind_furniture(cut, &doubt);
    let mut tell = |what: &'static What, of: &str, source: Source, value: Value| {
        let doubt = if source == COLD { behind.clone() } else { doubt.clone() };
        found.figures.push(Figure { what, of: of.to_owned(), value, source, sure, doubt });
    };
    tell(&FLOW, "", METHOD, number(solved.given));
    if let Some((coldest, _)) = solved.coldest {
        tell(&COLDEST, "", COLD, number(coldest));
        let factor = |(inside, outside): &(f64, f64)| conduction::temperature_factor(coldest, *inside, *outside);
        if let Some(factor) = solved.between.as_ref().ok().and_then(factor) {
            tell(&FACTOR, "", COLD, number(factor));
        }
    }
    for (name, (x, y)) in &cut.points {
        if let Some(temperature) = flow.field.temperature((x.as_m(), y.as_m())) {
            tell(&POINT, &name.replace('_', " "), METHOD, number(temperature));
        }
    }
    tell(&BALANCE, "", METHOD, share(flow.field.imbalance().max(cold.field.imbalance())));
    tell(&FLOW_MOVED, "", METHOD, share(flow.flow_moved.max(cold.flow_moved)));
    let moved = flow.temperature_moved.max(cold.temperature_moved);
    tell(&MOVED, "", METHOD, if moved.is_finite() { number(moved) } else { Value::Word(UNKNOWN.to_owned()) });
    for (name, (x, y)) in &cut.points {
        if flow.field.temperature((x.as_m(), y.as_m())).is_none() {
            let fact = "material at that point".to_owned();
            found.missing.push(Missing { what: &POINT, of: name.replace('_', " "), fact });
        }
    }
    if let Some(Err(fact)) = psi {
        found.missing.push(Missing { what: &PSI, of: psi::edge_name(model, cut), fact: fact.clone() });
    }
    if let Err(fact) = &solved.between {
        for what in [&COUPLING, &FACTOR] {
            found.missing.push(Missing { what, of: String::new(), fact: fact.clone() });
        }
    }
    found
}

fn number(value: f64) -> Value {
    Value::Number(value.into())
}

/// What stands where only one grid was small enough to be solved.
const UNKNOWN: &str = "not known: one grid only";

/// A small part in percent; what is no more than rounding is not told to the last digit, which differs by machine.
fn share(part: f64) -> Value {
    Value::Word(match part {
        part if part < 1e-6 => "less than 0.0001 %".to_owned(),
        part if part.is_finite() => format!("{:.2} %", part * 100.0),
        _ => UNKNOWN.to_owned(),
    })
}

/// How sure the figures are: no surer than the method, which is from memory, nor than any conductivity.
fn sureness(model: &Model, cut: &HeatCut) -> (Sureness, String) {
    let of = |region| conductivity(model, region).ok().map(|(_, sure, doubt)| (sure, doubt));
    let least = cut.regions.iter().filter_map(of).fold(None, |least: Option<(Sureness, String)>, one| match least {
        Some(known) if known.0 >= one.0 => Some(known),
        _ => Some(one),
    });
    match least {
        Some((sure, doubt)) if sure > Sureness::Memory => (sure, doubt),
        _ => (Sureness::Memory, String::new()),
    }
}
