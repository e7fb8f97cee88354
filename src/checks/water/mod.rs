//! Water: out of the gap, off the ledges, away from ground and roofs.

pub mod drain_no_exit;
pub mod weep_on_furring;
