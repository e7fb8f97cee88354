//! Where text comes from: files, spans into them, and the `World` trait that is the only door to a disk.

mod files;
mod world;

pub use files::{FileId, Files, Position, Span};
pub use world::{MapWorld, ReadError, World};
