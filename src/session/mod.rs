//! From a world of texts to a checked building, in one call.

mod houses;
mod live;
mod places;
#[cfg(test)]
mod tests;
mod wall;

pub use houses::House;
pub use live::{Glance, Live};
pub use wall::{Account, Wall};

use crate::checks::{self, CheckContext, RULES, Settled, Summary};
use crate::diagnose::Diagnostic;
use crate::eval::{Before, Date, Evaluated};
use crate::figures::Figures;
use crate::layout::cut_plans::CutPlans;
use crate::layout::folds::Folds;
use crate::layout::list_plans::ListPlan;
use crate::layout::made::Made;
use crate::layout::pieces::Pieces;
use crate::layout::trims::Trims;
use crate::model::{CutList, Model};
use crate::plan::Plan;
use crate::resolve::Project;
use crate::source::World;
use crate::units::System;

/// What the run is told from outside the texts.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    /// Today, for `until` dates; acceptances with an end cannot be told without it.
    pub today: Option<Date>,
    /// The unit printed first, if it is not to be the project's own.
    pub units: Option<System>,
    /// Name of the rule set to ask instead of the project's: one of the library, or of the project itself. A name that is
    /// neither changes nothing.
    pub limits: Option<String>,
}

/// A project that went through every stage.
#[derive(Debug)]
pub struct Checked {
    /// Texts and names.
    pub project: Project,
    /// Values.
    pub evaluated: Evaluated,
    /// The wall.
    pub model: Model,
    /// Where everything lies.
    pub plan: Plan,
    /// Mistakes of the text, from all stages; sorted.
    pub problems: Vec<Diagnostic>,
    /// Findings of all rules, sorted, with their acceptances.
    pub findings: Vec<Settled>,
    /// How many rules ran.
    pub rules_run: usize,
    /// The day it was checked for, as told from outside.
    pub today: Option<Date>,
    /// Counts; mistakes of the text count as violations.
    pub summary: Summary,
    /// What is cut, worked out when it is first asked for.
    pub made: Made,
    /// Figures of walls and faces, worked out when they are first asked for.
    pub(crate) figures: std::sync::OnceLock<Figures>,
}

impl Checked {
    /// Every piece of cladding.
    pub fn pieces(&self) -> &Pieces {
        self.made.pieces(&self.model, &self.plan)
    }

    /// Every length of trim.
    pub fn trims(&self) -> &Trims {
        self.made.trims(&self.model, &self.plan)
    }

    /// All folded metal.
    pub fn folds(&self) -> &Folds {
        self.made.folds(&self.model, &self.plan)
    }

    /// What the walls are cut from.
    pub fn cut_plans(&self) -> &CutPlans {
        self.made.plans(&self.model, &self.plan)
    }

    /// Computed figures of every wall type and face.
    pub fn figures(&self) -> &Figures {
        self.figures.get_or_init(|| crate::figures::of(&self.model, &self.plan))
    }

    /// Every list that comes from no wall, with its plan.
    pub fn list_plans(&self) -> impl Iterator<Item = (&CutList, &ListPlan)> {
        self.model.cut_lists.iter().zip(self.made.lists(&self.model))
    }
}

/// Reads, evaluates, plans and checks a project. `roots` are the files to start from, relative to the project folder.
pub fn check(world: &dyn World, roots: &[String], settings: &Settings) -> Checked {
    let project = crate::resolve::load(world, roots);
    let evaluated = crate::eval::evaluate_again(&project, settings.limits.as_deref(), &mut Before::default());
    let mut model = crate::model::build(&project, &evaluated);
    crate::model::read_hours(world, &mut model);
    model.project.units = settings.units.unwrap_or(model.project.units);
    let plan = crate::plan::build(&model);
    let checks::Raw { findings, silent } = houses::judge(&model, &plan);
    let findings = checks::settle(&CheckContext::new(&model, &plan), findings, &silent, settings.today);
    let problems = problems(&project, &evaluated, &model);
    let summary = checks::summarise(&problems, &findings);
    let rules_run = RULES.len() + model.office_rules.len();
    let (today, made) = (settings.today, Made::default());
    let figures = std::sync::OnceLock::new();
    Checked { project, evaluated, model, plan, problems, findings, rules_run, today, summary, made, figures }
}

/// Mistakes of the text from all stages, sorted.
fn problems(project: &Project, evaluated: &Evaluated, model: &Model) -> Vec<Diagnostic> {
    let mut problems = project.problems.clone();
    problems.extend(evaluated.problems.iter().cloned());
    problems.extend(model.problems.iter().cloned());
    crate::diagnose::settle(&mut problems);
    problems
}

/// Heron Lane, all its files, checked without a date: the house that tests of many rooms measure themselves by.
#[cfg(test)]
pub(crate) fn heron_lane() -> Checked {
    let world = heron_lane_world();
    check(&world, &world.list(), &Settings::default())
}

/// The texts of Heron Lane.
#[cfg(test)]
pub(crate) fn heron_lane_world() -> crate::source::MapWorld {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron-lane");
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files = files.filter(|path| path.extension().is_some_and(|extension| extension == "wythe"));
    files.fold(crate::source::MapWorld::new(), |world, path| {
        world.with(path.file_name().unwrap().to_str().unwrap(), &std::fs::read_to_string(&path).unwrap())
    })
}
