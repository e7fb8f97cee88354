//! The gap: its depth, its openings for air, and what it joins.

pub mod bay_cut_off;
pub mod exhaust_in_gap;
pub mod gap_joins_damp_space;
pub mod gap_joins_roof;
pub mod gap_no_outlet;
pub mod gap_shallow;
pub mod vent_too_small;
