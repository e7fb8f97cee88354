//! The list of all rules, in the order in which they run and are listed.

use super::{Rule, air, gap, registers, water};

/// Every rule. A test holds that each file of a family is listed here and has its cases.
pub static RULES: &[&dyn Rule] = &[
    // water
    &water::drain_no_exit::DrainNoExit,
    &water::weep_on_furring::WeepOnFurring,
    // gap
    &gap::gap_no_outlet::GapNoOutlet,
    &gap::bay_cut_off::BayCutOff,
    // air
    &air::air_no_barrier::AirNoBarrier,
    &air::air_open_at_base::AirOpenAtBase,
    &air::air_open_at_top::AirOpenAtTop,
    &air::air_open_at_corner::AirOpenAtCorner,
    &air::air_open_at_transition::AirOpenAtTransition,
    &air::air_open_at_opening::AirOpenAtOpening,
    &air::air_open_at_floor::AirOpenAtFloor,
    &air::service_unsealed::ServiceUnsealed,
    // registers
    &registers::accept_lapsed::AcceptLapsed,
    &registers::accept_no_authority::AcceptNoAuthority,
    &registers::accept_stale::AcceptStale,
];

/// A rule by id or by its number in the catalogue.
pub fn rule(name: &str) -> Option<&'static dyn Rule> {
    RULES.iter().copied().find(|rule| {
        let meta = rule.meta();
        meta.id == name || (!meta.catalogue.is_empty() && meta.catalogue.eq_ignore_ascii_case(name))
    })
}
