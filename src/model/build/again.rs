//! Faces of a wall that was built before: one whose values are what they were, on goods that are what they were, is kept.

use std::collections::HashMap;
use std::sync::Arc;

use super::Builder;
use crate::diagnose::Diagnostic;
use crate::eval::{Bound, Evaluated, Instance, InstanceId};
use crate::model::{AssemblyId, DetailId, Face, MaterialId, ProductId};

/// What nothing that a face is built from can name.
const LOOSE: [&str; 6] = ["face", "building", "section", "cutlist", "accept", "evidence"];

/// What was built last.
#[derive(Debug, Default)]
pub struct Before {
    /// The values of every instance that a face may rest on, by its number.
    goods: Vec<Option<Arc<Bound>>>,
    /// Faces by the place of their values in memory, which they hold.
    pub(super) faces: HashMap<usize, Arc<Kept>>,
}

/// A face as it was built, before anything was joined to it.
#[derive(Debug)]
pub(super) struct Kept {
    bound: Arc<Bound>,
    face: Face,
    problems: Vec<Diagnostic>,
    asked: Vec<Asked>,
}

/// Something a face was built from, and the number it got.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Asked {
    Material(InstanceId, MaterialId),
    Product(InstanceId, ProductId),
    Assembly(InstanceId, AssemblyId),
    Detail(InstanceId, DetailId),
}

impl Before {
    /// What of it holds for a project as it is evaluated now, with its goods.
    pub(super) fn of(evaluated: &Evaluated, before: &mut Before) -> Self {
        let good = |one: &Instance| (!LOOSE.contains(&one.kind)).then(|| one.bound.clone());
        let goods: Vec<Option<Arc<Bound>>> = evaluated.instances.iter().map(good).collect();
        let same = |(was, is): (&Option<Arc<Bound>>, &Option<Arc<Bound>>)| match (was, is) {
            (Some(was), Some(is)) => Arc::ptr_eq(was, is),
            (was, is) => was.is_none() && is.is_none(),
        };
        // Goods may come behind those of before, which leaves these their numbers.
        let hold = before.goods.len() <= goods.len() && before.goods.iter().zip(&goods).all(same);
        let before = std::mem::take(before);
        Self { goods, faces: if hold { before.faces } else { HashMap::new() } }
    }

    /// What is kept for the next time.
    pub(super) fn leave(self, faces: HashMap<usize, Arc<Kept>>) -> Self {
        Self { faces, ..self }
    }
}

impl Builder<'_> {
    /// A face, kept or built.
    pub(super) fn face(&mut self, bound: &Arc<Bound>) {
        let address = Arc::as_ptr(bound) as usize;
        let known = self.before.faces.get(&address).filter(|kept| Arc::ptr_eq(&kept.bound, bound)).cloned();
        match known.filter(|kept| self.ask_again(&kept.asked)) {
            Some(kept) => {
                self.model.problems.extend(kept.problems.iter().cloned());
                self.add_face(kept.face.clone());
                self.kept.insert(address, kept);
            }
            None => {
                let (problems, accepts) = (self.model.problems.len(), self.model.accepts.len());
                self.asked.clear();
                let face = self.new_face(bound);
                self.add_face(face.clone());
                // What is said of goods meanwhile may be said again with the face: it is told once. An acceptance is not.
                if accepts == self.model.accepts.len() {
                    let problems = self.model.problems.get(problems..).unwrap_or_default().to_vec();
                    let asked = std::mem::take(&mut self.asked);
                    self.kept.insert(address, Arc::new(Kept { bound: bound.clone(), face, problems, asked }));
                }
            }
        }
    }

    /// Asks for the same goods in the same order. Whether they have the numbers they had.
    fn ask_again(&mut self, asked: &[Asked]) -> bool {
        asked.iter().all(|one| match *one {
            Asked::Material(id, was) => self.material(id) == Some(was),
            Asked::Product(id, was) => self.product(id) == Some(was),
            Asked::Assembly(id, was) => self.assembly(id) == Some(was),
            Asked::Detail(id, was) => self.detail(id) == Some(was),
        })
    }
}
