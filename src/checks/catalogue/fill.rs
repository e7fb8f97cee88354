//! Puts the numbers into a line for eyes: limits of the rule sets in force, and lengths of common practice.

use crate::model::Model;
use crate::units::{Length, Number, display};

/// A piece of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece<'t> {
    /// As it stands.
    Words(&'t str),
    /// The name of a limit.
    Limit(&'t str),
    /// A length.
    Length(Length),
}

/// The pieces of a line; what stands in braces is a whole number of millimetres, or the name of a limit.
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut found = Vec::new();
    for part in text.split('{') {
        let Some((inside, after)) = part.split_once('}') else {
            found.push(Piece::Words(part));
            continue;
        };
        let millimetres = inside.strip_suffix("mm").and_then(|figure| figure.parse().ok());
        found.push(millimetres.map_or(Piece::Limit(inside), |figure| Piece::Length(Length::mm(figure))));
        found.push(Piece::Words(after));
    }
    found
}

/// The line with its numbers in both units, the project's own first. A limit that no rule set holds is named, not guessed.
pub fn fill(text: &str, model: &Model) -> String {
    pieces(text).into_iter().map(|piece| shown(piece, model)).collect()
}

/// One piece as it is printed.
pub fn shown(piece: Piece<'_>, model: &Model) -> String {
    let units = model.project.units;
    match piece {
        Piece::Words(words) => words.to_owned(),
        Piece::Length(length) => display::both(length, units),
        Piece::Limit(name) => match model.limit(name).and_then(|limit| limit.given()) {
            Some(Number::Length(length)) => display::both(length, units),
            Some(number) => display::number(number, units),
            None => format!("`{name}` (no rule set holds it)"),
        },
    }
}
