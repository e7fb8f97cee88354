//! What is cut, worked out once for all that read it: pieces, trims, folds, cut plans.

use std::sync::OnceLock;

use super::cut_plans::{self, CutPlans};
use super::cutting::{Go, Watch};
use super::folds::{self, Folds};
use super::list_plans::{self, ListPlan};
use super::pieces::{self, Pieces};
use super::trims::{self, CUT_FOR, Trims};
use crate::model::Model;
use crate::plan::Plan;

/// Facts of layout for a day on which surfaces are at [`CUT_FOR`] °C; each is worked out when it is first asked for.
#[derive(Debug, Default)]
pub struct Made {
    pieces: OnceLock<Pieces>,
    trims: OnceLock<Trims>,
    folds: OnceLock<Folds>,
    plans: OnceLock<CutPlans>,
    lists: OnceLock<Vec<ListPlan>>,
}

impl Made {
    /// Cladding.
    pub fn pieces(&self, model: &Model, plan: &Plan) -> &Pieces {
        self.pieces.get_or_init(|| pieces::cut(model, plan, CUT_FOR))
    }

    /// Trims.
    pub fn trims(&self, model: &Model, plan: &Plan) -> &Trims {
        self.trims.get_or_init(|| trims::cut(model, plan, CUT_FOR))
    }

    /// Folded metal.
    pub fn folds(&self, model: &Model, plan: &Plan) -> &Folds {
        self.folds.get_or_init(|| folds::find(model, plan))
    }

    /// Cut plans of the walls.
    pub fn plans(&self, model: &Model, plan: &Plan) -> &CutPlans {
        self.watched_plans(model, plan, &mut |_, _| Go::On)
    }

    /// Plans of the lists that come from no wall, in the order of [`Model::cut_lists`].
    pub fn lists(&self, model: &Model) -> &[ListPlan] {
        self.watched_lists(model, &mut |_, _| Go::On)
    }

    /// Works out all cut plans while somebody watches, who may stop the search with the best plans so far.
    pub fn search(&self, model: &Model, plan: &Plan, watch: Watch<'_>) {
        self.watched_plans(model, plan, watch);
        self.watched_lists(model, watch);
    }

    /// Works out all that is not known yet.
    pub fn all(&self, model: &Model, plan: &Plan) {
        self.plans(model, plan);
        self.lists(model);
        self.folds(model, plan);
    }

    fn watched_plans(&self, model: &Model, plan: &Plan, watch: Watch<'_>) -> &CutPlans {
        self.plans.get_or_init(|| {
            let parts = cut_plans::parts(model, plan, self.pieces(model, plan), self.trims(model, plan));
            cut_plans::of_parts(model, parts, watch)
        })
    }

    fn watched_lists(&self, model: &Model, watch: Watch<'_>) -> &[ListPlan] {
        self.lists.get_or_init(|| model.cut_lists.iter().map(|list| list_plans::of_list(model, list, watch)).collect())
    }
}
