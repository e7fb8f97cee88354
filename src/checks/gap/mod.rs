//! The gap: its depth, its openings for air, and what it joins.

pub mod bay_cut_off;
pub mod gap_joins_roof;
pub mod gap_no_outlet;
pub mod gap_shallow;
pub mod vent_too_small;
