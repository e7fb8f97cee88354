//! Makes the wall of evaluated declarations. What is missing or makes no sense is a problem; the rest is kept.

mod again;
mod contradictions;
mod crew;
mod cut_lists;
mod details;
mod evidence;
mod faces;
mod goods;
mod heat_cuts;
mod layers;
mod outline;
mod problems;
mod rule_sets;
mod sections;
mod site;
mod standing;

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

pub use again::Before;
use again::{Asked, Kept};

use super::{AssemblyId, DetailId, FaceId, MaterialId, Model, ProductId};
use crate::diagnose::{Diagnostic, settle};
use crate::eval::{Bound, Evaluated, InstanceId};
use crate::resolve::Project;
use crate::source::Span;

/// Makes the wall of evaluated declarations. Never fails: what is missing or makes no sense is a problem, and the rest is kept.
pub fn build(project: &Project, evaluated: &Evaluated) -> Model {
    build_again(project, evaluated, &mut Before::default())
}

/// The same, with what was built before.
pub fn build_again(project: &Project, evaluated: &Evaluated, before: &mut Before) -> Model {
    let mut builder = Builder {
        project,
        evaluated,
        before: Before::of(evaluated, before),
        kept: HashMap::new(),
        asked: Vec::new(),
        model: Model::default(),
        materials: BTreeMap::new(),
        products: BTreeMap::new(),
        assemblies: BTreeMap::new(),
        details: BTreeMap::new(),
        project_at: None,
        face_names: BTreeMap::new(),
    };
    for &id in &evaluated.own {
        builder.declaration(id);
    }
    *before = std::mem::take(&mut builder.before).leave(std::mem::take(&mut builder.kept));
    builder.finish()
}

struct Builder<'p> {
    project: &'p Project,
    evaluated: &'p Evaluated,
    before: Before,
    /// Faces of this wall, for the next time.
    kept: HashMap<usize, Arc<Kept>>,
    /// What was asked for since a face was begun.
    asked: Vec<Asked>,
    model: Model,
    materials: BTreeMap<InstanceId, MaterialId>,
    products: BTreeMap<InstanceId, ProductId>,
    assemblies: BTreeMap<InstanceId, AssemblyId>,
    details: BTreeMap<InstanceId, DetailId>,
    /// Where each face was first declared.
    face_names: BTreeMap<String, Span>,
    /// Where the project says what it is called.
    project_at: Option<Span>,
}

impl Builder<'_> {
    fn problem(&mut self, problem: Diagnostic) {
        self.model.problems.push(problem);
    }

    fn declaration(&mut self, id: InstanceId) {
        let Some(instance) = self.evaluated.instance(id) else { return };
        match instance.kind {
            "wythe" => self.edition(&instance.bound),
            "project" => self.project_facts(&instance.bound),
            "site" => self.site(&instance.bound),
            "assembly" => {
                self.assembly(id);
            }
            "detail" => {
                self.detail(id);
            }
            "face" => self.face(&instance.bound),
            "cutlist" => self.cut_list(&instance.bound),
            "heat_cut" => self.heat_cut(&instance.bound),
            "section" => self.section(&instance.bound),
            "crew" => self.crew(&instance.bound),
            "building" => self.building(&instance.bound),
            "accept" => self.accept(&instance.bound, ""),
            "rule" => self.office_rule(&instance.bound),
            "evidence" => self.evidence(&instance.bound),
            // Materials, products, climates and rule sets come in when something names them.
            _ => {}
        }
    }

    /// Only the first edition of the language is there to be read.
    fn edition(&mut self, bound: &Bound) {
        if let Some(written) = bound.integer("edition").filter(|edition| *edition != 1) {
            self.problem(problems::other_edition(bound.span, written));
        }
    }

    /// Ties names together once every face is known, and puts the common-practice rule set last.
    fn finish(mut self) -> Model {
        self.wanted_rule_set();
        self.fallback_rule_set();
        self.overrides();
        self.join_faces();
        self.join_evidence();
        settle(&mut self.model.problems);
        self.model
    }

    fn join_faces(&mut self) {
        let ids: BTreeMap<String, FaceId> =
            self.model.faces.iter().enumerate().map(|(at, face)| (face.name.clone(), FaceId(at as u32))).collect();
        let corners =
            self.model.faces.iter_mut().flat_map(|face| &mut face.edges).filter_map(|edge| edge.meets.as_mut());
        let mut strangers = Vec::new();
        for corner in corners {
            corner.id = ids.get(&corner.face).copied();
            if corner.id.is_none() {
                strangers.push(problems::no_such_face(corner.origin, &corner.face, ids.keys()));
            }
        }
        for building in &mut self.model.buildings {
            for (name, id, origin) in &mut building.faces {
                *id = ids.get(name).copied();
                if id.is_none() {
                    strangers.push(problems::no_such_face(*origin, name, ids.keys()));
                }
            }
        }
        for section in &mut self.model.sections {
            let (name, at) = &section.on;
            section.face = ids.get(name).copied();
            if section.face.is_none() {
                strangers.push(problems::no_such_face(*at, name, ids.keys()));
            }
        }
        self.model.problems.extend(strangers);
        self.join_crew(&ids);
        self.corners_agree();
    }
}
