//! Rain at the exits: how much of each bay's water comes to each way out, what that passes once it has aged, and the margin.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::ends::{Drains, NEAR, Scene, SetOut, gap_end, hole_area, lies_on, side_of};
use super::flow::{BayFlow, BayId, ExitKind, GapFlow, Opening};
use crate::geometry::{Point, Region, Segment};
use crate::model::{FaceId, HoleRow, Model};
use crate::physics::rain;
use crate::plan::{Against, Plan, RunId};
use crate::units::Length;

/// Litres an hour in a cubic metre a second.
const LITRES_PER_HOUR: f64 = 3.6e6;

/// The hour of rain that exits are held against, and how they are reckoned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RainHour {
    /// Wind, m/s, from the driving-rain wind pressure of the site.
    pub wind: f64,
    /// Rain on level ground, mm/h.
    pub rate: f64,
    /// Driving rain on a face that meets that wind, without shelter, L/(m²·h).
    pub on_wall: f64,
    /// Share of it that gets behind the cladding.
    pub leak: f64,
    /// Water over an exit, m.
    pub head: f64,
    /// Share of a bare hole that is left when it has aged.
    pub aged: f64,
}

/// Why a way out does not count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unfit {
    /// So small that a film of water, or a coat of paint, stays in it.
    Film {
        /// Its least clear size.
        size: Length,
        /// What is wanted.
        wanted: Length,
    },
    /// Its lower lip stands too high above the floor.
    Lip {
        /// How high.
        lip: Length,
        /// The most.
        most: Length,
    },
}

/// What lets the water out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WayOut {
    /// A slot as its detail leaves it.
    Slot,
    /// The pierced floor of a trim.
    Pierced(String),
    /// Holes of a trim.
    Holes {
        /// Its name.
        trim: String,
        /// How many.
        count: usize,
        /// Diameter, or height of a slot.
        height: Length,
        /// Length of a slot.
        slot: Option<Length>,
    },
    /// The open low end of a trim.
    LowEnd(String),
    /// The edge of a flashing.
    Flashing,
}

/// One way out of one place.
#[derive(Clone, Debug)]
pub struct ExitWay {
    /// What it is.
    pub what: WayOut,
    /// Least clear size; `None` if it has none, or that cannot be told.
    pub clear: Option<Length>,
    /// Why it does not count, if it does not.
    pub unfit: Option<Unfit>,
    /// What it passes when aged, L/h: 0 if it does not count, `None` if it has no size of its own or that cannot be told.
    pub passes: Option<f64>,
    /// The missing fact.
    pub missing: Option<String>,
}

/// One place where water leaves, with all that comes to it.
#[derive(Clone, Debug)]
pub struct ExitLoad {
    /// Bays whose water comes here.
    pub bays: Vec<BayId>,
    /// What gives the exit.
    pub with: Against,
    /// Where; both ends equal for a single hole or low end that takes the water of other bays.
    pub segment: Segment,
    /// Its slots and holes.
    pub ways: Vec<ExitWay>,
    /// Wall that drains here, m².
    pub catchment: f64,
    /// What arrives in the hour, L/h; `None` without [`RainLoads::hour`].
    pub arrives: Option<f64>,
    /// What all ways that count pass when aged, L/h; `None` if one has no size of its own, or that cannot be told.
    pub passes: Option<f64>,
    /// How many times what arrives it passes.
    pub margin: Option<f64>,
}

/// All places where water leaves the gap.
#[derive(Clone, Debug)]
pub struct RainLoads {
    /// In order of face and place.
    pub exits: Vec<ExitLoad>,
    /// The hour, or the missing fact.
    pub hour: Result<RainHour, String>,
}

impl RainHour {
    /// From the site and the limits in force. The error is the missing fact.
    pub fn of(model: &Model) -> Result<Self, String> {
        let limit = |name: &str| {
            let found = model.limit(name).and_then(|limit| limit.number());
            found.ok_or_else(|| format!("a limit `{name}`"))
        };
        let site = model.site.as_ref().ok_or("a site, with its driving-rain wind pressure")?;
        let pressure = site.driving_rain.or_else(|| site.climate.as_ref()?.driving_rain);
        let pressure = pressure.ok_or_else(|| format!("`driving_rain` of the site `{}`", site.name))?;
        let wind = rain::wind_of_pressure(pressure);
        // Limits are held in m/s; rain is reckoned in mm/h.
        let rate = limit("rain.rate")? * LITRES_PER_HOUR;
        let on_wall = rain::driving_rain(wind, rate, 0.0);
        let (leak, head, aged) = (limit("rain.leak")?, limit("exit.head")?, limit("exit.aged_share")?);
        Ok(Self { wind, rate, on_wall, leak, head, aged })
    }
}

impl RainLoads {
    /// Works all exits out.
    pub fn find(model: &Model, plan: &Plan, flow: &GapFlow) -> Self {
        let hour = RainHour::of(model);
        let faces = (0..model.faces.len()).into_par_iter().map(|index| {
            let id = FaceId(index as u32);
            let face = model.face(id)?;
            Some(FaceLoads::new(&Scene::new(model, plan, id, face), flow, hour.as_ref().ok()).find())
        });
        let found: Vec<_> = faces.collect();
        Self { exits: found.into_iter().flatten().flatten().collect(), hour }
    }

    /// The exit by which the water of a bay leaves at a place.
    pub fn at(&self, bay: BayId, with: Against, at: Point) -> Option<&ExitLoad> {
        let own = || self.exits.iter().filter(move |exit| exit.bays.contains(&bay) && exit.with == with);
        own().find(|exit| exit.is_point() && near(exit.segment.from, at)).or_else(|| {
            let here = |exit: &&ExitLoad| lies_on(exit.segment, at);
            own().find(here).or_else(|| own().next())
        })
    }
}

impl ExitLoad {
    /// A single hole or low end that takes the water of bays above it.
    pub fn is_point(&self) -> bool {
        is_point(self.segment)
    }

    /// Some way out counts.
    pub fn fits(&self) -> bool {
        self.ways.iter().any(|way| way.unfit.is_none())
    }
}

fn near(one: Point, other: Point) -> bool {
    (one.x - other.x).abs() <= NEAR && (one.y - other.y).abs() <= NEAR
}

/// One exit while its water is gathered.
struct Gathered<'s> {
    bays: Vec<BayId>,
    /// The bay whose exit it is, and all exits of that.
    of: (BayId, &'s [Opening]),
    exit: &'s Opening,
    catchment: f64,
}

impl Gathered<'_> {
    /// Whether another exit is the same place: a hole that takes the water of bays above it is one with the row of its bay.
    fn is(&self, exit: &Opening) -> bool {
        let (own, other) = (self.exit.segment, exit.segment);
        self.exit.with == exit.with
            && match (is_point(own), is_point(other)) {
                (true, false) => lies_on(other, own.from),
                (false, true) => lies_on(own, other.from),
                _ => own == other,
            }
    }
}

/// The exits of one face while they are gathered.
struct FaceLoads<'s> {
    scene: &'s Scene<'s>,
    bays: Vec<&'s BayFlow>,
    /// The exits of each of them, in the same order.
    exits: Vec<Vec<Opening>>,
    hour: Option<&'s RainHour>,
}

impl<'s> FaceLoads<'s> {
    fn new(scene: &'s Scene<'s>, flow: &'s GapFlow, hour: Option<&'s RainHour>) -> Self {
        let bays: Vec<&BayFlow> = flow.bays.iter().filter(|bay| bay.id.face == scene.id).collect();
        let exits = bays.iter().map(|bay| exits(scene, bay)).collect();
        Self { scene, bays, exits, hour }
    }

    /// Highest bays first: what passes behind a strip joins the bay below.
    fn find(&self) -> Vec<ExitLoad> {
        let mut from_above: BTreeMap<BayId, f64> = BTreeMap::new();
        let mut gathered: Vec<Gathered<'_>> = Vec::new();
        let bays = self.bays.iter().zip(&self.exits);
        let mut order: Vec<(Length, &BayFlow, &[Opening])> =
            bays.filter_map(|(bay, exits)| Some((self.region(bay)?.bounds()?.top, *bay, exits.as_slice()))).collect();
        order.sort_by_key(|&(top, bay, _)| (-top, bay.id));
        for (_, bay, exits) in order {
            let extra = from_above.get(&bay.id).copied().unwrap_or_default();
            for (exit, area) in self.spots(bay, exits, extra) {
                if exit.joins == "gap" {
                    if let Some(below) = self.below(bay, exit.segment) {
                        *from_above.entry(below).or_default() += area;
                    }
                } else {
                    put(&mut gathered, (bay.id, exits), exit, area);
                }
            }
        }
        let mut found: Vec<ExitLoad> = gathered.into_iter().map(|one| self.load(one)).collect();
        found.sort_by_key(|load| (load.segment.from.min(load.segment.to), load.bays.clone()));
        found
    }

    fn region(&self, bay: &BayFlow) -> Option<Region> {
        let placed = self.scene.plan.face(self.scene.id)?.areas.get(bay.id.area)?.bays.get(bay.id.bay)?;
        Some(Region::from(placed.shape.clone()))
    }

    /// The places by which a bay drains, each with its part of the wall, m². What lies over none of them runs to those that
    /// take the water of others, or to all alike. Water that passes a block stays in its bay.
    fn spots<'e>(&self, bay: &BayFlow, exits: &'e [Opening], extra: f64) -> Vec<(&'e Opening, f64)> {
        let Some(region) = self.region(bay) else { return Vec::new() };
        let mut spots: Vec<(&'e Opening, f64)> = Vec::new();
        let passed = |exit: &Opening| exit.joins == "gap" && matches!(exit.with, Against::Block(_));
        for exit in exits.iter().filter(|exit| !passed(exit)) {
            let known = |(spot, _): &(&Opening, f64)| spot.segment == exit.segment && spot.with == exit.with;
            if !spots.iter().any(known) {
                spots.push((exit, over(&region, exit.segment)));
            }
        }
        let direct: f64 = spots.iter().map(|(_, area)| area).sum();
        let rest = (bay.area - direct).max(0.0) + extra;
        let points = spots.iter().filter(|(exit, _)| is_point(exit.segment)).count();
        let count = spots.len() as f64;
        for (exit, area) in &mut spots {
            *area += match (points, is_point(exit.segment)) {
                (0, _) if direct > 0.0 => rest * *area / direct,
                (0, _) => rest / count,
                (points, true) => rest / points as f64,
                (_, false) => 0.0,
            };
        }
        spots
    }

    /// The bay right below a stretch of strip.
    fn below(&self, bay: &BayFlow, segment: Segment) -> Option<BayId> {
        let at = segment.midpoint();
        let top = |other: &BayFlow| {
            let spans = self.region(other)?.y_intervals_at(at.x);
            spans.into_iter().map(|(_, top)| top).filter(|&top| top < at.y + NEAR).max()
        };
        let others = self.bays.iter().filter(|other| other.id.area == bay.id.area && other.id != bay.id);
        others.filter_map(|other| Some((top(other)?, other.id))).max().map(|(_, id)| id)
    }

    fn load(&self, one: Gathered<'_>) -> ExitLoad {
        let ways = self.ways(one.of, one.exit);
        let arrives = self.hour.map(|hour| hour.on_wall * hour.leak * one.catchment);
        let passes: Option<f64> = ways.iter().map(|way| way.passes).sum();
        let margin = passes.zip(arrives).and_then(|(passes, arrives)| rain::margin(passes, arrives));
        let Gathered { bays, exit, catchment, .. } = one;
        ExitLoad { bays, with: exit.with, segment: exit.segment, ways, catchment, arrives, passes, margin }
    }

    /// Every slot and hole that lets the water of a place out.
    fn ways(&self, (bay, exits): (BayId, &[Opening]), exit: &Opening) -> Vec<ExitWay> {
        let Against::Run(id) = exit.with else { return vec![ExitWay::of(WayOut::Flashing, None)] };
        if is_point(exit.segment) {
            return self.scene.trim_at(exit.segment.from).map(|trim| self.point_way(trim, exit)).into_iter().collect();
        }
        let same = |other: &&Opening| other.segment == exit.segment && other.with == exit.with;
        let mut ways: Vec<ExitWay> = Vec::new();
        for opening in exits.iter().filter(same) {
            match opening.kind {
                ExitKind::Slot => ways.push(self.slot_way(id, bay, opening)),
                ExitKind::Holes if ways.iter().all(|way| !matches!(way.what, WayOut::Holes { .. })) => {
                    ways.extend(self.hole_ways(opening.segment));
                }
                ExitKind::Holes => {}
            }
        }
        ways
    }

    /// A hole, or the open low end, to which a channel leads the water of other bays.
    fn point_way(&self, trim: &SetOut<'_>, exit: &Opening) -> ExitWay {
        let holds = |holes: &[Point]| holes.iter().any(|&hole| near(hole, exit.segment.from));
        match trim.weeps().find(|(_, holes)| holds(holes)) {
            Some((row, _)) => self.row_way(trim, row, 1),
            None => ExitWay::of(WayOut::LowEnd(trim.trim.name.clone()), None),
        }
    }

    fn hole_ways(&self, segment: Segment) -> Vec<ExitWay> {
        let trims = self.scene.trims_along(segment);
        let rows = trims.flat_map(|trim| trim.weeps().map(move |(row, holes)| (trim, row, holes)));
        let here = |holes: &[Point]| holes.iter().filter(|&&hole| lies_on(segment, hole)).count();
        let counted = rows.map(|(trim, row, holes)| (trim, row, here(&holes)));
        counted.filter(|&(.., count)| count > 0).map(|(trim, row, count)| self.row_way(trim, row, count)).collect()
    }

    /// So many holes of a row.
    fn row_way(&self, trim: &SetOut<'_>, row: &HoleRow, count: usize) -> ExitWay {
        let (name, height, slot) = (trim.trim.name.clone(), row.height, row.slot);
        let clear = slot.map_or(height, |slot| slot.min(height));
        let unfit = self.lip(row).or_else(|| self.film(clear, if slot.is_some() { SLOT } else { ROUND }));
        let area = hole_area(row) * count as f64;
        let mut way = ExitWay::of(WayOut::Holes { trim: name, count, height, slot }, Some(clear));
        way.passes = self.hour.map(|hour| discharge(area * hour.aged, hour.head));
        way.found(unfit)
    }

    fn slot_way(&self, id: RunId, bay: BayId, opening: &Opening) -> ExitWay {
        let run = self.scene.plan.run(id);
        let pierced = self.scene.trim_at(opening.segment.midpoint()).filter(|trim| trim.is_pierced());
        let what = pierced.map_or(WayOut::Slot, |trim| WayOut::Pierced(trim.trim.name.clone()));
        let place = run.and_then(|run| Some(self.scene.model.detail(run.detail?)?.place(run.kind)));
        let end = run.zip(place).and_then(|(run, place)| gap_end(place, side_of(run, bay.area, opening.segment)));
        let depth = || run.and_then(|run| self.scene.net_depth(run));
        let clear = if pierced.is_some() { None } else { end.and_then(|end| end.slot).or_else(depth) };
        let mut way = ExitWay::of(what, clear);
        // A screen has a share of its own for its age.
        let aged = if opening.share.is_some() { opening.aged_area } else { None };
        let bare = opening.area.zip(self.hour).map(|(area, hour)| area * hour.aged);
        way.passes = aged.or(bare).zip(self.hour).map(|(area, hour)| discharge(area, hour.head));
        way.missing.clone_from(&opening.missing);
        let unfit = clear.and_then(|clear| self.film(clear, SLOT));
        way.found(unfit)
    }

    fn film(&self, size: Length, limit: &str) -> Option<Unfit> {
        let wanted = self.scene.model.limit(limit)?.length()?;
        (size < wanted).then_some(Unfit::Film { size, wanted })
    }

    /// A hole through the face of a channel lies above its floor.
    fn lip(&self, row: &HoleRow) -> Option<Unfit> {
        let most = self.scene.model.limit("weep.lip")?.length()?;
        let lip = row.lip.filter(|_| row.leg == Some("face"))?;
        (lip > most).then_some(Unfit::Lip { lip, most })
    }
}

/// Limit of the short side of a slot.
const SLOT: &str = "weep.slot_width";

/// Limit of the diameter of a round hole.
const ROUND: &str = "weep.diameter";

impl ExitWay {
    fn of(what: WayOut, clear: Option<Length>) -> Self {
        Self { what, clear, unfit: None, passes: None, missing: None }
    }

    /// With what is wrong with it: then it passes nothing.
    fn found(mut self, unfit: Option<Unfit>) -> Self {
        if unfit.is_some() {
            self.passes = self.passes.map(|_| 0.0);
        }
        Self { unfit, ..self }
    }
}

/// L/h through an opening, m², under a head, m.
fn discharge(area: f64, head: f64) -> f64 {
    rain::discharge(area, head) * LITRES_PER_HOUR
}

fn is_point(segment: Segment) -> bool {
    segment.from == segment.to
}

/// The exits that low points of a bay reach, and slots and holes along floors from which water would also run on, such as the
/// heads of windows: what comes down on them leaves by them first.
fn exits(scene: &Scene<'_>, bay: &BayFlow) -> Vec<Opening> {
    let mut found = bay.exits.clone();
    let placed = scene.plan.face(scene.id).and_then(|face| face.areas.get(bay.id.area)?.bays.get(bay.id.bay));
    let contacts = placed.map_or(&[] as &[_], |placed| &placed.contacts);
    for contact in contacts.iter().filter(|contact| contact.segment.is_floor()) {
        let Against::Run(id) = contact.with else { continue };
        let Some(run) = scene.plan.run(id) else { continue };
        let ends = scene.ends(id, run, bay.id.area, contact.segment);
        for way in ends.ways.into_iter().filter(|way| way.drains == Drains::Yes && !ends.broken) {
            let opening = way.opening;
            let known = |other: &Opening| {
                other.with == opening.with && other.kind == opening.kind && other.segment == opening.segment
            };
            // Holes of a slope that do not lie at its low end let the water of their bay by.
            let level = opening.segment.is_horizontal() || opening.kind == ExitKind::Slot;
            if level && opening.joins == "outside" && !found.iter().any(known) {
                found.push(opening);
            }
        }
    }
    found
}

/// Adds water to the place where it leaves.
fn put<'s>(gathered: &mut Vec<Gathered<'s>>, of: (BayId, &'s [Opening]), exit: &'s Opening, area: f64) {
    let bay = of.0;
    let Some(known) = gathered.iter_mut().find(|known| known.is(exit)) else {
        gathered.push(Gathered { bays: vec![bay], of, exit, catchment: area });
        return;
    };
    known.catchment += area;
    if !known.bays.contains(&bay) {
        known.bays.push(bay);
    }
    if is_point(known.exit.segment) && !is_point(exit.segment) {
        (known.of, known.exit) = (of, exit);
    }
}

/// The part of a bay that stands straight over a stretch of its floor, m²: in each upright slab between two corners the space
/// from the floor to what is above it, so exact.
fn over(bay: &Region, floor: Segment) -> f64 {
    let (left, right) = (floor.from.x.min(floor.to.x), floor.from.x.max(floor.to.x));
    let mut marks: Vec<Length> = bay.edges().map(|(_, edge)| edge.segment.from.x).collect();
    marks.retain(|&x| left < x && x < right);
    marks.extend([left, right]);
    marks.sort_unstable();
    marks.dedup();
    let slab = |(&from, &to): (&Length, &Length)| {
        let x = from + (to - from) / 2;
        let foot = floor.y_at(x)?;
        let (low, top) = bay.y_intervals_at(x).into_iter().find(|&(low, top)| low - NEAR <= foot && foot < top)?;
        ((low - foot).abs() <= NEAR).then(|| (top - foot).as_m() * (to - from).as_m())
    };
    marks.iter().zip(marks.iter().skip(1)).filter_map(slab).sum()
}
