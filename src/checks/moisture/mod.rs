//! Moisture by the month: mould at inner surfaces, walls that gather more than they hold, walls that do not dry.
//!
//! Asked only where the site says what the rooms are like (`indoors`, `humidity_class`).

pub mod moisture_condenses_beyond_capacity;
pub mod moisture_does_not_dry;
pub mod moisture_surface_mould;

use super::pieces::{area_name, wall};
use super::{CheckContext, Finding, Measure, RuleMeta};
use crate::figures::moisture::Monthly;
use crate::model::Assembly;
use crate::physics::moisture::year::Year;
use crate::source::Span;
use crate::units::Range;

/// A wall through the months, with the name of the area it is told at.
struct Reckoned<'c> {
    wall: &'c Assembly,
    area: String,
    monthly: &'c Monthly,
}

impl Reckoned<'_> {
    /// The place with most water, with what is known only within bounds at its wettest: in words, the layer it is told at, and the
    /// month.
    fn wettest(&self) -> Option<(String, Span, usize)> {
        let found = self.monthly.runs().filter_map(|(cut, year)| Some((cut, year.wettest()?)));
        let (cut, (place, month, _)) = found.reduce(|most, one| if one.1.2 > most.1.2 { one } else { most })?;
        let place = cut.places.get(place)?;
        let layer = self.monthly.layer_of(self.wall, place)?;
        Some((self.monthly.where_is(self.wall, place), layer.origin, month))
    }

    /// What years come to, from the least to the most: one number where everything is known.
    fn through(&self, of: impl Fn(&Year) -> f64) -> Range {
        // Nothing added up is -0.
        let all = self.monthly.runs().map(|(_, year)| Range::exactly(of(year) + 0.0));
        all.reduce(Range::hull).unwrap_or_default()
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

/// As shown; the most is what is measured.
fn waters(mass: Range) -> Measure {
    let (low, high) = (water(mass.low), water(mass.high));
    Measure { value: Some(mass.high), shown: if low == high { high } else { format!("{low} to {high}") } }
}

/// Water on a square metre in both units.
fn water(mass: f64) -> String {
    format!("{:.0} g/m² ({:.2} oz/ft²)", mass * 1e3, mass * 3.277_06)
}
