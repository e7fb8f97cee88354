//! A screen that stops short of the corner.

use crate::checks::pieces::{faces, place};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::{Edge, Face, FaceId, GapEnd, Limit};
use crate::plan::{Run, RunPlace};
use crate::units::Length;

/// `screen.breaks_at_corner`
pub struct ScreenBreaksAtCorner;

static META: RuleMeta = RuleMeta {
    id: "screen.breaks_at_corner",
    catalogue: "PE-04",
    title: "the screen at the foot of the wall is open at a corner",
    grade: Grade::S2,
    before: "H4",
    limits: &["screen.lap"],
    explain: "\
# What it checks
Where two walls meet and the gap of both is open and screened at the foot, one of the screens runs round the corner
(`wraps`) as far as the rule set asks.

# Why
The screen is cut wall by wall; the last 40 mm are the door.

# Example
    gap_end open, screen meshes.insect, faces down

# Better
    gap_end open, screen meshes.insect, wraps 50mm, faces down

# Basis
50 mm: common practice, no source. It warns.

# Known gaps
Corners whose two foot lines end at different heights are not asked. Tops are not asked.
",
};

impl Rule for ScreenBreaksAtCorner {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let Some(limit) = context.length_limit(&META, "screen.lap", report) else { return };
        for (id, face) in faces(context.model) {
            for edge in &face.edges {
                let other = edge.meets.as_ref().and_then(|corner| corner.id).filter(|other| *other > id);
                report.extend(other.and_then(|other| judge(context, (id, face, edge), other, limit)));
            }
        }
    }
}

/// The foot line that ends at a corner, with its screened opening.
struct Foot<'c> {
    run: &'c Run,
    end: &'c GapEnd,
    at: Point,
}

fn foot<'c>(context: &CheckContext<'c>, id: FaceId, face: &Face, edge: &Edge) -> Option<Foot<'c>> {
    let at = edge.segment.lower_end();
    let plan = context.plan;
    let (_, run) = plan.runs_of(id).find(|(_, run)| {
        let base =
            matches!(run.place, RunPlace::Edge(at) if face.edges.get(at).is_some_and(|edge| edge.kind == "base"));
        base && (run.segment.from == at || run.segment.to == at)
    })?;
    let end = place(context, run)?.gap_ends.iter().find(|end| end.open && end.screen.is_some())?;
    Some(Foot { run, end, at })
}

fn judge(
    context: &CheckContext<'_>,
    (id, face, edge): (FaceId, &Face, &Edge),
    other: FaceId,
    (limit, least): (&Limit, Length),
) -> Option<Finding> {
    let neighbour = context.model.face(other).filter(|face| !face.broken)?;
    let back = neighbour.edges.iter().find(|edge| edge.meets.as_ref().and_then(|corner| corner.id) == Some(id))?;
    let (here, there) = (foot(context, id, face, edge)?, foot(context, other, neighbour, back)?);
    if here.at.y != there.at.y {
        return None;
    }
    let wraps = here.end.wraps.max(there.end.wraps);
    if wraps.is_some_and(|wraps| wraps >= least) {
        return None;
    }
    let subject = format!("{}.{}", face.name, edge.name);
    let finding = match wraps {
        None => {
            let missing = format!("how far the screens of `{}` and `{}` lap (`wraps`)", here.run.name, there.run.name);
            context.unknown(&META, subject, here.end.origin, missing)
        }
        Some(wraps) => {
            let message = format!(
                "the screens of `{}` and `{}` lap {} at the corner: {} is wanted",
                here.run.name,
                there.run.name,
                context.shown(wraps),
                context.shown(least)
            );
            let finding = context.fault(&META, subject, here.end.origin, message).against(limit);
            let finding = finding.measured(context.measure(wraps)).wanted(context.measure(least));
            finding.help("carry one screen round the corner and lap the other on it")
        }
    };
    let finding = finding.also(edge.origin, "the corner");
    Some(context.on_face(finding, id, &edge.name, here.at, here.at))
}
