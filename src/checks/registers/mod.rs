//! Registers that must be complete: edges, points, areas; and what was knowingly accepted.

pub mod accept_lapsed;
pub mod accept_no_authority;
pub mod accept_stale;
pub mod area_bare;
pub mod area_overlap;
pub mod edge_no_detail;
pub mod limit_overridden;
pub mod point_no_detail;
pub mod promise_no_partner;
