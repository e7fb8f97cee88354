//! Marks short enough to write on a board: wall, course, place.

use std::collections::BTreeSet;

use super::{Hand, Piece};

/// A mark with its hand, as it is written on the piece.
pub fn written(mark: &str, hand: Option<Hand>) -> String {
    format!("{mark}{}", hand.map_or("", Hand::letter))
}

/// One or two capitals a face, from its words; with a number where two faces would share them.
pub fn initials<'n>(names: impl Iterator<Item = &'n str>) -> Vec<String> {
    let mut taken: BTreeSet<String> = BTreeSet::new();
    let short = |name: &str| -> String {
        name.split(['_', '.']).filter_map(|word| word.chars().next()).flat_map(char::to_uppercase).take(3).collect()
    };
    let mut out = Vec::new();
    for name in names {
        let base = short(name);
        let mut mark = base.clone();
        let mut count = 1;
        // A digit would run into the number of the course, so letters follow.
        while !taken.insert(mark.clone()) {
            let letter = name.chars().filter(|c| c.is_alphanumeric()).nth(count).unwrap_or('X');
            mark.extend(letter.to_lowercase());
            count += 1;
        }
        out.push(mark);
    }
    out
}

/// Numbers pieces within their wall and course, from the left.
pub(super) fn number(pieces: &mut [Piece], names: &[String]) {
    let mut last = None;
    let mut place = 0;
    for piece in pieces {
        let key = (piece.face, piece.course);
        place = if last == Some(key) { place + 1 } else { 1 };
        last = Some(key);
        let wall = names.get(piece.face.0 as usize).map_or("", String::as_str);
        piece.mark = format!("{wall}{}-{place}", piece.course);
    }
}
