//! `wythe figures`: what the walls come to in numbers.

use super::args::{Figures, Form};
use super::place::Place;
use super::talk::print;
use super::{Ending, Outer, clock};
use crate::emit::figures::{self, Depth};
use crate::session::{Settings, check};

pub(super) fn run(given: &Figures) -> Result<Ending, Outer> {
    let today = Some(clock::today(given.today.as_deref())?);
    let settings = Settings { today, units: given.units.map(Into::into), ..Settings::default() };
    let place = Place::find(&given.path)?;
    let checked = check(&place.world, &place.roots, &settings);
    print(&match given.report {
        Form::Text => figures::text(&checked, if given.all { Depth::All } else { Depth::Few }),
        Form::Json => figures::json(&checked),
    })?;
    // What was not understood has no figures.
    Ok(if checked.problems.is_empty() { Ending::Clean } else { Ending::Findings })
}
