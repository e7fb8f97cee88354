//! Blocks and ledgers that hold a film of water against the wall.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::{Block, Deck, Face, FaceId, Limit, Where};
use crate::units::Length;

/// `board.holds_film`
pub struct BoardHoldsFilm;

static META: RuleMeta = RuleMeta {
    id: "board.holds_film",
    catalogue: "FR-06",
    title: "a board holds a film of water against the wall",
    grade: Grade::S2,
    before: "H3",
    limits: &["film.contact", "film.drained"],
    explain: "\
# What it checks
Each block that lies on the plane with `film.contact` or more, and each deck that touches the wall: `stands_off` leaves
`film.drained` or more of drained space behind it, or behind the ledger of the deck.

# Why
The film behind a board that lies tight freezes, swells and pries it off; the wood behind it stays wet in spring.

# Example
    deck terrace at -150mm from 0mm to 3000mm

# Better
    deck terrace at -150mm from 0mm to 3000mm, stands_off 10mm

# Basis
Common practice: 6 to 10 mm of space that drains.

# Known gaps
Whether the spacers themselves let water pass is seen on the wall. Blocks on furring or on the cladding are not asked.
",
};

impl Rule for BoardHoldsFilm {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let any = faces(context.model).any(|(_, face)| !face.decks.is_empty() || !face.blocks.is_empty());
        if !any {
            return;
        }
        let Some((_, contact)) = context.number_limit(&META, "film.contact", report) else { return };
        let Some((limit, least)) = context.length_limit(&META, "film.drained", report) else { return };
        for (id, face) in faces(context.model) {
            for (at, block) in face.blocks.iter().enumerate() {
                let shape = context.plan.face(id).and_then(|plan| plan.blocks.get(at)?.as_ref());
                if block.on == Some("plane") && shape.is_some_and(|shape| shape.area().as_m2() >= contact) {
                    let board = Board::block(face, block);
                    report.extend(judge(context, id, &board, (limit, least)));
                }
            }
            for deck in &face.decks {
                report.extend(judge(context, id, &Board::deck(face, deck), (limit, least)));
            }
        }
    }
}

/// What lies against the wall.
struct Board<'b> {
    subject: String,
    name: &'b str,
    what: &'static str,
    space: Option<Length>,
    from: Point,
    to: Point,
    origin: crate::source::Span,
}

impl<'b> Board<'b> {
    fn block(face: &Face, block: &'b Block) -> Self {
        Self {
            subject: format!("{}.{}", face.name, block.name),
            name: &block.name,
            what: "block",
            space: block.stands_off,
            from: block.at,
            to: block.at,
            origin: block.origin,
        }
    }

    fn deck(face: &Face, deck: &'b Deck) -> Self {
        let bounds = face.outline.as_ref().and_then(|ring| ring.bounds()).unwrap_or_default();
        let x = |place: Where| match place {
            Where::Left => bounds.left,
            Where::Right => bounds.right,
            Where::Centre => (bounds.left + bounds.right) / 2,
            Where::At(x) => x,
        };
        Self {
            subject: format!("{}.{}", face.name, deck.name),
            name: &deck.name,
            what: "ledger of the deck",
            space: deck.stands_off,
            from: Point::new(x(deck.from), deck.height),
            to: Point::new(x(deck.to), deck.height),
            origin: deck.origin,
        }
    }
}

fn judge(
    context: &CheckContext<'_>,
    id: FaceId,
    board: &Board<'_>,
    (limit, least): (&Limit, Length),
) -> Option<Finding> {
    let place = |finding: Finding| Some(context.on_face(finding, id, board.name, board.from, board.to));
    let Some(space) = board.space else {
        let missing = format!("the drained space behind the {} `{}` (`stands_off`)", board.what, board.name);
        return place(context.unknown(&META, board.subject.as_str(), board.origin, missing));
    };
    if space >= least {
        return None;
    }
    let how = if space <= Length::ZERO {
        "lies tight on".to_owned()
    } else {
        format!("stays only {} off", context.shown(space))
    };
    let message =
        format!("the {} `{}` {how} the wall: a film of water stays behind it and freezes", board.what, board.name);
    let finding = context.fault(&META, board.subject.as_str(), board.origin, message).against(limit);
    let finding = finding.measured(context.measure(space)).wanted(context.measure(least));
    place(finding.help(format!("put spacers behind it: {} or more, open at their foot", context.shown(least))))
}
