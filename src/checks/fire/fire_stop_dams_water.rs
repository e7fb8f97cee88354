//! A fire stop that holds the gap's water.

use std::collections::BTreeMap;

use crate::checks::bays::{self, Bays};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{BayFlow, Trap, catchment};
use crate::model::FaceId;
use crate::plan::Against;

/// `fire.stop_dams_water`
pub struct FireStopDamsWater;

static META: RuleMeta = RuleMeta {
    id: "fire.stop_dams_water",
    catalogue: "F-02",
    title: "a fire stop dams the gap",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
Every fire stop that fills the gap has a flashing above it that throws the water out, or is of the kind that stays open
until there is a fire (`kind open_state`).

# Why
A strip of mineral wool across a drained gap is a wet sponge against the sheathing.

# Example
    fire_stop belt at 2700mm, kind full

# Better
    fire_stop belt at 2700mm, kind full {
        flashing flashings.aluminium_coil, slope 6deg, upstand 75mm, drip 12mm out 6mm, laps under water by 75mm
    }

# Basis
NBC 9.27.2.2.(1)(a), read in a public copy: the air space is drained. British guides for the open-state kind: about
25 mm stays open, fixed as tested.

# Known gaps
How much an open-state stop leaves open, and whether it was tested so, is not asked. Floor lines whose detail says
`fire stopped` are taken at their word.
",
};

/// Water that stands on a stop: the bay, and the place in it.
type Standing<'f> = (&'f BayFlow, &'f Trap);

impl Rule for FireStopDamsWater {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut held: BTreeMap<(FaceId, usize, usize), Vec<Standing<'_>>> = BTreeMap::new();
        for flow in &context.flow().bays {
            for trap in &flow.traps {
                let stop =
                    trap.with.iter().find_map(|with| if let Against::FireStop(at) = with { Some(*at) } else { None });
                if let Some(stop) = stop {
                    held.entry((flow.id.face, flow.id.area, stop)).or_default().push((flow, trap));
                }
            }
        }
        for ((face, area, stop), traps) in held {
            report.extend(found(context, (face, area, stop), &traps));
        }
    }
}

fn found(
    context: &CheckContext<'_>,
    (face, area, stop): (FaceId, usize, usize),
    traps: &[Standing<'_>],
) -> Option<Finding> {
    let mut flows: Vec<&BayFlow> = traps.iter().map(|(flow, _)| *flow).collect();
    flows.dedup_by_key(|flow| flow.id);
    let group = Bays { face, area, flows };
    let walls = context.model.face(face)?;
    let stop = walls.fire_stops.get(stop)?;
    let subject = format!("{}.{}", walls.name, stop.name);
    let water: f64 =
        traps.iter().filter_map(|(flow, trap)| Some(catchment(&bays::bay(context, flow)?.shape, trap))).sum();
    let water = context.shown_area(water);
    let finding = if stop.kind_said {
        let message = format!(
            "fire stop `{}` fills the gap with no flashing above: water from {water} in {} has no exit",
            stop.name,
            group.name(context)
        );
        context
            .fault(&META, subject, stop.origin, message)
            .on_principle("NBC 9.27.2.2.(1)(a), public copy: the air space is drained", true)
            .help("give it a flashing that throws the water out, or one that stays open until there is a fire")
            .path(vec![group.name(context), format!("fire stop `{}`", stop.name), "nothing".to_owned()])
    } else {
        let missing = format!("whether fire stop `{}` fills the gap (`kind`)", stop.name);
        context.unknown(&META, subject, stop.origin, missing).help(format!("{water} drains there"))
    };
    let ends = || traps.iter().flat_map(|(_, trap)| [trap.floor.from, trap.floor.to]);
    Some(context.on_face(finding, face, &stop.name, ends().min()?, ends().max()?))
}
