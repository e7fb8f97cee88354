//! Failures by freezing and ice, FR-01 to FR-09.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("FR-01", "a pocket that fills with water", &["channel.ponds"]).and_look(look(
        "H4",
        On::Trim,
        "after the cup of water nothing stands in any trim, flashing or ledge",
    )),
    checked("FR-02", "the base ices shut", &["base.ices_shut"]).and_look(look(
        "H4",
        On::Snow,
        "the exit at the base lies above the usual snow, or there is a second one higher up",
    )),
    checked("FR-03", "cladding that takes up water stands in snow", &["cladding.in_snow"]).and_look(look(
        "H7",
        On::Snow,
        "no cladding that takes up water within the usual depth of snow, on ground, roof or deck",
    )),
    checked("FR-04", "the seat of an outside tap freezes", &["hose_bib.seat_in_cold"]).and_look(
        look(
            "H3",
            On::HoseBib,
            "the seat of each tap {hose_bib.seat_inside} or more inside the warm side, pipe falling outward",
        )
        .by("plumber")
        .photo(),
    ),
    checked("FR-05", "an outlet drips on a walkway", &["exit.above_path"]).and_look(look(
        "H7",
        On::Base,
        "no low end, gutter or outlet drips within {1000mm} of a door or path",
    )),
    checked("FR-06", "water is held behind a ledger or board", &["board.holds_film"]).and_look(look(
        "H3",
        On::Deck,
        "behind each ledger or board on the wall {6mm} to {10mm} of space that drains",
    )),
    checked("FR-07", "sealant or tape applied in frost", &["air.joint_too_cold"]).and_look(look(
        "H1",
        On::Membrane,
        "air and surface warmer than the tape and sealant ask for on the day: write the temperature",
    )),
    checked("FR-08", "sliding snow or roof drip on the cladding below", &["roof.pours_on_wall"]).and_look(look(
        "H7",
        On::Snow,
        "no roof above lets snow slide or drip onto this wall: a guard or gutter holds it",
    )),
    checked("FR-09", "ends of boards not sealed", &["cladding.ends_raw"]).and_look(look(
        "H5",
        On::Absorbs,
        "every cut end is sealed before it goes up, those near ground and roofs twice",
    )),
];
