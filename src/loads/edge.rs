//! How far fasteners stay from the edges and ends of what they hold.

use super::{length, number};
use crate::model::{Limit, Material, Model};
use crate::physics::fastening::edge_distance;
use crate::units::Length;

/// The least distance for a fastener of this diameter in something of this material, and the limit that gives it; `what` names
/// the thing. The error is the missing fact.
pub fn edge<'m>(
    model: &'m Model,
    of: Option<&Material>,
    diameter: Option<Length>,
    what: &str,
) -> Result<(&'m Limit, Length), String> {
    let boards = length(model, "fastener.edge_distance")?;
    if of.map(|material| material.kind) != Some("metal") {
        return Ok(boards);
    }
    let (limit, times) = number(model, "fastener.sheet_diameters")?;
    let diameter = diameter.ok_or_else(|| format!("diameter of the fastener of {what} is not said"))?;
    Ok((limit, Length::snap_m(edge_distance(diameter.as_m(), times, 0.0))))
}
