//! What wind, weight and drying ask of a wall, and what its fasteners hold: facts that figures tell and rules judge.
//! Indicative wherever a person could be hurt: an engineer confirms.

mod edge;
mod held;
mod hold;
mod pull;
mod reach;
pub mod settling;
mod span;
mod weight;
mod wind;

pub use edge::{edge, strip_width};
pub use held::{Fastening, between_strips, of_layers};
pub use hold::{Hold, hold};
pub use pull::{Pull, SetBy, Tributary, pull};
pub use reach::{Bite, Reach, bite, reach, reach_from};
pub use span::{StripSpan, strip_span};
pub use weight::{OnScrew, on_screw, through_insulation};
pub use wind::{Suction, site_wind, suction};

use crate::model::{Limit, Model};
use crate::units::Length;

/// A limit as a number; the error is the missing fact.
pub fn number<'m>(model: &'m Model, name: &str) -> Result<(&'m Limit, f64), String> {
    let found = model.limit(name).and_then(|limit| Some((limit, limit.number()?)));
    found.ok_or_else(|| format!("no rule set in force has a limit `{name}`"))
}

/// A limit as a length; the error is the missing fact.
pub fn length<'m>(model: &'m Model, name: &str) -> Result<(&'m Limit, Length), String> {
    let found = model.limit(name).and_then(|limit| Some((limit, limit.length()?)));
    found.ok_or_else(|| format!("no rule set in force has a limit `{name}`"))
}
