//! Setting out: what can be built, and what looks and holds right where courses end.

pub mod course_corner;
pub mod course_sliver;
pub mod face_mixed_datum;
pub mod furring_none_at_edge;
pub mod hole_near_mitre;
pub mod joint_repeats;
pub mod notch_sliver;
pub mod trim_end_loose;
pub mod trim_longer_than_stock;
pub mod trim_too_shallow;
