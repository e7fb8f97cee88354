//! Water: out of the gap, off the ledges, away from ground and roofs.

pub mod base_grade_rises;
pub mod base_near_ground;
pub mod base_near_roof;
pub mod cladding_on_ledge;
pub mod drain_no_exit;
pub mod furring_dams;
mod low;
pub mod nailer_above_head;
pub mod roof_no_kick_out;
pub mod weep_on_furring;
