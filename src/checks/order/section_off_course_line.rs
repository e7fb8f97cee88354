//! A section that ends in the middle of a course.

use super::{named, on_line, stops};
use crate::checks::{CheckContext, Finding, Grade, Remedy, Rule, RuleMeta};
use crate::continuity::{Dry, Stop};
use crate::model::Section;
use crate::units::Length;

/// `section.off_course_line`
pub struct SectionOffCourseLine;

static META: RuleMeta = RuleMeta {
    id: "section.off_course_line",
    catalogue: "",
    title: "a section does not end on a course line",
    grade: Grade::S3,
    before: "H5",
    limits: &["course.corner"],
    explain: "\
# What it checks
The stop line of every section is a course line of the story pole, and the one that `course` says, if it says
one. A stop line at a flashing that cuts the wall, such as a floor joint, is one by itself.

# Why
A day's work ends with a whole course. Anything else is a board cut along its length on the lift, or a lift that
cannot reach the next one.

# Example
    story_pole exposure 135mm start 0mm
    section low on west up to 2100mm

# Better
    story_pole exposure 135mm start 0mm
    section low on west up to 2025mm, course 15

# Basis
Common practice: lifts are tied to course lines and to natural stops.

# Known gaps
A wall without level courses, such as one of upright boards, is not asked, unless its section says a course.
",
};

impl Rule for SectionOffCourseLine {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let open = |stop: &Stop| !stop.last && !matches!(stop.dry, Dry::Flashing(_));
        if !stops(context).any(|(stop, _)| open(stop)) {
            return;
        }
        let Some((limit, most)) = context.length_limit(&META, "course.corner", report) else { return };
        for (stop, section) in stops(context).filter(|(stop, _)| open(stop)) {
            let finding = match stop.course {
                Some(course) => judge(context, stop, section, course, most).map(|finding| finding.against(limit)),
                None => section.course.map(|_| {
                    let missing = "the courses of this face are not known (`story_pole`, or `exposure` of its boards)";
                    context.unknown(&META, named(section), section.origin, missing)
                }),
            };
            report.extend(finding.map(|finding| on_line(context, finding, stop, section)));
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    stop: &Stop,
    section: &Section,
    (number, above): (i64, Length),
    most: Length,
) -> Option<Finding> {
    let line = stop.line.from.y;
    let said = section.course.filter(|said| *said != number);
    if above.abs() <= most && said.is_none() {
        return None;
    }
    let message = match said {
        Some(said) if above.abs() <= most => {
            format!("`{}` ends at course line {number}; it says {said}", section.name)
        }
        _ => format!(
            "`{}` ends {} {} course line {number}",
            section.name,
            context.shown(above.abs()),
            if above > Length::ZERO { "above" } else { "below" }
        ),
    };
    let wanted = line - above;
    let advice = format!("end it at {}, course line {number}", context.shown(wanted));
    Some(
        context
            .fault(&META, named(section), section.origin, message)
            .measured(context.measure(line))
            .wanted(context.measure(wanted))
            .advise(advice, Remedy::EndSection { height: wanted, course: number }),
    )
}
