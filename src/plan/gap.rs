//! What stands in the gap of an area besides furring: openings, blocks, nailers, fire stops, flashings, roofs, decks, breaks at
//! floors and ledgers.

use super::places::{Scene, band};
use super::{Against, FacePlan, Run, RunId, RunPlace};
use crate::geometry::{Bounds, Polygon};
use crate::model::{Assembly, Block, Furring, Gap, PartSpec};
use crate::units::Length;

/// Kept clear above a roof or deck where its detail says nothing: 50 mm, common practice.
const CLEAR: Length = Length::mm(50);
/// Height of a fire stop that gives none: one board on edge, 38 mm.
const FIRE_STOP: Length = Length::mm(38);
/// Thickness with which a flashing is cut out of the gap.
pub(super) const SHEET: Length = Length::MM;

/// What bounds a bay where it meets an obstacle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wall {
    /// An opening: its runs say what is there.
    Opening,
    /// A roof or deck: its run from above and beside, nothing known from below.
    Crossing(RunId),
    /// A break at a floor, or a ledger: its run all round, from above and from below.
    Dividing(RunId),
    /// One thing all round.
    Thing(Against),
}

/// Something that takes a piece out of the gap.
pub(super) struct Obstacle {
    pub shape: Polygon,
    pub wall: Wall,
}

/// Everything in the gap of one area but strips.
#[derive(Default)]
pub(super) struct Obstacles {
    pub list: Vec<Obstacle>,
}

impl Obstacles {
    /// Those whose box meets the box of the area.
    pub fn of(scene: &Scene<'_>, plan: &FacePlan, runs: &[Run], area: usize) -> Self {
        let Some(bounds) = plan.areas.get(area).and_then(|area| area.whole.bounds()) else { return Self::default() };
        if gap_of(scene, area).is_none() {
            return Self::default();
        }
        let mut list: Vec<Obstacle> = Vec::new();
        let openings = plan.openings.iter().map(|shape| (shape.clone(), Wall::Opening));
        let crossings = runs.iter().enumerate().filter_map(|(at, run)| crossing(scene, run, RunId(at as u32)));
        let own = runs.iter().enumerate().filter(|(_, run)| run.area == Some(area));
        let dividing = own.filter_map(|(at, run)| dividing(scene, run, RunId(at as u32)));
        let things = blocks(scene, plan).chain(nailers(scene)).chain(fire_stops(scene)).chain(vents(scene));
        let things = things.map(|(shape, thing)| (shape, Wall::Thing(thing)));
        for (shape, wall) in openings.chain(crossings).chain(dividing).chain(things) {
            if super::areas::meet(shape.bounds(), bounds) && shape.doubled_area() > 0 {
                list.push(Obstacle { shape, wall });
            }
        }
        Self { list }
    }

    /// The shapes of everything.
    pub fn shapes(&self) -> impl Iterator<Item = &Polygon> {
        self.list.iter().map(|obstacle| &obstacle.shape)
    }

    /// What cuts furring: openings, blocks and crossings; nailers, stops and flashings go between or over it.
    pub fn cutting_furring(&self) -> impl Iterator<Item = &Obstacle> {
        self.list.iter().filter(|obstacle| match obstacle.wall {
            Wall::Opening | Wall::Crossing(_) | Wall::Dividing(_) => true,
            Wall::Thing(thing) => matches!(thing, Against::Block(_)),
        })
    }
}

/// The assembly of an area.
pub(super) fn assembly_of<'m>(scene: &Scene<'m>, area: usize) -> Option<&'m Assembly> {
    scene.model.assembly(scene.face.areas.get(area)?.assembly)
}

/// The drained space of an area's assembly: its outermost gap.
pub(super) fn gap_of<'m>(scene: &Scene<'m>, area: usize) -> Option<&'m Gap> {
    assembly_of(scene, area)?.gap().map(|(_, gap)| gap)
}

/// The furring that lies against the plane: the innermost.
pub(super) fn against_plane(gap: &Gap) -> Option<&Furring> {
    gap.furring.last()
}

/// Whether water and air in the gap cannot pass a block. One that does not say what it lies on is taken to stand in the gap.
fn interrupts(block: &Block) -> bool {
    block.on != Some("cladding") && block.drained != Some(true)
}

fn blocks<'a>(scene: &'a Scene<'_>, plan: &'a FacePlan) -> impl Iterator<Item = (Polygon, Against)> + 'a {
    let shaped = scene.face.blocks.iter().zip(&plan.blocks).enumerate();
    shaped.filter(|(_, (block, _))| interrupts(block)).filter_map(|(at, (_, shape))| {
        let shape = shape.clone()?;
        Some((shape, Against::Block(at)))
    })
}

/// Loose pieces; open gaps at their ends are left open.
fn nailers<'a>(scene: &'a Scene<'_>) -> impl Iterator<Item = (Polygon, Against)> + 'a {
    scene.face.nailers.iter().enumerate().filter_map(|(at, nailer)| {
        let gap = nailer.gaps.unwrap_or_default().max(Length::ZERO);
        let (left, right) = (nailer.from.x + gap, nailer.to - gap);
        let shape = Polygon::rectangle(left, nailer.from.y, right, nailer.from.y + nailer.height);
        (left < right).then_some((shape, Against::Nailer(at)))
    })
}

/// Stops that fill the gap; those that stay open until there is a fire let it be.
fn fire_stops<'a>(scene: &'a Scene<'_>) -> impl Iterator<Item = (Polygon, Against)> + 'a {
    scene.face.fire_stops.iter().enumerate().filter(|(_, stop)| !stop.open_state).map(|(at, stop)| {
        let (left, right) = scene.across(stop.from, stop.to);
        let top = stop.at + stop.height.unwrap_or(FIRE_STOP);
        (Polygon::rectangle(left, stop.at, right, top), Against::FireStop(at))
    })
}

/// Height of the flashing over a fire stop.
pub fn top_of(stop: &crate::model::FireStop) -> Length {
    stop.at + stop.height.unwrap_or(FIRE_STOP)
}

/// Flashings over rows of slots, at the top of the slot.
fn vents<'a>(scene: &'a Scene<'_>) -> impl Iterator<Item = (Polygon, Against)> + 'a {
    let flashed = scene.face.vents.iter().enumerate().filter(|(_, vent)| vent.flashing.is_some());
    flashed.map(|(at, vent)| {
        let (left, right) = scene.across(vent.from, vent.to);
        let y = vent.height + vent.slot;
        (Polygon::rectangle(left, y, right, y + SHEET), Against::Vent(at))
    })
}

/// What a roof or deck that crosses the face takes out of the gap: from a sheet below its line to its clearance above.
fn crossing(scene: &Scene<'_>, run: &Run, id: RunId) -> Option<(Polygon, Wall)> {
    if !matches!(run.place, RunPlace::Roof(_) | RunPlace::Deck(_)) {
        return None;
    }
    let keep = run.detail.and_then(|id| scene.model.detail(id)).and_then(|detail| detail.keep).unwrap_or(CLEAR);
    let lowered = |at: crate::geometry::Point| crate::geometry::Point::new(at.x, at.y - SHEET);
    let line = crate::geometry::Segment::new(lowered(run.segment.from), lowered(run.segment.to));
    Some((band(line, SHEET + keep.max(Length::ZERO)), Wall::Crossing(id)))
}

/// What a break at a floor or a ledger takes out of the gap, from its line down: the whole height of a ledger, and the sheet of a
/// flashing, or the end of the gap, where the detail of a floor has one of these.
fn dividing(scene: &Scene<'_>, run: &Run, id: RunId) -> Option<(Polygon, Wall)> {
    let detail = run.detail.and_then(|id| scene.model.detail(id)).map(|detail| detail.place(run.kind));
    let down = match run.place {
        RunPlace::Ledger(at) => scene.face.ledgers.get(at)?.height,
        RunPlace::Floor(_) => {
            let detail = detail?;
            let crosses = |part: &PartSpec| {
                part.kind == "flashing" && !matches!(part.on, Some("furring" | "cladding")) && !part.laps.is_empty()
            };
            (!detail.gap_ends.is_empty() || detail.parts.iter().any(crosses)).then_some(SHEET)?
        }
        _ => return None,
    };
    let (line, top) = (run.segment, run.segment.from.y);
    Some((Polygon::rectangle(line.from.x, top - down, line.to.x, top), Wall::Dividing(id)))
}

/// The box of a region's shape grown upward and downward.
pub(super) fn grown(bounds: Bounds, by: Length) -> Polygon {
    Polygon::rectangle(bounds.left, bounds.bottom - by, bounds.right, bounds.top + by)
}
