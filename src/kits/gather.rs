//! Every piece of the cut lists, with the lane it goes up to.

use std::collections::BTreeMap;

use super::{KitPiece, Source, What, mass, reach};
use crate::continuity::{Lane, Order, Phase};
use crate::geometry::{Bounds, Point, Segment};
use crate::layout::folds::{Blank, Folds};
use crate::layout::furring_map::{self, FurringPiece};
use crate::layout::made::Made;
use crate::layout::pieces::{Piece, PieceKind};
use crate::layout::trims::{Role, TrimPiece};
use crate::model::{FaceId, Model, Stuff};
use crate::plan::Plan;
use crate::units::Length;

/// Stages in which pieces are fixed.
mod stage {
    pub const FURRING: u8 = 0;
    pub const TRIM: u8 = 1;
    pub const BOARD: u8 = 2;
    pub const TOP: u8 = 3;
}

/// Ends nearer than this to a line end at it.
const NEAR: Length = Length::mm(1);

/// What all gathering reads.
struct Gather<'m> {
    model: &'m Model,
    plan: &'m Plan,
    order: &'m Order,
    /// What is done in sections, and where it lies, by its dotted name.
    tasks: BTreeMap<&'m str, Vec<(Phase, Segment)>>,
    zones: Vec<(usize, FaceId, Bounds)>,
}

/// Every piece with the lane it goes up to; none for what goes on with the barrier.
pub(super) fn all(model: &Model, plan: &Plan, order: &Order, made: &Made) -> Vec<(Option<usize>, KitPiece)> {
    let mut tasks: BTreeMap<&str, Vec<(Phase, Segment)>> = BTreeMap::new();
    for task in &order.tasks {
        let known = tasks.entry(task.subject.as_str()).or_default();
        // A part that several sections share is one task in each of them.
        if !known.contains(&(task.phase, task.segment)) {
            known.push((task.phase, task.segment));
        }
    }
    let gather = Gather { model, plan, order, tasks, zones: reach::zones(model, plan) };
    let mut found: Vec<(Option<usize>, KitPiece)> =
        made.pieces(model, plan).list.iter().enumerate().map(|(at, piece)| gather.board(at, piece)).collect();
    found.extend(made.trims(model, plan).list.iter().enumerate().map(|(at, piece)| gather.trim(at, piece)));
    for face in (0..model.faces.len()).map(|face| FaceId(face as u32)) {
        let strips = furring_map::of_face(model, plan, face);
        found.extend(strips.iter().enumerate().flat_map(|(at, strip)| gather.strip(face, at, strip)));
    }
    found.extend(gather.flashings(made.folds(model, plan)));
    found
}

impl Gather<'_> {
    fn board(&self, at: usize, piece: &Piece) -> (Option<usize>, KitPiece) {
        let bounds = piece.seen.bounds();
        let upright = piece.kind == PieceKind::UprightBoard;
        let mass = mass::of_surface(self.model, piece.product, piece.shape.area(), piece.length);
        let product = piece.product.and_then(|id| self.model.product(id));
        self.placed(
            piece.face,
            if upright { foot(bounds) } else { middle(bounds) },
            KitPiece {
                what: What::Board,
                source: Source::Board(at),
                mark: format!("{}{}", piece.mark, piece.hand.map_or("", |hand| hand.letter())),
                item: product.map_or_else(String::new, |product| product.name.replace('_', " ")),
                product: piece.product,
                length: piece.length,
                rip: (piece.ripped || piece.kind == PieceKind::Panel).then_some(piece.width),
                holes: 0,
                bounds,
                stage: stage::BOARD,
                past: None,
                above: None,
                unreached: None,
                mass,
            },
        )
    }

    fn trim(&self, at: usize, piece: &TrimPiece) -> (Option<usize>, KitPiece) {
        let line = piece.segment();
        let bounds = around(line);
        let top = matches!(piece.role, Role::Rake | Role::Frieze | Role::Coping);
        let place = if line.is_vertical() { foot(bounds) } else { line.midpoint() };
        let piece_of = KitPiece {
            what: What::Trim,
            source: Source::Trim(at),
            mark: format!("{}{}", piece.mark, piece.hand.map_or("", |hand| hand.letter())),
            item: format!("{}, {}", piece.role.words(), piece.item),
            product: piece.product,
            length: piece.length,
            rip: None,
            holes: piece.hole_count() as u64,
            bounds,
            stage: if top { stage::TOP } else { stage::TRIM },
            past: None,
            above: None,
            unreached: None,
            mass: mass::of_length(self.model, piece.product, piece.length),
        };
        self.unless_before(&piece.name, piece.face, place, piece_of)
    }

    /// A strip, or each of the lengths it is spliced from.
    fn strip(&self, face: FaceId, at: usize, strip: &FurringPiece) -> Vec<(Option<usize>, KitPiece)> {
        let wall = self.plan.face(face).and_then(|plan| plan.outline.bounds()).unwrap_or_default();
        let stuff = self.stuff_of(face, strip);
        let product = stuff.and_then(|stuff| stuff.product);
        let item = stuff.map_or_else(String::new, |stuff| stuff.name.replace('_', " "));
        let whole = [strip.length];
        let lengths = if strip.spliced.is_empty() { &whole[..] } else { &strip.spliced };
        let free = strip.length - lengths.iter().copied().sum();
        let gap = Length(free.0 / (lengths.len() as i64 - 1).max(1));
        let mut from = strip.from;
        let mut found = Vec::new();
        for (part, &length) in lengths.iter().enumerate() {
            let (low, high) = (from, from + length);
            from = high + gap;
            let (near, far) = (strip.centre - strip.width / 2, strip.centre + strip.width / 2);
            let bounds = if strip.horizontal {
                let (left, right) = (wall.left + low, wall.left + high);
                Bounds { left, right, bottom: wall.bottom + near, top: wall.bottom + far }
            } else {
                Bounds { left: wall.left + near, right: wall.left + far, bottom: low, top: high }
            };
            let letter = if lengths.len() > 1 { letter(part) } else { String::new() };
            found.push(self.placed(
                face,
                if strip.horizontal { middle(bounds) } else { foot(bounds) },
                KitPiece {
                    what: What::Furring,
                    source: Source::Strip(face, at, part),
                    mark: format!("{}{letter}", strip.mark),
                    item: item.clone(),
                    product,
                    length,
                    rip: None,
                    holes: 0,
                    bounds,
                    stage: stage::FURRING,
                    past: None,
                    above: None,
                    unreached: None,
                    mass: mass::of_length(self.model, product, length),
                },
            ));
        }
        found
    }

    fn stuff_of(&self, face: FaceId, strip: &FurringPiece) -> Option<&Stuff> {
        let area = self.model.face(face)?.areas.get(strip.area)?;
        let (_, gap) = self.model.assembly(area.assembly)?.gap()?;
        let lying = |furring: &&crate::model::Furring| {
            (furring.direction == Some(crate::model::Direction::Horizontal)) == strip.horizontal
        };
        let counter = gap.furring.first().and_then(|furring| furring.counter.as_ref()).filter(|_| !strip.horizontal);
        let own = gap.furring.iter().find(lying).map(|furring| &furring.stuff);
        own.or(counter.map(|(stuff, _)| stuff)).or(gap.furring.first().map(|furring| &furring.stuff))
    }

    fn flashings(&self, folds: &Folds) -> Vec<(Option<usize>, KitPiece)> {
        let mut started: BTreeMap<&str, usize> = BTreeMap::new();
        let mut found = Vec::new();
        for (at, blank) in folds.blanks.iter().enumerate() {
            let Some(profile) = folds.profiles.get(blank.profile) else { continue };
            let turn = started.entry(blank.place.as_str()).or_default();
            if blank.part.0 == 1 {
                *turn += 1;
            }
            let line = self.line_of(blank, *turn);
            let bounds = line.map(around).unwrap_or_default();
            let area = profile.girth * blank.length;
            let piece = KitPiece {
                what: What::Flashing,
                source: Source::Flashing(at),
                mark: blank.mark.clone(),
                item: format!("{}, fold {}", profile.called, profile.mark),
                product: Some(profile.product),
                length: blank.length,
                rip: None,
                holes: 0,
                bounds,
                stage: stage::TRIM,
                past: None,
                above: None,
                unreached: None,
                mass: mass::of_surface(self.model, Some(profile.product), area, blank.length),
            };
            let place = line.map_or(Point::default(), |line| line.midpoint());
            found.push(self.unless_before(&blank.place, blank.face, place, piece));
        }
        found
    }

    /// Where one of the lengths of a flashing lies: of the stretch that comes `turn`th under its name.
    fn line_of(&self, blank: &Blank, turn: usize) -> Option<Segment> {
        let known = self.tasks.get(blank.place.as_str())?;
        let (_, line) = known.get(turn.saturating_sub(1) % known.len().max(1))?;
        let step = |at: i64| line.along(line.length().scale(at, blank.part.1.max(1)));
        Some(Segment::new(step(blank.part.0 - 1), step(blank.part.0)))
    }

    /// In no kit if it is done before the first section.
    fn unless_before(&self, name: &str, face: FaceId, place: Point, piece: KitPiece) -> (Option<usize>, KitPiece) {
        let known = self.tasks.get(name).map(Vec::as_slice).unwrap_or_default();
        let before = !known.is_empty() && known.iter().all(|(phase, _)| *phase < Phase::Sections);
        if before { (None, piece) } else { self.placed(face, place, piece) }
    }

    fn placed(&self, face: FaceId, place: Point, mut piece: KitPiece) -> (Option<usize>, KitPiece) {
        let lane = self.order.faces.get(&face).and_then(|lanes| lanes.at(&self.order.lanes, place));
        piece.unreached = reach::unreached(&self.zones, face, piece.bounds);
        if let Some(of) = lane.and_then(|lane| self.order.lanes.get(lane)) {
            (piece.past, piece.above) = self.beyond(face, of, piece.bounds);
        }
        (lane, piece)
    }

    /// How far a piece goes past the lines of its lane, and past its stop line.
    fn beyond(&self, face: FaceId, lane: &Lane, piece: Bounds) -> (Option<Length>, Option<Length>) {
        let wall = self.plan.face(face).and_then(|plan| plan.outline.bounds()).unwrap_or_default();
        let left = (lane.left - piece.left).max(Length::ZERO);
        let right = (piece.right - lane.right).max(Length::ZERO);
        let left = if lane.left > wall.left { left } else { Length::ZERO };
        let right = if lane.right < wall.right { right } else { Length::ZERO };
        let past = Some(left.max(right)).filter(|past| *past > NEAR);
        let above = Some(piece.top - lane.top).filter(|above| lane.stops && *above > NEAR);
        (past, above)
    }
}

fn around(line: Segment) -> Bounds {
    Bounds::around([line.from, line.to]).unwrap_or_default()
}

fn middle(bounds: Bounds) -> Point {
    Point::new(bounds.left + bounds.width() / 2, bounds.bottom + bounds.height() / 2)
}

/// A little above its lower end: a piece that starts at a stop line belongs to what is above it.
fn foot(bounds: Bounds) -> Point {
    Point::new(bounds.left + bounds.width() / 2, bounds.bottom + (bounds.height() / 2).min(Length::mm(10)))
}

/// `a`, `b`, …; numbers where the letters end.
fn letter(part: usize) -> String {
    u8::try_from(part)
        .ok()
        .filter(|part| *part < 26)
        .map_or_else(|| format!("-{}", part + 1), |part| char::from(b'a' + part).to_string())
}
