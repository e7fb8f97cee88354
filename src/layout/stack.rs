//! How layers add up: what a fastener has to pass, how far a ledge has to reach, how deep the wall is.

use crate::model::{Assembly, Layer, LayerKind, Model};
use crate::units::Length;

/// Thickness of one layer, the most of it. A sheet that says none counts as nothing; anything else that says none is `None`.
pub fn thickness(model: &Model, layer: &Layer) -> Option<Length> {
    match &layer.kind {
        LayerKind::Gap(gap) => Some(gap.depth.1),
        LayerKind::Frame(frame) => Some(frame.depth),
        LayerKind::Solid | LayerKind::Existing => {
            let product = model.product_of(&layer.stuff);
            let own = layer.thickness.or_else(|| product?.thickness.map(|(_, most)| most));
            own.or_else(|| product?.size.first().copied()).or_else(|| is_sheet(model, layer).then_some(Length::ZERO))
        }
    }
}

/// A membrane, film or paint: no thickness worth counting.
pub fn is_sheet(model: &Model, layer: &Layer) -> bool {
    let product = model.product_of(&layer.stuff).map(|product| product.kind);
    let material = model.material_of(&layer.stuff).map(|material| material.kind);
    matches!(product, Some("membrane" | "liquid")) || matches!(material, Some("membrane" | "sealant"))
}

/// Layers `from` up to, not with, `to`, added up; the first one without a thickness as the error.
pub fn between<'a>(model: &Model, assembly: &'a Assembly, from: usize, to: usize) -> Result<Length, &'a Layer> {
    let layers = assembly.layers.iter().take(to).skip(from);
    layers.map(|layer| thickness(model, layer).ok_or(layer)).sum()
}

/// Place of the gap.
pub fn gap(assembly: &Assembly) -> Option<usize> {
    assembly.layers.iter().position(|layer| matches!(layer.kind, LayerKind::Gap(_)))
}

/// Place of the frame.
pub fn frame(assembly: &Assembly) -> Option<usize> {
    assembly.layers.iter().position(|layer| matches!(layer.kind, LayerKind::Frame(_)))
}

/// Place of the outermost layer that is said to be the drainage plane.
pub fn plane(assembly: &Assembly) -> Option<usize> {
    assembly.layers.iter().position(|layer| layer.controls.water)
}

/// Place of the sheathing: the first solid layer outboard of the frame that is no sheet.
pub fn sheathing(model: &Model, assembly: &Assembly) -> Option<usize> {
    let frame = frame(assembly)?;
    let before = assembly.layers.iter().enumerate().take(frame);
    let solid = before.filter(|(_, layer)| matches!(layer.kind, LayerKind::Solid | LayerKind::Existing));
    solid.filter(|(_, layer)| !is_sheet(model, layer)).map(|(at, _)| at).last()
}

/// Place of the cladding: the outermost solid layer, where a gap lies behind it.
pub fn cladding(assembly: &Assembly) -> Option<usize> {
    let gap = gap(assembly)?;
    assembly.layers.iter().take(gap).position(|layer| matches!(layer.kind, LayerKind::Solid | LayerKind::Existing))
}

/// Place of the layer whose outer surface a trim, block or part lies on.
pub fn lies_on(model: &Model, assembly: &Assembly, on: &str) -> Option<usize> {
    match on {
        "cladding" => cladding(assembly),
        "furring" => gap(assembly),
        "plane" => plane(assembly),
        "sheathing" => sheathing(model, assembly),
        "structure" => frame(assembly),
        _ => None,
    }
}
