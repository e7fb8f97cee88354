//! Fire behind the cladding, and embers that come in at its openings.

pub mod ember_mesh;
pub mod fire_gap_too_deep;
