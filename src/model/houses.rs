//! Which faces stand or fall together, and the model of some faces by themselves.

use super::{Face, FaceId, Model};
use crate::source::Span;

/// What a part must still know of the model it was cut from.
#[derive(Clone, Debug)]
pub struct Whole {
    /// Some building is declared, in this part or elsewhere.
    pub has_buildings: bool,
    /// Name and place of the first face.
    pub first_face: Option<(String, Span)>,
}

impl Model {
    /// Groups of faces that no rule looks beyond: those of one building, those joined by a corner, and together all faces that
    /// are in no building. In the order of their first faces; each sorted.
    pub fn houses(&self) -> Vec<Vec<FaceId>> {
        let mut leads: Vec<usize> = (0..self.faces.len()).collect();
        let mut rest: Option<usize> = None;
        let in_buildings = self.faces_in_buildings();
        for (at, face) in self.faces.iter().enumerate() {
            for met in face.edges.iter().filter_map(|edge| edge.meets.as_ref()?.id) {
                join(&mut leads, at, met.0 as usize);
            }
            if !in_buildings.get(at).copied().unwrap_or_default() {
                join(&mut leads, *rest.get_or_insert(at), at);
            }
        }
        for building in &self.buildings {
            let mut ids = building.faces.iter().filter_map(|(_, id, _)| *id).map(|id| id.0 as usize);
            if let Some(first) = ids.next() {
                ids.for_each(|id| join(&mut leads, first, id));
            }
        }
        let mut houses: Vec<Vec<FaceId>> = vec![Vec::new(); self.faces.len()];
        for at in 0..self.faces.len() {
            let lead = lead(&leads, at);
            if let Some(house) = houses.get_mut(lead) {
                house.push(FaceId(at as u32));
            }
        }
        houses.retain(|house| !house.is_empty());
        houses
    }

    fn faces_in_buildings(&self) -> Vec<bool> {
        let mut named = vec![false; self.faces.len()];
        for id in self.buildings.iter().flat_map(|building| &building.faces).filter_map(|(_, id, _)| *id) {
            if let Some(named) = named.get_mut(id.0 as usize) {
                *named = true;
            }
        }
        named
    }

    /// The model of some faces by themselves, sorted: their buildings, sections and everything that is not of a face but plane
    /// cuts, which stand by themselves ([`Model::only_cut`]). The first of them gets the first id.
    pub fn only(&self, faces: &[FaceId]) -> Model {
        let new = |old: FaceId| faces.binary_search(&old).ok().map(|at| FaceId(at as u32));
        let has = |id: &Option<FaceId>| id.is_some_and(|id| new(id).is_some());
        let buildings = self.buildings.iter().filter(|building| building.faces.iter().any(|(_, id, _)| has(id)));
        let mut part = Model {
            project: self.project.clone(),
            site: self.site.clone(),
            rule_sets: self.rule_sets.clone(),
            materials: self.materials.clone(),
            products: self.products.clone(),
            assemblies: self.assemblies.clone(),
            details: self.details.clone(),
            faces: faces.iter().filter_map(|&id| self.face(id)).cloned().collect(),
            buildings: buildings.cloned().collect(),
            crew: self.crew.clone(),
            sections: self.sections.iter().filter(|one| one.face.is_none() || has(&one.face)).cloned().collect(),
            cut_lists: self.cut_lists.clone(),
            heat_cuts: Vec::new(),
            accepts: self.accepts.clone(),
            evidence: self.evidence.clone(),
            office_rules: self.office_rules.clone(),
            problems: Vec::new(),
            cut_from: Some(Whole { has_buildings: self.has_buildings(), first_face: self.first_face() }),
        };
        let corners = part.faces.iter_mut().flat_map(|face: &mut Face| &mut face.edges);
        corners.filter_map(|edge| edge.meets.as_mut()).for_each(|corner| corner.id = corner.id.and_then(new));
        let named = part.buildings.iter_mut().flat_map(|building| &mut building.faces);
        named.for_each(|(_, id, _)| *id = id.and_then(new));
        part.sections.iter_mut().for_each(|section| section.face = section.face.and_then(new));
        part
    }

    /// The model of one plane cut by itself, without any face.
    pub fn only_cut(&self, index: usize) -> Model {
        let heat_cuts = self.heat_cuts.get(index).cloned().into_iter().collect();
        let sections = Vec::new();
        Model { heat_cuts, sections, ..self.only(&[]) }
    }

    /// Whether the project declares a building.
    pub fn has_buildings(&self) -> bool {
        self.cut_from.as_ref().map_or(!self.buildings.is_empty(), |whole| whole.has_buildings)
    }

    /// Name and place of the project's first face.
    pub fn first_face(&self) -> Option<(String, Span)> {
        let own = || self.faces.first().map(|face| (face.name.clone(), face.origin));
        self.cut_from.as_ref().map_or_else(own, |whole| whole.first_face.clone())
    }
}

/// The first face of the group of a face.
fn lead(leads: &[usize], mut at: usize) -> usize {
    while let Some(&next) = leads.get(at).filter(|&&next| next != at) {
        at = next;
    }
    at
}

/// Joins two groups under the earlier of their first faces.
fn join(leads: &mut [usize], one: usize, other: usize) {
    let (one, other) = (lead(leads, one), lead(leads, other));
    if let Some(later) = leads.get_mut(one.max(other)) {
        *later = one.min(other);
    }
}
