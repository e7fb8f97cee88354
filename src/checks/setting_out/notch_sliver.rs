//! A board that is notched down to a sliver beside an opening.

use crate::checks::pieces::{area_at, faces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::{Bounds, Point};
use crate::layout::courses::middle_of;
use crate::model::{ButtJoints, Face, FaceId, Opening};
use crate::plan::FacePlan;
use crate::units::Length;

/// `notch.sliver`
pub struct NotchSliver;

static META: RuleMeta = RuleMeta {
    id: "notch.sliver",
    catalogue: "FA-12",
    title: "a notch leaves a sliver of board",
    grade: Grade::S3,
    before: "H4",
    limits: &["notch.left"],
    explain: "\
# What it checks
Beside every opening and its trims: the cladding that is left to the next opening, to the side of the wall, or to
a declared butt joint is wide enough to be held.

# Why
An L-shaped piece cracks at its inner corner, or its narrow leg flaps: there is no room for two fasteners.

# Example
    window one frame 900mm x 1200mm at (1000mm, 900mm), trims 89mm on furring
    window two frame 900mm x 1200mm at (2100mm, 900mm), trims 89mm on furring

# Better
    window two frame 900mm x 1200mm at (2300mm, 900mm), trims 89mm on furring

# Basis
50 mm of board left at a notch: common practice.

# Known gaps
Strips at sills and heads are told by another rule. Corner trims are not taken off the width.
",
};

impl Rule for NotchSliver {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let Some(plan) = context.plan.face(id) else { continue };
            for (opening, shape) in face.openings.iter().zip(&plan.openings) {
                report.extend(judge(context, id, face, plan, opening, shape.bounds()));
            }
        }
    }
}

/// How wide the trims lie over the wall beside an opening; none where the boards run behind them.
fn trim_width(opening: &Opening) -> Length {
    opening.trims.filter(|(_, on)| *on != "cladding").map_or(Length::ZERO, |(width, _)| width)
}

fn judge(
    context: &CheckContext<'_>,
    id: FaceId,
    face: &Face,
    plan: &FacePlan,
    opening: &Opening,
    bounds: Bounds,
) -> Option<Finding> {
    let middle = Point::new((bounds.left + bounds.right) / 2, (bounds.bottom + bounds.top) / 2);
    let at = area_at(context, id, middle)?;
    let subject = format!("{}.{}", face.name, opening.name);
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), opening.origin, missing));
    let Some((limit, least)) = context.limit("notch.left").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `notch.left`".to_owned());
    };
    let trim = trim_width(opening);
    let (left, right) = (bounds.left - trim, bounds.right + trim);
    let (width, beside, side, place) = neighbours(context, id, face, plan, at, opening, bounds)
        .into_iter()
        .map(|(what, x)| if x <= middle.x { (left - x, what, "left", x) } else { (x - right, what, "right", x) })
        .filter(|(width, ..)| *width > Length::ZERO)
        .min_by_key(|(width, ..)| *width)?;
    if width >= least {
        return None;
    }
    if opening.trims.is_none() {
        return unknown(format!("width of the trims of `{}` is not said (`trims`)", opening.name));
    }
    let message = format!(
        "{} of cladding is left {side} of `{}`, to {beside}; {} is wanted",
        context.shown(width),
        opening.name,
        context.shown(least)
    );
    let finding = context
        .fault(&META, subject.clone(), opening.origin, message)
        .against(limit)
        .measured(context.measure(width))
        .wanted(context.measure(least))
        .help("move the joint or the opening, make the trim wider, or fill the strip with one upright piece");
    Some(context.on_face(finding, id, &opening.name, Point::new(place, middle.y), Point::new(place, middle.y)))
}

/// Where cladding beside an opening ends, at its mid-height: sides of the wall, other openings, declared joints.
fn neighbours(
    context: &CheckContext<'_>,
    id: FaceId,
    face: &Face,
    plan: &FacePlan,
    at: usize,
    opening: &Opening,
    bounds: Bounds,
) -> Vec<(String, Length)> {
    let level = (bounds.bottom + bounds.top) / 2;
    let mut found = Vec::new();
    if let Some(area) = plan.areas.get(at) {
        let sides = area.whole.x_intervals_at(level).into_iter().flat_map(|(from, to)| [from, to]);
        found.extend(sides.map(|x| ("the side of the wall".to_owned(), x)));
    }
    // Of two openings the left one tells of the strip between them.
    let others = face.openings.iter().zip(&plan.openings).filter(|(other, _)| other.origin != opening.origin);
    for (other, there) in others.map(|(other, shape)| (other, shape.bounds())) {
        if there.left > bounds.left && there.bottom < bounds.top && bounds.bottom < there.top {
            found.push((format!("`{}`", other.name), there.left - trim_width(other)));
        }
    }
    let start = context.plan.face(id).and_then(|plan| plan.outline.bounds()).map_or(Length::ZERO, |bounds| bounds.left);
    let crosses = |joints: &&ButtJoints| {
        let level = joints.course.zip(plan.exposure).zip(plan.course_start).zip(plan.areas.get(at)?.whole.bounds());
        let (((course, exposure), start), whole) = level?;
        let middle = middle_of(course, whole.bottom, start, exposure);
        Some(middle + exposure / 2 > bounds.bottom && middle - exposure / 2 < bounds.top)
    };
    let joints = face.areas.get(at).into_iter().flat_map(|area| &area.joints);
    let joints = joints.filter(|joints| crosses(joints).unwrap_or(true));
    found.extend(joints.flat_map(|joints| &joints.marks).map(|&mark| ("a joint".to_owned(), start + mark)));
    found
}
