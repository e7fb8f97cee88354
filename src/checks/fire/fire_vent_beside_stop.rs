//! Slots in the cladding that lead round a fire stop.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::geometry::{Bounds, Point};
use crate::model::{FireStop, Vent, Where};
use crate::plan::top_of_fire_stop;
use crate::units::Length;

/// `fire.vent_beside_stop`
pub struct FireVentBesideStop;

static META: RuleMeta = RuleMeta {
    id: "fire.vent_beside_stop",
    catalogue: "",
    title: "slots in the cladding join two spaces that a fire stop keeps apart",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
No row of slots at mid-height lies across a fire stop: its slot ends below the stop or begins above it. It can always tell.

# Why
What the stop holds back in the gap goes out at the slot and in again above it.

# Example
    fire_stop belt at 2700mm, kind open_state, height 60mm
    vent      slots 20mm at 2690mm

# Better
    vent      slots 20mm at 2500mm

# Basis
A stop that is passed does not stop: no clause; it warns.

# Known gaps
How far the slots must stay below and above is not known, so only a slot across the stop is told. A stop that gives no
height counts as one board on edge.
",
};

impl Rule for FireVentBesideStop {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let Some(bounds) = context.plan.face(id).and_then(|plan| plan.outline.bounds()) else { continue };
            for vent in &face.vents {
                let Some(stop) = face.fire_stops.iter().find(|stop| crosses(vent, stop, bounds)) else { continue };
                let message = format!("the slots of `{}` lead round fire stop `{}`", vent.name, stop.name);
                let lower = (vent.height + vent.slot - stop.at).max(Length::ZERO);
                let finding = context
                    .fault(&META, format!("{}.{}", face.name, vent.name), vent.origin, message)
                    .on_principle("common practice: what is stopped inside must not pass outside", false)
                    .also(stop.origin, "the fire stop")
                    .advise(format!("set the slots {} lower or more", context.shown(lower)), Remedy::LowerSlots(lower));
                let (left, right) = across((vent.from, vent.to), bounds);
                let ends = (Point::new(left, vent.height), Point::new(right, vent.height));
                report.push(context.on_face(finding, id, &vent.name, ends.0, ends.1));
            }
        }
    }
}

fn across((from, to): (Option<Where>, Option<Where>), bounds: Bounds) -> (Length, Length) {
    let x = |place: Option<Where>, open: Length| match place {
        None => open,
        Some(Where::Left) => bounds.left,
        Some(Where::Right) => bounds.right,
        Some(Where::Centre) => (bounds.left + bounds.right) / 2,
        Some(Where::At(x)) => x,
    };
    let (one, other) = (x(from, bounds.left), x(to, bounds.right));
    (one.min(other), one.max(other))
}

fn crosses(vent: &Vent, stop: &FireStop, bounds: Bounds) -> bool {
    let (vent_left, vent_right) = across((vent.from, vent.to), bounds);
    let (left, right) = across((stop.from, stop.to), bounds);
    let beside = vent_left < right && left < vent_right;
    beside && vent.height < top_of_fire_stop(stop) && vent.height + vent.slot > stop.at
}
