//! What all walls of a building lose together: walls, openings and edges, each face once, a corner half with each of its faces.

use super::faces::{Parts, Sum, listed};
use super::{BY_AREA, HOUSE_EDGES, HOUSE_LOSS, HOUSE_OPENINGS, HOUSE_WALLS, HOUSE_WHOLE, HOUSE_WITHOUT, MEASURED};
use crate::figures::{Found, Scene, Trust, Value, WallFigures};
use crate::model::{Building, Sureness};

/// What the sum over walls leaves out.
const WITHOUT: &str = "roof, floor, what pipes and ducts carry, ventilation";

/// Figures of a building whose faces have layers. A part that some face cannot tell names these faces.
pub fn of(scene: &Scene<'_>, building: &Building, walls: &[WallFigures]) -> Found {
    let mut found = Found::default();
    let faces = building.faces.iter().filter_map(|(name, id, _)| Some((name.as_str(), (*id)?)));
    let faces = faces.filter(|(_, id)| walls.iter().any(|wall| wall.wall.stands_on(*id)));
    let parts: Vec<(&str, Parts)> = faces.filter_map(|(name, id)| Some((name, Parts::of(scene, id, walls)?))).collect();
    if parts.is_empty() {
        return found;
    }
    let of = |part: &dyn Fn(&Parts) -> Result<Sum, String>| together(&parts, part);
    for (what, sum) in [
        (&HOUSE_WALLS, of(&|parts| parts.walls.clone())),
        (&HOUSE_OPENINGS, of(&|parts| parts.openings.clone())),
        (&HOUSE_EDGES, of(&|parts| parts.edges.clone())),
    ] {
        found.tell(what, BY_AREA, sum.map(|sum| sum.told(sum.lost())));
    }
    if let Ok(whole) = of(&Parts::whole)
        && whole.size > 0.0
    {
        found.tell(&HOUSE_WHOLE, BY_AREA, Ok(whole.told(whole.mean())));
        found.tell(&HOUSE_LOSS, BY_AREA, Ok(whole.told(whole.lost())));
        let without = Value::Word(WITHOUT.to_owned());
        found.tell(&HOUSE_WITHOUT, MEASURED, Ok(Trust::of(Sureness::Verified).with(without)));
    }
    found
}

/// One part of all faces; the error names the faces that lack a fact, which each of them tells.
fn together(parts: &[(&str, Parts)], part: &dyn Fn(&Parts) -> Result<Sum, String>) -> Result<Sum, String> {
    let told: Vec<(&str, Result<Sum, String>)> = parts.iter().map(|(name, own)| (*name, part(own))).collect();
    let lacking: Vec<&str> = told.iter().filter(|(_, sum)| sum.is_err()).map(|(name, _)| *name).collect();
    if !lacking.is_empty() {
        return Err(format!("what {} lose: each says what it lacks", listed(&lacking)));
    }
    Ok(told.into_iter().filter_map(|(_, sum)| sum.ok()).fold(Sum::default(), |all, one| all.and(&one)))
}
