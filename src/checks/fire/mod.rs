//! Fire behind the cladding, and embers that come in at its openings.

pub mod ember_mesh;
pub mod exhaust_too_close;
pub mod fire_gap_joins_soffit;
pub mod fire_gap_too_deep;
pub mod fire_near_lot_line;
pub mod fire_stop_dams_water;
pub mod fire_vent_beside_stop;
pub mod foam_bare_in_gap;
