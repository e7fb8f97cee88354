//! `wythe check`: reads projects, checks them, prints the report.

use super::args::{Asked, Check, FailOn, Report};
use super::place::Place;
use super::talk::print;
use super::{Ending, Outer, clock};
use crate::checks::Summary;
use crate::emit::findings::{Paint, json, sarif, text};
use crate::session::{Checked, Settings, check};

pub(super) fn run(given: &Check) -> Result<Ending, Outer> {
    let settings = settings(&given.asked)?;
    let places = given.paths.iter().map(|path| Place::find(path)).collect::<Result<Vec<_>, _>>()?;
    let checked: Vec<Checked> = places.iter().map(|place| check(&place.world, &place.roots, &settings)).collect();
    match given.report {
        Report::Text => {
            for (place, checked) in places.iter().zip(&checked) {
                if places.len() > 1 {
                    print(&format!("── {}\n\n", place.given.display()))?;
                }
                print(&text::text(checked, Paint::Terminal))?;
            }
        }
        Report::Json => print(&match checked.as_slice() {
            [one] => json::json(one),
            several => json::json_list(several),
        })?,
        Report::Sarif => print(&sarif::sarif(&checked))?,
    }
    Ok(ending(&checked, given.asked.fail_on))
}

/// What the run was told from outside the texts.
pub(super) fn settings(asked: &Asked) -> Result<Settings, Outer> {
    Ok(Settings {
        today: Some(clock::today(asked.today.as_deref())?),
        units: asked.units.map(Into::into),
        ..Settings::default()
    })
}

/// Whether anything was found that is to stop the run.
pub(super) fn ending(checked: &[Checked], fail_on: FailOn) -> Ending {
    if checked.iter().any(|checked| stops(&checked.summary, fail_on)) { Ending::Findings } else { Ending::Clean }
}

fn stops(summary: &Summary, fail_on: FailOn) -> bool {
    let firm = summary.violations + summary.unknown_stop;
    match fail_on {
        FailOn::Never => false,
        FailOn::Violation => firm > 0,
        FailOn::Warning => firm + summary.warnings > 0,
        FailOn::Unknown => firm + summary.warnings + summary.unknown > 0,
    }
}
