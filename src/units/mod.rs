//! Exact lengths and dimensioned quantities: what numbers mean, how they add up, and how they are shown.

mod angle;
mod digits;
mod dimension;
pub mod display;
mod fraction;
mod hints;
mod length;
mod literal;
mod number;
mod problem;
mod range;
mod unit;

pub use angle::Angle;
pub use digits::{Keep, decimal};
pub use dimension::{Dimension, Quantity};
pub use display::{System, Tape};
pub use fraction::Fraction;
pub use length::{Area, Length};
pub use literal::{evaluate, feet_inches, is_exact, pitch};
pub use number::{FURTHEST, Number, mismatch};
pub use problem::UnitProblem;
pub use range::Range;
pub use unit::{ATOMS, Atom, Scale, Unit};

#[cfg(test)]
mod tests;
