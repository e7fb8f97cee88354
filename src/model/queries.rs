//! Questions that several stages ask of a wall: its gap, drainage plane, air barrier, and what stands outboard of what.

use super::{Assembly, Building, Face, FaceId, Frame, Gap, Layer, LayerKind, Model, Service, Stuff};
use crate::units::Length;

impl Assembly {
    /// The outermost gap with its layer, if it has one.
    pub fn gap(&self) -> Option<(&Layer, &Gap)> {
        self.gaps().next()
    }

    /// All gaps, outside to inside.
    pub fn gaps(&self) -> impl Iterator<Item = (&Layer, &Gap)> {
        self.layers.iter().filter_map(|layer| match &layer.kind {
            LayerKind::Gap(gap) => Some((layer, gap.as_ref())),
            _ => None,
        })
    }

    /// Index of the frame among the layers, and the frame.
    pub fn frame(&self) -> Option<(usize, &Frame)> {
        self.layers.iter().enumerate().find_map(|(index, layer)| match &layer.kind {
            LayerKind::Frame(frame) => Some((index, frame.as_ref())),
            _ => None,
        })
    }

    /// The drainage plane: the outermost layer that is said to control water.
    pub fn drainage_plane(&self) -> Option<(usize, &Layer)> {
        self.layers.iter().enumerate().find(|(_, layer)| layer.controls.water)
    }

    /// All layers that are said to control air, outside to inside. A sound wall has exactly one.
    pub fn air_layers(&self) -> impl Iterator<Item = (usize, &Layer)> {
        self.layers.iter().enumerate().filter(|(_, layer)| layer.controls.air)
    }

    /// The air barrier: the one layer that is said to control air; none if there is none, or more than one.
    pub fn air_layer(&self) -> Option<(usize, &Layer)> {
        let mut layers = self.air_layers();
        let first = layers.next();
        if layers.next().is_some() { None } else { first }
    }

    /// Whether a layer lies inboard of the frame, where floors and partitions cut it; `None` without a frame.
    pub fn is_inboard_of_frame(&self, layer: usize) -> Option<bool> {
        self.frame().map(|(frame, _)| layer > frame)
    }
}

impl Face {
    /// Dotted name of something that passes through this face: `north.drain`, `west.services.garden` where it stands on a block.
    pub fn dotted(&self, service: &Service) -> String {
        let block = service.block.and_then(|block| self.blocks.get(block));
        match block {
            Some(block) => format!("{}.{}.{}", self.name, block.name, service.name),
            None => format!("{}.{}", self.name, service.name),
        }
    }
}

impl Gap {
    /// What is left of the least declared depth once wrinkles, tapes and bulging insulation have taken their share; zero if
    /// they take all. Nothing is taken off where no bulge was declared.
    pub fn net_depth(&self) -> Length {
        (self.depth.0 - self.bulge.unwrap_or(Length::ZERO)).max(Length::ZERO)
    }
}

impl Model {
    /// The building that names a face.
    pub fn building_of(&self, face: FaceId) -> Option<&Building> {
        self.buildings.iter().find(|building| building.faces.iter().any(|(_, id, _)| *id == Some(face)))
    }

    /// How much room a layer takes at its thickest, for set-out: a gap its greatest depth, a frame its depth, a layer that names
    /// none the thickness of its product; a membrane none at all, since nobody sets out half a millimetre. `None` if it was
    /// not said.
    pub fn thickness_of(&self, layer: &Layer) -> Option<Length> {
        match &layer.kind {
            LayerKind::Gap(gap) => Some(gap.depth.1),
            LayerKind::Frame(frame) => Some(frame.depth),
            LayerKind::Solid | LayerKind::Existing if self.is_membrane(&layer.stuff) => Some(Length::ZERO),
            // Nobody sets out by a thickness that is known only within bounds.
            LayerKind::Solid | LayerKind::Existing if layer.thickness_within.is_some() && layer.thickness.is_none() => {
                None
            }
            LayerKind::Solid | LayerKind::Existing => {
                layer.thickness.or_else(|| self.product_of(&layer.stuff)?.thickness.map(|(_, most)| most))
            }
        }
    }

    /// Least and most thickness of a layer, for figures; a membrane has none. `None` if it was not said.
    pub fn thickness_within(&self, layer: &Layer) -> Option<(Length, Length)> {
        match &layer.kind {
            LayerKind::Gap(gap) => Some(gap.depth),
            _ => layer.thickness_within.or_else(|| self.thickness_of(layer).map(|thickness| (thickness, thickness))),
        }
    }

    /// Index of the sheathing: going outward from the frame, the first layer that is neither a membrane nor insulation,
    /// if it comes before anything else. `None` for a wall without frame or sheathing.
    pub fn sheathing(&self, assembly: &Assembly) -> Option<usize> {
        let (frame, _) = assembly.frame()?;
        let outward = assembly.layers.get(..frame)?.iter().enumerate().rev();
        let (index, first) = outward.into_iter().find(|(_, layer)| !self.is_membrane(&layer.stuff))?;
        let solid = matches!(first.kind, LayerKind::Solid | LayerKind::Existing);
        (solid && !first.controls.heat && !first.controls.rain).then_some(index)
    }

    /// How far the cladding stands out from the sheathing (from the frame where there is none): the sum of all layers
    /// outboard of it. `None` if a thickness was not said, or there is neither.
    pub fn outboard_thickness(&self, assembly: &Assembly) -> Option<Length> {
        let inner = self.sheathing(assembly).or_else(|| assembly.frame().map(|(frame, _)| frame))?;
        self.thickness_outboard_of(assembly, inner)
    }

    /// The sum of all layers outboard of one; `None` if a thickness was not said.
    pub fn thickness_outboard_of(&self, assembly: &Assembly, inner: usize) -> Option<Length> {
        assembly.layers.get(..inner)?.iter().map(|layer| self.thickness_of(layer)).sum()
    }

    /// The sum of all layers between two, neither counted; `None` if a thickness was not said.
    pub fn thickness_between(&self, assembly: &Assembly, one: usize, other: usize) -> Option<Length> {
        let (outer, inner) = (one.min(other), one.max(other));
        assembly.layers.get(outer.saturating_add(1)..inner)?.iter().map(|layer| self.thickness_of(layer)).sum()
    }

    /// Whether something is a sheet or a coat without a thickness to speak of.
    pub fn is_membrane(&self, stuff: &Stuff) -> bool {
        self.product_of(stuff).is_some_and(|product| matches!(product.kind, "membrane" | "liquid"))
            || self.material_of(stuff).map(|material| material.kind) == Some("membrane")
    }
}
