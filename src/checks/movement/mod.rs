//! Movement: what grows in the sun needs room.

pub mod joint_too_tight;
pub mod trim_fixed_twice;
pub mod trim_lap_opens;
