//! `wythe emit`: checks a project and writes its drawings, tables and reports.

use super::args::Emit;
use super::place::Place;
use super::search::search;
use super::talk::{print, talk};
use super::{Ending, Outer, check, folder};
use crate::emit::footer::count;
use crate::emit::{cuts_lengths, footer_line, outputs};

pub(super) fn run(given: &Emit) -> Result<Ending, Outer> {
    let settings = check::settings(&given.asked)?;
    let place = Place::find(&given.path)?;
    let checked = crate::session::check(&place.world, &place.roots, &settings);
    if cuts_lengths(given.only.as_deref()) {
        search(&checked);
    }
    let made = outputs(&checked, given.only.as_deref());
    let written = folder::write(&given.into, &made)?;
    let removed = if written.removed == 0 { String::new() } else { format!(", removed {}", written.removed) };
    talk(&format!("wrote {} to `{}`{removed}", count(written.files, "file", "files"), given.into.display()));
    print(&format!("{}\n", footer_line(&checked)))?;
    Ok(check::ending(&[checked], given.asked.fail_on))
}
