//! A wall type as the hourly balance takes it, or the fact that is missing.

use crate::figures::layers;
use crate::model::{Assembly, Layer, LayerKind, Material, Model, Stuff};
use crate::physics::hourly::{Film, Isotherm, Leak, Piece, Solid, Wall};
use crate::physics::layers::AIR_PERMEABILITY;
use crate::physics::mould::Class;
use crate::physics::resistance::{DULL, Flow, MEAN, air_layer};

/// Water in what takes none (`absorbs_water no`), kg/m³: next to nothing, so that its humidity can be told.
const NEXT_TO_NOTHING: f64 = 0.01;
/// Share of the deposited rain that gets behind the cladding: ANSI/ASHRAE 160, from memory.
const LEAK: f64 = 0.01;

/// A wall type made ready.
pub(super) struct Built {
    pub wall: Wall,
    /// Names of the layers that hold water, with their pieces.
    pub held: Vec<(usize, String)>,
    /// Names of layers that hold water and do not tell how liquid moves in them.
    pub still: Vec<String>,
    /// The outermost gap that changes its air, by piece.
    pub gap: Option<usize>,
    /// The layer that is watched, by piece: the sheathing, or the outermost board behind the gap.
    pub watched: usize,
    /// How readily mould grows on it, and how fast it goes again when dry; nothing where its kind does not tell.
    pub mould: Option<(Class, f64)>,
}

/// Finishes that keep rain out of what they cover.
const CLOSED: [&str; 3] = ["painted", "coated", "anodised"];

/// Makes a wall type ready; the error is the missing fact.
pub(super) fn build(model: &Model, assembly: &Assembly) -> Result<Built, String> {
    let pieces: Vec<Piece> = assembly.layers.iter().map(|layer| piece(model, layer)).collect::<Result<_, _>>()?;
    let watched = watched(model, assembly).ok_or("a board or wall behind the gap, to be watched")?;
    let solids = pieces.iter().enumerate().filter(|(_, piece)| matches!(piece, Piece::Solid(_)));
    let held: Vec<(usize, String)> =
        solids.filter_map(|(at, _)| Some((at, assembly.layers.get(at)?.name.replace('_', " ")))).collect();
    let outer = assembly.layers.first().and_then(|layer| model.product_of(&layer.stuff));
    let drinks = outer.and_then(|product| product.finish).is_none_or(|finish| !CLOSED.contains(&finish));
    let still = still(model, assembly, &pieces);
    let stuff = assembly.layers.get(watched).map(|layer| layer.fill.as_ref().unwrap_or(&layer.stuff));
    let kind = stuff.and_then(|stuff| model.material_of(stuff)).map_or("", |material| material.kind);
    let mould = mould(kind);
    let gap = pieces.iter().position(|piece| matches!(piece, Piece::Gap { open: true, .. }));
    let leak = Some(Leak { piece: watched, share: LEAK });
    Ok(Built {
        wall: Wall { pieces, outside: Film::WIND, inside: Film::ROOM, leak, drinks },
        held,
        still,
        gap,
        watched,
        mould,
    })
}

/// Layers that hold water, take some (`absorbs_water no` tells of none), and say no water absorption.
fn still(model: &Model, assembly: &Assembly, pieces: &[Piece]) -> Vec<String> {
    let quiet = |(layer, piece): (&Layer, &Piece)| {
        let stuff = match &layer.kind {
            LayerKind::Frame(frame) => frame.fill.as_ref()?,
            _ => layer.fill.as_ref().unwrap_or(&layer.stuff),
        };
        let takes = model.material_of(stuff).is_none_or(|material| material.absorbs_water != Some("no"));
        let unsaid = matches!(piece, Piece::Solid(_)) && absorption(model, stuff).is_none();
        (takes && unsaid).then(|| layer.name.replace('_', " "))
    };
    assembly.layers.iter().zip(pieces).filter_map(quiet).collect()
}

/// kg/(m²·√s), of the product or of its material.
fn absorption(model: &Model, stuff: &Stuff) -> Option<f64> {
    let product = model.product_of(stuff).and_then(|product| product.water_absorption.as_ref());
    let said = product.or(model.material_of(stuff).and_then(|material| material.water_absorption.as_ref()));
    said.map(|said| said.value)
}

/// Class and decline by the kind of material (ours, after the examples that stand with the classes; decline from memory: as on
/// pine for wood, a quarter of that for all else).
fn mould(kind: &str) -> Option<(Class, f64)> {
    Some(match kind {
        "wood" => (Class::Very, 1.0),
        "wood_board" => (Class::Sensitive, 0.5),
        "gypsum" => (Class::Sensitive, 0.25),
        "fibre_cement" | "mineral" | "foam" | "plastic" => (Class::Medium, 0.25),
        "concrete" | "masonry" | "fibre" | "glass" | "metal" => (Class::Resistant, 0.25),
        _ => return None,
    })
}

/// Index of the sheathing; without one, of the outermost layer behind the gap that is neither sheet nor insulation.
fn watched(model: &Model, assembly: &Assembly) -> Option<usize> {
    model.sheathing(assembly).or_else(|| {
        let behind = layers::first_inboard(assembly);
        let solid = |layer: &Layer| {
            matches!(layer.kind, LayerKind::Solid | LayerKind::Existing)
                && !model.is_membrane(&layer.stuff)
                && !layers::insulates(model, layer)
        };
        Some(behind + assembly.layers.get(behind..)?.iter().position(solid)?)
    })
}

fn piece(model: &Model, layer: &Layer) -> Result<Piece, String> {
    match &layer.kind {
        LayerKind::Gap(gap) => air(layer, gap.depth.0.as_m(), true),
        LayerKind::Frame(frame) => match &frame.fill {
            Some(fill) => solid(model, layer, fill, frame.depth.as_m(), None),
            None => air(layer, frame.depth.as_m(), false),
        },
        LayerKind::Solid | LayerKind::Existing if model.is_membrane(&layer.stuff) => {
            Ok(Piece::Sheet { resistance: 0.0, air_layer: air_layers(model, layer)? })
        }
        LayerKind::Solid | LayerKind::Existing => {
            let stuff = layer.fill.as_ref().unwrap_or(&layer.stuff);
            let thickness = model.thickness_of(layer).ok_or_else(|| format!("thickness of `{}`", layer.name))?.as_m();
            solid(model, layer, stuff, thickness, Some(air_layers(model, layer)?))
        }
    }
}

fn air(layer: &Layer, depth: f64, open: bool) -> Result<Piece, String> {
    let resistance = air_layer(depth, (DULL, DULL), MEAN, Flow::Horizontal);
    let resistance = resistance.ok_or_else(|| format!("what fills `{}` (`fill`)", layer.name))?;
    Ok(Piece::Gap { depth, resistance, open })
}

/// Equivalent air layers of a layer, dry and wet, m.
fn air_layers(model: &Model, layer: &Layer) -> Result<(f64, f64), String> {
    let lets = layers::permeance(model, layer).filter(|lets| lets.tightest > 0.0 && lets.openest.is_finite());
    let lets = lets.ok_or_else(|| {
        let clause = if model.is_membrane(&layer.stuff) { "vapour_thickness" } else { "vapour_factor" };
        format!("vapour resistance of `{}` (`{clause}`)", layer.stuff.name)
    })?;
    Ok((AIR_PERMEABILITY / lets.tightest, AIR_PERMEABILITY / lets.openest))
}

/// `air_layers` where the layer itself says how open to vapour it is; a fill has the factor of its material.
fn solid(
    model: &Model,
    layer: &Layer,
    stuff: &Stuff,
    thickness: f64,
    air_layers: Option<(f64, f64)>,
) -> Result<Piece, String> {
    let material = model.material_of(stuff).ok_or_else(|| format!("material of `{}`", layer.name))?;
    let name = &material.name;
    let missing = |what: &str, clause: &str| format!("{what} of `{name}` (`{clause}`)");
    let conductivity =
        material.conductivity.as_ref().ok_or_else(|| missing("conductivity", "conductivity"))?.value.middle();
    let density = material.density.as_ref().ok_or_else(|| missing("density", "density"))?.value;
    let heat_capacity = material.heat_capacity.as_ref().ok_or_else(|| missing("heat capacity", "heat_capacity"))?.value;
    let vapour_factor = match (air_layers, &material.vapour_factor) {
        (Some((dry, wet)), _) => (dry / thickness, wet / thickness),
        (None, Some(factor)) => factor.value,
        (None, None) => return Err(missing("vapour resistance", "vapour_factor")),
    };
    let isotherm = isotherm(material)?;
    let cells = Solid::cells_for(thickness);
    let absorption = absorption(model, stuff).unwrap_or(0.0);
    let solid = Solid { thickness, conductivity, density, heat_capacity, vapour_factor, isotherm, absorption, cells };
    Ok(Piece::Solid(solid))
}

fn isotherm(material: &Material) -> Result<Isotherm, String> {
    let missing = || format!("sorption of `{}` (`sorption`)", material.name);
    match &material.sorption {
        Some(sorption) => Isotherm::bent(sorption.value.0, sorption.value.1)
            .ok_or_else(|| format!("{} with less at 80% than four fifths of free saturation", missing())),
        None if material.absorbs_water == Some("no") => Isotherm::straight(NEXT_TO_NOTHING).ok_or_else(missing),
        None => Err(missing()),
    }
}
