//! The air barrier: one layer, joined all round, sealed at every hole.

pub mod air_joint_does_not_bond;
pub mod air_joint_moves_too_far;
pub mod air_joint_too_cold;
pub mod air_joint_too_narrow;
pub mod air_no_barrier;
pub mod air_open_at_base;
pub mod air_open_at_corner;
pub mod air_open_at_floor;
pub mod air_open_at_opening;
pub mod air_open_at_point;
pub mod air_open_at_top;
pub mod air_open_at_transition;
pub mod building_open;
mod ends;
pub mod fastener_through_bare_membrane;
pub mod floor_joists_through;
mod joints;
pub mod lap_held_by_adhesive;
pub mod membrane_exposed_too_long;
pub mod opening_sealed_to_cladding;
pub mod sealant_no_recheck;
pub mod seam_buried;
pub mod seam_untaped;
pub mod service_crowded;
pub mod service_unsealed;
pub mod tape_unknown_family;
pub mod tape_wrong_surface;
