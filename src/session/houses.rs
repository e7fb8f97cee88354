//! Every house is judged by itself: faces no rule looks beyond ([`Model::houses`]); and so is every plane cut.

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::checks::{self, CheckContext, Finding, Raw};
use crate::model::{FaceId, Model};
use crate::plan::Plan;
use crate::source::Span;

/// Some faces by themselves, planned.
#[derive(Debug)]
pub struct House {
    /// Their model.
    pub model: Model,
    /// Where everything lies.
    pub plan: Plan,
}

impl House {
    /// The house of some faces of a model, sorted.
    pub fn of(model: &Model, faces: &[FaceId]) -> Self {
        let model = model.only(faces);
        let plan = crate::plan::build(&model);
        Self { model, plan }
    }

    /// What the rules say of it, with ids of its own.
    pub(super) fn judge(&self) -> Raw {
        checks::raw(&CheckContext::new(&self.model, &self.plan))
    }
}

/// What the rules say of all houses and plane cuts of a planned project.
pub(super) fn judge(model: &Model, plan: &Plan) -> Raw {
    let houses = model.houses();
    let mut told = Told::default();
    if houses.len() < 2 {
        let faces: Vec<FaceId> = houses.into_iter().flatten().collect();
        told.take(checks::raw(&CheckContext::new(model, plan)), &faces);
    } else {
        let said: Vec<Raw> = houses.par_iter().map(|faces| House::of(model, faces).judge()).collect();
        said.into_iter().zip(&houses).for_each(|(raw, faces)| told.take(raw, faces));
    }
    let cuts = (0..model.heat_cuts.len()).into_par_iter().map(|index| judge_cut(model, index));
    cuts.collect::<Vec<Raw>>().into_iter().for_each(|raw| told.take(raw, &[]));
    told.into_raw()
}

/// What the rules of plane cuts say of one.
pub(super) fn judge_cut(model: &Model, index: usize) -> Raw {
    checks::raw_of_cut(&CheckContext::new(&model.only_cut(index), &Plan::default()))
}

/// Puts together what was said of houses, and of cuts after them. What is of no face, every house says; it is told once.
#[derive(Default)]
pub(super) struct Told {
    raw: Raw,
    once: BTreeMap<(&'static str, String, Span, String), usize>,
    houses: usize,
}

impl Told {
    /// Takes what was said of the next house.
    pub fn take(&mut self, raw: Raw, faces: &[FaceId]) {
        self.raw.silent.take(&raw.silent);
        for finding in raw.findings {
            if finding.stretch.is_some() || self.is_first(&finding) {
                self.raw.findings.push(in_whole(finding, faces));
            }
        }
        self.houses += 1;
    }

    /// Whether no house before this one said it.
    fn is_first(&mut self, finding: &Finding) -> bool {
        let key = (finding.rule, finding.subject.clone(), finding.at, finding.message.clone());
        *self.once.entry(key).or_insert(self.houses) == self.houses
    }

    /// All of it, with the ids of the whole model.
    pub fn into_raw(self) -> Raw {
        self.raw
    }
}

fn in_whole(mut finding: Finding, faces: &[FaceId]) -> Finding {
    if let Some(stretch) = &mut finding.stretch {
        stretch.face = faces.get(stretch.face.0 as usize).copied().unwrap_or(stretch.face);
    }
    finding
}
