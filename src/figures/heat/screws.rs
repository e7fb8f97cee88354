//! What goes through the insulation outside of the frame: screws of the furring and of the cladding; and gaps in insulation.

use super::corners::{By, ScrewSet, Through};
use crate::figures::layers::{first_inboard, insulates};
use crate::layout::stack;
use crate::model::{Assembly, Fasten, Furring, Layer, LayerKind, Model};
use crate::physics::resistance::Fit;
use crate::quantities::qualified;
use crate::units::{Length, Range};

/// Insulation outboard of the frame and inboard of the gap that a fastener into the layer `to` goes through: indices, outside to
/// inside.
pub fn crossed(model: &Model, wall: &Assembly, to: usize) -> Vec<usize> {
    let layers = wall.layers.iter().enumerate().take(to).skip(first_inboard(wall));
    let solid = layers.filter(|(_, layer)| !matches!(layer.kind, LayerKind::Frame(_)));
    solid.filter(|(_, layer)| insulates(model, layer)).map(|(at, _)| at).collect()
}

/// All that goes through insulation; the error is the missing fact. Indices are those of the layers behind the gap.
pub fn all(model: &Model, wall: &Assembly) -> Result<Vec<Through>, String> {
    let first = first_inboard(wall);
    let mut found = Vec::new();
    let strips: &[Furring] = wall.gap().map_or(&[], |(_, gap)| &gap.furring);
    for strip in strips {
        found.extend(of_furring(model, wall, strip).transpose()?);
    }
    let cladding = wall.layers.iter().take(first).filter(|layer| !matches!(layer.kind, LayerKind::Gap(_)));
    for layer in cladding {
        found.extend(of_cladding(model, wall, layer).transpose()?);
    }
    for (at, layer) in wall.layers.iter().enumerate().skip(first) {
        let fit = match layer.fitted {
            Some("gaps") => Fit::Gaps,
            Some("loose") => Fit::Loose,
            _ => continue,
        };
        found.push(Through { layers: vec![at], by: By::Gaps(fit) });
    }
    // Counted from the first layer behind the gap.
    found.iter_mut().for_each(|through| through.layers.iter_mut().for_each(|at| *at -= first));
    Ok(found)
}

/// Screws of a line of furring, where they go through insulation. Indices are those of the layers of the wall.
pub fn of_furring(model: &Model, wall: &Assembly, strip: &Furring) -> Option<Result<Through, String>> {
    let fasten = strip.fasten.as_ref()?;
    let crossed = through(model, wall, fasten)?;
    let name = name(model, fasten);
    let spacing = || {
        let along = fasten.spacing.ok_or_else(|| format!("how far apart `{name}` stands (`every`)"))?;
        let across = strip.spacing.ok_or("how far apart the furring stands (`every`)")?;
        Ok((along, across))
    };
    Some(spacing().and_then(|spacing| screws(model, wall, fasten, crossed, spacing)))
}

/// Fasteners of the cladding, where they go through insulation: one in each course on each strip or stud, if nothing else is said.
fn of_cladding(model: &Model, wall: &Assembly, layer: &Layer) -> Option<Result<Through, String>> {
    let fasten = layer.fasten.as_ref()?;
    let crossed = through(model, wall, fasten)?;
    let strips = wall.gap().and_then(|(_, gap)| gap.furring.first()?.spacing);
    let studs = wall.frame().and_then(|(_, frame)| frame.spacing);
    let name = name(model, fasten);
    let spacing = || {
        let (least, most) =
            layer.exposure.ok_or_else(|| format!("height of a course of `{}` (`exposure`)", layer.name))?;
        let course = Length((least.0 + most.0) / 2);
        let across = fasten.spacing.or(strips).or(studs);
        Ok((course, across.ok_or_else(|| format!("how far apart `{name}` stands (`every`)"))?))
    };
    let rows = fasten.rows.unwrap_or(1).max(1) as f64;
    Some(spacing().and_then(|spacing| screws(model, wall, fasten, crossed, spacing)).map(|mut through| {
        if let By::Screws(set) = &mut through.by {
            set.per_area *= rows;
        }
        through
    }))
}

/// The insulation a fastener goes through; none where it goes through none.
fn through(model: &Model, wall: &Assembly, fasten: &Fasten) -> Option<Vec<usize>> {
    let target = fasten.into.and_then(|into| stack::holds_in(model, wall, into))?;
    Some(crossed(model, wall, target)).filter(|crossed| !crossed.is_empty())
}

fn screws(
    model: &Model,
    wall: &Assembly,
    fasten: &Fasten,
    crossed: Vec<usize>,
    (along, across): (Length, Length),
) -> Result<Through, String> {
    let name = name(model, fasten);
    let diameter = fasten.diameter.ok_or_else(|| format!("thickness of `{name}` (`diameter`)"))?;
    let material = model.product(fasten.product).and_then(|product| model.material(product.of?));
    let conductivity = material.and_then(|material| material.conductivity.as_ref());
    let conductivity = conductivity.ok_or_else(|| format!("conductivity of `{name}` (`conductivity`)"))?.value;
    let mut depths = crossed.iter().filter_map(|at| wall.layers.get(*at)).map(|layer| model.thickness_within(layer));
    let depth = depths.try_fold(Range::exactly(0.0), |sum, depth| {
        let (least, most) = depth?;
        Some(sum.plus(Range::between(least.as_m(), most.as_m())))
    });
    let depth = depth.ok_or("thickness of the insulation")?;
    let per_area = 1.0 / (along.as_m() * across.as_m());
    let set = ScrewSet { conductivity, diameter: diameter.as_m(), per_area, depth };
    Ok(Through { layers: crossed, by: By::Screws(set) })
}

/// As a product is named in a sentence.
fn name(model: &Model, fasten: &Fasten) -> String {
    model.product(fasten.product).map_or_else(String::new, qualified)
}
