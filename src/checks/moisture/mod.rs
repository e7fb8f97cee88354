//! Moisture by the month: mould at inner surfaces, walls that gather more than they hold, walls that do not dry.
//!
//! Asked only where the site says what the rooms are like (`indoors`, `humidity_class`).

pub mod moisture_condenses_beyond_capacity;
pub mod moisture_does_not_dry;
pub mod moisture_surface_mould;

use super::pieces::{area_name, wall};
use super::{CheckContext, Finding, RuleMeta};
use crate::figures::moisture::Monthly;
use crate::model::Assembly;
use crate::source::Span;

/// A wall through the months, with the name of the area it is told at.
struct Reckoned<'c> {
    wall: &'c Assembly,
    area: String,
    monthly: &'c Monthly,
}

impl Reckoned<'_> {
    /// The place with most water: in words, and the layer it is told at.
    fn wettest(&self) -> Option<(String, Span, usize, f64)> {
        let (place, month, water) = self.monthly.year.wettest()?;
        let place = self.monthly.cut.places.get(place)?;
        let layer = self.monthly.layer_of(self.wall, place)?;
        Some((self.monthly.where_is(self.wall, place), layer.origin, month, water))
    }
}

/// Every way of building, reckoned; one that cannot be is told, with the missing fact.
fn reckoned<'c>(context: &'c CheckContext<'_>, meta: &RuleMeta, report: &mut Vec<Finding>) -> Vec<Reckoned<'c>> {
    let site = context.model.site.as_ref();
    if !site.is_some_and(|site| site.indoors.is_some() || site.humidity_class.is_some()) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for (face, area, monthly) in context.months() {
        let Some(wall) = wall(context, *face, *area) else { continue };
        let name = area_name(context, *face, *area);
        match monthly {
            Ok(monthly) => found.push(Reckoned { wall, area: name, monthly }),
            Err(missing) => {
                let at = wall.layers.last().map_or(wall.origin, |layer| layer.origin);
                report.push(context.unknown(meta, name, at, missing.clone()));
            }
        }
    }
    found
}

/// Water on a square metre in both units.
fn water(mass: f64) -> String {
    format!("{:.0} g/m² ({:.2} oz/ft²)", mass * 1e3, mass * 3.277_06)
}
