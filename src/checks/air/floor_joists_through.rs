//! Joists that run through the wall with open spaces between them.

use super::ends::PRINCIPLE;
use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::DetailId;
use crate::source::Span;
use crate::units::Length;

/// `floor.joists_through`
pub struct FloorJoistsThrough;

static META: RuleMeta = RuleMeta {
    id: "floor.joists_through",
    catalogue: "AI-05",
    title: "joists run through the wall and the spaces between them are open",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Where the joists of a floor or deck run `through` the wall, the spaces between them are `blocked` and sealed: so it is said, or
the detail there has a blocking part and a part that carries the barrier.

# Why
A bay, a porch roof or a balcony carries cold air between its joists, straight into the floor.

# Example
    deck porch at 300mm from left to 2400mm, joists through, blocked no

# Better
    deck porch at 300mm from left to 2400mm, joists through, blocked yes

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
A floor or deck that says nothing of its joists is taken to end inside the wall, or at a ledger outside it.
",
};

impl Rule for FloorJoistsThrough {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let bounds = context.plan.face(id).and_then(|plan| plan.outline.bounds());
            let (left, right) = bounds.map_or((Length::ZERO, Length::ZERO), |bounds| (bounds.left, bounds.right));
            let floors = face.floor_lines.iter().map(|line| Through {
                word: "floor",
                name: &line.name,
                through: line.joists_through,
                blocked: line.blocked,
                detail: line.detail,
                height: line.height,
                origin: line.origin,
            });
            let decks = face.decks.iter().map(|deck| Through {
                word: "deck",
                name: &deck.name,
                through: deck.joists_through,
                blocked: deck.blocked,
                detail: deck.detail,
                height: deck.height,
                origin: deck.origin,
            });
            for one in floors.chain(decks).filter(|one| one.through == Some(true)) {
                let finding = judge(context, &face.name, &one);
                let (from, to) = (Point::new(left, one.height), Point::new(right, one.height));
                report.extend(finding.map(|finding| context.on_face(finding, id, one.name, from, to)));
            }
        }
    }
}

struct Through<'m> {
    word: &'static str,
    name: &'m str,
    through: Option<bool>,
    blocked: Option<bool>,
    detail: Option<DetailId>,
    height: Length,
    origin: Span,
}

fn judge(context: &CheckContext<'_>, face: &str, one: &Through<'_>) -> Option<Finding> {
    let subject = format!("{face}.{}", one.name);
    let detail = one.detail.and_then(|id| context.model.detail(id)).filter(|detail| !detail.broken);
    let in_detail = detail.is_some_and(|detail| {
        let blocks = detail.edge.parts.iter().any(|part| matches!(part.kind, "blocking" | "block"));
        blocks && detail.edge.parts.iter().any(|part| part.controls.air)
    });
    match one.blocked {
        Some(true) => None,
        _ if in_detail => None,
        None => {
            let missing =
                format!("whether the spaces between the joists of {} `{}` are blocked (`blocked`)", one.word, one.name);
            Some(context.unknown(&META, subject, one.origin, missing))
        }
        Some(false) => {
            let message = format!("the joists of {} `{}` run through the wall, open between them", one.word, one.name);
            Some(
                context
                    .fault(&META, subject, one.origin, message)
                    .on_principle(PRINCIPLE, true)
                    .help("block and seal each space between joists at the line of the wall: `blocked yes`"),
            )
        }
    }
}
