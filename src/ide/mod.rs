//! What an editor asks, answered as plain structs that know no protocol. Every answer is about a [`crate::session::Glance`].

mod complete;
mod diagnostics;
mod drawing;
mod find;
mod form_at;
mod formatting;
mod hints;
mod hover;
mod lenses;
mod library;
mod links;
mod mend;
pub mod names;
mod outline;
pub mod pen;
mod rename;
mod rename_file;
mod rework;
mod shape;
mod shown;
mod signature;
pub mod spot;
#[cfg(test)]
pub(crate) mod testing;
#[cfg(test)]
mod tests;
mod tokens;
mod uses;

pub use complete::{Completion, CompletionKind, complete};
pub use diagnostics::{Mark, marks};
pub use drawing::{Drawing, Drawn, drawing, picture, traced};
pub use find::{Definition, Highlight, Place, definition, highlights, place_of_declaration, references};
pub use formatting::{format_document, format_range, format_typed};
pub use hints::{Hint, HintKind, hints};
pub use hover::{Hover, hover};
pub use lenses::{Action, Lens, lenses};
pub use links::{Link, Target, links};
pub use mend::{BLANK, Mend, mends, mends_of};
pub use outline::{Entry, Kind, Match, find_named, outline};
pub use rename::{Edits, Renamable, prepare_rename, rename};
pub use rename_file::{Moved, rename_files};
pub use rework::{Rework, ReworkKind, reworks};
pub use shape::{Fold, FoldKind, folds, selections};
pub use signature::{Signature, signature};
pub use spot::Spot;
pub use tokens::{Token, TokenKind, tokens};
pub use uses::{Node, Tie, Use, all_uses, node, node_at, used_by, uses, uses_of};
