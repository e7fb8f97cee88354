//! Exact lengths and dimensioned quantities: what numbers mean, how they add up, and how they are shown.

mod angle;
mod dimension;
mod fraction;
mod hints;
mod length;
mod literal;
mod number;
mod problem;
mod unit;

pub use angle::Angle;
pub use dimension::{Dimension, Quantity};
pub use fraction::Fraction;
pub use length::{Area, Length};
pub use literal::{evaluate, feet_inches, is_exact, pitch};
pub use number::{FURTHEST, Number, mismatch};
pub use problem::UnitProblem;
pub use unit::{ATOMS, Atom, Scale, Unit};

#[cfg(test)]
mod tests;
