//! What a section takes, by the crew's own watch.

use std::collections::BTreeMap;

use super::{Kit, What};
use crate::model::{Crew, Model};

/// Time for one section, s.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hours {
    /// To fix its pieces and to set the platform, as far as the crew timed it.
    pub time: f64,
    /// What the crew did not time, in words; empty if the time is whole.
    pub missing: Vec<String>,
}

/// The time of a kit; `None` if no crew is declared, or it timed nothing.
pub fn kit_hours(model: &Model, kit: &Kit) -> Option<Hours> {
    let crew = model.crew.as_ref().filter(|crew| !crew.pace.is_empty())?;
    let mut counts: BTreeMap<What, u64> = BTreeMap::new();
    for piece in &kit.pieces {
        *counts.entry(piece.what).or_default() += 1;
    }
    let mut hours = Hours::default();
    for (what, count) in counts {
        match crew.pace_of(what.word()) {
            Some(pace) => hours.time += pace * count as f64,
            None => hours.missing.push(format!("`pace {}`", what.word())),
        }
    }
    let settings = settings(model, kit);
    match crew.setting {
        Some(setting) => hours.time += setting * settings as f64,
        None if settings > 0 => hours.missing.push("`setting`".to_owned()),
        None => {}
    }
    Some(hours)
}

/// How often the platform is set at a height in one section.
pub(super) fn settings(model: &Model, kit: &Kit) -> u64 {
    kit.section.and_then(|at| model.sections.get(at)).map_or(0, |section| section.decks.len() as u64)
}

/// What so many moves take, s; `None` if the crew did not time one.
pub fn moving(crew: &Crew, moves: u64) -> Option<f64> {
    crew.move_time.map(|time| time * moves as f64)
}
