//! A plane cut through a detail, for the heat that goes through it.

use std::sync::Arc;

use super::{AssemblyId, DetailId, Stuff};
use crate::source::Span;
use crate::units::Length;

/// Lower left and upper right corner.
pub type Box2 = ((Length, Length), (Length, Length));

/// A rectangle of one material.
#[derive(Clone, Debug, PartialEq)]
pub struct CutRegion {
    /// Where.
    pub at: Box2,
    /// What it is of, if named.
    pub stuff: Option<Stuff>,
    /// W/(m·K), if said here; it stands before that of the material.
    pub conductivity: Option<f64>,
    /// Where it stands in the text.
    pub origin: Span,
}

/// Which air.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AirSide {
    /// Of the room.
    Inside,
    /// Outside.
    Outside,
    /// Of a third temperature.
    Space,
}

impl AirSide {
    /// The schema's word.
    pub fn word(self) -> &'static str {
        match self {
            AirSide::Inside => "inside",
            AirSide::Outside => "outside",
            AirSide::Space => "space",
        }
    }
}

/// Air that touches the cut.
#[derive(Clone, Debug, PartialEq)]
pub struct CutAir {
    /// Which.
    pub side: AirSide,
    /// Where: a line or a rectangle.
    pub at: Box2,
    /// °C, if said.
    pub temperature: Option<f64>,
    /// Of the surface, for the flow, m²·K/W, if said.
    pub resistance: Option<f64>,
    /// Of the surface, for its lowest temperature, m²·K/W, if said.
    pub cold_resistance: Option<f64>,
    /// Where it stands in the text.
    pub origin: Span,
}

/// A plane part beside the detail, counted by its area.
#[derive(Clone, Debug, PartialEq)]
pub struct CutFlank {
    /// Its length in the cut, as its face is measured.
    pub length: Length,
    /// W/(m²·K), if said; it stands before that of the wall.
    pub transmittance: Option<f64>,
    /// The wall it is of, if named.
    pub wall: Option<AssemblyId>,
    /// Where it stands in the text.
    pub origin: Span,
}

/// The edge that a cut stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutEdge {
    /// How it is built.
    pub detail: DetailId,
    /// `head`, `jamb` or `sill`; all edges of the detail if not said.
    pub place: Option<&'static str>,
    /// Where it stands in the text.
    pub origin: Span,
}

/// A plane cut.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatCut {
    /// Its name.
    pub name: String,
    /// Materials, the later over the earlier.
    pub regions: Vec<CutRegion>,
    /// Air around it.
    pub airs: Vec<CutAir>,
    /// Plane parts beside the detail.
    pub flanks: Vec<CutFlank>,
    /// The surface that lengths of flanks are taken to, in the words of faces, if said.
    pub measured_to: Option<&'static str>,
    /// The edge it stands for, if any.
    pub edge: Option<CutEdge>,
    /// Places whose temperature is told.
    pub points: Vec<(String, (Length, Length))>,
    /// Remarks.
    pub notes: Vec<Arc<str>>,
    /// Where it stands.
    pub origin: Span,
    /// Part of its text was not understood: no figures are worked out.
    pub broken: bool,
}

impl HeatCut {
    /// The box around its materials; nothing if it has none.
    pub fn extent(&self) -> Option<Box2> {
        let boxes = self.regions.iter().map(|region| region.at);
        boxes.reduce(|((left, low), (right, high)), (from, to)| {
            ((left.min(from.0), low.min(from.1)), (right.max(to.0), high.max(to.1)))
        })
    }
}
