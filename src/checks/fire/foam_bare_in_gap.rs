//! Foam that faces the gap and lies bare at the openings.

use crate::checks::pieces::{area_at, area_name, faces, wall};
use crate::checks::vapour::first_inboard;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::{Assembly, Face, FaceId, Layer, Model, Opening, Place};

/// `foam.bare_in_gap`
pub struct FoamBareInGap;

static META: RuleMeta = RuleMeta {
    id: "foam.bare_in_gap",
    catalogue: "F-05",
    title: "foam lies bare in the gap round an opening",
    grade: Grade::S2,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Where foam that burns faces the gap, with nothing but a sheet over it: head, jambs and sill of every opening there have a
part that does not burn to close its edge: a closure, flashing, blocking or fire stop of metal or mineral.

# Why
Flames from a window go into the gap at its edge. Foam in a ventilated gap is fuel with a chimney.

# Example
    jamb { gap_end closed }

# Better
    jamb {
        part closure flashings.galvanised, name foam_closure
        gap_end closed
    }

# Basis
Rules and tests vary by country; protection at openings is common practice, the numbers from memory. It warns.

# Known gaps
Whether the wall as a whole has passed a fire test is not known here. Feet and tops of the gap are not asked.
",
};

/// Parts that can close the edge of the insulation.
const CLOSING: [&str; 6] = ["closure", "flashing", "blocking", "fire_stop", "liner", "pan"];

impl Rule for FoamBareInGap {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for opening in &face.openings {
                report.extend(judge(context, (id, face), opening));
            }
        }
    }
}

/// Foam that faces the gap, sheets let aside, and whether it burns.
fn foam<'c>(model: &Model, wall: &'c Assembly) -> Option<(&'c Layer, Option<bool>)> {
    wall.gap()?;
    let mut inboard = wall.layers.iter().skip(first_inboard(wall));
    let layer = inboard.find(|layer| !model.is_membrane(&layer.stuff))?;
    let material = model.material_of(&layer.stuff)?;
    (material.kind == "foam" && material.combustible != Some(false)).then_some((layer, material.combustible))
}

/// A part here closes the edge and does not burn; `None` if a part that may is silent about it.
fn closed(model: &Model, place: &Place) -> Option<bool> {
    let mut silent = false;
    for part in place.parts.iter().filter(|part| CLOSING.contains(&part.kind)) {
        match model.material_of(&part.stuff).map(|material| (material.kind, material.combustible)) {
            Some(("metal", _) | (_, Some(false))) => return Some(true),
            Some((_, Some(true))) => {}
            _ => silent = true,
        }
    }
    if silent { None } else { Some(false) }
}

fn judge(context: &CheckContext<'_>, (id, face): (FaceId, &Face), opening: &Opening) -> Option<Finding> {
    let middle = Point::new(opening.at.x + opening.width / 2, opening.at.y + opening.height / 2);
    let area = area_at(context, id, middle)?;
    let (layer, burns) = foam(context.model, wall(context, id, area)?)?;
    let detail = context.model.detail(opening.detail?).filter(|detail| !detail.broken)?;
    let subject = format!("{}.{}", face.name, opening.name);
    let sides = ["head", "jamb", "sill"].map(|side| (side, closed(context.model, detail.place(side))));
    let bare: Vec<&str> = sides.iter().filter(|(_, closed)| *closed == Some(false)).map(|(side, _)| *side).collect();
    let unknown = |missing: String| {
        let finding = context.unknown(&META, subject.as_str(), opening.origin, missing);
        Some(context.on_face(finding, id, &opening.name, opening.at, opening.at))
    };
    if bare.is_empty() {
        let (side, _) = sides.iter().find(|(_, closed)| closed.is_none())?;
        return unknown(format!("whether what closes the foam at the {side} burns (`combustible` of its material)"));
    }
    if burns.is_none() {
        return unknown(format!("whether `{}` burns (`combustible`)", layer.stuff.name));
    }
    let message = format!("`{}` lies bare in the gap at the {} of `{}`", layer.name, bare.join(" and "), opening.name);
    let finding = context
        .fault(&META, subject.as_str(), opening.origin, message)
        .on_principle("common practice: foam is closed off at openings; rules and tests vary", false)
        .also(layer.origin, format!("the foam, in {}", area_name(context, id, area)))
        .also(detail.origin, "the detail")
        .help("close its edge with folded metal, mineral board or blocking that does not burn");
    Some(context.on_face(finding, id, &opening.name, opening.at, opening.at))
}
