//! Services: what freezes, and what nobody can take out again.

pub mod block_cannot_come_off;
pub mod hose_bib_seat_in_cold;
pub mod service_cannot_come_off;
pub mod service_falls_in;
pub mod service_hidden;
pub mod service_no_removal;
pub mod service_no_spare;
