//! A butt joint of boards with nothing behind it.

use crate::checks::pieces::{area_name, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::geometry::Point;
use crate::layout::courses::middle_of;
use crate::layout::holes::{self, Support};
use crate::layout::stack;
use crate::loads::length;
use crate::model::{Area, ButtJoints, FaceId};
use crate::units::Length;

/// `joint.off_support`
pub struct JointOffSupport;

static META: RuleMeta = RuleMeta {
    id: "joint.off_support",
    catalogue: "FA-10",
    title: "a butt joint of boards lies off its support",
    grade: Grade::S2,
    before: "H4",
    limits: &["fastener.edge_distance"],
    explain: "\
# What it checks
Where an area says at which marks its boards meet (`joints at …`): both ends lie on a strip, each with room for a
fastener.

# Why
Ends without support flap, gap and crack.

# Example
    area all house_wall {
        joints at (1219mm, 3657mm) course 1
    }

# Better
    area all house_wall {
        joints at (1219.2mm, 3657.6mm) course 1
    }

# Basis
On framing, trade article. Room for a fastener beside each end: 12 mm, common practice.

# Known gaps
Where no joints are declared the crew sets them on the wall, and this rule is silent. Back plates are not known.
",
};

impl Rule for JointOffSupport {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for (at, area) in face.areas.iter().enumerate() {
                for joints in &area.joints {
                    report.extend(judge(context, id, at, area, joints));
                }
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, id: FaceId, at: usize, area: &Area, joints: &ButtJoints) -> Option<Finding> {
    let subject = area_name(context, id, at);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), joints.origin, missing));
    let edge = match length(context.model, "fastener.edge_distance") {
        Ok(edge) => edge,
        Err(missing) => return unknown(missing),
    };
    let bounds = context.plan.face(id)?.outline.bounds()?;
    let level = level_of(context, id, at, joints.course);
    let supports = supports(context, id, at, level);
    if supports.is_empty() {
        return unknown(format!(
            "where the strips behind `{}` are is not said (`every`, `first` or `marks`)",
            area.name
        ));
    }
    let off = |mark: Length| {
        let place = bounds.left + mark;
        let nearest = supports.iter().min_by_key(|support| (support.centre - place).abs())?;
        let room = (nearest.half - edge.1).max(Length::ZERO);
        let shift = nearest.centre - place;
        (shift.abs() > room).then_some((place, shift, room))
    };
    let missed: Vec<_> = joints.marks.iter().filter_map(|&mark| off(mark)).collect();
    let &(place, shift, room) = missed.first()?;
    let course = joints.course.map_or_else(String::new, |course| format!(" of course {course}"));
    let (from, to) = (place - bounds.left, place + shift - bounds.left);
    let message = format!(
        "{} of {} joints{course} lie off a strip: the one at {} by {}",
        missed.len(),
        joints.marks.len(),
        context.shown(from),
        context.shown(shift.abs() - room)
    );
    let way = if shift < Length::ZERO { "left" } else { "right" };
    let finding = context
        .fault(&META, subject.clone(), joints.origin, message)
        .against(edge.0)
        .measured(context.measure(shift.abs()))
        .wanted(context.measure(room))
        .advise(
            format!("shift that joint {} {way}, to {}", context.shown(shift.abs()), context.shown(to)),
            Remedy::MoveJoint { from, to },
        )
        .help("or set a strip there (`also at joints`)");
    let there = Point::new(place, level.unwrap_or(bounds.bottom));
    Some(context.on_face(finding, id, "joint", there, there))
}

/// Height of the middle of a course, if courses can be told.
fn level_of(context: &CheckContext<'_>, id: FaceId, at: usize, course: Option<i64>) -> Option<Length> {
    let plan = context.plan.face(id)?;
    let (exposure, start) = (plan.exposure?, plan.course_start?);
    let foot = plan.areas.get(at)?.whole.bounds()?.bottom;
    Some(middle_of(course?, foot, start, exposure))
}

/// Strips at a height (all of them where it is not known); studs where the boards are fixed to them and there are none.
fn supports(context: &CheckContext<'_>, id: FaceId, at: usize, level: Option<Length>) -> Vec<Support> {
    let strips = context.plan.face(id).and_then(|plan| plan.areas.get(at)).map_or(&[][..], |area| &area.strips);
    let upright = strips.iter().filter(|strip| !strip.horizontal).filter_map(|strip| {
        let bounds = strip.shape.bounds();
        let reaches = level.is_none_or(|level| bounds.bottom <= level && level <= bounds.top);
        reaches.then_some(Support { centre: strip.centre, half: bounds.width() / 2 })
    });
    let found: Vec<Support> = upright.collect();
    if !found.is_empty() {
        return found;
    }
    let Some(wall) = wall(context, id, at) else { return found };
    let bounds = context.plan.face(id).and_then(|plan| plan.outline.bounds());
    let bare = stack::gap(wall).is_none() || wall.gap().is_some_and(|(_, gap)| gap.furring.is_empty());
    match (wall.frame(), bounds) {
        (Some((_, frame)), Some(bounds)) if bare => holes::studs(frame, bounds.left, bounds.right),
        _ => found,
    }
}
