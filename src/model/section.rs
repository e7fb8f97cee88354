//! The crew's unit of work: one lane of a wall, up to a course line.

use std::sync::Arc;

use super::{FaceId, Where};
use crate::source::Span;
use crate::units::Length;

/// How the top edge of a section is kept dry overnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DryIn {
    /// A flap of membrane is turned out over the top edge, this far if said.
    Flap(Option<Length>),
    /// A cover lies over it.
    Cover,
    /// It is sealed.
    Sealed,
    /// It is left open.
    Open,
}

impl DryIn {
    /// From the schema's word.
    pub fn from_word(word: &str, length: Option<Length>) -> Self {
        match word {
            "flap" => DryIn::Flap(length),
            "cover" => DryIn::Cover,
            "sealed" => DryIn::Sealed,
            _ => DryIn::Open,
        }
    }
}

/// One lane of a face, from what is below it up to its stop line.
#[derive(Clone, Debug)]
pub struct Section {
    /// Its name.
    pub name: String,
    /// Name of the face, as written, and where.
    pub on: (String, Span),
    /// The face, if there is such a face.
    pub face: Option<FaceId>,
    /// Left end of the lane; of the face if left out.
    pub from: Option<Where>,
    /// Right end of the lane; of the face if left out.
    pub to: Option<Where>,
    /// Height of the stop line; the top of the wall if left out.
    pub up_to: Option<Length>,
    /// The course line at its top, counted from the first one.
    pub course: Option<i64>,
    /// How its top edge is kept dry; absent if not said.
    pub dry_in: Option<DryIn>,
    /// What the platform may carry, kg.
    pub platform: Option<f64>,
    /// Heights of the platform above the datum, one for each setting.
    pub decks: Vec<Length>,
    /// How high hands reach above the platform.
    pub reach: Option<Length>,
    /// In how many loads its kit goes up.
    pub loads: u64,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// A remark for the crew.
    pub note: Option<Arc<str>>,
    /// Keyword and name.
    pub origin: Span,
}
