//! Where things go: furring, courses, holes.

pub mod holes;
