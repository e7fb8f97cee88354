//! The crew: who stands on the platform, what lifts them, how fast they were, and where the machine cannot go.

use std::sync::Arc;

use super::{FaceId, Where};
use crate::source::Span;
use crate::units::Length;

/// A part of a face that the machine does not reach.
#[derive(Clone, Debug)]
pub struct OutOfReach {
    /// Name of the face, as written, and where.
    pub on: (String, Span),
    /// The face, if there is such a face.
    pub face: Option<FaceId>,
    /// Left end; of the face if left out.
    pub from: Option<Where>,
    /// Right end; of the face if left out.
    pub to: Option<Where>,
    /// Lower end; of the face if left out.
    pub above: Option<Length>,
    /// Upper end; of the face if left out.
    pub up_to: Option<Length>,
    /// `ladder` or `scaffold`; absent if not said.
    pub by: Option<&'static str>,
    /// Why.
    pub why: Option<Arc<str>>,
}

/// What the crew says of itself. Everything may be left out; times are for the whole crew together.
#[derive(Clone, Debug)]
pub struct Crew {
    /// Its name.
    pub name: String,
    /// How many stand on the platform, and the mass of each, kg.
    pub people: Option<(u64, f64)>,
    /// Tools on the platform, kg.
    pub tools: Option<f64>,
    /// Screws, tapes and the like that no product has a weight for, in one load, kg.
    pub sundries: Option<f64>,
    /// What the platform may carry where a section does not say, kg.
    pub platform: Option<f64>,
    /// Length of the platform along the wall.
    pub length: Option<Length>,
    /// How far hands reach past either end of it.
    pub outreach: Option<Length>,
    /// How high above the datum it can go.
    pub lift: Option<Length>,
    /// What one piece takes, s, by the schema's words `board`, `trim`, `furring`, `flashing`.
    pub pace: Vec<(&'static str, f64)>,
    /// What one move of the machine takes, s.
    pub move_time: Option<f64>,
    /// What one more setting of the platform takes, s.
    pub setting: Option<f64>,
    /// Sections in the order that the lead wants, each with where it is written; by index in the model if there is such a section.
    pub order: Vec<(String, Span, Option<usize>)>,
    /// Where the machine cannot go.
    pub out_of_reach: Vec<OutOfReach>,
    /// Where it is declared.
    pub origin: Span,
}

impl Crew {
    /// What one piece takes, s.
    pub fn pace_of(&self, what: &str) -> Option<f64> {
        self.pace.iter().find(|(word, _)| *word == what).map(|(_, time)| *time)
    }

    /// How wide a lane hands reach from one place of the machine.
    pub fn across(&self) -> Option<Length> {
        self.length.map(|length| length + self.outreach.unwrap_or(Length::ZERO) * 2)
    }
}
