//! One set of marks that serves many pieces: each piece lies somewhere along a longer one whose holes fall on the same places.

use super::TrimPiece;
use crate::units::Length;

/// Marks that differ by less than a pencil line are the same: half of the 0.5 mm that marks on paper are rounded to.
const SAME: Length = Length(250_000);

/// A strip with marks, and the pieces that are drilled by it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Template {
    /// The piece it is made from, by index; its marks are those of the template.
    pub base: usize,
    /// The pieces it serves, the base first: index, and where its left (or lower) end lies from that of the template.
    pub serves: Vec<(usize, Length)>,
}

/// The templates of a list of pieces, the one that serves most first; pieces without holes have none.
pub fn templates(pieces: &[TrimPiece]) -> Vec<Template> {
    let mut order: Vec<usize> =
        (0..pieces.len()).filter(|&at| pieces.get(at).is_some_and(|piece| piece.hole_count() > 0)).collect();
    order.sort_by_key(|&at| (pieces.get(at).map(|piece| -piece.length), at));
    let mut found: Vec<Template> = Vec::new();
    for at in order {
        let Some(piece) = pieces.get(at) else { continue };
        let place = found.iter().enumerate().find_map(|(index, template)| {
            let base = pieces.get(template.base)?;
            shift(base, piece).map(|shift| (index, shift))
        });
        match place {
            Some((index, shift)) => {
                if let Some(template) = found.get_mut(index) {
                    template.serves.push((at, shift));
                }
            }
            None => found.push(Template { base: at, serves: vec![(at, Length::ZERO)] }),
        }
    }
    found.sort_by_key(|template| (std::cmp::Reverse(template.serves.len()), template.base));
    found
}

/// Where the start of a piece lies on another, so that within it all holes of all rows are the same. The smallest such place.
pub fn shift(base: &TrimPiece, piece: &TrimPiece) -> Option<Length> {
    let alike = base.item == piece.item
        && base.role == piece.role
        && base.rows.len() == piece.rows.len()
        && base
            .rows
            .iter()
            .zip(&piece.rows)
            .all(|(a, b)| (a.purpose, a.size, a.slot, a.leg) == (b.purpose, b.size, b.slot, b.leg));
    if !alike {
        return None;
    }
    let row = piece.rows.iter().position(|row| !row.marks.is_empty())?;
    let first = piece.rows.get(row)?.marks.first()?.at;
    let places = base.rows.get(row)?.marks.iter().map(|mark| mark.at - first);
    let fits = |&at: &Length| at >= -SAME && at + piece.length <= base.length + SAME;
    places
        .map(|at| if at.abs() <= SAME { Length::ZERO } else { at })
        .filter(fits)
        .find(|&at| same_from(base, piece, at))
}

fn same_from(base: &TrimPiece, piece: &TrimPiece, at: Length) -> bool {
    base.rows.iter().zip(&piece.rows).all(|(on_base, own)| {
        let within = |mark: Length| mark >= -SAME && mark <= piece.length + SAME;
        let seen = on_base.marks.iter().filter(|mark| within(mark.at - at));
        let seen: Vec<_> = seen.map(|mark| (mark.at - at, mark.slot)).collect();
        seen.len() == own.marks.len()
            && seen.iter().zip(&own.marks).all(|(a, b)| (a.0 - b.at).abs() <= SAME && a.1.is_some() == b.slot.is_some())
    })
}
