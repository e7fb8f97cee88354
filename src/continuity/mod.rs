//! Facts about water, air and the gap: which bays drain, which breathe, where the barrier ends.

mod air;
mod bonds;
mod breathe;
mod catchment;
mod closure;
pub mod defences;
mod drain;
mod ends;
mod flow;
mod joints;
mod leakage;
mod lift_off;
mod network;
mod order;
mod place;
mod points;
mod ponds;
mod rain;
mod removal;
mod strips;
#[cfg(test)]
mod tests;
mod trace;
mod walk;

pub use air::{AirBarrier, AirEnd};
pub use bonds::{AirJoint, Hold, Lack, Surface, kind_of};
pub use catchment::catchment;
pub use flow::{BayFlow, BayId, ExitKind, FreeArea, GapFlow, Opening, Trap, free_area};
pub use leakage::{Leakage, LeakageRow, ORDINARY, PRESSURE};
pub use lift_off::{LiftOff, lift_offs};
pub use network::{ASSUMPTIONS, AirFlow, AirOpening, AirPass, AirRate, BayAir, Conditions, Passing};
pub use order::{Dry, Kind, Lane, Lanes, Loop, Order, Phase, Stop, Task, TaskId, Tie, Why, along};
pub use ponds::{Pond, PondPlace, ponds};
pub use rain::{ExitLoad, ExitWay, RainHour, RainLoads, Unfit, WayOut};
pub use removal::{Crossing, Removal, removals};
pub use trace::{Ending, Gate, InTheWay, Refused, SheetLap, Step, StepKind, Trace};
