//! What passes through boards: a hole where enough of the board is left round it, else a notch open to the near edge.

use super::Piece;
use crate::geometry::{Bounds, Polygon, Region};
use crate::model::{Face, Model, Service};
use crate::units::Length;

/// A hole or notch in a piece. It is measured on the piece as it lies on the wall, seen from outside: along from its left end (its
/// long point), up from its lower edge.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutout {
    /// What passes.
    pub service: String,
    /// From and to, along.
    pub along: (Length, Length),
    /// From and to, up.
    pub up: (Length, Length),
    /// Bored round: both stretches are its diameter.
    pub round: bool,
    /// Open to an edge of the piece.
    pub notch: bool,
}

impl Cutout {
    /// Its middle: along, up.
    pub fn centre(&self) -> (Length, Length) {
        let middle = |(from, to): (Length, Length)| from + Length((to - from).0 / 2);
        (middle(self.along), middle(self.up))
    }
}

/// Left free round what passes, and left of a board beside a hole; the error is the limit that is missing.
struct Rule {
    gap: Length,
    beside: Length,
}

/// Cuts the pieces of a face round its services; gives what cannot be cut, and the fact that is missing.
pub(super) fn cut_round(model: &Model, face: &Face, pieces: &mut [Piece]) -> Vec<String> {
    let services: Vec<&Service> = face.services.iter().filter(|service| service.block.is_none()).collect();
    if services.is_empty() {
        return Vec::new();
    }
    let limit = |name: &str| model.limit(name).and_then(|limit| limit.length());
    let Some((gap, beside)) = limit("service.cladding_gap").zip(limit("bore.beside")) else {
        return vec!["limits `service.cladding_gap` and `bore.beside`".to_owned()];
    };
    let rule = Rule { gap, beside };
    let mut missing = Vec::new();
    for service in services {
        let Some((shape, round)) = taken(service, &rule) else {
            missing.push(format!("boards round `{}`: say its width", service.name));
            continue;
        };
        for piece in pieces.iter_mut() {
            piece.cutouts.extend(of_piece(piece, service, shape, round, &rule));
        }
    }
    missing
}

/// What a service takes of the cladding, with the gap round it, and whether that is round.
fn taken(service: &Service, rule: &Rule) -> Option<(Bounds, bool)> {
    let width = service.sleeve.or(service.width)?;
    let height = if service.sleeve.is_some() { width } else { service.height.unwrap_or(width) };
    let half = |side: Length| Length(side.0 / 2) + rule.gap;
    let (at, wide, high) = (service.at, half(width), half(height));
    let box_like = matches!(service.kind, "box" | "meter" | "hood" | "panel");
    let bounds = Bounds { left: at.x - wide, bottom: at.y - high, right: at.x + wide, top: at.y + high };
    Some((bounds, width == height && !box_like))
}

fn of_piece(piece: &Piece, service: &Service, hole: Bounds, round: bool, rule: &Rule) -> Option<Cutout> {
    let own = piece.shape.bounds();
    if hole.right <= own.left || hole.left >= own.right || hole.top <= own.bottom || hole.bottom >= own.top {
        return None;
    }
    let region =
        |bounds: Bounds| Region::from(Polygon::rectangle(bounds.left, bounds.bottom, bounds.right, bounds.top));
    let shape = Region::from(piece.shape.clone());
    if !shape.overlaps(&region(hole)) {
        return None;
    }
    let room = Bounds {
        left: hole.left - rule.beside,
        bottom: hole.bottom - rule.beside,
        right: hole.right + rule.beside,
        top: hole.top + rule.beside,
    };
    let notch = !shape.covers(&region(room));
    // A notch runs out over the edges it comes too near to.
    let (mut left, mut right) = (hole.left.max(own.left), hole.right.min(own.right));
    let (mut bottom, mut top) = (hole.bottom.max(own.bottom), hole.top.min(own.top));
    if room.left < own.left {
        left = own.left;
    }
    if room.right > own.right {
        right = own.right;
    }
    if room.bottom < own.bottom {
        bottom = own.bottom;
    }
    if room.top > own.top {
        top = own.top;
    }
    Some(Cutout {
        service: service.name.clone(),
        along: (left - own.left, right - own.left),
        up: (bottom - own.bottom, top - own.bottom),
        round: round && !notch,
        notch,
    })
}

/// Too small to hold two fasteners: shorter than the limit `piece.least`, and running out to a point.
pub(super) fn too_small(model: &Model, piece: &Piece) -> bool {
    let Some(least) = model.limit("piece.least").and_then(|limit| limit.length()) else { return false };
    let bounds = piece.shape.bounds();
    // Doubled area of the piece and of the rectangle round it: a triangle is half of it, a board all of it.
    let whole = 2 * i128::from(bounds.width().0) * i128::from(bounds.height().0);
    let pointed = piece.shape.doubled_area() * 4 < whole * 3;
    piece.length < least && pointed
}
