//! How far fasteners stay from the edges and ends of what they hold.

use super::{Fastening, length, number};
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

/// The least width of a strip of wood that one fastening holds, so that its screw does not split it, and the limit that gives it;
/// the error is the missing fact.
pub fn strip_width<'m>(model: &'m Model, one: &Fastening<'_>) -> Result<(&'m Limit, Length), String> {
    let (limit, times) = number(model, "furring.width_diameters")?;
    let diameter = one.fasten.diameter;
    let diameter = diameter.ok_or_else(|| format!("diameter of the fastener of {} is not said", one.what))?;
    Ok((limit, Length::snap_m(diameter.as_m() * times)))
}
