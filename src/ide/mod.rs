//! What an editor asks, answered as plain structs that know no protocol.

mod diagnostics;

pub use diagnostics::{Mark, marks};
