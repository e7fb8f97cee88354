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
mod place;
#[cfg(test)]
mod tests;
mod trace;
mod walk;

pub use air::{AirBarrier, AirEnd};
pub use catchment::catchment;
pub use flow::{BayFlow, BayId, ExitKind, FreeArea, GapFlow, Opening, Trap, free_area};
pub use network::{ASSUMPTIONS, AirFlow, AirOpening, AirPass, AirRate, BayAir, Conditions, Passing};
pub use trace::{Ending, Gate, InTheWay, Refused, SheetLap, Step, StepKind, Trace};
