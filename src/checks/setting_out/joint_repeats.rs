//! Butt joints that stand over each other in a ladder or a stair.

use crate::checks::pieces::{area_name, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Area, FaceId};
use crate::source::Span;
use crate::units::Length;

/// `joint.repeats`
pub struct JointRepeats;

static META: RuleMeta = RuleMeta {
    id: "joint.repeats",
    catalogue: "BL-05",
    title: "butt joints of neighbouring courses line up",
    grade: Grade::S4,
    before: "H4",
    limits: &["joint.offset_bays"],
    explain: "\
# What it checks
Where an area says at which marks its boards meet: joints of one course against those of the next and of the one
after it. Neighbours keep the number of bays of the rule set apart; no joint stands over another two courses up.

# Why
Joints in a ladder or a stair draw the eye, and let water in at one line.

# Example
    area all house_wall {
        joints at (1219.2mm) course 1
        joints at (1219.2mm) course 2
    }

# Better
    area all house_wall {
        joints at (1219.2mm) course 1
        joints at (2438.4mm) course 2
        joints at (3657.6mm) course 3
    }

# Basis
Two bays in neighbouring courses, a pattern of three or more: common practice and trade articles.

# Known gaps
Where no joints are declared the crew sets them on the wall, and this rule is silent.
",
};

impl Rule for JointRepeats {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for (at, area) in face.areas.iter().enumerate().filter(|(_, area)| !area.joints.is_empty()) {
                report.extend(judge(context, id, at, area));
            }
        }
    }
}

/// One joint: its course, its mark, its clause.
type Joint = (i64, Length, Span);

fn judge(context: &CheckContext<'_>, id: FaceId, at: usize, area: &Area) -> Option<Finding> {
    let subject = area_name(context, id, at);
    let first = area.joints.first()?.origin;
    let unknown = |missing: String| Some(context.unknown(&META, subject.clone(), first, missing));
    let Some((limit, bays)) = context.limit("joint.offset_bays").and_then(|limit| Some((limit, limit.number()?)))
    else {
        return unknown("no rule set in force has a limit `joint.offset_bays`".to_owned());
    };
    let wall = wall(context, id, at)?;
    let strips = wall.gap().and_then(|(_, gap)| gap.furring.first()?.spacing);
    let Some(bay) = strips.or_else(|| wall.frame().and_then(|(_, frame)| frame.spacing)) else {
        return unknown(format!("spacing of the strips of `{}` is not said (`every`)", area.name));
    };
    let least = Length::snap_m(bay.as_m() * bays);
    let help = format!(
        "let joints of neighbouring courses stand {} or more apart, in a pattern of three or more",
        context.shown(least)
    );
    if let Some(all) = area.joints.iter().find(|joints| joints.course.is_none() && !joints.marks.is_empty()) {
        let message = "the joints of every course stand at the same marks".to_owned();
        return Some(context.fault(&META, subject.clone(), all.origin, message).against(limit).help(help));
    }
    let joints: Vec<Joint> = area
        .joints
        .iter()
        .flat_map(|joints| joints.marks.iter().map(|&mark| (joints.course.unwrap_or_default(), mark, joints.origin)))
        .collect();
    let near = |one: &Joint, other: &Joint| {
        let apart = (one.1 - other.1).abs();
        // A millimetre is below what a saw cuts to.
        match other.0 - one.0 {
            1 => apart + Length::mm(1) < least,
            2 => apart < bay / 2,
            _ => false,
        }
    };
    let pairs = joints.iter().flat_map(|one| joints.iter().map(move |other| (one, other)));
    let (one, other) =
        pairs.filter(|(one, other)| near(one, other)).min_by_key(|(one, other)| (one.0, one.1, other.0, other.1))?;
    let apart = (one.1 - other.1).abs();
    let wanted = if other.0 - one.0 == 1 { least } else { bay / 2 };
    let message = format!(
        "joints of courses {} and {} stand {} apart, at {}; {} is wanted",
        one.0,
        other.0,
        context.shown(apart),
        context.shown(one.1),
        context.shown(wanted)
    );
    Some(
        context
            .fault(&META, subject.clone(), other.2, message)
            .against(limit)
            .measured(context.measure(apart))
            .wanted(context.measure(wanted))
            .help(help),
    )
}
