//! Vapour: tight layers in the cold, walls that cannot dry, claddings that hold rain, wet wood that gets covered.

pub mod cladding_metal_sweats;
pub mod cladding_reservoir_unventilated;
pub mod sheathing_covered_wet;
pub mod vapour_cold_tight_layer;
pub mod vapour_tight_both_sides;

pub(crate) use crate::figures::layers::{first_inboard, insulates, permeance};
pub(crate) use crate::figures::outboard::is_thin_wood;

/// A permeance as people say it, in both units: "26 ng/(Pa·s·m²) (0.46 perm)". One US perm is 57.2135 ng/(Pa·s·m²), dry cup.
fn shown(permeance: f64) -> String {
    let nano = permeance * 1e12;
    format!("{} ng/(Pa·s·m²) ({} perm)", figures(nano), figures(nano / 57.2135))
}

fn figures(value: f64) -> String {
    if value >= 10.0 { format!("{value:.0}") } else { format!("{value:.2}") }
}
