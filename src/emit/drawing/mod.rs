//! Drawings at a true scale: a display list in paper millimetres, the marks drawn on it, and the writers of SVG and PDF.
//!
//! Knows nothing of walls. A caller makes a [`Sheet`], a [`View`] that lays the wall on the paper, and one
//! [`Labels`] for the whole sheet, so that no text is printed over another; then pushes layers of [`Item`]s from back
//! to front and asks for [`Sheet::to_svg`].

pub mod dimension;
pub mod frame;
pub mod hatch;
pub mod item;
pub mod marks;
pub mod notes;
pub mod pdf;
pub mod place;
pub mod shape;
pub mod sheet;
pub mod svg;
pub mod text;

pub use dimension::{Along, Chain};
pub use frame::TitleBlock;
pub use hatch::Hatch;
pub use item::{Anchor, Backing, Dash, Fill, Group, Ink, Item, Stroke, Text, Weight};
pub use place::{Candidate, Labels};
pub use shape::{Point, Rect, at};
pub use sheet::{Extent, Paper, Scale, Sheet, View};

#[cfg(test)]
pub(crate) mod samples;
