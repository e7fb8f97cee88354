//! Water and air in the gap: for each bay, the exits its water reaches going only down, and its openings for air.

use rayon::prelude::*;

use super::ends::Scene;
use super::{breathe, drain};
use crate::geometry::{Point, Segment};
use crate::model::{FaceId, Model};
use crate::plan::{Against, Bay, Plan, RunId};
use crate::units::Length;

/// One bay: face, area, bay, by index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BayId {
    /// The face.
    pub face: FaceId,
    /// Index of the area.
    pub area: usize,
    /// Index of the bay in its area.
    pub bay: usize,
}

/// What is left between a cut strip and an edge is no bay while it is smaller than this, m²: 20 cm², a matchbox; made for
/// this check.
const LEAST_BAY: f64 = 0.002;

/// Facts of all bays of the building.
#[derive(Debug, Default)]
pub struct GapFlow {
    /// In order of face, area, bay; slivers of less than 20 cm² are left out.
    pub bays: Vec<BayFlow>,
}

/// What kind of way out an exit is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExitKind {
    /// Open along its whole length.
    Slot,
    /// Single holes of a trim.
    Holes,
}

/// An opening of the gap to the outside (or to where it should not go).
#[derive(Clone, Debug)]
pub struct Opening {
    /// Stretch on the wall.
    pub segment: Segment,
    /// What gives it.
    pub with: Against,
    /// Slot or holes.
    pub kind: ExitKind,
    /// Net free area in m², after screen (new) and strips; `None` if a fact is missing, or for a way out of water that has no
    /// size of its own, such as the top of a flashing or the open low end of a channel.
    pub area: Option<f64>,
    /// The same with an aged screen.
    pub aged_area: Option<f64>,
    /// Share of it that a screen leaves open, new and aged; the areas have it in them. `None` without a screen.
    pub share: Option<(f64, f64)>,
    /// The missing fact, if the area cannot be told. Neither area nor fact: a mistake in the text that is already reported.
    pub missing: Option<String>,
    /// The space it joins: `outside`, `roof`, `soffit`, …; `gap` for a way past a drained block to the bay below.
    pub joins: &'static str,
}

/// A place where water stands.
#[derive(Clone, Debug)]
pub struct Trap {
    /// Lowest point.
    pub at: Point,
    /// Floor on which it stands, left to right; both ends equal for a notch.
    pub floor: Segment,
    /// What makes the floor.
    pub with: Vec<Against>,
    /// How deep it gets before it spills to somewhere lower or out; `None` if it only stops at the top of the bay.
    pub depth: Option<Length>,
    /// Why nothing lets it out, in words: "`shut_base` closes the gap at `south.base`".
    pub why: String,
}

/// One bay with its ways out and openings.
#[derive(Clone, Debug)]
pub struct BayFlow {
    /// Which bay.
    pub id: BayId,
    /// Ways out for water that its low points reach.
    pub exits: Vec<Opening>,
    /// Low points that reach no exit.
    pub traps: Vec<Trap>,
    /// Something under a low point that cannot be judged because a fact is missing: what, and the fact.
    pub undecided: Vec<(Against, String)>,
    /// Openings through which air comes in low.
    pub inlets: Vec<Opening>,
    /// Openings through which air goes out high.
    pub outlets: Vec<Opening>,
    /// Area of the bay, m².
    pub area: f64,
    /// Its height.
    pub height: Length,
}

/// Net free area, m²: with the screen new, and aged.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FreeArea {
    /// With the screen new.
    pub new: f64,
    /// With dust, paint and needles in it.
    pub aged: f64,
}

/// The sum of openings; `None` if the area of one cannot be told.
pub fn free_area<'o>(openings: impl IntoIterator<Item = &'o Opening>) -> Option<FreeArea> {
    openings.into_iter().try_fold(FreeArea::default(), |sum, opening| {
        Some(FreeArea { new: sum.new + opening.area?, aged: sum.aged + opening.aged_area? })
    })
}

impl GapFlow {
    /// Works all bays out.
    pub fn find(model: &Model, plan: &Plan) -> Self {
        let faces = (0..model.faces.len()).into_par_iter().map(|index| Self::face(model, plan, FaceId(index as u32)));
        Self { bays: faces.collect::<Vec<_>>().into_iter().flatten().collect() }
    }

    /// The bays of one face, which depend on nothing beyond it.
    fn face(model: &Model, plan: &Plan, id: FaceId) -> Vec<BayFlow> {
        let (Some(face), Some(placed)) = (model.face(id), plan.face(id)) else { return Vec::new() };
        let scene = Scene::new(model, plan, id, face);
        let mut bays = Vec::new();
        for (area, placed) in placed.areas.iter().enumerate() {
            let found = placed.bays.iter().enumerate().filter(|(_, bay)| bay.shape.area().as_m2() >= LEAST_BAY);
            bays.extend(found.map(|(bay, shape)| BayFlow::of(&scene, BayId { face: id, area, bay }, shape)));
        }
        bays
    }

    /// The facts of one bay.
    pub fn bay(&self, id: BayId) -> Option<&BayFlow> {
        let at = self.bays.binary_search_by_key(&id, |bay| bay.id).ok()?;
        self.bays.get(at)
    }

    /// Free area for air by metre of a run, m²/m: what its slots and holes give to the bays of one side of it (those of an
    /// area, or all), over its whole length, strips and all. `None` if a size cannot be told, or the run has no length.
    pub fn free_area_per_metre(&self, plan: &Plan, run: RunId, area: Option<usize>) -> Option<FreeArea> {
        let stretch = plan.run(run)?;
        let metres = stretch.segment.length().as_m();
        let bays =
            self.bays.iter().filter(|bay| bay.id.face == stretch.face && area.is_none_or(|area| bay.id.area == area));
        let mut sum = FreeArea::default();
        for bay in bays {
            let mut seen: Vec<&Opening> = Vec::new();
            for opening in bay.inlets.iter().chain(&bay.outlets).filter(|opening| opening.with == Against::Run(run)) {
                let same = |known: &&Opening| known.segment == opening.segment && known.kind == opening.kind;
                if !seen.iter().any(same) {
                    seen.push(opening);
                }
            }
            let own = free_area(seen)?;
            sum = FreeArea { new: sum.new + own.new, aged: sum.aged + own.aged };
        }
        (metres > 0.0).then(|| FreeArea { new: sum.new / metres, aged: sum.aged / metres })
    }
}

impl BayFlow {
    /// Works one bay out.
    fn of(scene: &Scene, id: BayId, bay: &Bay) -> Self {
        let drained = drain::drain(scene, id.area, bay);
        let breath = breathe::breathe(scene, id.area, bay);
        Self {
            id,
            exits: drained.exits,
            traps: drained.traps,
            undecided: drained.undecided,
            inlets: breath.inlets,
            outlets: breath.outlets,
            area: bay.shape.area().as_m2(),
            height: bay.shape.bounds().height(),
        }
    }

    /// All that lets air in low; `None` if the area of one opening cannot be told.
    pub fn inlet_area(&self) -> Option<FreeArea> {
        free_area(&self.inlets)
    }

    /// All that lets air out high; `None` if the area of one opening cannot be told.
    pub fn outlet_area(&self) -> Option<FreeArea> {
        free_area(&self.outlets)
    }
}
