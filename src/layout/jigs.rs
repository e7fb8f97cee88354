//! Every angle that is cut on a building, each once: what the saw is set to or why it needs a jig, what uses it, which way
//! the pieces are handed.

use std::collections::{BTreeMap, BTreeSet};

use super::angles::{self, Setting};
use super::made::Made;
use super::pieces::{Piece, PieceKind};
use super::trims::{Cut, Trims};
use crate::model::{FaceId, Model, ProductId};
use crate::plan::Plan;
use crate::units::Length;

/// How far a saw leans where no limit `saw.angle` is in force. Common practice, no source.
const SAW: f64 = 50.0;
/// Cuts nearer to square than this are square.
const SQUARE: f64 = 0.05;
/// From here on a cut runs along the board rather than across it: it is ripped to a chalk line. Common practice, no source.
const TAPER: f64 = 80.0;
/// Angles nearer to one another than this are one setting of the saw, in parts of a degree.
const STEP: f64 = 20.0;

/// What is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// Boards and sheets that lie level.
    Level,
    /// Boards that stand.
    Upright,
    /// Trims and strips that run along a sloping edge: cut plumb.
    Edge,
    /// Trims that meet at half their angle, across the face.
    Mitre,
    /// Trims that go round a corner of the building, through their thickness.
    Bevel,
}

/// One end of one piece that has this cut.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Use {
    /// The mark of the piece with its hand, or the name of the edge.
    pub mark: String,
    /// It leans to the right as it goes up, seen from outside.
    pub leans_right: bool,
    /// At the right (upper) end of the piece.
    pub at_right: bool,
}

/// One angle, everything that is cut to it, and how it is set.
#[derive(Clone, Debug, PartialEq)]
pub struct Jig {
    /// `J1`: to write on the jig.
    pub mark: String,
    /// What is cut.
    pub what: What,
    /// The board or sheet, where it is known.
    pub product: Option<ProductId>,
    /// Walls, in the order of the files.
    pub faces: Vec<FaceId>,
    /// Rise over run of the line the cut follows on the wall; never negative.
    pub slope: f64,
    /// What the saw is set to, degrees.
    pub from_square: f64,
    /// How far the saw leans, degrees.
    pub saw: f64,
    /// On a framing square.
    pub settings: [Setting; 3],
    /// The widest piece that is cut so: the trial is made on it.
    pub width: Length,
    /// Height of a course (what a standing board covers), where all pieces have the same.
    pub step: Option<Length>,
    /// Each course is so much shorter at this end than the one below (each standing board longer than the last).
    pub difference: Option<Length>,
    /// The face of the board shows: turned over it would lap the wrong way.
    pub handed: bool,
    /// What uses it.
    pub uses: Vec<Use>,
}

impl Jig {
    /// The saw does not reach: the cut is made from the other side of the square, on a jig.
    pub fn past_the_saw(&self) -> bool {
        self.from_square > self.saw + 1e-9
    }

    /// What is left to the right angle: the saw's setting when the board stands on end against a fence.
    pub fn complement(&self) -> f64 {
        90.0 - self.from_square
    }

    /// It runs along the board: a chalk line and a straight-edge, not a jig for the saw.
    pub fn taper(&self) -> bool {
        self.from_square > TAPER
    }

    /// Cuts that lean left and cuts that lean right.
    pub fn hands(&self) -> (usize, usize) {
        let right = self.uses.iter().filter(|used| used.leans_right).count();
        (self.uses.len() - right, right)
    }

    /// Long side less short side on the widest piece: what the tape must show at the trial.
    pub fn test(&self) -> Length {
        angles::long_less_short(self.width, self.from_square)
    }

    /// Length of the cut on the widest piece.
    pub fn cut(&self) -> Length {
        angles::cut_length(self.width, self.from_square)
    }

    /// How two mirror images come out of one board.
    pub fn flip_rule(&self) -> String {
        let (left, right) = self.hands();
        let pairs = left.min(right);
        let odd = left.max(right) - pairs;
        let count = match (pairs, odd) {
            (0, _) => return format!("all {odd} lean {}: no pairs", if left > right { "left" } else { "right" }),
            (pairs, 0) => format!("{pairs} pairs"),
            (pairs, odd) => {
                format!("{pairs} pairs and {odd} odd, leaning {}", if left > right { "left" } else { "right" })
            }
        };
        if self.what == What::Edge {
            return format!("{count}: cut the two sides of a gable as a pair, face up both times");
        }
        if matches!(self.what, What::Mitre | What::Bevel) {
            return format!(
                "{count}: the long edge lies outwards, the face up; cut left and right ends of one setting"
            );
        }
        if self.handed {
            format!(
                "{count}: the board is handed, never turn it over or end for end; an offcut does not serve the other side, \
                 so cut left and right"
            )
        } else {
            format!(
                "{count}: one cut makes two ends that lean alike; turn the offcut over and it serves the other rake"
            )
        }
    }
}

/// Every angle of the building, pieces first, then edges; the steepest setting of the saw first.
pub fn find(model: &Model, plan: &Plan, made: &Made) -> Vec<Jig> {
    let limit = model.limit("saw.angle").and_then(|limit| limit.number()).map_or(SAW, f64::to_degrees);
    let mut groups: BTreeMap<(What, Option<ProductId>, i64), Group<'_>> = BTreeMap::new();
    for piece in &made.pieces(model, plan).list {
        for (side, end) in piece.ends.iter().enumerate().filter(|(_, end)| end.from_square.abs() > SQUARE) {
            let what = if piece.kind == PieceKind::UprightBoard { What::Upright } else { What::Level };
            let group = groups.entry((what, piece.product, key(end.from_square.abs()))).or_default();
            group.add(piece, side, end.from_square);
        }
    }
    let mut jigs: Vec<Jig> = groups
        .into_iter()
        .map(|((what, product, _), group)| {
            let from_square = group.angle;
            let theta = if what == What::Upright { from_square } else { 90.0 - from_square };
            let handed = product.and_then(|id| model.product(id)).is_some_and(|product| product.lap.is_some());
            Jig { product, handed, ..jig(what, angles::slope(theta), from_square, limit, &group, step(plan, &group)) }
        })
        .collect();
    jigs.extend(edges(plan, limit));
    jigs.extend(mitres(model, made.trims(model, plan), limit));
    jigs.sort_by(|one, two| one.what.cmp(&two.what).then(two.from_square.total_cmp(&one.from_square)));
    for (at, jig) in jigs.iter_mut().enumerate() {
        jig.mark = format!("J{}", at + 1);
    }
    jigs
}

/// Which setting of the saw an angle belongs to.
fn key(degrees: f64) -> i64 {
    (degrees * STEP).round() as i64
}

/// What is cut alike.
#[derive(Default)]
struct Group<'p> {
    angle: f64,
    /// Of the longest cut, whose angle is the surest.
    longest: Length,
    width: Length,
    faces: BTreeSet<FaceId>,
    uses: BTreeSet<Use>,
    pieces: Vec<&'p Piece>,
}

impl<'p> Group<'p> {
    fn add(&mut self, piece: &'p Piece, side: usize, degrees: f64) {
        let across = piece.ends.get(side).map_or(Length::ZERO, |end| end.across);
        if across > self.longest || self.uses.is_empty() {
            self.longest = across;
            self.angle = degrees.abs();
        }
        self.width = self.width.max(piece.width);
        self.faces.insert(piece.face);
        let mark = format!("{}{}", piece.mark, piece.hand.map_or("", |hand| hand.letter()));
        self.uses.insert(Use { mark, leans_right: degrees > 0.0, at_right: side == 1 });
        self.pieces.push(piece);
    }
}

/// Height of a course, where all faces of the group have the same and the pieces lie in courses.
fn step(plan: &Plan, group: &Group<'_>) -> Option<Length> {
    let kind = group.pieces.first()?.kind;
    if kind != PieceKind::Board {
        return None;
    }
    let mut steps = group.faces.iter().map(|face| plan.face(*face).and_then(|face| face.exposure));
    let first = steps.next()??;
    steps.all(|step| step == Some(first)).then_some(first)
}

fn jig(what: What, slope: f64, from_square: f64, saw: f64, group: &Group<'_>, step: Option<Length>) -> Jig {
    let difference = match what {
        What::Upright => None,
        _ => step.and_then(|step| angles::loss(step, slope)),
    };
    Jig {
        mark: String::new(),
        what,
        product: None,
        faces: group.faces.iter().copied().collect(),
        slope,
        from_square,
        saw,
        settings: angles::settings(slope),
        width: group.width,
        step,
        difference,
        handed: false,
        uses: group.uses.iter().cloned().collect(),
    }
}

/// Plumb cuts of what runs along sloping edges: rakes, sloping bases, roofs against walls.
fn edges(plan: &Plan, saw: f64) -> Vec<Jig> {
    let mut groups: BTreeMap<i64, Group<'_>> = BTreeMap::new();
    for run in &plan.runs {
        let (from, to) = (run.segment.from, run.segment.to);
        let (along, up) = ((to.x - from.x).as_mm(), (to.y - from.y).as_mm());
        if along.abs() < 1.0 || up.abs() < 1.0 {
            continue;
        }
        let degrees = libm::atan(up / along).to_degrees();
        if degrees.abs() <= SQUARE {
            continue;
        }
        let group = groups.entry(key(degrees.abs())).or_default();
        group.angle = degrees.abs();
        group.faces.insert(run.face);
        // The edge that rises to the right ends at its upper end in a cut that is plumb: one hand; the other side, the other.
        group.uses.insert(Use { mark: run.name.clone(), leans_right: degrees < 0.0, at_right: degrees > 0.0 });
    }
    let made =
        groups.into_values().map(|group| jig(What::Edge, angles::slope(group.angle), group.angle, saw, &group, None));
    made.collect()
}

/// Mitres and bevels of trims.
fn mitres(model: &Model, trims: &Trims, saw: f64) -> Vec<Jig> {
    let mut groups: BTreeMap<(What, i64), Group<'_>> = BTreeMap::new();
    for piece in &trims.list {
        let product = piece.product.and_then(|id| model.product(id));
        for (side, end) in piece.ends.iter().enumerate() {
            let (what, degrees) = match end.cut {
                Cut::Mitre(degrees) => (What::Mitre, degrees),
                Cut::Bevel(degrees) => (What::Bevel, degrees),
                Cut::Square | Cut::Plumb(_) => continue,
            };
            if degrees <= SQUARE {
                continue;
            }
            let across = product.and_then(|product| match what {
                What::Bevel => product.thickness.map(|(_, most)| most),
                _ => product.width,
            });
            let group = groups.entry((what, key(degrees))).or_default();
            group.angle = degrees;
            group.width = group.width.max(across.unwrap_or(Length::ZERO));
            group.faces.insert(piece.face);
            let mark = format!("{}{}", piece.mark, piece.hand.map_or("", |hand| hand.letter()));
            // The long edge lies outwards: the cut leans away from the piece at both its ends.
            group.uses.insert(Use { mark, leans_right: side == 1, at_right: side == 1 });
        }
    }
    let made = groups
        .into_iter()
        .map(|((what, _), group)| jig(what, angles::slope(group.angle), group.angle, saw, &group, None));
    made.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::heron_lane;

    #[test]
    fn every_raked_end_is_on_one_card_and_the_gable_needs_a_jig() {
        let checked = heron_lane();
        let pieces = checked.pieces();
        let jigs = find(&checked.model, &checked.plan, &checked.made);
        let ends =
            pieces.list.iter().flat_map(|piece| &piece.ends).filter(|end| end.from_square.abs() > SQUARE).count();
        assert!(ends > 40);
        assert_eq!(jigs.iter().filter(|jig| jig.what <= What::Upright).map(|jig| jig.uses.len()).sum::<usize>(), ends);
        // 2400 in 3600 is 8 in 12.
        let gable = jigs.iter().find(|jig| jig.what == What::Level && (jig.slope - 2.0 / 3.0).abs() < 0.002).unwrap();
        assert!(gable.past_the_saw() && (gable.saw - 50.0).abs() < 1e-9);
        assert!((gable.from_square - 56.31).abs() < 0.05 && (gable.complement() - 33.69).abs() < 0.05);
        let step = gable.step.unwrap().as_mm();
        assert!((gable.difference.unwrap().as_mm() - step * 1.5).abs() < 0.5);
        let (left, right) = gable.hands();
        assert!(left > 10 && right > 10, "{left} {right}");
        assert!(gable.flip_rule().contains("never turn it over"));
        // The rake itself is cut plumb at 33.69°, within the saw.
        let rake = jigs.iter().find(|jig| jig.what == What::Edge && (jig.from_square - 33.69).abs() < 0.05).unwrap();
        assert!(!rake.past_the_saw() && rake.uses.iter().any(|used| used.mark.contains("rake")));
    }
}
