//! Wall types: each way of building as it stands in areas of faces, told apart by how open its gap is there.

use super::Scene;
use crate::continuity::{BayFlow, FreeArea, Opening, free_area};
use crate::model::{Assembly, AssemblyId, FaceId, Model};
use crate::physics::resistance::{Ventilation, ventilation};
use crate::units::Range;

/// A way of building, with the areas that are built so.
#[derive(Clone, Debug, PartialEq)]
pub struct WallType {
    /// The layers.
    pub assembly: AssemblyId,
    /// Where it stands: faces, and indices of their areas.
    pub areas: Vec<(FaceId, usize)>,
    /// Openings of its outermost gap for each metre of wall, m²/m, from the area with the least and its screens aged to that with
    /// the most and its screens new; 0 without a gap. Openings of unknown size are left out where the others make it well ventilated
    /// already; else the error is the missing fact.
    pub opening: Result<Range, String>,
}

impl WallType {
    /// Its layers, outside to inside.
    pub fn assembly<'m>(&self, model: &'m Model) -> Option<&'m Assembly> {
        model.assembly(self.assembly)
    }

    /// Whether an area of this face is built so.
    pub fn stands_on(&self, face: FaceId) -> bool {
        self.areas.iter().any(|(own, _)| *own == face)
    }
}

/// Every wall type in use, in the order of faces and areas; walls whose text was not understood are left out.
pub(super) fn types(scene: &Scene<'_>) -> Vec<WallType> {
    let mut types: Vec<WallType> = Vec::new();
    for (index, face) in scene.model.faces.iter().enumerate() {
        for (at, area) in face.areas.iter().enumerate() {
            let place = (FaceId(index as u32), at);
            let Some(assembly) = scene.model.assembly(area.assembly).filter(|assembly| !assembly.broken) else {
                continue;
            };
            let opening = if assembly.gap().is_some() { openings(scene, place) } else { Ok(Range::exactly(0.0)) };
            let same = |known: &&mut WallType| known.assembly == area.assembly && alike(&known.opening, &opening);
            match types.iter_mut().find(same) {
                Some(known) => {
                    known.areas.push(place);
                    known.opening = both(&known.opening, &opening);
                }
                None => types.push(WallType { assembly: area.assembly, areas: vec![place], opening }),
            }
        }
    }
    types
}

/// Whether gaps this open count as the same for heat: of one class with their screens new and aged, and of one that does not
/// ask how open exactly.
fn alike(one: &Result<Range, String>, other: &Result<Range, String>) -> bool {
    let class = |opening: &Result<Range, String>| {
        let range = opening.as_ref().ok()?;
        Some((ventilation(range.low), ventilation(range.high)))
    };
    match (class(one), class(other)) {
        (Some(one), Some(other)) => one == other && one.0 == one.1 && one.0 != Ventilation::Slightly,
        (None, None) => one == other,
        _ => false,
    }
}

fn both(one: &Result<Range, String>, other: &Result<Range, String>) -> Result<Range, String> {
    Ok(one.clone()?.hull(other.clone()?))
}

/// Openings of the gap of one area for each metre of its width, screens aged and new, m²/m.
fn openings(scene: &Scene<'_>, (face, area): (FaceId, usize)) -> Result<Range, String> {
    let bounds = scene.plan.face(face).and_then(|placed| placed.areas.get(area)?.whole.bounds());
    let width = bounds.map_or(0.0, |bounds| bounds.width().as_m());
    let bays = scene.flow().bays.iter().filter(|bay| bay.id.face == face && bay.id.area == area);
    let all: Vec<&Opening> = bays.flat_map(openings_of).filter(|opening| opening.joins != "gap").collect();
    if width <= 0.0 {
        return Err("width of the wall".to_owned());
    }
    let missing = all.iter().find(|opening| opening.area.is_none());
    let missing = missing.map(|opening| opening.missing.clone().unwrap_or_else(|| "openings of its gap".to_owned()));
    let free: FreeArea = free_area(all.into_iter().filter(|opening| opening.area.is_some())).unwrap_or_default();
    let known = Range::between(free.aged / width, free.new / width);
    match missing {
        // What is known is enough: more openings change nothing.
        Some(fact) if ventilation(known.low) != Ventilation::Well => Err(fact),
        _ => Ok(known),
    }
}

/// Every opening of a bay once: a slot that is inlet and outlet is one.
fn openings_of(bay: &BayFlow) -> Vec<&Opening> {
    let mut seen: Vec<&Opening> = Vec::new();
    for opening in bay.inlets.iter().chain(&bay.outlets) {
        let same = |known: &&Opening| {
            known.segment == opening.segment && known.with == opening.with && known.kind == opening.kind
        };
        if !seen.iter().any(same) {
            seen.push(opening);
        }
    }
    seen
}
