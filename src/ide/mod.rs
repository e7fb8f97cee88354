//! What an editor asks, answered as plain structs that know no protocol. Every answer is about a [`crate::session::Glance`].

mod diagnostics;
pub mod spot;
#[cfg(test)]
pub(crate) mod testing;

pub use diagnostics::{Mark, marks};
pub use spot::Spot;
