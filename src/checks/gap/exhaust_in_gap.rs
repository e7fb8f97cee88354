//! A duct that blows its air into the gap.

use crate::checks::pieces::{area_at, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Face, FaceId, Service};
use crate::units::Length;

/// `exhaust.in_gap`
pub struct ExhaustInGap;

static META: RuleMeta = RuleMeta {
    id: "exhaust.in_gap",
    catalogue: "VE-10",
    title: "a duct ends inside the wall and blows into the gap",
    grade: Grade::S1,
    before: "H5",
    limits: &[],
    explain: "\
# What it checks
Each service that `carries exhaust` reaches past the cladding, and its collar (`collar_length`) is no shorter than
what stands outboard of the sheathing: insulation, gap, cladding, and the block on furring or cladding it stands on.

# Why
The collar of a hood is made for a thin wall. In a thick one it ends in the gap, and a dryer or a bath blows warm wet
air behind the cladding.

# Example
    hood dryer 100mm at (900mm, 2400mm), carries exhaust, reaches gap

# Better
    hood dryer 100mm at (900mm, 2400mm), carries exhaust, reaches past_cladding, collar_length 150mm

# Basis
A principle stated by guides: the duct is continuous past the face of the cladding and sealed to the hood. No clause
was read, so it warns.

# Known gaps
Air that a bad flap lets back is not known. Fresh air intakes are not judged here.
",
};

impl Rule for ExhaustInGap {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for service in &face.services {
                if let Some(finding) = judge(context, (id, face), service) {
                    report.push(context.on_face(finding, id, &service.name, service.at, service.at));
                }
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, (id, face): (FaceId, &Face), service: &Service) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, face.dotted(service), service.origin, missing));
    match service.carries {
        Some("exhaust") => {}
        None if service.kind == "hood" => {
            return unknown(format!("what `{}` carries is not said (`carries`)", service.name));
        }
        _ => return None,
    }
    match (service.reaches, service.collar_length) {
        (Some("past_cladding"), None) => None,
        (Some("past_cladding") | None, Some(collar)) => {
            let outboard = match outboard(context, (id, face), service) {
                Ok(outboard) => outboard,
                Err(missing) => return unknown(missing),
            };
            (collar < outboard).then(|| short(context, face, service, collar, outboard))
        }
        (Some(reaches), _) => {
            let inside = if reaches == "gap" { "in the gap" } else { "behind the cladding" };
            let inside = if reaches == "cladding" { "level with the cladding" } else { inside };
            let message = format!("the duct of `{}` ends {inside}: its warm wet air goes into the gap", service.name);
            Some(fault(context, face, service, message).help(match outboard(context, (id, face), service) {
                Ok(outboard) => format!(
                    "carry the duct past the cladding and seal it to the hood: {} from the sheathing, and more",
                    context.shown(outboard)
                ),
                Err(_) => {
                    "carry the duct past the cladding and seal it to the hood: `reaches past_cladding`".to_owned()
                }
            }))
        }
        (None, None) => unknown(format!("how far the duct of `{}` reaches is not said (`reaches`)", service.name)),
    }
}

fn fault(context: &CheckContext<'_>, face: &Face, service: &Service, message: String) -> Finding {
    context
        .fault(&META, face.dotted(service), service.origin, message)
        .on_principle("guides: a duct is continuous past the face of the cladding; the clause was not read", false)
}

fn short(context: &CheckContext<'_>, face: &Face, service: &Service, collar: Length, outboard: Length) -> Finding {
    let message = format!(
        "the collar of `{}` is {} long and the wall outboard of the sheathing {}: it ends inside",
        service.name,
        context.shown(collar),
        context.shown(outboard)
    );
    fault(context, face, service, message)
        .measured(context.measure(collar))
        .wanted(context.measure(outboard))
        .help(format!("extend the collar by {} or more", context.shown(outboard - collar)))
}

/// What stands outboard of the sheathing at a service, its block with it; the error is the missing fact.
fn outboard(context: &CheckContext<'_>, (id, face): (FaceId, &Face), service: &Service) -> Result<Length, String> {
    let wall = area_at(context, id, service.at).and_then(|area| wall(context, id, area));
    let wall = wall.ok_or_else(|| format!("the wall behind `{}` is not known", service.name))?;
    let block = service.block.and_then(|at| face.blocks.get(at));
    stack::outboard_at(context.model, wall, block).ok_or_else(|| {
        format!("how thick the wall is at `{}`: a layer or its block does not say its thickness", service.name)
    })
}
