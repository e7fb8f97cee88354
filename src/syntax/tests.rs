//! Tests of the parser as a whole.

mod broken;
mod formatting;
mod random;
mod render;
mod trees;
