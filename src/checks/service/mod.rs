//! Services: what freezes, and what nobody can take out again.

pub mod hose_bib_seat_in_cold;
pub mod service_no_removal;
