//! A joint of the air barrier that crosses what moves, and cannot follow.

use super::joints::{self, Said};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::AirJoint;
use crate::model::FloorLine;
use crate::physics::movement;
use crate::plan::RunPlace;
use crate::units::Length;

/// `air.joint_moves_too_far`
pub struct AirJointMovesTooFar;

static META: RuleMeta = RuleMeta {
    id: "air.joint_moves_too_far",
    catalogue: "",
    title: "a part that closes the air barrier cannot follow what moves under it",
    grade: Grade::S2,
    before: "H1",
    limits: &["frame.shrinkage", "air_joint.frame_plastic", "air_joint.frame_metal", "air_joint.frame_wood"],
    explain: "\
# What it checks
Where a part crosses a floor that shrinks: a bead is as wide as the shrinkage over what its product `moves`, anything else has
a fold of that length (`slack`). A bead that closes the base under such a floor likewise. A bead round a window or door: as
wide as the frame grows from the coldest to the hottest day of the climate, over what its product `moves`; and a bead that
moves has a backer, so that it holds on two sides and not on three.

# Why
A floor of sawn lumber sinks by eight millimetres. A tape drawn straight over it is pulled off, a thin bead is torn.

# Example
    air seals to itself with tapes.acrylic_wide, width 50mm

# Better
    air seals to itself with tapes.acrylic_wide, width 50mm, slack 20mm

# Basis
Shrinkage: `frame.shrinkage`. Growth of frames: the limits `air_joint.frame_*`, from memory. What a bead follows: the product.

# Known gaps
A barrier outside the sheathing passes the floor without a joint and is not asked. Half the growth of a frame is taken at
each side. Wind and use are left out.
",
};

impl Rule for AirJointMovesTooFar {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        joints::report(context, &META, report, |joint| match joint.kind {
            "floor_line" => floor(context, joint),
            "base" if joint.bead => base(context, joint),
            "opening" if joint.bead => frame(context, joint),
            _ => None,
        });
    }
}

/// How far a floor sinks, or the missing fact.
fn sinks(context: &CheckContext<'_>, line: &FloorLine) -> Result<Length, String> {
    let wood = line.wood.ok_or_else(|| format!("how much wood is in floor `{}` (`wood`)", line.name))?;
    let (from, to) = line.moisture.ok_or_else(|| format!("how far floor `{}` dries (`moisture`)", line.name))?;
    let rate = context.limit("frame.shrinkage").and_then(|limit| limit.number());
    let rate = rate.ok_or_else(|| "a limit `frame.shrinkage`".to_owned())?;
    Ok(Length::snap_m(movement::frame_shrinkage(wood.as_m(), from, to, rate)))
}

fn floor(context: &CheckContext<'_>, joint: &AirJoint) -> Option<Said> {
    let face = context.model.face(joint.face)?;
    let line = face.floor_lines.iter().find(|line| joint.place == format!("{}.{}", face.name, line.name))?;
    follows(context, joint, sinks(context, line), &format!("floor `{}` sinks", line.name))
}

/// The lowest floor whose wood stands on the base: within twice its depth above it.
fn base(context: &CheckContext<'_>, joint: &AirJoint) -> Option<Said> {
    let face = context.model.face(joint.face)?;
    let run = context.plan.run(joint.run?)?;
    let low = run.segment.from.y.min(run.segment.to.y);
    let on_it = |line: &&FloorLine| line.height >= low && line.wood.is_some_and(|wood| line.height - low <= wood * 2);
    let line = face.floor_lines.iter().find(on_it)?;
    follows(context, joint, sinks(context, line), &format!("floor `{}` sinks", line.name))
}

fn frame(context: &CheckContext<'_>, joint: &AirJoint) -> Option<Said> {
    let run = context.plan.run(joint.run?)?;
    let RunPlace::Opening(at) = run.place else { return None };
    let opening = context.model.face(joint.face)?.openings.get(at)?;
    let grows = || {
        let kind = opening.frame_of.ok_or("what the frame is of (`frame_of` of the opening)")?;
        let climate = context.model.site.as_ref().and_then(|site| site.climate.as_ref());
        let (cold, hot) =
            climate.and_then(|climate| climate.extremes).ok_or("the coldest and hottest day of the climate")?;
        let rate = context.limit(&format!("air_joint.frame_{kind}")).and_then(|limit| limit.number());
        let rate = rate.ok_or("a limit `air_joint.frame_…` for its frame")?;
        let half = opening.width.max(opening.height).as_m() / 2.0;
        Ok(Length::snap_m(movement::change(rate, half, hot - cold)))
    };
    let moved: Result<Length, &str> = grows();
    let said = follows(context, joint, moved.map_err(str::to_owned), "the frame grows");
    said.or_else(|| backer(joint))
}

fn backer(joint: &AirJoint) -> Option<Said> {
    match joint.backer {
        Some(true) => None,
        Some(false) => Some(Said::Fault(
            "a bead that moves has no backer: it holds on three sides and tears".to_owned(),
            Box::new(|finding| finding.on_principle(PRACTICE, false).help("set a backer rod behind it: `backer yes`")),
        )),
        None => Some(Said::Unknown("whether the bead has a backer (`backer`)".to_owned())),
    }
}

const PRACTICE: &str = "common practice: a joint follows what it crosses";

fn follows(context: &CheckContext<'_>, joint: &AirJoint, moved: Result<Length, String>, what: &str) -> Option<Said> {
    let moved = match moved {
        Ok(moved) if moved > Length::ZERO => moved,
        Ok(_) => return None,
        Err(missing) => return Some(Said::Unknown(missing)),
    };
    let name = joints::called(context, joint);
    let (own, wanted, room, help) = if joint.bead {
        let Some(share) = joint.product(context.model).and_then(|product| product.moves.as_ref()) else {
            return Some(Said::Unknown(format!("how far a joint of `{name}` may open and close (`moves`)")));
        };
        let Some(width) = joint.width else { return Some(Said::Unknown("how wide the bead is (`width`)".to_owned())) };
        let wanted = Length::snap_m(moved.as_m() / share.value.max(1e-6));
        (width, wanted, "wide", "leave a wider joint, or take a sealant that moves farther")
    } else {
        let Some(slack) = joint.slack else {
            return Some(Said::Unknown(format!("the fold left in `{name}` where {what} (`slack`)")));
        };
        (slack, moved, "of fold", "leave a fold: `slack …`")
    };
    (own < wanted).then(|| {
        let message = format!(
            "{what} by {}, and `{name}` {} {} {room}; {} is wanted",
            context.shown(moved),
            if joint.bead { "is" } else { "has" },
            context.shown(own),
            context.shown(wanted)
        );
        let (own, wanted) = (context.measure(own), context.measure(wanted));
        let finish = move |finding: Finding| {
            finding.on_principle(PRACTICE, false).measured(own.clone()).wanted(wanted.clone()).help(help)
        };
        Said::Fault(message, Box::new(finish))
    })
}
