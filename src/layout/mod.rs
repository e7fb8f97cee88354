//! Where things go: furring, courses, holes.
