//! How much of a bay drains to one place.

use super::Trap;
use crate::geometry::{Polygon, Region};

/// Area of the bay that stands over the floor of a trap, m²: water runs straight down between strips. A notch without a floor
/// of its own takes the whole bay.
pub fn catchment(bay: &Polygon, trap: &Trap) -> f64 {
    let whole = Region::from(bay.clone());
    let (left, right) = (trap.floor.from.x.min(trap.floor.to.x), trap.floor.from.x.max(trap.floor.to.x));
    let Some(bounds) = whole.bounds().filter(|_| left < right) else { return whole.area().as_m2() };
    whole.clip_x(left, right).clip_y(trap.at.y.min(bounds.top), bounds.top).area().as_m2()
}
