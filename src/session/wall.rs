//! A checked wall as drawings read it, from a whole check or from an editor's [`Glance`], which knows one house at a time.

use super::{Checked, Glance};
use crate::checks::{Settled, Summary};
use crate::diagnose::Diagnostic;
use crate::eval::Date;
use crate::model::{FaceId, Model};
use crate::plan::Plan;

/// What a check says of the project as a whole: what the line of every output is made from.
#[derive(Clone, Copy, Debug)]
pub struct Account<'w> {
    /// All of the project.
    pub model: &'w Model,
    /// Mistakes of the text.
    pub problems: &'w [Diagnostic],
    /// Counts.
    pub summary: &'w Summary,
    /// How many rules ran; none before a glance is judged.
    pub rules_run: usize,
    /// The day it was checked for.
    pub today: Option<Date>,
}

/// Faces with their plan and what was found on them.
#[derive(Clone, Copy, Debug)]
pub struct Wall<'w> {
    /// The faces: of the whole project, or of one house.
    pub model: &'w Model,
    /// Where everything on them lies.
    pub plan: &'w Plan,
    /// What was found, with the ids of this model.
    pub findings: &'w [Settled],
    /// What is said of the whole project.
    pub account: Account<'w>,
}

impl<'w> From<&'w Checked> for Account<'w> {
    fn from(checked: &'w Checked) -> Self {
        let Checked { model, problems, summary, rules_run, today, .. } = checked;
        Self { model, problems, summary, rules_run: *rules_run, today: *today }
    }
}

impl<'w> From<&'w Checked> for Wall<'w> {
    fn from(checked: &'w Checked) -> Self {
        let Checked { model, plan, findings, .. } = checked;
        Self { model, plan, findings, account: checked.into() }
    }
}

impl<'w> From<&'w Glance> for Account<'w> {
    fn from(glance: &'w Glance) -> Self {
        let Glance { model, problems, summary, today, .. } = glance;
        let rules_run = if glance.is_judged() { glance.rules_run } else { 0 };
        Self { model, problems, summary, rules_run, today: *today }
    }
}

impl Glance {
    /// The house of a face as drawings read it, planned when first asked for, with the id of the face in it.
    pub fn wall(&self, face: FaceId) -> Option<(Wall<'_>, FaceId)> {
        let (house, findings, own) = self.judged_house(face)?;
        Some((Wall { model: &house.model, plan: &house.plan, findings, account: self.into() }, own))
    }
}
