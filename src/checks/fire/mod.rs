//! Fire behind the cladding.

pub mod fire_gap_too_deep;
