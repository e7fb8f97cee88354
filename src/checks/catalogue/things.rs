//! What stands on a face and what it is built of, as far as a sheet asks for it.

use crate::model::{
    Detail, DetailId, Direction, Face, FaceId, Gap, Layer, LayerKind, Material, Model, PartSpec, Place, Stuff,
};

pub(super) fn has_edge(face: &Face, kinds: &[&str]) -> bool {
    face.edges.iter().any(|edge| kinds.contains(&edge.kind))
}

pub(super) fn edges(face: &Face, kinds: &[&str]) -> Vec<String> {
    face.edges.iter().filter(|edge| kinds.contains(&edge.kind)).map(|edge| edge.name.clone()).collect()
}

/// The faces at the other side of its corners.
pub(super) fn corners(face: &Face) -> Vec<String> {
    let meets = face.edges.iter().filter_map(|edge| edge.meets.as_ref());
    meets.map(|corner| format!("corner with {}", corner.face)).collect()
}

/// The names, or none for the face as a whole if it only has such an edge; `None` if it has neither.
pub(super) fn or_edge(face: &Face, names: impl Iterator<Item = String>, kind: &str) -> Option<Vec<String>> {
    let names: Vec<String> = names.collect();
    (!names.is_empty() || has_edge(face, &[kind])).then_some(names)
}

/// What passes through, of these kinds; of any kind where none is given. With the block it stands on.
pub(super) fn services(face: &Face, kinds: &[&str]) -> Vec<String> {
    let wanted = face.services.iter().filter(|service| kinds.is_empty() || kinds.contains(&service.kind));
    let prefix = format!("{}.", face.name);
    let dotted = wanted.map(|service| face.dotted(service));
    dotted.map(|name| name.strip_prefix(&prefix).unwrap_or(&name).to_owned()).collect()
}

/// Trims with rows of weep or vent holes.
pub(super) fn with_holes(face: &Face) -> Vec<String> {
    let holed = face.trims.iter().filter(|trim| trim.holes.iter().any(|row| row.purpose != "fix"));
    holed.map(|trim| trim.name.clone()).collect()
}

/// Layers, details and trims of a face.
pub(super) struct Built<'m> {
    model: &'m Model,
    face: Option<&'m Face>,
    details: Vec<&'m Detail>,
}

impl<'m> Built<'m> {
    pub(super) fn of(model: &'m Model, id: FaceId) -> Self {
        let face = model.face(id);
        let mut ids: Vec<DetailId> = face.map(details).unwrap_or_default();
        ids.sort_unstable();
        ids.dedup();
        Self { model, face, details: ids.into_iter().filter_map(|id| model.detail(id)).collect() }
    }

    pub(super) fn layers(&self) -> impl Iterator<Item = &'m Layer> {
        let areas = self.face.into_iter().flat_map(|face| &face.areas);
        areas.filter_map(|area| self.model.assembly(area.assembly)).flat_map(|assembly| &assembly.layers)
    }

    /// What sheds the rain.
    pub(super) fn claddings(&self) -> impl Iterator<Item = &'m Layer> {
        self.layers().filter(|layer| layer.controls.rain)
    }

    pub(super) fn gaps(&self) -> impl Iterator<Item = &'m Gap> {
        self.layers().filter_map(|layer| if let LayerKind::Gap(gap) = &layer.kind { Some(gap.as_ref()) } else { None })
    }

    fn places(&self) -> impl Iterator<Item = &'m Place> {
        let of = |detail: &&'m Detail| {
            let detail: &'m Detail = detail;
            [Some(&detail.edge), detail.head.as_ref(), detail.jamb.as_ref(), detail.sill.as_ref()].into_iter().flatten()
        };
        self.details.iter().flat_map(of)
    }

    fn parts(&self) -> impl Iterator<Item = &'m PartSpec> {
        self.places().flat_map(|place| &place.parts)
    }

    pub(super) fn has_part(&self, kind: &str) -> bool {
        let standing = self.face.is_some_and(|face| face.blocks.iter().any(|block| block.flashing.is_some()));
        self.parts().any(|part| part.kind == kind) || (kind == "flashing" && standing)
    }

    pub(super) fn has_trims(&self) -> bool {
        self.face.is_some_and(|face| !face.trims.is_empty()) || self.has_part("trim")
    }

    pub(super) fn has_screen(&self) -> bool {
        self.places().flat_map(|place| &place.gap_ends).any(|end| end.screen.is_some())
            || self.face.is_some_and(|face| face.vents.iter().any(|vent| vent.screen.is_some()))
            || self.has_part("screen")
    }

    pub(super) fn has_fire_stop(&self) -> bool {
        self.face.is_some_and(|face| !face.fire_stops.is_empty())
            || self.places().any(|place| matches!(place.fire, Some("stopped" | "open_state")))
    }

    pub(super) fn has_cross_furring(&self) -> bool {
        let cross = |direction| matches!(direction, Some(Direction::Horizontal | Direction::Diagonal(_)));
        self.gaps().flat_map(|gap| &gap.furring).any(|furring| cross(furring.direction))
    }

    /// Insulation outboard of the frame.
    pub(super) fn has_insulation(&self) -> bool {
        let areas = self.face.into_iter().flat_map(|face| &face.areas);
        areas.filter_map(|area| self.model.assembly(area.assembly)).any(|assembly| {
            let frame = assembly.frame().map_or(assembly.layers.len(), |(at, _)| at);
            assembly.layers.iter().take(frame).any(|layer| layer.controls.heat)
        })
    }

    /// Everything that layers, trims and parts are of.
    pub(super) fn stuffs(&self) -> impl Iterator<Item = Stuff> {
        let layers = self.layers().map(|layer| layer.stuff.clone());
        let furring = self.gaps().flat_map(|gap| &gap.furring).map(|furring| furring.stuff.clone());
        let parts = self.parts().map(|part| part.stuff.clone());
        let trims = self.face.into_iter().flat_map(|face| &face.trims).filter_map(|trim| {
            let product = self.model.product(trim.product)?;
            Some(Stuff { material: product.of, product: Some(trim.product), name: product.name.clone() })
        });
        layers.chain(furring).chain(parts).chain(trims)
    }

    pub(super) fn material(&self, stuff: &Stuff, is: impl Fn(&Material) -> bool) -> bool {
        self.model.material_of(stuff).is_some_and(is)
    }

    pub(super) fn is_metal(&self, stuff: &Stuff) -> bool {
        self.material(stuff, |material| material.metal.is_some())
    }

    /// Takes up water, or does not say that it does not.
    pub(super) fn absorbs(&self, layer: &Layer) -> bool {
        !self.is_metal(&layer.stuff) && self.material(&layer.stuff, |material| material.absorbs_water != Some("no"))
    }
}

/// Every detail that a face names.
fn details(face: &Face) -> Vec<DetailId> {
    let edges = face.edges.iter().flat_map(|edge| edge.details.iter().map(|one| one.detail).chain(edge.point));
    let between = face.betweens.iter().flat_map(|one| one.details.iter().map(|one| one.detail));
    edges
        .chain(between)
        .chain(face.roofs.iter().filter_map(|one| one.detail))
        .chain(face.decks.iter().filter_map(|one| one.detail))
        .chain(face.floor_lines.iter().filter_map(|one| one.detail))
        .chain(face.openings.iter().filter_map(|one| one.detail))
        .chain(face.services.iter().filter_map(|one| one.detail))
        .chain(face.blocks.iter().filter_map(|one| one.detail))
        .collect()
}
