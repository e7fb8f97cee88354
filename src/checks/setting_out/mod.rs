//! Setting out: what can be built, and what looks and holds right where courses end.

pub mod course_sliver;
pub mod face_mixed_datum;
pub mod furring_none_at_edge;
pub mod order_cycle;
