//! A parapet that runs into a higher wall.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::{Edge, Face, FaceId};
use crate::units::Length;

/// `parapet.no_saddle`
pub struct ParapetNoSaddle;

static META: RuleMeta = RuleMeta {
    id: "parapet.no_saddle",
    catalogue: "LA-14",
    title: "a parapet runs into a higher wall without a saddle",
    grade: Grade::S1,
    before: "H3",
    limits: &[],
    explain: "\
# What it checks
At each end of a `parapet` where the wall goes on higher, on the same face or round the corner, the point has a
detail with a saddle: one `at saddle`, or with a `part saddle`.

# Why
Three planes meet there, and nobody draws it. Water enters under the end of the coping.

# Example
    parapet to (0, 3200mm), detail coping
    left to (0, 5400mm), meets tower

# Better
    parapet to (0, 3200mm), detail coping, point saddle
    left to (0, 5400mm), meets tower

# Basis
Common practice; a paper on parapet saddles puts missing details at the heart of their leaks.

# Known gaps
Whether the saddle is lapped in order is told by the laps of its parts.
",
};

impl Rule for ParapetNoSaddle {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let count = face.edges.len();
            for (at, edge) in face.edges.iter().enumerate().filter(|(_, edge)| edge.kind == "parapet") {
                let (before, after) = ((at + count - 1) % count.max(1), (at + 1) % count.max(1));
                // A point belongs to the edge that ends there.
                for (beside, end, owner) in [(before, edge.segment.from, before), (after, edge.segment.to, at)] {
                    let (Some(beside), Some(owner)) = (face.edges.get(beside), face.edges.get(owner)) else { continue };
                    report.extend(judge(context, (id, face), edge, beside, end, owner));
                }
            }
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    edge: &Edge,
    beside: &Edge,
    end: Point,
    owner: &Edge,
) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, edge.name);
    let far = if beside.segment.from == end { beside.segment.to } else { beside.segment.from };
    let up = beside.segment.is_vertical() && far.y > end.y;
    let corner = beside.meets.as_ref();
    let higher = match (up, corner) {
        (true, _) => format!("`{}` of the same wall", beside.name),
        (false, None) => return None,
        (false, Some(corner)) => match corner.id.and_then(|other| top_at(context, other, &face.name)) {
            Some(top) if top > end.y => format!("`{}`", corner.face),
            Some(_) => return None,
            None => {
                let missing = format!("how high `{}` is at this corner", corner.face);
                let finding = context.unknown(&META, subject, edge.origin, missing);
                return Some(context.on_face(finding, id, &edge.name, end, end));
            }
        },
    };
    let detail = owner.point.and_then(|point| context.model.detail(point));
    if detail.is_some_and(|detail| {
        detail.broken || detail.is_for(&["saddle"]) || detail.edge.parts.iter().any(|part| part.kind == "saddle")
    }) {
        return None;
    }
    let message = format!("`{}` runs into {higher}, which is higher, without a saddle", edge.name);
    let finding = context
        .fault(&META, subject, edge.origin, message)
        .on_principle("common practice: every point where three planes meet has a part of its own", false)
        .also(beside.origin, "the wall that goes on")
        .help(format!("give `{}` a `point` with a saddle: membrane, upturn, then the coping over it", owner.name));
    Some(context.on_face(finding, id, &edge.name, end, end))
}

/// How high a face is along the edge by which it meets another; absent if it does not meet it back.
fn top_at(context: &CheckContext<'_>, id: FaceId, back: &str) -> Option<Length> {
    let face = context.model.face(id)?;
    let meets = face.edges.iter().filter(|edge| edge.meets.as_ref().is_some_and(|corner| corner.face == back));
    meets.map(|edge| edge.segment.from.y.max(edge.segment.to.y)).max()
}
