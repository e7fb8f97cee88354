//! Order of work: what cannot be built, and sections that end where rain gets in or hands do not reach.

pub mod order_cycle;
pub mod section_above_lift;
pub mod section_left_out;
pub mod section_no_dry_in;
pub mod section_off_course_line;
pub mod section_out_of_reach;
pub mod section_overloaded;

use crate::checks::{CheckContext, Finding};
use crate::continuity::Stop;
use crate::geometry::Point;
use crate::model::Section;

/// Stop lines with their sections.
fn stops<'c>(context: &'c CheckContext<'_>) -> impl Iterator<Item = (&'c Stop, &'c Section)> {
    let model = context.model;
    context.order().stops.iter().filter_map(|stop| Some((stop, model.sections.get(stop.section)?)))
}

/// Dotted name of a section: `west.west_low`.
fn named(section: &Section) -> String {
    format!("{}.{}", section.on.0, section.name)
}

/// Puts a finding on the stop line of its section.
fn on_line(context: &CheckContext<'_>, finding: Finding, stop: &Stop, section: &Section) -> Finding {
    let (left, right) = (stop.line.from, Point::new(stop.line.to.x, stop.line.to.y));
    context.on_face(finding, stop.face, &format!("stop line of {}", section.name), left, right)
}
