//! The public properties of the things of a wall, by the names an office rule may use.

use crate::checks::{CheckContext, Measure};
use crate::geometry::Point;
use crate::model::{
    Area, DetailId, Direction, Edge, Face, FaceId, Fasten, Functions, Layer, LayerKind, Opening, Service, Stuff,
};
use crate::source::Span;
use crate::units::{Dimension, Length, Number, System};

/// A property of one thing.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Property {
    Number(Number),
    Words(Vec<String>),
    Missing,
}

impl Property {
    pub(super) fn measure(&self, units: System) -> Option<Measure> {
        match self {
            Property::Number(number) => {
                Some(Measure { value: Some(number.si()), shown: super::compare::show(*number, units) })
            }
            Property::Words(words) => Some(Measure { value: None, shown: words.join(" and ") }),
            Property::Missing => None,
        }
    }
}

/// One thing with its properties.
pub(super) struct Thing {
    pub name: String,
    pub subject: String,
    pub origin: Span,
    pub stretch: Option<(FaceId, Point, Point)>,
    properties: Vec<(&'static str, Property)>,
}

impl Thing {
    pub(super) fn property(&self, name: &str) -> Property {
        self.properties
            .iter()
            .find(|(known, _)| *known == name)
            .map_or(Property::Missing, |(_, property)| property.clone())
    }
}

/// Names of the properties of a kind of thing.
pub fn known(subject: &str) -> &'static [&'static str] {
    match subject {
        "layer" => &[
            "name",
            "product",
            "material",
            "material_kind",
            "thickness",
            "controls",
            "lap",
            "end_lap",
            "least_exposure",
            "greatest_exposure",
            "joint_gap",
            "fastener",
            "fastened_into",
            "assembly",
            "lapped",
            "runs",
            "seam",
            "primer",
            "ends",
            "fastener_spacing",
            "fastener_length",
        ],
        "gap" => &["name", "depth", "net_depth", "openness", "strips", "assembly", "bulge", "mat"],
        "furring" => &[
            "product",
            "material",
            "thickness",
            "width",
            "spacing",
            "stops",
            "fastener",
            "assembly",
            "runs",
            "held_up",
            "held_down",
            "splice_gap",
            "fastener_spacing",
            "fastener_length",
        ],
        "opening" => &[
            "name",
            "kind",
            "width",
            "height",
            "sill",
            "head",
            "detail",
            "trim_width",
            "trims_on",
            "head_flashing",
            "reveal",
            "projects",
            "face",
            "measured",
            "rough_gap",
            "sealed_to",
            "opens",
        ],
        "edge" => &["name", "kind", "keep", "detail", "length", "meets", "face", "corner", "joins", "point"],
        "area" => &["name", "assembly", "face", "layers", "lower_end", "upper_end"],
        "service" => &[
            "name",
            "kind",
            "size",
            "height",
            "seal",
            "sealed_to",
            "fall",
            "sleeve",
            "owner",
            "carries",
            "on_block",
            "face",
            "detail",
            "flange",
            "stem",
            "capped",
            "reaches",
            "removal",
        ],
        "block" => {
            &["name", "lies_on", "width", "thickness", "removable", "drained", "face", "height", "side_gap", "detail"]
        }
        "trim" => &[
            "name",
            "product",
            "lies_along",
            "gap",
            "lap",
            "face",
            "lies_on",
            "low_end",
            "fastener",
            "fixed_points",
            "weep_rows",
            "weep_size",
        ],
        "product" => &[
            "name",
            "kind",
            "part_of",
            "material",
            "weight",
            "finish",
            "supplier",
            "thickness",
            "diameter",
            "family",
            "surface",
            "opening",
            "clearance",
            "rip",
            "lap",
            "works_from",
            "sunlight",
            "self_sealing",
        ],
        "face" => &[
            "name",
            "measured_to",
            "openings",
            "services",
            "spares",
            "areas",
            "width",
            "height",
            "overhang",
            "limiting_distance",
        ],
        _ => &[],
    }
}

/// Everything of a kind, in the order of the texts.
pub(super) fn things(context: &CheckContext<'_>, subject: &str) -> Vec<Thing> {
    let model = context.model;
    let faces = || model.faces.iter().enumerate().map(|(at, face)| (FaceId(at as u32), face));
    match subject {
        "layer" => layers(context)
            .filter(|(_, layer)| !matches!(layer.kind, LayerKind::Gap(_)))
            .map(|(owner, layer)| self::layer(context, owner, layer))
            .collect(),
        "gap" => layers(context).filter_map(|(owner, layer)| gap(owner, layer)).collect(),
        "furring" => layers(context).flat_map(|(owner, layer)| furring(context, owner, layer)).collect(),
        "opening" => faces()
            .flat_map(|(id, face)| face.openings.iter().map(move |opening| self::opening(context, id, face, opening)))
            .collect(),
        "edge" => faces()
            .flat_map(|(id, face)| face.edges.iter().map(move |edge| self::edge(context, id, face, edge)))
            .collect(),
        "area" => {
            faces().flat_map(|(_, face)| face.areas.iter().map(move |area| self::area(context, face, area))).collect()
        }
        "service" => faces()
            .flat_map(|(id, face)| face.services.iter().map(move |service| self::service(context, id, face, service)))
            .collect(),
        "block" => faces()
            .flat_map(|(id, face)| face.blocks.iter().map(move |block| self::block(context, id, face, block)))
            .collect(),
        "trim" => {
            faces().flat_map(|(_, face)| face.trims.iter().map(move |trim| self::trim(context, face, trim))).collect()
        }
        "product" => model.products.iter().map(|product| self::product(context, product)).collect(),
        "face" => faces().map(|(_, face)| self::face(face)).collect(),
        _ => Vec::new(),
    }
}

fn layers<'m>(context: &CheckContext<'m>) -> impl Iterator<Item = (&'m str, &'m Layer)> {
    context
        .model
        .assemblies
        .iter()
        .flat_map(|assembly| assembly.layers.iter().map(move |layer| (assembly.name.as_str(), layer)))
}

fn length(value: Option<Length>) -> Property {
    value.map_or(Property::Missing, |length| Property::Number(Number::Length(length)))
}

fn word(value: Option<&str>) -> Property {
    value.filter(|word| !word.is_empty()).map_or(Property::Missing, |word| Property::Words(vec![word.to_owned()]))
}

fn yes_no(value: bool) -> Property {
    Property::Words(vec![if value { "yes" } else { "no" }.to_owned()])
}

fn count(value: usize) -> Property {
    Property::Number(Number::Bare(crate::units::Fraction::whole(value as i64)))
}

fn made_of(context: &CheckContext<'_>, stuff: &Stuff) -> (Property, Property, Property) {
    let product = context.model.product_of(stuff).map(|product| product.name.as_str());
    let material = context.model.material_of(stuff);
    (word(product), word(material.map(|material| material.name.as_str())), word(material.map(|material| material.kind)))
}

fn fastener(context: &CheckContext<'_>, fasten: Option<&Fasten>) -> Property {
    word(fasten.and_then(|fasten| context.model.product(fasten.product)).map(|product| product.name.as_str()))
}

fn fastener_spacing(fasten: Option<&Fasten>) -> Property {
    length(fasten.and_then(|fasten| fasten.spacing))
}

fn fastener_length(fasten: Option<&Fasten>) -> Property {
    length(fasten.and_then(|fasten| fasten.length))
}

fn told(value: Option<bool>) -> Property {
    value.map_or(Property::Missing, yes_no)
}

fn quantity(value: Option<f64>, dimension: Dimension) -> Property {
    value.and_then(|value| Number::of(value, dimension).ok()).map_or(Property::Missing, Property::Number)
}

fn detail_name(context: &CheckContext<'_>, detail: Option<DetailId>) -> Property {
    word(detail.and_then(|id| context.model.detail(id)).map(|detail| detail.name.as_str()))
}

fn functions(controls: Functions) -> Property {
    let words = [
        ("rain", controls.rain),
        ("water", controls.water),
        ("air", controls.air),
        ("vapour", controls.vapour),
        ("heat", controls.heat),
    ];
    Property::Words(words.into_iter().filter(|(_, carries)| *carries).map(|(word, _)| word.to_owned()).collect())
}

fn layer(context: &CheckContext<'_>, owner: &str, layer: &Layer) -> Thing {
    let (product, material, material_kind) = made_of(context, &layer.stuff);
    Thing {
        name: layer.name.clone(),
        subject: format!("{owner}.{}", layer.name),
        origin: layer.origin,
        stretch: None,
        properties: vec![
            ("name", word(Some(&layer.name))),
            ("product", product),
            ("material", material),
            ("material_kind", material_kind),
            ("thickness", length(layer.thickness)),
            ("controls", functions(layer.controls)),
            ("lap", length(layer.lap)),
            ("end_lap", length(layer.end_lap)),
            ("least_exposure", length(layer.exposure.map(|(least, _)| least))),
            ("greatest_exposure", length(layer.exposure.map(|(_, greatest)| greatest))),
            ("joint_gap", length(layer.joint_gap)),
            ("fastener", fastener(context, layer.fasten.as_ref())),
            ("fastened_into", word(layer.fasten.as_ref().and_then(|fasten| fasten.into))),
            ("assembly", word(Some(owner))),
            ("lapped", word(layer.lapped)),
            ("runs", word(Some(if layer.runs_vertical { "vertical" } else { "horizontal" }))),
            ("seam", word(layer.seam.and_then(|id| context.model.product(id)).map(|tape| tape.name.as_str()))),
            ("primer", told(layer.primer)),
            ("ends", word(layer.ends_sealed.map(|sealed| if sealed { "sealed" } else { "open" }))),
            ("fastener_spacing", fastener_spacing(layer.fasten.as_ref())),
            ("fastener_length", fastener_length(layer.fasten.as_ref())),
        ],
    }
}

fn gap(owner: &str, layer: &Layer) -> Option<Thing> {
    let LayerKind::Gap(gap) = &layer.kind else { return None };
    let openness = gap.openness.map(|openness| match openness {
        crate::model::Openness::Vented => "vented",
        crate::model::Openness::Ventilated => "ventilated",
    });
    Some(Thing {
        name: layer.name.clone(),
        subject: format!("{owner}.{}", layer.name),
        origin: layer.origin,
        stretch: None,
        properties: vec![
            ("name", word(Some(&layer.name))),
            ("depth", length(Some(gap.depth.0))),
            ("net_depth", length(Some(gap.net_depth()))),
            ("openness", word(openness)),
            ("strips", count(gap.furring.len())),
            ("assembly", word(Some(owner))),
            ("bulge", length(gap.bulge)),
            ("mat", yes_no(gap.mat.is_some())),
        ],
    })
}

fn furring<'a>(context: &'a CheckContext<'_>, owner: &'a str, layer: &'a Layer) -> impl Iterator<Item = Thing> + 'a {
    let gap = if let LayerKind::Gap(gap) = &layer.kind { Some(gap) } else { None };
    gap.into_iter().flat_map(|gap| &gap.furring).map(move |furring| {
        let (product, material, _) = made_of(context, &furring.stuff);
        Thing {
            name: format!("furring of {}", layer.name),
            subject: format!("{owner}.{}.furring", layer.name),
            origin: furring.origin,
            stretch: None,
            properties: vec![
                ("product", product),
                ("material", material),
                ("thickness", length(Some(furring.thickness))),
                ("width", length(furring.width)),
                ("spacing", length(furring.spacing)),
                ("stops", length(furring.stops)),
                ("fastener", fastener(context, furring.fasten.as_ref())),
                ("assembly", word(Some(owner))),
                (
                    "runs",
                    word(furring.direction.map(|direction| match direction {
                        Direction::Vertical => "vertical",
                        Direction::Horizontal => "horizontal",
                        Direction::Diagonal(_) => "diagonal",
                    })),
                ),
                ("held_up", length(furring.held_up)),
                ("held_down", length(furring.held_down)),
                ("splice_gap", length(furring.splice_gap)),
                ("fastener_spacing", fastener_spacing(furring.fasten.as_ref())),
                ("fastener_length", fastener_length(furring.fasten.as_ref())),
            ],
        }
    })
}

fn opening(context: &CheckContext<'_>, id: FaceId, face: &Face, opening: &Opening) -> Thing {
    let detail = opening.detail.and_then(|id| context.model.detail(id)).map(|detail| detail.name.as_str());
    let far = Point { x: opening.at.x + opening.width, y: opening.at.y + opening.height };
    Thing {
        name: opening.name.clone(),
        subject: format!("{}.{}", face.name, opening.name),
        origin: opening.origin,
        stretch: Some((id, opening.at, far)),
        properties: vec![
            ("name", word(Some(&opening.name))),
            ("kind", word(Some(opening.kind))),
            ("width", length(Some(opening.width))),
            ("height", length(Some(opening.height))),
            ("sill", length(Some(opening.at.y))),
            ("head", length(Some(far.y))),
            ("detail", word(detail)),
            ("trim_width", length(opening.trims.map(|(width, _)| width))),
            ("trims_on", word(opening.trims.map(|(_, on)| on))),
            ("head_flashing", word(opening.head)),
            ("reveal", length(opening.reveal)),
            ("projects", length(opening.projects)),
            ("face", word(Some(&face.name))),
            ("measured", word(opening.measure)),
            ("rough_gap", length(opening.rough_gap)),
            ("sealed_to", word(opening.seal)),
            ("opens", told(opening.opens)),
        ],
    }
}

fn edge(context: &CheckContext<'_>, id: FaceId, face: &Face, edge: &Edge) -> Thing {
    let details = edge
        .details
        .iter()
        .filter_map(|stretch| context.model.detail(stretch.detail))
        .map(|detail| detail.name.clone());
    let details: Vec<String> = details.collect();
    Thing {
        name: edge.name.clone(),
        subject: format!("{}.{}", face.name, edge.name),
        origin: edge.origin,
        stretch: Some((id, edge.segment.from, edge.segment.to)),
        properties: vec![
            ("name", word(Some(&edge.name))),
            ("kind", word(Some(edge.kind))),
            ("keep", length(edge.keep)),
            ("detail", if details.is_empty() { Property::Missing } else { Property::Words(details) }),
            ("length", length(Some(edge.segment.length()))),
            ("meets", word(edge.meets.as_ref().map(|corner| corner.face.as_str()))),
            ("face", word(Some(&face.name))),
            ("corner", word(edge.meets.as_ref().and_then(|corner| corner.kind))),
            ("joins", word(edge.joins)),
            ("point", detail_name(context, edge.point)),
        ],
    }
}

fn area(context: &CheckContext<'_>, face: &Face, area: &Area) -> Thing {
    let assembly = context.model.assembly(area.assembly).map(|assembly| assembly.name.as_str());
    Thing {
        name: area.name.clone(),
        subject: format!("{}.{}", face.name, area.name),
        origin: area.origin,
        stretch: None,
        properties: vec![
            ("name", word(Some(&area.name))),
            ("assembly", word(assembly)),
            ("face", word(Some(&face.name))),
            (
                "layers",
                context.model.assembly(area.assembly).map_or(Property::Missing, |wall| count(wall.layers.len())),
            ),
            ("lower_end", length(area.above)),
            ("upper_end", length(area.below)),
        ],
    }
}

fn service(context: &CheckContext<'_>, id: FaceId, face: &Face, service: &Service) -> Thing {
    let slope = |fall: f64| Number::of(fall, Dimension::NUMBER).map_or(Property::Missing, Property::Number);
    Thing {
        name: service.name.clone(),
        subject: format!("{}.{}", face.name, service.name),
        origin: service.origin,
        stretch: Some((id, service.at, service.at)),
        properties: vec![
            ("name", word(Some(&service.name))),
            ("kind", word(Some(service.kind))),
            ("size", length(service.width)),
            ("height", length(Some(service.at.y))),
            ("seal", word(service.seal.map(|(seal, _)| seal))),
            ("sealed_to", word(Some(service.sealed_to))),
            ("fall", service.fall.map_or(Property::Missing, slope)),
            ("sleeve", length(service.sleeve)),
            ("owner", word(service.owner)),
            ("carries", word(service.carries)),
            ("on_block", yes_no(service.block.is_some())),
            ("face", word(Some(&face.name))),
            ("detail", detail_name(context, service.detail)),
            ("flange", length(service.flange)),
            ("stem", length(service.stem)),
            ("capped", yes_no(service.capped)),
            ("reaches", word(service.reaches)),
            ("removal", yes_no(!service.removal.is_empty())),
        ],
    }
}

fn block(context: &CheckContext<'_>, id: FaceId, face: &Face, block: &crate::model::Block) -> Thing {
    Thing {
        name: block.name.clone(),
        subject: format!("{}.{}", face.name, block.name),
        origin: block.origin,
        stretch: Some((id, block.at, block.at)),
        properties: vec![
            ("name", word(Some(&block.name))),
            ("lies_on", word(block.on)),
            ("width", length(block.width)),
            ("thickness", length(block.thickness)),
            ("removable", yes_no(block.removable)),
            ("drained", told(block.drained)),
            ("face", word(Some(&face.name))),
            ("height", length(block.height)),
            ("side_gap", length(block.side_gap)),
            ("detail", detail_name(context, block.detail)),
        ],
    }
}

fn trim(context: &CheckContext<'_>, face: &Face, trim: &crate::model::Trim) -> Thing {
    let product = context.model.product(trim.product).map(|product| product.name.as_str());
    let weeps = || trim.holes.iter().filter(|row| row.purpose == "weep");
    Thing {
        name: trim.name.clone(),
        subject: format!("{}.{}", face.name, trim.name),
        origin: trim.origin,
        stretch: None,
        properties: vec![
            ("name", word(Some(&trim.name))),
            ("product", word(product)),
            ("lies_along", word(Some(&trim.along))),
            ("gap", length(trim.gap)),
            ("lap", length(trim.lap)),
            ("face", word(Some(&face.name))),
            ("lies_on", word(trim.on)),
            ("low_end", word(trim.low_end)),
            ("fastener", fastener(context, trim.fasten.as_ref())),
            ("fixed_points", count(trim.fixed.len())),
            ("weep_rows", count(weeps().count())),
            ("weep_size", length(weeps().map(|row| row.height).min())),
        ],
    }
}

fn product(context: &CheckContext<'_>, product: &crate::model::Product) -> Thing {
    let material = product.of.and_then(|id| context.model.material(id)).map(|material| material.name.as_str());
    let weight = product.weight.as_ref().and_then(|weight| Number::of(weight.value, Dimension::SURFACE_MASS).ok());
    Thing {
        name: product.name.clone(),
        subject: product.name.clone(),
        origin: product.origin,
        stretch: None,
        properties: vec![
            ("name", word(Some(&product.name))),
            ("kind", word(Some(product.kind))),
            ("part_of", word(Some(&product.module))),
            ("material", word(material)),
            ("weight", weight.map_or(Property::Missing, Property::Number)),
            ("finish", word(product.finish)),
            ("supplier", word(product.supplier.as_deref())),
            ("thickness", length(product.thickness.map(|(least, _)| least).or(product.size.first().copied()))),
            ("diameter", length(product.diameter)),
            ("family", word(product.family)),
            ("surface", word(product.surface)),
            ("opening", length(product.opening.as_ref().map(|one| one.value))),
            ("clearance", length(product.clearance.as_ref().map(|one| one.value))),
            ("rip", length(product.rip.as_ref().map(|one| one.value))),
            ("lap", length(product.lap.as_ref().map(|one| one.value))),
            ("works_from", quantity(product.works_from.as_ref().map(|one| one.value), Dimension::TEMPERATURE)),
            ("sunlight", quantity(product.sunlight.as_ref().map(|one| one.value), Dimension::TIME)),
            ("self_sealing", told(product.self_sealing)),
        ],
    }
}

fn face(face: &Face) -> Thing {
    let bounds = face.outline.as_ref().and_then(|ring| ring.bounds());
    let spares = face.services.iter().filter(|service| service.kind == "spare").count();
    Thing {
        name: face.name.clone(),
        subject: face.name.clone(),
        origin: face.origin,
        stretch: None,
        properties: vec![
            ("name", word(Some(&face.name))),
            ("measured_to", word(face.measured_to)),
            ("openings", count(face.openings.len())),
            ("services", count(face.services.len())),
            ("spares", count(spares)),
            ("areas", count(face.areas.len())),
            ("width", length(bounds.map(|bounds| bounds.right - bounds.left))),
            ("height", length(bounds.map(|bounds| bounds.top - bounds.bottom))),
            ("overhang", length(face.overhang.map(|(depth, _)| depth))),
            ("limiting_distance", length(face.limiting_distance)),
        ],
    }
}
