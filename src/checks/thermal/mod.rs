//! Heat: metal and wood through the insulation, holes in it, wind in it.

pub mod block_cold;
pub mod deck_ledger_bridges;
pub mod furring_girt_through_insulation;
pub mod furring_screws_leak_heat;
pub mod heat_cut_cold_surface;
pub mod insulation_wind_washed;
pub mod thermal_effective_resistance_low;

use super::CheckContext;
use crate::figures::heat::screws;
use crate::model::{Assembly, Layer};

/// Insulation outboard of the frame and inboard of the gap, outside to inside, down to the layer `to`.
fn outboard_insulation<'c>(context: &CheckContext<'_>, wall: &'c Assembly, to: usize) -> Vec<&'c Layer> {
    screws::crossed(context.model, wall, to).into_iter().filter_map(|at| wall.layers.get(at)).collect()
}

/// What metal in the cold does in damp rooms, for the end of a sentence; empty where the rooms are not said to be damp.
fn frost(context: &CheckContext<'_>) -> &'static str {
    match context.model.site.as_ref().and_then(|site| site.interior) {
        Some("humid" | "pool") => "; beside damp rooms its inner end sweats and grows frost",
        _ => "",
    }
}
