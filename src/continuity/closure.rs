//! Whether the faces of a building close round it, and what closes them below and above.

use super::air::{AirEnd, Walk};
use crate::model::{Building, Edge, Face, FaceId};
use crate::source::Span;
use crate::units::Length;

/// Every building, and the faces that are in none.
pub(super) fn buildings(walk: &mut Walk) {
    let model = walk.model;
    for building in &model.buildings {
        below_and_above(walk, building);
        for id in building.faces.iter().filter_map(|(_, id, _)| *id) {
            if let Some(face) = model.face(id) {
                sides(walk, building, id, face);
            }
        }
    }
    homeless(walk);
}

/// Foundation and roof are named, and something in them is airtight.
fn below_and_above(walk: &mut Walk, building: &Building) {
    let foundation = building.foundation.as_ref().map(|(name, air, _, origin)| (name, *air, *origin));
    let roof = building.roof.as_ref().map(|(name, air, _, origin)| (name, *air, *origin));
    for (what, word, closed) in
        [("what it stands on", "foundation", foundation), ("what closes it at the top", "roof", roof)]
    {
        match closed {
            None => {
                let fact = format!("{what}: `{}` names no {word}", building.name);
                walk.cannot_tell(end(
                    None,
                    vec![format!("`{}`", building.name), word.to_owned()],
                    fact,
                    building.origin,
                ));
            }
            Some((name, None, origin)) => {
                let fact = format!("what is airtight in the {word} `{name}`");
                walk.cannot_tell(end(
                    None,
                    vec![format!("`{}`", building.name), format!("{word} `{name}`")],
                    fact,
                    origin,
                ));
            }
            Some((name, Some("none"), origin)) => {
                let path =
                    vec![format!("walls of `{}`", building.name), format!("{word} `{name}`"), "nothing".to_owned()];
                let free = along(walk, building, word);
                let why = format!("nothing in the {word} `{name}` is airtight");
                walk.end(AirEnd { free: Some(free), ..end(None, path, why, origin) });
            }
            Some(_) => {}
        }
    }
}

/// How long the walls of a building stand on its foundation, or meet its roof.
fn along(walk: &Walk, building: &Building, what: &str) -> Length {
    let kinds: &[&str] = if what == "foundation" { &["base", "step"] } else { &["top", "rake", "parapet"] };
    let faces = building.faces.iter().filter_map(|(_, id, _)| walk.model.face((*id)?));
    let edges = faces.flat_map(|face| &face.edges).filter(|edge| edge.meets.is_none() && kinds.contains(&edge.kind));
    edges.map(|edge| edge.segment.length()).sum()
}

/// Every upright edge of a face meets a face of the building that meets it back.
fn sides(walk: &mut Walk, building: &Building, id: FaceId, face: &Face) {
    if face.broken {
        return;
    }
    for edge in face.edges.iter().filter(|edge| is_side(edge)) {
        let Some(why) = open_side(walk, building, id, face, edge) else { continue };
        let next = edge.meets.as_ref().map_or("nothing".to_owned(), |corner| format!("`{}`", corner.face));
        let path = vec![format!("`{}`", face.name), format!("its {} edge `{}`", edge.kind, edge.name), next];
        walk.end(AirEnd { free: Some(edge.segment.length()), ..end(Some(id), path, why, edge.origin) });
    }
}

fn is_side(edge: &Edge) -> bool {
    edge.meets.is_some() || matches!(edge.kind, "left" | "right")
}

/// Why a side is open, if it is.
fn open_side(walk: &Walk, building: &Building, id: FaceId, face: &Face, edge: &Edge) -> Option<String> {
    let here = format!("`{}.{}`", face.name, edge.name);
    let Some(corner) = &edge.meets else {
        return (!left_out(building, face, edge))
            .then(|| format!("{here} meets no face, and `{}` is open there", building.name));
    };
    // A face that does not exist is told as a mistake of the text.
    let other = corner.id?;
    let neighbour = walk.model.face(other)?;
    if !building.faces.iter().any(|(_, member, _)| *member == Some(other)) {
        return Some(format!("{here} meets `{}`, which is not in `{}`", neighbour.name, building.name));
    }
    let opposite = |kind: &str| match kind {
        "left" => Some("right"),
        "right" => Some("left"),
        _ => None,
    };
    let back = neighbour.edges.iter().filter(|back| back.meets.as_ref().is_some_and(|corner| corner.id == Some(id)));
    let mut fits = back.filter(|back| match (opposite(edge.kind), opposite(back.kind)) {
        (Some(wanted), Some(_)) => back.kind == wanted,
        _ => true,
    });
    let none = fits.next().is_none() && !neighbour.broken;
    none.then(|| format!("{here} meets `{}`, which does not meet it back", neighbour.name))
}

/// Whether a side is one that the building deliberately leaves out: its text names the face or the edge.
fn left_out(building: &Building, face: &Face, edge: &Edge) -> bool {
    building.open_sides.iter().any(|side| {
        side.split(|at: char| !at.is_alphanumeric() && at != '_').any(|word| word == face.name || word == edge.name)
    })
}

/// Faces that no building names: told once where there is no building at all.
fn homeless(walk: &mut Walk) {
    let model = walk.model;
    let named =
        |id: FaceId| model.buildings.iter().any(|building| building.faces.iter().any(|(_, face, _)| *face == Some(id)));
    for (index, face) in model.faces.iter().enumerate() {
        let id = FaceId(index as u32);
        if named(id) {
            continue;
        }
        let none = !model.has_buildings();
        let fact = match none {
            true => "the building: none is declared, so its closure cannot be followed".to_owned(),
            false => format!("the building of `{}`: none names it", face.name),
        };
        walk.cannot_tell(end(Some(id), vec![format!("`{}`", face.name)], fact, face.origin));
        if none {
            return;
        }
    }
}

fn end(face: Option<FaceId>, path: Vec<String>, why: String, origin: Span) -> AirEnd {
    AirEnd { face, run: None, service: None, at: None, free: None, kind: "building", path, why, origin }
}
