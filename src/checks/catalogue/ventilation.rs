//! Failures of ventilation, VE-01 to VE-12.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("VE-01", "an inlet without an outlet", &["gap.no_outlet", "gap.top_not_as_ruled"]),
    checked("VE-02", "weeps taken for vents", &["vent.too_small"]),
    checked("VE-03", "a screen halves the slot", &["vent.too_small"]).and_look(look(
        "H4",
        On::Screen,
        "screens free of dust, paint and cut swarf; nothing behind them fills the slot",
    )),
    checked("VE-04", "a bay cut off from the outside", &["bay.cut_off"])
        .and_look(look("H3", On::Opening, "strips stop {cross_gap} or more short of every head and sill").photo()),
    checked("VE-05", "the bay below a sill is shut at its top", &["gap.no_outlet", "bay.cut_off"]),
    checked("VE-06", "diagonal or crossed furring keeps water and air from passing", &["furring.slants"]).and_look(
        look(
            "H3",
            On::CrossFurring,
            "each crossing or slanted strip falls all the way to an open end; no closed pocket above it",
        ),
    ),
    checked("VE-07", "the top vent looks into the rain or blown snow", &["vent.faces_rain"]).and_look(
        look(
            "H6",
            On::Top,
            "the outlet opens downward or lies under the soffit, with {25mm} or more up and over behind its hood",
        )
        .photo(),
    ),
    checked("VE-08", "the gap joins a soffit or attic", &["gap.joins_roof"]).and_look(
        look(
            "H6",
            On::Top,
            "a block closes the gap off from the roof space along the whole top, before the soffit goes on",
        )
        .photo(),
    ),
    checked("VE-09", "the gap joins a crawlspace, garage or subfloor", &["gap.joins_damp_space"]),
    checked("VE-10", "an exhaust hood blows into the gap", &["exhaust.in_gap"]).and_look(look(
        "H5",
        On::Duct,
        "look in with the hood off: the duct is one piece to beyond the face of the cladding and sealed to the hood",
    )),
    checked("VE-11", "air flows from one wall to the next behind an open corner", &["corner.baffle_not_as_ruled"])
        .and_look(look(
            "H3",
            On::Corner,
            "if the rule set wants the gap in compartments: an upright strip closes it on each face at every corner",
        )),
    checked("VE-12", "a spacer mat or corrugated strip is crushed by its fasteners", &["mat.crushed"]).and_look(look(
        "H3",
        On::Mat,
        "mat not crushed at fasteners: its full depth is felt between them and at each one",
    )),
];
