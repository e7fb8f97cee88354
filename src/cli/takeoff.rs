//! `wythe takeoff`: what to buy, supplier by supplier.

use super::args::{Form, Takeoff};
use super::place::Place;
use super::search::search;
use super::talk::print;
use super::{Ending, Outer, clock};
use crate::emit::order;
use crate::session::{Settings, check};

pub(super) fn run(given: &Takeoff) -> Result<Ending, Outer> {
    let today = Some(clock::today(given.today.as_deref())?);
    let settings = Settings { today, units: given.units.map(Into::into), ..Settings::default() };
    let place = Place::find(&given.path)?;
    let checked = check(&place.world, &place.roots, &settings);
    search(&checked);
    let lines = order::lines(&checked);
    print(&match given.report {
        Form::Text => order::text(&checked, &lines),
        Form::Json => order::json(&checked, &lines),
    })?;
    // What was not understood is missing from the order.
    Ok(if checked.problems.is_empty() { Ending::Clean } else { Ending::Findings })
}
