//! Movement: what grows in the sun needs room, and a frame that dries settles.

pub mod board_fixed_twice;
pub mod board_lap_opens;
pub mod board_pinned_twice;
pub mod board_tight_joint;
pub mod flashing_slope_lost;
pub mod floor_shrinkage_no_gap;
pub mod joint_too_tight;
pub mod mitre_opens;
pub mod part_bridges_movement;
pub mod sheet_flat_face;
pub mod trim_fixed_twice;
pub mod trim_lap_opens;
