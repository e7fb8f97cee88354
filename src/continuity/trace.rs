//! Where the water goes from a place behind the cladding: step by step, only down and out, to daylight or to where it stops.

use super::ends::Scene;
use super::flow::{BayId, GapFlow};
use super::{place, walk};
use crate::geometry::{Point, Segment};
use crate::model::{FaceId, Model, ProductId};
use crate::plan::{Against, PartId, Plan};
use crate::units::Length;

/// The way of one drop.
#[derive(Clone, Debug)]
pub struct Trace {
    /// The face.
    pub face: FaceId,
    /// The place that was asked for.
    pub asked: Point,
    /// Where the drop starts: the same, or the nearest place in the gap.
    pub start: Point,
    /// What stands at the place that was asked for, if it is not the gap.
    pub in_the_way: Option<InTheWay>,
    /// The bay in which it starts.
    pub bay: BayId,
    /// In order; each ends at or below where it began, and begins at or below where the one before began.
    pub steps: Vec<Step>,
    /// How it ends.
    pub ending: Ending,
}

/// How the way of a drop ends.
#[derive(Clone, Debug, PartialEq)]
pub enum Ending {
    /// Outside, in front of the cladding or below it.
    Daylight,
    /// It goes no farther.
    Stops {
        /// Why, in words: "nailer `cleat` dams the gap".
        why: String,
        /// How deep water stands there before it runs over; `None` if that does not apply or it fills the bay.
        depth: Option<Length>,
    },
    /// The missing fact.
    CannotTell(String),
}

/// One step.
#[derive(Clone, Debug)]
pub struct Step {
    /// What happens.
    pub kind: StepKind,
    /// The bay in which it happens.
    pub bay: BayId,
    /// From where to where on the face.
    pub place: Segment,
    /// What it lands on, runs along or leaves by.
    pub with: Option<Against>,
    /// The flashing it lands on.
    pub part: Option<PartId>,
    /// The sheets it runs over.
    pub lap: Option<SheetLap>,
    /// Something turns the water in behind itself, in words.
    pub reversed: Option<String>,
}

/// What happens in a step.
#[derive(Clone, Debug, PartialEq)]
pub enum StepKind {
    /// Down the drainage plane.
    Fall,
    /// Comes down on something.
    Land,
    /// Along a floor, level or sloped.
    Run,
    /// Through the wall or its lower edge.
    Leave(Gate),
    /// Behind a strip that is held off the plane, into the bay below.
    Pass,
}

/// By what water leaves.
#[derive(Clone, Debug, PartialEq)]
pub enum Gate {
    /// A slot: its height, and what keeps pests out.
    Slot {
        /// Clear height; `None` if it cannot be told.
        clear: Option<Length>,
        /// The screen.
        screen: Option<ProductId>,
    },
    /// The pierced floor of a trim, by name.
    Pierced(String),
    /// A hole.
    Weep {
        /// Name of the trim; absent if it has none here.
        trim: Option<String>,
        /// From the left (or lower) end of the trim.
        from_left: Length,
        /// How far water backs up to reach it.
        backs_up: Length,
    },
    /// The open low end of a trim, by name.
    LowEnd(String),
    /// Over the flashing of a block, fire stop or row of slots.
    Flashing,
}

/// How the sheets of the drainage plane lap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SheetLap {
    /// Index of the layer in the assembly of the area.
    pub layer: usize,
    /// `upper_over_lower` or `lower_over_upper`; absent if not said.
    pub lapped: Option<&'static str>,
    /// Length; absent if not said.
    pub lap: Option<Length>,
}

/// What stands where the drop was to start.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InTheWay {
    /// An opening, by index.
    Opening(usize),
    /// A furring strip: area and index.
    Strip(usize, usize),
    /// A block, by index.
    Block(usize),
    /// A nailer, by index.
    Nailer(usize),
    /// A fire stop, by index.
    FireStop(usize),
    /// Nothing with a name.
    Other,
}

/// Why no drop can be followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// No such face, or one without outline.
    NoOutline,
    /// Outside the outline of the face.
    Outside,
    /// No area covers the place.
    Bare,
    /// The area (by index) has no gap.
    NoGap(usize),
}

impl Step {
    /// How far it goes.
    pub fn length(&self) -> Length {
        self.place.length()
    }
}

impl Trace {
    /// Follows a drop that gets behind the cladding at a place of a face.
    pub fn water(model: &Model, plan: &Plan, flow: &GapFlow, face: FaceId, at: Point) -> Result<Self, Refused> {
        let declared = model.face(face).ok_or(Refused::NoOutline)?;
        let found = place::find(declared, plan.face(face).ok_or(Refused::NoOutline)?, flow, face, at)?;
        let scene = Scene::new(model, plan, face, declared);
        let (steps, ending) = walk::follow(&scene, flow, found.bay, found.start);
        Ok(Self { face, asked: at, start: found.start, in_the_way: found.in_the_way, bay: found.bay, steps, ending })
    }
}
