//! Exact lengths and dimensioned quantities.

mod dimension;
mod length;

pub use dimension::{Dimension, Quantity};
pub use length::{Area, Length};
