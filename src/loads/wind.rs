//! The suction of the wind on a face, by the static procedure of the Canadian code.

use super::number;
use crate::layout::ground;
use crate::model::{FaceId, Limit, Model};
use crate::physics::{weather, wind};
use crate::plan::Plan;
use crate::units::Length;

/// Suction on one face, specified, positive outward.
pub struct Suction<'m> {
    /// Away from the corners, Pa.
    pub field: f64,
    /// In the zone at the corners, Pa.
    pub corner: f64,
    /// Width of that zone.
    pub zone: Length,
    /// The limit that gives the shape of the greatest suction.
    pub limit: &'m Limit,
}

/// Reference wind pressure of the site, and whether the country upwind is rough; the error is the missing fact.
pub fn site_wind(model: &Model) -> Result<(f64, bool), String> {
    let site = model.site.as_ref().ok_or("where the wall stands is not said (`site`)")?;
    let climate = || site.climate.as_ref().and_then(|climate| climate.wind);
    let reference = site.wind.or_else(climate).ok_or("the reference wind pressure of the site is not said (`wind`)")?;
    let terrain = site.terrain.ok_or("whether the country upwind is open or rough is not said (`terrain`)")?;
    Ok((reference, terrain == "rough"))
}

/// The wind's suction on a face; the error is the missing fact.
pub fn suction<'m>(model: &'m Model, plan: &Plan, id: FaceId) -> Result<Suction<'m>, String> {
    let (reference, rough) = site_wind(model)?;
    let face = model.face(id).ok_or("the face is not known")?;
    let bounds = plan.face(id).and_then(|placed| placed.outline.bounds()).ok_or("the outline is not known")?;
    let lowest = ground::ground_line(face).iter().map(|point| point.y).min();
    let lowest =
        lowest.ok_or_else(|| format!("the height of the ground before `{}` is not said (`ground`)", face.name))?;
    let height = (bounds.top - lowest).as_m();
    let importance = number(model, "wind.importance")?.1;
    let inside = number(model, "wind.inside")?.1;
    let field = number(model, "wind.suction_field")?.1;
    let (limit, corner) = number(model, "wind.suction_corner")?;
    let exposure = wind::exposure_factor(height, rough);
    let net = |shape: f64| wind::net_suction(importance, reference, exposure, -shape, inside);
    let zone = Length::snap_m(weather::edge_zone(bounds.width().as_m(), height));
    Ok(Suction { field: net(field), corner: net(corner), zone, limit })
}
