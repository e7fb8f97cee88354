//! Services: what freezes.

pub mod hose_bib_seat_in_cold;
