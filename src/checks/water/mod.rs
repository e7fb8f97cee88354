//! Water: out of the gap, off the ledges, away from ground and roofs.

pub mod base_grade_rises;
pub mod base_near_ground;
pub mod base_near_roof;
pub mod base_runs_to_corner;
pub mod block_dams_gap;
pub mod channel_ponds;
pub mod channel_traps_debris;
pub mod cladding_on_ledge;
pub mod drain_no_exit;
pub mod exit_too_small_for_rain;
pub mod furring_dams;
pub mod furring_slants;
pub mod gap_too_tall;
pub(super) mod low;
pub mod mat_crushed;
pub mod nailer_above_head;
pub mod roof_no_kick_out;
pub mod roof_pours_on_wall;
pub mod vent_faces_rain;
pub mod weep_above_floor;
pub mod weep_on_furring;
pub mod weep_too_small;

use crate::checks::CheckContext;
use crate::checks::pieces::place_name;
use crate::model::FaceId;
use crate::plan::Against;

/// Whether `drain.no_exit` has something to say about the edge a trim lies along: water stands there, or it cannot tell.
fn told_by_drain(context: &CheckContext<'_>, face: FaceId, along: &str) -> bool {
    let here = |with: &Against| match *with {
        Against::Run(id) => context.plan.run(id).is_some_and(|run| run.face == face && place_name(run) == along),
        _ => false,
    };
    let flows = context.flow().bays.iter().filter(|flow| flow.id.face == face);
    let mut told = flows.map(|flow| {
        flow.traps.iter().flat_map(|trap| &trap.with).any(here) || flow.undecided.iter().any(|(with, _)| here(with))
    });
    told.any(|told| told)
}
