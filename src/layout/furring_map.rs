//! Every strip of furring as it is cut and fixed: where it stands from one end of the wall, how long, how its ends are cut.

use super::pieces::{End, ends_of, initials};
use super::trims::{Join, split};
use crate::geometry::Bounds;
use crate::model::{Direction, FaceId, Furring, Model, ProductId, Stuff};
use crate::plan::{Plan, Strip, StripPurpose};
use crate::units::Length;

/// How deep a screw holds in wood behind the sheathing. Common practice, no source.
pub const PENETRATION: Length = Length::mm(38);

/// One strip.
#[derive(Clone, Debug, PartialEq)]
pub struct FurringPiece {
    /// To write on it: wall, `T`, number from the left.
    pub mark: String,
    /// The area, by index.
    pub area: usize,
    /// What it is cut from; none if only a material is said.
    pub product: Option<ProductId>,
    /// Its middle from the left end of the wall (from the foot, for strips that lie).
    pub centre: Length,
    /// Its near edge from there.
    pub near_edge: Length,
    /// Its lower (left) end above the datum (from the left end of the wall).
    pub from: Length,
    /// Along it, to its long point.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// Its lower (left) and upper (right) end.
    pub ends: [End; 2],
    /// Why it is there.
    pub purpose: StripPurpose,
    /// It lies.
    pub horizontal: bool,
    /// Another strip stands against it.
    pub doubled: bool,
    /// Lengths it is spliced from, if no stock is as long.
    pub spliced: Vec<Length>,
}

/// Shortest screw through layers that still holds `penetration`, of the lengths sold (or to the next 10 mm where none are told).
pub fn screw(layers: &[Length], penetration: Length, sold: &[Length]) -> Option<Length> {
    let needed: Length = layers.iter().copied().sum::<Length>() + penetration;
    if sold.is_empty() {
        return Some(Length::mm(10) * (needed.0 + Length::mm(10).0 - 1).div_euclid(Length::mm(10).0));
    }
    sold.iter().copied().filter(|&length| length >= needed).min()
}

/// What a strip loses in a bay `bay` wide on a slope (rise over run): 5 % of 406.4 is 20.3 mm; 7 in 12 is 237 mm.
pub fn lost_in_a_bay(bay: Length, slope: f64) -> Length {
    Length::snap_mm(bay.as_mm() * slope.abs())
}

/// All strips of a face, area by area and from the left.
pub fn of_face(model: &Model, plan: &Plan, id: FaceId) -> Vec<FurringPiece> {
    let (Some(face), Some(placed)) = (model.face(id), plan.face(id)) else { return Vec::new() };
    let bounds = placed.outline.bounds().unwrap_or_default();
    let mut pieces = Vec::new();
    for (area, at) in placed.areas.iter().enumerate() {
        let furring = face.areas.get(area).and_then(|area| model.assembly(area.assembly)).and_then(|a| a.gap());
        let layers = furring.map_or(&[][..], |(_, gap)| gap.furring.as_slice());
        let mut own: Vec<FurringPiece> =
            at.strips.iter().map(|strip| piece(model, layers, strip, &at.strips, bounds, area)).collect();
        own.sort_by_key(|piece| (piece.centre, piece.from));
        pieces.append(&mut own);
    }
    let names = initials(model.faces.iter().map(|face| face.name.as_str()));
    let wall = names.get(id.0 as usize).map_or("", String::as_str);
    for (at, piece) in pieces.iter_mut().enumerate() {
        piece.mark = format!("{wall}T{}", at + 1);
    }
    pieces
}

/// Which furring a strip belongs to, and what it is made of: that which runs its way, or the counter-strips behind one that lies.
fn made_of(layers: &[Furring], horizontal: bool) -> (Option<&Furring>, Option<&Stuff>) {
    let lies = |furring: &&Furring| furring.direction == Some(Direction::Horizontal);
    let behind = layers.iter().find(lies).filter(|_| !horizontal).and_then(|one| Some((one, &one.counter.as_ref()?.0)));
    if let Some((furring, stuff)) = behind {
        return (Some(furring), Some(stuff));
    }
    let own = layers.iter().find(|furring| lies(furring) == horizontal).or(layers.first());
    (own, own.map(|furring| &furring.stuff))
}

fn piece(model: &Model, layers: &[Furring], strip: &Strip, all: &[Strip], wall: Bounds, area: usize) -> FurringPiece {
    let shape = strip.shape.bounds();
    let upright = !strip.horizontal;
    let (ends, _) = ends_of(&strip.shape, upright);
    let (width, length, from) = if upright {
        (shape.width(), shape.height(), shape.bottom)
    } else {
        (shape.height(), shape.width(), shape.left - wall.left)
    };
    let centre = strip.centre - if upright { wall.left } else { wall.bottom };
    let touches = |other: &&Strip| {
        let apart = (other.centre - strip.centre).abs();
        let between = other.shape.bounds();
        let beside = if upright {
            between.bottom < shape.top && between.top > shape.bottom
        } else {
            between.left < shape.right && between.right > shape.left
        };
        other.horizontal == strip.horizontal && apart > Length::ZERO && apart <= width + Length::mm(3) && beside
    };
    let (furring, stuff) = made_of(layers, strip.horizontal);
    let product = stuff.and_then(|stuff| stuff.product);
    let stock = product.and_then(|id| model.product(id)).and_then(|product| product.stock.iter().max().copied());
    let gap = furring.and_then(|furring| furring.splice_gap).unwrap_or(Length::mm(6));
    let lengths = split(length, stock, Join::Gap(gap), [Length::ZERO; 2], &[]);
    FurringPiece {
        mark: String::new(),
        area,
        product,
        centre,
        near_edge: centre - width / 2,
        from,
        length,
        width,
        ends,
        purpose: strip.purpose,
        horizontal: strip.horizontal,
        doubled: all.iter().any(|other| touches(&other)),
        spliced: if lengths.len() > 1 { lengths.into_iter().map(|(_, length)| length).collect() } else { Vec::new() },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn screws_reach_through_everything() {
        // 19 + 38 + 11 + 38 = 106 → 110; common practice, no source.
        let layers = [19, 38, 11].map(Length::mm);
        assert_eq!(screw(&layers, PENETRATION, &[]), Some(Length::mm(110)));
        assert_eq!(screw(&layers, PENETRATION, &[100, 120, 140].map(Length::mm)), Some(Length::mm(120)));
        assert_eq!(screw(&layers, PENETRATION, &[Length::mm(100)]), None);
    }

    #[test]
    fn strips_on_a_slope_grow_shorter_bay_by_bay() {
        let bay = Length(406_400_000);
        let lost = [0.05, 1.0 / 12.0, 7.0 / 12.0].map(|slope| lost_in_a_bay(bay, slope).scale(1, 100_000).0);
        assert_eq!(lost, [203, 339, 2371]);
    }
}
