//! How layers add up: what a fastener has to pass, and which layer's outer surface a thing lies on.

use crate::model::{Assembly, Block, Layer, LayerKind, Model};
use crate::units::Length;

/// Layers `from` up to, not with, `to`, added up; the first one without a thickness as the error.
pub fn between<'a>(model: &Model, assembly: &'a Assembly, from: usize, to: usize) -> Result<Length, &'a Layer> {
    let layers = assembly.layers.iter().take(to).skip(from);
    layers.map(|layer| model.thickness_of(layer).ok_or(layer)).sum()
}

/// Place of the gap.
pub fn gap(assembly: &Assembly) -> Option<usize> {
    assembly.layers.iter().position(|layer| matches!(layer.kind, LayerKind::Gap(_)))
}

/// Place of the cladding: the outermost solid layer, where a gap lies behind it.
pub fn cladding(assembly: &Assembly) -> Option<usize> {
    let gap = gap(assembly)?;
    assembly.layers.iter().take(gap).position(|layer| matches!(layer.kind, LayerKind::Solid | LayerKind::Existing))
}

/// The layer that sheds the rain, or else the outermost: the one whose pieces are set out and cut.
pub fn shedding(assembly: &Assembly) -> Option<&Layer> {
    assembly.layers.iter().find(|layer| layer.controls.rain).or_else(|| assembly.layers.first())
}

/// Place of the layer whose outer surface a trim, block or part lies on.
pub fn lies_on(model: &Model, assembly: &Assembly, on: &str) -> Option<usize> {
    match on {
        "cladding" => cladding(assembly),
        "furring" => gap(assembly),
        "plane" => assembly.drainage_plane().map(|(at, _)| at),
        "sheathing" => model.sheathing(assembly),
        "structure" => assembly.frame().map(|(at, _)| at),
        _ => None,
    }
}

/// How far the outermost surface stands out from the sheathing (from the frame where there is none): that of the cladding,
/// or of a block set into it. `None` if a thickness, or what the block lies on, was not said.
pub fn outboard_at(model: &Model, assembly: &Assembly, block: Option<&Block>) -> Option<Length> {
    let Some(block) = block else { return model.outboard_thickness(assembly) };
    let inner = model.sheathing(assembly).or_else(|| assembly.frame().map(|(frame, _)| frame))?;
    let behind = lies_on(model, assembly, block.on?)?;
    Some(block.thickness? + between(model, assembly, behind, inner).ok()?)
}

/// Place of the layer a fastener is said to hold in: `studs`, `furring`, `sheathing`, `structure`, `plane`.
pub fn holds_in(model: &Model, assembly: &Assembly, into: &str) -> Option<usize> {
    match into {
        "furring" => gap(assembly),
        "studs" | "structure" => assembly.frame().map(|(at, _)| at),
        "sheathing" | "plane" => model.sheathing(assembly),
        _ => None,
    }
}
