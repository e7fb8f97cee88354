//! Stop lines: where the day's work ends, and whether tonight's rain can get behind its top edge.

use super::lanes::Lane;
use crate::geometry::{Point, Segment};
use crate::model::{DryIn, FaceId, Model};
use crate::plan::Plan;
use crate::units::Length;

/// The stop line of one declared section.
#[derive(Clone, Debug)]
pub struct Stop {
    /// Index of the section in the model.
    pub section: usize,
    /// The face.
    pub face: FaceId,
    /// The line, left to right.
    pub line: Segment,
    /// Where its section begins.
    pub bottom: Length,
    /// The section is the last of its lane: the wall ends there, and nothing waits for tomorrow.
    pub last: bool,
    /// The nearest course line: its number from the first one, and how far the stop line is above it (negative: below it);
    /// absent where the courses of the face are not known.
    pub course: Option<(i64, Length)>,
    /// Whether rain can get behind the top edge.
    pub dry: Dry,
}

/// Whether tonight's rain can get behind today's top edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Dry {
    /// Nothing waits: the wall ends here.
    Top,
    /// A flashing of the wall, by name, lies over the whole of the edge, under the membrane above it.
    Flashing(String),
    /// There is no gap behind the cladding that could be open.
    NoGap,
    /// A flap is turned out over the edge, this far.
    Flap(Length),
    /// A cover lies over the edge.
    Cover,
    /// The edge is sealed.
    Sealed,
    /// The gap is open upward.
    Open,
    /// It was not said.
    Untold(&'static str),
}

/// The stop lines of all sections that were declared on a sound face, in the order of the files.
pub(super) fn find(model: &Model, plan: &Plan, lanes: &[Lane]) -> Vec<Stop> {
    let mut found: Vec<Stop> = lanes.iter().filter_map(|lane| stop(model, plan, lane)).collect();
    found.sort_by_key(|stop| stop.section);
    found
}

fn stop(model: &Model, plan: &Plan, lane: &Lane) -> Option<Stop> {
    let at = lane.section?;
    let section = model.sections.get(at)?;
    let placed = plan.face(lane.face)?;
    let line = Segment::new(Point::new(lane.left, lane.top), Point::new(lane.right, lane.top));
    let course = placed.exposure.zip(placed.course_start).filter(|(exposure, _)| *exposure > Length::ZERO);
    let course = course.map(|(exposure, start)| {
        let above = lane.top - start;
        let number = (above.0 + exposure.0 / 2).div_euclid(exposure.0);
        (number, above - exposure * number)
    });
    // Under a sloping top a level line may leave nothing of the lane above it.
    let middle = line.midpoint();
    let beyond = placed.outline.x_intervals_above(lane.top);
    let last = !lane.stops || !beyond.iter().any(|&(left, right)| left < lane.right && lane.left < right);
    let dry = match section.dry_in {
        _ if last => Dry::Top,
        Some(DryIn::Flap(Some(length))) => Dry::Flap(length),
        Some(DryIn::Flap(None)) => Dry::Untold("how far the flap is turned out is not said (`dry_in flap 150mm`)"),
        Some(DryIn::Cover) => Dry::Cover,
        Some(DryIn::Sealed) => Dry::Sealed,
        Some(DryIn::Open) | None => natural(model, plan, lane, middle).unwrap_or(if section.dry_in.is_some() {
            Dry::Open
        } else {
            Dry::Untold("`dry_in` is not said")
        }),
    };
    Some(Stop { section: at, face: lane.face, line, bottom: lane.bottom, last, course, dry })
}

/// What keeps the edge dry without anybody's doing: a flashing of the wall that stands ready over the whole of it, or a wall
/// without a gap.
fn natural(model: &Model, plan: &Plan, lane: &Lane, middle: Point) -> Option<Dry> {
    let face = model.face(lane.face)?;
    let runs = plan.runs_of(lane.face).filter(|(_, run)| matches!(run.kind, "transition" | "floor_line"));
    for (_, run) in runs {
        let spans = run.segment.is_horizontal()
            && run.segment.from.y == lane.top
            && run.segment.from.x.min(run.segment.to.x) <= lane.left
            && run.segment.from.x.max(run.segment.to.x) >= lane.right;
        let ready = plan.parts_of(run).any(|part| is_over(&part.spec));
        if spans && ready {
            let name = run.name.split_once('.').map_or(run.name.as_str(), |(_, name)| name);
            return Some(Dry::Flashing(name.to_owned()));
        }
    }
    for floor in face.floor_lines.iter().filter(|floor| floor.height == lane.top) {
        let detail = floor.detail.and_then(|id| model.detail(id)).filter(|detail| !detail.broken);
        if detail.is_some_and(|detail| detail.edge.parts.iter().any(is_over)) {
            return Some(Dry::Flashing(floor.name.clone()));
        }
    }
    let slots = face.vents.iter().filter(|vent| vent.height == lane.top && vent.from.is_none() && vent.to.is_none());
    if let Some(vent) = slots.filter(|vent| vent.flashing.as_ref().is_some_and(is_over)).min_by_key(|vent| &vent.name) {
        return Some(Dry::Flashing(vent.name.clone()));
    }
    let placed = plan.face(lane.face)?;
    let below = Point::new(middle.x, middle.y - Length::mm(1));
    let area = placed.areas.iter().position(|area| area.whole.place(below) != crate::geometry::Place::Outside)?;
    let assembly = model.assembly(face.areas.get(area)?.assembly).filter(|wall| !wall.broken)?;
    assembly.gap().is_none().then_some(Dry::NoGap)
}

/// A flashing on the plane, under the membrane: it goes on with the barrier, before any board.
fn is_over(spec: &crate::model::PartSpec) -> bool {
    spec.kind == "flashing"
        && spec.upstand.is_some()
        && spec.laps.iter().any(|lap| lap.under && matches!(lap.what, "water" | "membrane" | "flap"))
}
