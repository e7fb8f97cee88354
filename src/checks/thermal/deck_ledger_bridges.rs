//! A deck that is bolted through the insulation.

use super::{frost, outboard_insulation};
use crate::checks::pieces::{area_at, faces, wall};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::{Deck, Face, FaceId, Where};
use crate::units::Length;

/// `deck.ledger_bridges`
pub struct DeckLedgerBridges;

static META: RuleMeta = RuleMeta {
    id: "deck.ledger_bridges",
    catalogue: "TH-06",
    title: "a ledger is bolted to the frame through the insulation",
    grade: Grade::S3,
    before: "H0",
    limits: &[],
    explain: "\
# What it checks
A deck on a wall with insulation outside the sheathing bears on standoffs with a break, or on posts of its own: not on a
ledger hard against the frame.

# Why
The ledger is a strip of cold wall, and inside it is a strip of mould along the floor.

# Example
    deck porch at -100mm from 1200mm to 4800mm, bears ledger

# Better
    deck porch at -100mm from 1200mm to 4800mm, bears standoffs

# Basis
Common practice; no simple limit, the loss is calculated. It warns.

# Known gaps
Canopies and brackets are not declared in this language. What the standoffs carry is the engineer's to say.
",
};

impl Rule for DeckLedgerBridges {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            for deck in &face.decks {
                report.extend(judge(context, (id, face), deck));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, (id, face): (FaceId, &Face), deck: &Deck) -> Option<Finding> {
    let bounds = context.plan.face(id)?.outline.bounds()?;
    let x = |place: Where| match place {
        Where::Left => bounds.left,
        Where::Right => bounds.right,
        Where::Centre => (bounds.left + bounds.right) / 2,
        Where::At(x) => x,
    };
    let (from, to) = (Point::new(x(deck.from), deck.height), Point::new(x(deck.to), deck.height));
    let middle = Point::new((from.x + to.x) / 2, deck.height);
    // A deck may lie just below the foot of the wall it stands against.
    let above = Point::new(middle.x, middle.y.max(bounds.bottom) + Length::mm(1));
    let area = area_at(context, id, middle).or_else(|| area_at(context, id, above))?;
    let wall = wall(context, id, area)?;
    let (frame, _) = wall.frame()?;
    let layer = outboard_insulation(context, wall, frame).into_iter().next()?;
    let subject = format!("{}.{}", face.name, deck.name);
    let finding = match deck.bears {
        Some("ledger") => {
            let message = format!(
                "the ledger of `{}` is bolted through `{}`: a cold strip{}",
                deck.name,
                layer.name,
                frost(context)
            );
            context
                .fault(&META, subject, deck.origin, message)
                .on_principle("common practice", false)
                .also(layer.origin, "the insulation")
                .help("take standoff brackets with a break (`bears standoffs`), or posts of its own (`bears posts`)")
        }
        Some(_) => return None,
        None => {
            let missing = format!("how the weight of `{}` reaches the house (`bears`)", deck.name);
            context.unknown(&META, subject, deck.origin, missing)
        }
    };
    Some(context.on_face(finding, id, &deck.name, from, to))
}
