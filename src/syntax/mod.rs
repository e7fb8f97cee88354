//! From text to tree. Parsing never fails: it gives a tree and a list of problems.

mod advice;
mod build;
mod clause;
mod explain;
mod format;
mod grammar;
mod layout;
mod lines;
mod number;
#[cfg(test)]
mod tests;
mod tree;
mod trees;

pub use build::SMALL_WORDS;
pub use format::format;
pub use lines::{DECLARATION_WORDS, pieces};
pub use tree::{Entry, Item, ItemKind, Literal, Operator, Statement, Tree, Word};
pub use trees::Trees;

use std::ops::Range;

use crate::diagnose::{Diagnostic, settle};
use crate::source::{FileId, Span};

/// A tree with what was wrong in the text.
#[derive(Clone, Debug, Default)]
pub struct Parsed {
    /// Always complete as far as it could be understood.
    pub tree: Tree,
    /// Sorted by place.
    pub problems: Vec<Diagnostic>,
}

/// Reads one file. A leading byte-order mark and CRLF line ends are accepted; spans count from the text as given.
pub fn parse(file: FileId, text: &str) -> Parsed {
    let mut parsed = Parsed::default();
    if u32::try_from(text.len()).is_err() {
        let title = "this file is larger than four gigabytes";
        parsed.problems.push(Diagnostic::error("text.too_large", Span::new(file, 0, 0), title));
        return parsed;
    }
    for piece in pieces(text) {
        layout::read_piece(file, text, piece, &mut parsed);
    }
    settle(&mut parsed.problems);
    parsed
}

/// Reads one of the [`pieces`] of a text by itself; spans count from the start of the whole text.
pub fn parse_piece(file: FileId, text: &str, piece: Range<usize>) -> Parsed {
    let mut parsed = Parsed::default();
    layout::read_piece(file, text, piece, &mut parsed);
    settle(&mut parsed.problems);
    parsed
}
