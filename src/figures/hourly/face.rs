//! The outer face of a wall type under sun and sky: which ways it looks, what it takes up and gives off.

use crate::figures::WallType;
use crate::model::{Assembly, Model};
use crate::physics::resistance::DULL;

/// Share of the sun that a light, a mid and a dark surface take up (ISO 13786 and kin, from memory).
const COLOURS: [(&str, f64); 3] = [("light", 0.3), ("mid", 0.6), ("dark", 0.9)];
/// Finishes that leave metal shining.
const SHINING: [&str; 5] = ["bare", "mill", "hot_dip", "electroplated", "stainless"];

/// What faces the sun.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Surface {
    /// Share of the sun that it takes up.
    pub absorptance: f64,
    /// Emissivity.
    pub emissivity: f64,
}

/// One way in which a wall type looks.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Side {
    /// Degrees clockwise from north.
    pub looks: f64,
    /// Names of the faces.
    pub faces: Vec<String>,
}

impl Surface {
    /// Of the outermost layer; the error is the missing fact.
    pub fn of(model: &Model, assembly: &Assembly) -> Result<Self, String> {
        let layer = assembly.layers.first().ok_or("the layers of the wall")?;
        let (product, material) = (model.product_of(&layer.stuff), model.material_of(&layer.stuff));
        let said = product.and_then(|product| product.absorptance.as_ref());
        let said = said.or(material.and_then(|material| material.absorptance.as_ref()));
        let word = product.and_then(|product| product.surface).or(material.and_then(|material| material.surface));
        let by_colour = word.and_then(|word| COLOURS.iter().find(|(name, _)| *name == word)).map(|(_, share)| *share);
        let absorptance = said.map(|said| said.value.middle()).or(by_colour);
        let absorptance = absorptance
            .ok_or_else(|| format!("how hot the sun makes `{}` (`surface` or `absorptance`)", layer.stuff.name))?;
        // What a product says of its emissivity it says of its side towards the gap.
        let emissivity = material.and_then(|material| material.emissivity.as_ref());
        let shines = product.and_then(|product| product.finish).is_none_or(|finish| SHINING.contains(&finish));
        let emissivity = match emissivity {
            _ if !shines || material.is_none_or(|material| material.kind != "metal") => DULL,
            Some(said) => said.value.middle(),
            None => return Err(format!("emissivity of `{}` (`emissivity`)", layer.stuff.name)),
        };
        Ok(Self { absorptance, emissivity })
    }
}

/// The ways in which a wall type looks, by degrees; the error is the missing fact.
pub(super) fn sides(model: &Model, wall: &WallType) -> Result<Vec<Side>, String> {
    let mut sides: Vec<Side> = Vec::new();
    for (id, _) in &wall.areas {
        let Some(face) = model.face(*id) else { continue };
        let looks = face.looks.ok_or_else(|| format!("which way `{}` looks (`looks`)", face.name))?.rem_euclid(360.0);
        match sides.iter_mut().find(|side| side.looks == looks) {
            Some(side) if side.faces.contains(&face.name) => {}
            Some(side) => side.faces.push(face.name.clone()),
            None => sides.push(Side { looks, faces: vec![face.name.clone()] }),
        }
    }
    sides.sort_by(|one, other| one.looks.total_cmp(&other.looks));
    Ok(sides)
}
