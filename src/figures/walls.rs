//! Wall types: each way of building as it stands in areas of faces.

use super::Scene;
use crate::model::{Assembly, AssemblyId, FaceId, Model};

/// A way of building, with the areas that are built so.
#[derive(Clone, Debug, PartialEq)]
pub struct WallType {
    /// The layers.
    pub assembly: AssemblyId,
    /// Where it stands: faces, and indices of their areas.
    pub areas: Vec<(FaceId, usize)>,
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
            let sound = scene.model.assembly(area.assembly).is_some_and(|assembly| !assembly.broken);
            if !sound {
                continue;
            }
            let place = (FaceId(index as u32), at);
            match types.iter_mut().find(|known| known.assembly == area.assembly) {
                Some(known) => known.areas.push(place),
                None => types.push(WallType { assembly: area.assembly, areas: vec![place] }),
            }
        }
    }
    types
}
