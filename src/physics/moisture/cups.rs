//! Which cup a layer counts with, month by month: vapour goes through wood and gypsum faster the damper they are.
//!
//! Products are measured in a dry cup (air of 0 and 50 %) and in a wet one (50 and 93 %). ISO 10456:2007 takes the wet value where the
//! mean humidity of a layer is 70 % and more (from memory). ISO 13788 is reckoned here with dry cups unless this is asked.

use std::borrow::Cow;

use super::Air;
use super::glaser::{Cut, Wall};
use super::year::{self, Months, Year};

/// Mean humidity of a layer from which its wet cup counts, 0 to 1.
pub const DAMP: f64 = 0.7;

/// A year with the cups of each month.
#[derive(Clone, Debug, PartialEq)]
pub struct ByCups {
    /// What gathers and dries.
    pub year: Year,
    /// Which layers count with the wet cup in each month, January first.
    pub damp: Vec<Vec<bool>>,
}

/// The year of a wall whose layers count with the cup that their humidity at the start of each month asks: `dry` holds the dry
/// cups, `wet` the wet ones of its layers in metres of still air. `None` where the wall cannot be cut.
pub fn year(dry: &Wall, wet: &[f64], air: &Months) -> Option<ByCups> {
    let base = dry.cut()?;
    let cut = |month: usize, water: &[bool]| {
        let found = air.get(month).and_then(|air| asked(dry, wet, *air, water));
        found.map_or(Cow::Borrowed(&base), |(cut, _)| Cow::Owned(cut))
    };
    let year = year::each(&cut, air);
    let mut damp = vec![vec![false; dry.layers.len()]; air.len()];
    let mut water = vec![false; base.places.len()];
    for month in year.in_order() {
        let found = air.get(month).and_then(|air| asked(dry, wet, *air, &water));
        if let (Some((_, found)), Some(damp)) = (found, damp.get_mut(month)) {
            *damp = found;
        }
        water.fill(false);
        let held = year.months.get(month).into_iter().flat_map(|month| &month.water);
        for place in held.filter(|water| water.held > 0.0) {
            if let Some(water) = water.get_mut(place.place) {
                *water = true;
            }
        }
    }
    Some(ByCups { year, damp })
}

/// The wall of one month, with places in `water` wet, and which of its layers are damp. A layer that was found damp stays so while
/// the others are looked at again, so that the search ends.
fn asked(dry: &Wall, wet: &[f64], (outside, inside): (Air, Air), water: &[bool]) -> Option<(Cut, Vec<bool>)> {
    let mut damp = vec![false; dry.layers.len()];
    loop {
        let cut = with(dry, wet, &damp).cut()?;
        let state = cut.between(outside, inside, water);
        let humidity: Vec<f64> =
            state.vapour.iter().zip(&state.saturation).map(|(vapour, full)| vapour / full).collect();
        let more = damper(&cut, &humidity, &damp);
        if more == damp {
            return Some((cut, damp));
        }
        damp = more;
    }
}

fn with(dry: &Wall, wet: &[f64], damp: &[bool]) -> Wall {
    let mut wall = dry.clone();
    for ((slab, wet), damp) in wall.layers.iter_mut().zip(wet).zip(damp) {
        if *damp {
            slab.air = slab.air.min(*wet);
        }
    }
    wall
}

/// What was damp, and each layer whose two faces have 70 % in the mean.
fn damper(cut: &Cut, humidity: &[f64], damp: &[bool]) -> Vec<bool> {
    let mut outer = humidity.first().copied().unwrap_or_default();
    let mut found = damp.to_vec();
    for (layer, damp) in found.iter_mut().enumerate() {
        let inner = cut.places.iter().rposition(|place| place.layer == layer && place.share >= 1.0);
        let inner = inner.and_then(|at| humidity.get(at)).copied().unwrap_or(outer);
        *damp |= (outer + inner) / 2.0 >= DAMP;
        outer = inner;
    }
    found
}
