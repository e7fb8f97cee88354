//! Movement: what grows in the sun needs room.

pub mod joint_too_tight;
