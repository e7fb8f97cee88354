//! Every length of trim that is cut: what it is, where it lies, how long it is to its long point, how its ends are cut, where its
//! holes come, and the mark to write on it.

mod bench;
mod gather;
mod lengths;
mod rows;
mod split;
#[cfg(test)]
mod tests;

pub use bench::{Template, shift, templates};
pub use gather::{made_on_the_other_face, of_profiles};
pub use lengths::{Shape, UNDER_JAMB, expansion, range, reach, slot, trim_and_reveal};
pub use rows::{Clear, Mark, PieceRow, Place, Rule, from_mitre, on_piece};
pub use split::{Join, split};

use crate::geometry::Segment;
use crate::layout::pieces::{Hand, initials};
use crate::model::{FaceId, Model, Product, ProductId};
use crate::plan::Plan;
use crate::units::Length;

/// Surface temperature for which lengths are cut where nothing else is said, °C.
pub const CUT_FOR: f64 = 10.0;

/// Said of an end that nothing carries.
const BARE: &str = ", nothing carries this end: put a block there";

/// What a length of trim is on the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Channel or starter along the base.
    Base,
    /// Corner board or profile.
    Corner,
    /// Over an opening.
    Head,
    /// Beside an opening.
    Jamb,
    /// Under an opening.
    Sill,
    /// Along a rake.
    Rake,
    /// Along a level top.
    Frieze,
    /// Over a parapet.
    Coping,
    /// Where claddings meet, and what has no other name.
    Edge,
}

impl Role {
    /// As written on the piece.
    pub fn letter(self) -> char {
        match self {
            Role::Base => 'B',
            Role::Corner => 'C',
            Role::Head => 'H',
            Role::Jamb => 'J',
            Role::Sill => 'S',
            Role::Rake => 'R',
            Role::Frieze => 'F',
            Role::Coping => 'P',
            Role::Edge => 'E',
        }
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Role::Base => "base channel",
            Role::Corner => "corner board",
            Role::Head => "head casing",
            Role::Jamb => "jamb casing",
            Role::Sill => "sill casing",
            Role::Rake => "rake board",
            Role::Frieze => "frieze",
            Role::Coping => "coping",
            Role::Edge => "edge trim",
        }
    }
}

/// How an end is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// Square across.
    Square,
    /// Plumb on a sloping piece: degrees from square.
    Plumb(f64),
    /// Half the angle to its neighbour, across its face: degrees from square.
    Mitre(f64),
    /// Half the angle round a corner of the building, through its thickness: degrees from square.
    Bevel(f64),
}

impl Cut {
    /// Degrees from square.
    pub fn degrees(self) -> f64 {
        match self {
            Cut::Square => 0.0,
            Cut::Plumb(angle) | Cut::Mitre(angle) | Cut::Bevel(angle) => angle,
        }
    }
}

/// An end of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct TrimEnd {
    /// How it is cut.
    pub cut: Cut,
    /// What it goes to: `the corner to east`, `the joint with NB2`.
    pub goes_to: String,
    /// Nothing carries it: a joint between strips, or an end too far from its nearest fixing. A block belongs there.
    pub bare: bool,
}

/// One length of trim.
#[derive(Clone, Debug, PartialEq)]
pub struct TrimPiece {
    /// To write on it: wall, role, number from the left; `NJ4`.
    pub mark: String,
    /// What it is.
    pub role: Role,
    /// The face.
    pub face: FaceId,
    /// What it is cut from; none if only a material or nothing is said.
    pub product: Option<ProductId>,
    /// Its product or material in words.
    pub item: String,
    /// Dotted name of the trim or part: `north.kitchen.head.head_trim`.
    pub name: String,
    /// The stretch of edge it lies on: `north.kitchen.head`.
    pub run: String,
    /// The whole line of which it is a length, left (or lower) end first.
    pub line: Segment,
    /// Where it starts along that line.
    pub start: Length,
    /// Along it, to its long point.
    pub length: Length,
    /// Left (or lower) and right (or upper).
    pub ends: [TrimEnd; 2],
    /// Which way it is handed, if turning it round would not do.
    pub hand: Option<Hand>,
    /// Which length of its line, counted from 1, and of how many.
    pub place: (usize, usize),
    /// Lap with the next and the last length; negative is a gap.
    pub laps: [Length; 2],
    /// How its length was found, in words.
    pub basis: String,
    /// Its rows of holes.
    pub rows: Vec<PieceRow>,
    /// The point that does not slide, from its left (or lower) end.
    pub fixed: Option<Length>,
    /// Its lower end where it slopes: 0 left, 1 right, and how that end is made.
    pub low_end: Option<(usize, &'static str)>,
}

impl TrimPiece {
    /// Holes in all its rows.
    pub fn hole_count(&self) -> usize {
        self.rows.iter().map(|row| row.marks.len()).sum()
    }

    /// How far its left (lower) and its right (upper) end hang free: to the nearest fixing of any row, or its whole length; `None`
    /// where no row of it fixes.
    pub fn free_ends(&self) -> Option<[Length; 2]> {
        let fixing = || self.rows.iter().filter(|row| row.purpose == "fix");
        fixing().next()?;
        let marks = || fixing().flat_map(|row| &row.marks).map(|mark| mark.at);
        Some([marks().min().unwrap_or(self.length), marks().max().map_or(self.length, |last| self.length - last)])
    }

    /// What it takes of the stock it is cut from: to its long point, and more at ends that begin before it.
    pub fn from_stock(&self, product: &Product) -> Length {
        self.length + lengths::beyond_long_point(self.role, self.ends.each_ref().map(|end| end.cut), Some(product))
    }

    /// Where it lies on the face.
    pub fn segment(&self) -> Segment {
        Segment::new(self.line.along(self.start), self.line.along(self.start + self.length))
    }
}

/// The lengths of trim of a building.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trims {
    /// By face, role, and from the left and the foot.
    pub list: Vec<TrimPiece>,
    /// Surface temperature for which gaps were left, °C, where a trim does not say its own.
    pub surface: f64,
}

/// Cuts all trims for a day on which surfaces are at `surface` °C.
pub fn cut(model: &Model, plan: &Plan, surface: f64) -> Trims {
    let mut list = Vec::new();
    for face in 0..model.faces.len() {
        let mut own = gather::of_face(model, plan, FaceId(face as u32), surface);
        own.sort_by_key(|piece| (piece.role, piece.segment().midpoint()));
        list.append(&mut own);
    }
    let names = initials(model.faces.iter().map(|face| face.name.as_str()));
    number(&mut list, &names);
    Trims { list, surface }
}

/// Numbers pieces within their wall and role, and names neighbours at joints.
fn number(list: &mut [TrimPiece], names: &[String]) {
    let mut last = None;
    let mut count = 0;
    for piece in list.iter_mut() {
        let key = (piece.face, piece.role);
        count = if last == Some(key) { count + 1 } else { 1 };
        last = Some(key);
        let wall = names.get(piece.face.0 as usize).map_or("", String::as_str);
        piece.mark = format!("{wall}{}{count}", piece.role.letter());
    }
    let marks: Vec<(String, String, usize)> =
        list.iter().map(|piece| (piece.mark.clone(), piece.name.clone(), piece.place.0)).collect();
    for piece in list.iter_mut().filter(|piece| piece.place.1 > 1) {
        for (end, other) in [(0, piece.place.0.wrapping_sub(1)), (1, piece.place.0 + 1)] {
            let next = marks.iter().find(|(_, name, place)| *name == piece.name && *place == other);
            if let (Some((mark, ..)), Some(own)) = (next, piece.ends.get_mut(end)) {
                own.goes_to = format!("the joint with {mark}");
            }
        }
    }
    for end in list.iter_mut().flat_map(|piece| &mut piece.ends).filter(|end| end.bare) {
        end.goes_to.push_str(BARE);
    }
}
