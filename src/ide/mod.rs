//! What an editor asks, answered as plain structs that know no protocol. Every answer is about a [`crate::session::Glance`].

mod diagnostics;
mod find;
pub mod names;
mod rename;
pub mod spot;
#[cfg(test)]
pub(crate) mod testing;
#[cfg(test)]
mod tests;

pub use diagnostics::{Mark, marks};
pub use find::{Definition, Highlight, Place, definition, highlights, place_of_declaration, references};
pub use rename::{Edits, Renamable, is_a_name, prepare_rename, rename};
pub use spot::Spot;
