//! Boards whose ends hang free.

use crate::checks::pieces::{area_name, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Segment;
use crate::layout::stack;
use crate::model::{Direction, FaceId};
use crate::plan::Strip;
use crate::units::Length;

/// `furring.none_at_edge`
pub struct FurringNoneAtEdge;

static META: RuleMeta = RuleMeta {
    id: "furring.none_at_edge",
    catalogue: "BL-11",
    title: "boards end too far from their last strip",
    grade: Grade::S2,
    before: "H4",
    limits: &["support.end"],
    explain: "\
# What it checks
Where level boards end (at corners, at openings, at the sides of an area), an upright strip lies within the
length of the rule set.

# Why
The ends of boards flap, warp and open at corners and beside windows.

# Example
    furring spruce 19mm x 64mm, every 16in on centre, vertical

# Better
    furring spruce 19mm x 64mm, every 16in on centre, vertical, also at corners and jambs

# Basis
50 mm: common practice (50 to 100).

# Known gaps
Upright boards over level strips are not judged. A board end is taken at the edge of the area; trims that cover
it are not taken off.
",
};

impl Rule for FurringNoneAtEdge {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for at in 0..face.areas.len() {
                judge(context, id, at, report);
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, id: FaceId, at: usize, report: &mut Vec<Finding>) -> Option<()> {
    let assembly = wall(context, id, at)?;
    let boards = stack::cladding(assembly).and_then(|at| assembly.layers.get(at))?;
    let (layer, gap) = assembly.gap()?;
    let furring = gap.furring.first()?;
    let area = context.plan.face(id)?.areas.get(at)?;
    let subject = format!("{}.{}", area_name(context, id, at), layer.name);
    let unknown = |missing: String| context.unknown(&META, subject.clone(), furring.origin, missing);
    if boards.runs_vertical || furring.direction.is_some_and(|way| way != Direction::Vertical) {
        return None;
    }
    let Some((limit, most)) = context.limit("support.end").and_then(|limit| Some((limit, limit.length()?))) else {
        report.push(unknown("no rule set in force has a limit `support.end`".to_owned()));
        return None;
    };
    if area.strips.is_empty() {
        report.push(unknown(format!(
            "where the strips of `{}` are is not said (`every`, `first` or `marks`)",
            layer.name
        )));
        return None;
    }
    let upright: Vec<&Strip> = area.strips.iter().filter(|strip| !strip.horizontal).collect();
    // A side shorter than a course carries no board end of its own.
    let sides = area.net.edges().map(|(_, edge)| edge.segment).filter(|side| side.is_vertical());
    let tall = sides.filter(|side| side.length() > area_course(context, id));
    let free: Vec<(Length, Segment)> =
        tall.filter_map(|side| Some((overhang(&upright, side)?, side))).filter(|(free, _)| *free > most).collect();
    let (worst, line) = free.iter().copied().max_by_key(|(free, side)| (*free, std::cmp::Reverse(side.from)))?;
    let places: Vec<String> = free.iter().map(|(_, side)| context.shown(side.from.x)).collect();
    let message = format!(
        "boards end up to {} beyond the last strip of `{}` at {} of their sides; {} at the most",
        context.shown(worst),
        layer.name,
        free.len(),
        context.shown(most)
    );
    let finding = context
        .fault(&META, subject.clone(), furring.origin, message)
        .against(limit)
        .measured(context.measure(worst))
        .wanted(context.measure(most))
        .help(format!("add strips at x {}, or say `also at corners and jambs`", places.join(", ")));
    report.push(context.on_face(finding, id, "end of boards", line.from, line.to));
    None
}

/// Height of a course on the face, or nothing.
fn area_course(context: &CheckContext<'_>, id: FaceId) -> Length {
    context.plan.face(id).and_then(|plan| plan.exposure).unwrap_or(Length::ZERO)
}

/// From the end of the boards to the nearest side of a strip beside it, at mid-height; the wall lies to the left of the line.
/// Zero where a strip lies under it.
fn overhang(strips: &[&Strip], line: Segment) -> Option<Length> {
    let end = line.from.x;
    let height = line.midpoint().y;
    // Counter-clockwise, a side that runs up has its wall at smaller x.
    let wall_at_left = line.to.y > line.from.y;
    let beside = strips.iter().filter_map(|strip| {
        let bounds = strip.shape.bounds();
        let reaches = bounds.bottom <= height && height <= bounds.top;
        let free = if wall_at_left { end - bounds.right } else { bounds.left - end };
        let on_wall = if wall_at_left { bounds.left < end } else { bounds.right > end };
        (reaches && on_wall).then_some(free.max(Length::ZERO))
    });
    beside.min()
}
