//! Failures in fire, F-01 to F-07.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("F-01", "a hidden gap too deep without fire blocks", &["fire.gap_too_deep", "fire.vent_beside_stop"]),
    checked("F-02", "a fire stop dams the water", &["fire.stop_dams_water"]).and_look(look(
            "H6",
            On::FireStop,
            "above each fire stop that fills the gap there is a flashing; one that stays open is fixed as tested",
        )
        .photo()),
    checked("F-03", "the gap joins the roof space", &["gap.joins_roof", "fire.gap_joins_soffit"]),
    checked("F-04", "cladding that burns, or too many openings, near the lot line", &["fire.near_lot_line"]),
    checked("F-05", "foam stands bare in the gap", &["foam.bare_in_gap"]).and_look(look(
            "H3",
            On::Insulation,
            "foam that faces the gap is closed off round openings and at its edges with something that does not burn",
        )
        .photo()),
    checked("F-06", "a mesh that lets embers in", &["ember.mesh"]),
    checked("F-07", "an exhaust or flue too close to cladding, vents or openings", &["exhaust.too_close"]).and_look(look(
            "H7",
            On::Duct,
            "hoods {distance.hood_opening} from openings, {distance.hood_intake} from intakes, {distance.hood_ground} above ground; flues as their manual says",
        )),
];
