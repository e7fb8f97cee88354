//! The gap: its depth, its openings for air, and what it joins.

pub mod bay_cut_off;
pub mod gap_no_outlet;
