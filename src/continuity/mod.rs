//! Facts about water, air and the gap: which bays drain, which breathe, where the barrier ends.

mod air;
mod breathe;
mod catchment;
mod closure;
mod drain;
mod ends;
mod flow;
mod joints;
mod network;
#[cfg(test)]
mod tests;

pub use air::{AirBarrier, AirEnd};
pub use catchment::catchment;
pub use flow::{BayFlow, BayId, ExitKind, FreeArea, GapFlow, Opening, Trap, free_area};
pub use network::{ASSUMPTIONS, AirFlow, AirOpening, AirPass, AirRate, BayAir, Conditions, Passing};
