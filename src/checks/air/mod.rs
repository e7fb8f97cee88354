//! The air barrier: one layer, joined all round, sealed at every hole.

pub mod air_no_barrier;
pub mod air_open_at_base;
pub mod air_open_at_corner;
pub mod air_open_at_floor;
pub mod air_open_at_opening;
pub mod air_open_at_top;
pub mod air_open_at_transition;
pub mod building_open;
mod ends;
pub mod opening_sealed_to_cladding;
pub mod service_crowded;
pub mod service_unsealed;
pub mod tape_wrong_surface;
