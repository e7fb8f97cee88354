//! Courses that miss each other where two faces meet.

use super::course_sliver::coursed;
use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Face, FaceId};
use crate::plan::{Run, RunPlace};
use crate::source::Span;
use crate::units::Length;

/// `course.corner`
pub struct CourseCorner;

static META: RuleMeta = RuleMeta {
    id: "course.corner",
    catalogue: "BL-04",
    title: "courses do not meet at a corner",
    grade: Grade::S3,
    before: "H0",
    limits: &["course.corner"],
    explain: "\
# What it checks
Where two faces with level courses meet, their course lines are at one height, to within the length of the rule
set. Of two exposures, every line of the larger one must meet a line of the smaller.

# Why
The eye goes to a corner where the courses miss, and no trim hides it.

# Example
    face north { … }      // 130 to 140 mm
    face west  { … }      // 180 to 190 mm, each set out by itself

# Better
    building house {
        faces north and west
        story_pole exposure 130mm..140mm start 0mm
    }

# Basis
3 mm: common practice.

# Known gaps
Heights of both faces are from one datum. Courses that are cracked or doubled on purpose are not told apart.
",
};

impl Rule for CourseCorner {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for (run, other) in corners(context, id, face) {
                let finding = judge(context, (id, face, run), other);
                report.extend(finding.map(|finding| context.on_run(finding, run, run.segment)));
            }
        }
    }
}

/// Corners of a face with the face at the other side, each pair of faces from the first of them only.
fn corners<'c>(context: &CheckContext<'c>, id: FaceId, face: &'c Face) -> Vec<(&'c Run, FaceId)> {
    let plan = context.plan;
    let met = |run: &Run| match run.place {
        RunPlace::Edge(edge) => face.edges.get(edge)?.meets.as_ref()?.id,
        _ => None,
    };
    let pairs = plan.runs_of(id).filter_map(|(_, run)| Some((run, met(run)?)));
    pairs.filter(|(_, other)| id < *other).collect()
}

fn judge(context: &CheckContext<'_>, (id, face, run): (FaceId, &Face, &Run), other: FaceId) -> Option<Finding> {
    let there = context.model.face(other).filter(|face| !face.broken && face.outline.is_some())?;
    coursed(context, id, run.area?)?;
    let unknown = |at: Span, missing: String| Some(context.unknown(&META, run.name.clone(), at, missing));
    let Some((limit, most)) = context.limit("course.corner").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown(run.origin, "no rule set in force has a limit `course.corner`".to_owned());
    };
    // The coursed stretches of the other side's edge that lie beside this one.
    let beside = context.plan.runs_of(other).filter(|(_, back)| match back.place {
        RunPlace::Edge(edge) => {
            there.edges.get(edge).and_then(|edge| edge.meets.as_ref()).and_then(|meets| meets.id) == Some(id)
        }
        _ => false,
    });
    let shared = beside
        .filter(|(_, back)| back.area.is_some_and(|area| coursed(context, other, area).is_some()))
        .filter_map(|(_, back)| shared_height(run, back))
        .next()?;
    let mut poles = Vec::new();
    for (id, face) in [(id, face), (other, there)] {
        let plan = context.plan.face(id)?;
        match plan.exposure.zip(plan.course_start) {
            Some(pole) => poles.push(pole),
            None => {
                let missing = format!("exposure of `{}` cannot be told (`story_pole exposure … start …`)", face.name);
                return unknown(run.origin, missing);
            }
        }
    }
    let (&one, &two) = (poles.first()?, poles.get(1)?);
    let (height, apart) = worst(one.max(two), one.min(two), shared)?;
    if apart <= most {
        return None;
    }
    let message = format!(
        "courses of `{}` ({}) and `{}` ({}) miss each other by up to {}; {} at the most",
        face.name,
        context.shown(one.0),
        there.name,
        context.shown(two.0),
        context.shown(apart),
        context.shown(most)
    );
    Some(
        context
            .fault(&META, run.name.clone(), run.origin, message)
            .against(limit)
            .measured(context.measure(apart))
            .wanted(context.measure(most))
            .also(there.origin, "the face it meets")
            .help(format!("worst {} above the datum: set both faces out from one story pole", context.shown(height))),
    )
}

/// From where to where two upright stretches lie beside each other.
fn shared_height(one: &Run, other: &Run) -> Option<(Length, Length)> {
    let span = |run: &Run| {
        let (from, to) = (run.segment.from.y, run.segment.to.y);
        (from.min(to), from.max(to))
    };
    let (one, other) = (span(one), span(other));
    let (low, high) = (one.0.max(other.0), one.1.min(other.1));
    (low < high).then_some((low, high))
}

/// The line of the larger courses that lies farthest from any line of the smaller ones, and how far.
fn worst(
    (exposure, start): (Length, Length),
    (smaller, from): (Length, Length),
    (low, high): (Length, Length),
) -> Option<(Length, Length)> {
    if exposure <= Length::ZERO || smaller <= Length::ZERO {
        return None;
    }
    let first = low + Length((start - low).0.rem_euclid(exposure.0));
    // A wall has no more courses than this.
    let lines = (0..10_000).map(|count| first + exposure * count).take_while(|line| *line <= high);
    let apart = lines.map(|line| {
        let rest = Length((line - from).0.rem_euclid(smaller.0));
        (line, rest.min(smaller - rest))
    });
    apart.reduce(|best, next| if next.1 > best.1 { next } else { best })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_courses_meet_and_shifted_ones_do_not() {
        let mm = Length::mm;
        let wall = (Length::ZERO, mm(600));
        assert_eq!(worst((mm(200), mm(0)), (mm(100), mm(0)), wall).map(|found| found.1), Some(Length::ZERO));
        assert_eq!(worst((mm(150), mm(0)), (mm(150), mm(40)), wall), Some((mm(0), mm(40))));
        assert_eq!(worst((mm(200), mm(0)), (mm(150), mm(0)), wall), Some((mm(200), mm(50))));
        assert_eq!(worst((mm(0), mm(0)), (mm(0), mm(0)), wall), None);
    }
}
