//! The air barrier: one layer, joined all round, sealed at every hole.

pub mod air_no_barrier;
pub mod air_open_at_base;
pub mod air_open_at_corner;
pub mod air_open_at_floor;
pub mod air_open_at_opening;
pub mod air_open_at_top;
pub mod air_open_at_transition;
mod ends;
pub mod service_unsealed;
