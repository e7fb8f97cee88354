//! Failures by freezing and ice, FR-01 to FR-09.

use super::{Failure, On, by_eye, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    by_eye(
        "FR-01",
        "a pocket that fills with water",
        look("H4", On::Trim, "after the cup of water nothing stands in any trim, flashing or ledge"),
    ),
    by_eye(
        "FR-02",
        "the base ices shut",
        look("H4", On::Snow, "the exit at the base lies above the usual snow, or there is a second one higher up"),
    ),
    by_eye(
        "FR-03",
        "cladding that takes up water stands in snow",
        look("H7", On::Snow, "no cladding that takes up water within the usual depth of snow, on ground, roof or deck"),
    ),
    checked("FR-04", "the seat of an outside tap freezes", &["hose_bib.seat_in_cold"]).and_look(
        look(
            "H3",
            On::HoseBib,
            "the seat of each tap {hose_bib.seat_inside} or more inside the warm side, pipe falling outward",
        )
        .by("plumber")
        .photo(),
    ),
    by_eye(
        "FR-05",
        "an outlet drips on a walkway",
        look("H7", On::Base, "no low end, gutter or outlet drips within {1000mm} of a door or path"),
    ),
    by_eye(
        "FR-06",
        "water is held behind a ledger or board",
        look("H3", On::Deck, "behind each ledger or board on the wall {6mm} to {10mm} of space that drains"),
    ),
    checked("FR-07", "sealant or tape applied in frost", &["air.joint_too_cold"]).and_look(look(
        "H1",
        On::Membrane,
        "air and surface warmer than the tape and sealant ask for on the day: write the temperature",
    )),
    by_eye(
        "FR-08",
        "sliding snow or roof drip on the cladding below",
        look("H7", On::Snow, "no roof above lets snow slide or drip onto this wall: a guard or gutter holds it"),
    ),
    by_eye(
        "FR-09",
        "ends of boards not sealed",
        look("H5", On::Absorbs, "every cut end is sealed before it goes up, those near ground and roofs twice"),
    ),
];
