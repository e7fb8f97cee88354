//! How each service comes out again: what covers it, from outside to inside, what of the air barrier stays whole, what is to
//! be renewed, and what stands in the way. Worked out from the parts, not from the steps its author wrote.

use crate::geometry::{Place as Lies, Point};
use crate::model::{Block, Face, FaceId, Model, Service};
use crate::plan::Plan;
use crate::units::Length;

/// How one service comes out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Removal {
    /// The face.
    pub face: FaceId,
    /// Index of the service on its face.
    pub service: usize,
    /// Steps, from outside to inside.
    pub steps: Vec<String>,
    /// Parts that are to be made new afterwards; without any, the barrier and its seals stay whole.
    pub renew: Vec<String>,
    /// What would have to be cut or forced.
    pub crosses: Option<Crossing>,
    /// What it lies behind, where hands and eyes do not get.
    pub hidden: Option<String>,
    /// The fact that is missing to tell.
    pub untold: Option<String>,
}

/// Why a way out is barred.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Crossing {
    /// It ends behind this.
    EndsBehind(String),
    /// The part that seals it breaks when it is drawn, and lies behind this: part, what covers it.
    SealBehind(String, String),
    /// Its own steps take this off, and it does not come off.
    StaysOn(String),
}

/// Ways out of all services of sound faces, in the order of the faces.
pub fn removals(model: &Model, plan: &Plan) -> Vec<Removal> {
    let mut found = Vec::new();
    for (at, face) in model.faces.iter().enumerate().filter(|(_, face)| !face.broken && face.outline.is_some()) {
        let id = FaceId(at as u32);
        for (number, service) in face.services.iter().enumerate() {
            found.push(way_out(model, plan, id, face, (number, service)));
        }
    }
    found
}

fn way_out(model: &Model, plan: &Plan, id: FaceId, face: &Face, (number, service): (usize, &Service)) -> Removal {
    let block = service.block.and_then(|at| face.blocks.get(at));
    let boards = cladding(model, plan, id, face, service.at);
    let sleeve = sleeved(model, service);
    let mut way = Removal {
        face: id,
        service: number,
        steps: Vec::new(),
        renew: Vec::new(),
        crosses: None,
        hidden: hidden(plan, id, face, service, &boards),
        untold: None,
    };
    let removable = block.is_some_and(|block| block.removable);
    let cover = match block {
        Some(block) => format!("block `{}`", block.name),
        None => boards,
    };
    way.steps.push(outer(service).to_owned());
    if let Some(block) = block.filter(|block| block.removable) {
        way.steps.push(format!("lift block `{}` off", block.name));
    }
    if passes(service) {
        drawn(&mut way, service, sleeve, (removable, &cover));
    } else {
        way.steps.push("draw it forward and part its wires; its box and the gasket behind it stay".to_owned());
        way.renew.push("the gasket under its cover, if it is torn".to_owned());
    }
    if way.crosses.is_none() {
        way.crosses = stays_on(service, block);
    }
    way
}

/// Something long that is drawn through the wall, unlike a box that stays.
fn passes(service: &Service) -> bool {
    !matches!(service.kind, "box" | "lamp" | "meter")
}

/// The first step: what shows.
fn outer(service: &Service) -> &'static str {
    match service.kind {
        "spare" => "take the cap off",
        "hood" | "intake" => "take the hood off and cut its bead of sealant",
        "hose_bib" => "close the valve inside, drain the tap, free it inside",
        "lamp" => "switch off, take the lamp off",
        "box" => "switch off, take the cover off",
        "meter" => "ask the utility to take the meter off",
        _ => "free it inside, take its escutcheon off",
    }
}

fn drawn(way: &mut Removal, service: &Service, sleeve: Option<bool>, (removable, cover): (bool, &str)) {
    let seal = service.seal.map(|(seal, _)| seal).filter(|seal| *seal != "none");
    let at_barrier = matches!(service.sealed_to, "air" | "sheathing");
    if matches!(service.reaches, Some("gap" | "sheathing")) && !removable {
        way.crosses = Some(Crossing::EndsBehind(cover.to_owned()));
        return;
    }
    match sleeve {
        Some(true) => {
            if service.kind != "spare" {
                way.steps.push("draw it through its sleeve; sleeve and seal stay".to_owned());
                way.renew.push("the seal between it and its sleeve, inside".to_owned());
            }
            if matches!(service.kind, "hood" | "intake") {
                way.renew.push("the bead at the top and sides of its hood".to_owned());
            }
        }
        Some(false) => {
            let seal = seal.unwrap_or("seal");
            way.steps.push(format!("cut its {seal} and draw it out"));
            way.renew.push(format!("its {seal} on the air barrier"));
            if at_barrier && !removable {
                way.crosses = Some(Crossing::SealBehind(seal.to_owned(), cover.to_owned()));
            }
        }
        None => {
            way.untold =
                Some(format!("whether `{}` runs in a sleeve is not said (`sleeve`, or its `detail`)", service.name))
        }
    }
}

/// Whether it runs in a sleeve; `None` if neither it nor a detail says.
fn sleeved(model: &Model, service: &Service) -> Option<bool> {
    if service.sleeve.is_some() {
        return Some(true);
    }
    let detail = model.detail(service.detail?).filter(|detail| !detail.broken)?;
    Some(detail.edge.parts.iter().any(|part| part.kind == "sleeve"))
}

/// Steps that take a block off which does not come off.
fn stays_on(service: &Service, block: Option<&Block>) -> Option<Crossing> {
    let block = block.filter(|block| !block.removable)?;
    let takes_off = |step: &str| {
        let step = step.to_lowercase();
        step.contains("block") && ["off", "lift", "remove", "take"].iter().any(|word| step.contains(word))
    };
    service.removal.iter().any(|step| takes_off(step)).then(|| Crossing::StaysOn(format!("block `{}`", block.name)))
}

/// Name of the outermost layer at a place.
fn cladding(model: &Model, plan: &Plan, id: FaceId, face: &Face, place: Point) -> String {
    let areas = plan.face(id).map(|plan| plan.areas.as_slice()).unwrap_or_default();
    let area = areas.iter().position(|area| area.whole.place(place) != Lies::Outside);
    let assembly = area.and_then(|at| face.areas.get(at)).and_then(|area| model.assembly(area.assembly));
    let layer = assembly.and_then(|assembly| assembly.layers.first());
    layer.map_or_else(|| "the cladding".to_owned(), |layer| format!("`{}`", layer.name))
}

/// What hides a box, meter or valve: the cladding, somebody else's block, a casing.
fn hidden(plan: &Plan, id: FaceId, face: &Face, service: &Service, boards: &str) -> Option<String> {
    let reset = matches!(service.kind, "box" | "meter") || matches!(service.carries, Some("gas"));
    if !reset || service.kind == "spare" {
        return None;
    }
    let own = service.block.and_then(|at| face.blocks.get(at));
    if matches!(service.reaches, Some("gap" | "sheathing")) && own.is_none_or(|block| !block.removable) {
        return Some(own.map_or_else(|| boards.to_owned(), |block| format!("block `{}`", block.name)));
    }
    let blocks = plan.face(id).map(|plan| plan.blocks.as_slice()).unwrap_or_default();
    let other = face.blocks.iter().zip(blocks).enumerate().find(|(at, (block, shape))| {
        Some(*at) != service.block
            && !block.removable
            && shape.as_ref().is_some_and(|shape| shape.place(service.at) == Lies::Inside)
    });
    let casing = face.openings.iter().find(|opening| {
        let Some((width, "furring" | "cladding")) = opening.trims else { return false };
        within(service.at, opening.at, opening.width, opening.height, width)
    });
    other
        .map(|(_, (block, _))| format!("block `{}`", block.name))
        .or_else(|| casing.map(|opening| format!("the casing of `{}`", opening.name)))
}

/// Inside the band of this width round a rectangle, and not in the rectangle.
fn within(at: Point, corner: Point, width: Length, height: Length, band: Length) -> bool {
    let inside = |margin: Length| {
        corner.x - margin < at.x
            && at.x < corner.x + width + margin
            && corner.y - margin < at.y
            && at.y < corner.y + height + margin
    };
    inside(band) && !inside(Length::ZERO)
}
