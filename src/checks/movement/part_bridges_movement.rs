//! A part that is fixed on both sides of a line where the wall moves.

use crate::checks::pieces::{faces, runs_beside_trims, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::{Point, Segment};
use crate::layout::holes;
use crate::loads::settling;
use crate::model::{Face, FaceId};
use crate::source::Span;
use crate::units::Length;

/// `part.bridges_movement`
pub struct PartBridgesMovement;

static META: RuleMeta = RuleMeta {
    id: "part.bridges_movement",
    catalogue: "MO-09",
    title: "one part is fixed on both sides of a line that moves",
    grade: Grade::S3,
    before: "H4",
    limits: &["frame.shrinkage"],
    explain: "\
# What it checks
Trims and blocks across a line where two areas stand on unlike frames (wood over concrete), and blocks across a
floor that shrinks.

# Why
One side moves and the other does not: the part cracks, or pulls its fasteners, and the sealed joint behind it
tears.

# Example
    area low  concrete_wall below 900mm
    area high wood_wall above 900mm
    trim corner_trim corners.outside along left

# Better
    trim corner_low  corners.outside along left to 900mm
    trim corner_high corners.outside along left from 900mm

# Basis
A break with a flashing at level lines where substrates differ: the Canadian code as summarised. Split and lap:
common practice.

# Known gaps
Parts of details belong to one area each, and are taken to be cut there.
",
};

impl Rule for PartBridgesMovement {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let things = things(context, id, face);
            unlike_frames(context, id, face, &things, report);
            shrinking_floors(context, id, face, &things, report);
        }
    }
}

/// Something one piece long.
struct Thing {
    name: String,
    line: Segment,
    origin: Span,
    is_block: bool,
}

fn things(context: &CheckContext<'_>, id: FaceId, face: &Face) -> Vec<Thing> {
    let runs = runs_beside_trims(context, id, face);
    let trims = face.trims.iter().filter_map(|trim| {
        let line = holes::trim_line(face, &runs, trim)?;
        Some(Thing { name: trim.name.clone(), line, origin: trim.origin, is_block: false })
    });
    let shapes = context.plan.face(id).map_or(&[][..], |plan| &plan.blocks);
    let blocks = face.blocks.iter().zip(shapes).filter_map(|(block, shape)| {
        let bounds = shape.as_ref()?.bounds();
        let line = Segment::new(Point::new(bounds.left, bounds.bottom), Point::new(bounds.left, bounds.top));
        Some(Thing { name: block.name.clone(), line, origin: block.origin, is_block: true })
    });
    trims.chain(blocks).collect()
}

/// Whether a thing reaches to both sides of a line, beside some point of it. Touching is not crossing.
fn crosses(thing: Segment, line: Segment) -> bool {
    let spans = |a: Length, b: Length, at: Length| a.min(b) < at && at < a.max(b);
    let within = |a: Length, b: Length, at: Length| a.min(b) <= at && at <= a.max(b);
    if line.is_vertical() {
        spans(thing.from.x, thing.to.x, line.from.x) && within(line.from.y, line.to.y, thing.midpoint().y)
    } else {
        spans(thing.from.y, thing.to.y, line.from.y) && within(line.from.x, line.to.x, thing.from.x)
    }
}

fn unlike_frames(context: &CheckContext<'_>, id: FaceId, face: &Face, things: &[Thing], report: &mut Vec<Finding>) {
    for (_, run) in context.plan.runs_of(id).filter(|(_, run)| matches!(run.kind, "transition" | "side")) {
        let kind = |area: Option<usize>| wall(context, id, area?)?.frame().map(|(_, frame)| frame.kind);
        let (Some(upper), Some(lower)) = (kind(run.area), kind(run.other)) else { continue };
        for thing in things.iter().filter(|thing| crosses(thing.line, run.segment)) {
            let subject = format!("{}.{}", face.name, thing.name);
            let finding = match (upper, lower) {
                (Some(upper), Some(lower)) if upper != lower => {
                    let words = |kind: &str| kind.replace('_', " ");
                    let message = format!("`{}` is one piece across {} and {}", thing.name, words(lower), words(upper));
                    context
                        .fault(&META, subject, thing.origin, message)
                        .on_principle("common practice: split and lap where substrates differ", false)
                        .also(run.origin, "the line between them")
                        .help("split it there and lap the two pieces, upper over lower")
                }
                (Some(_), Some(_)) => continue,
                _ => {
                    let missing = format!("what the frames on both sides of `{}` are is not said (`kind`)", run.name);
                    context.unknown(&META, subject, thing.origin, missing)
                }
            };
            report.push(context.on_face(finding, id, &thing.name, run.segment.from, run.segment.to));
        }
    }
}

fn shrinking_floors(context: &CheckContext<'_>, id: FaceId, face: &Face, things: &[Thing], report: &mut Vec<Finding>) {
    for line in &face.floor_lines {
        // What is missing there is asked by the rule about floors.
        let Ok(drop) = settling::of_floor(context.model, line) else { continue };
        let drop = Length::snap_m(drop);
        let level = |thing: &Thing| {
            let (low, high) = (thing.line.from.y.min(thing.line.to.y), thing.line.from.y.max(thing.line.to.y));
            low < line.height && line.height < high
        };
        // Trims across a floor are told by the rule about floors where nothing breaks them.
        let crossing = things.iter().filter(|thing| thing.is_block && level(thing) && drop > Length::mm(1));
        for thing in crossing {
            let message = format!(
                "block `{}` is fixed above and below `{}`, where the frame settles by {}",
                thing.name,
                line.name,
                context.shown(drop)
            );
            let finding = context
                .fault(&META, format!("{}.{}", face.name, thing.name), thing.origin, message)
                .on_principle("common practice: nothing rigid crosses a floor that shrinks", false)
                .measured(context.measure(drop))
                .also(line.origin, "the floor")
                .help("move it to one side, or fix it on one side only");
            report.push(context.on_face(finding, id, &thing.name, thing.line.from, thing.line.to));
        }
    }
}
