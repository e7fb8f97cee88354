//! Failures of service and maintenance, SV-01 to SV-11.

use super::{Failure, On, by_eye, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked(
        "SV-01",
        "a fixture cannot come off without cutting cladding",
        &["service.cannot_come_off", "block.cannot_come_off"],
    )
    .and_look(look(
        "H5",
        On::Service,
        "each fixture was taken off once and put back, with hand tools and without moving cladding",
    )),
    checked("SV-02", "no spare way through", &["service.no_spare"]).and_look(
        look(
            "H3",
            On::Service,
            "two spare sleeves of {25mm}, capped and sealed at the barrier, where the services enter",
        )
        .photo(),
    ),
    checked("SV-03", "a shut-off or reset is hidden", &["service.hidden"]).and_look(look(
        "H7",
        On::Service,
        "each valve, reset and junction box is in reach behind a cover that opens, and its place is written down",
    )),
    checked("SV-04", "nobody wrote how it is taken out", &["service.no_removal"]),
    checked("SV-05", "sealant keeps the water out and nobody will look at it again", &["sealant.no_recheck"]).and_look(
        look(
            "H7",
            On::Wall,
            "each joint that relies on sealant is in the register, {6mm} wide or more, with the year to look again",
        ),
    ),
    by_eye(
        "SV-06",
        "a screen that cannot be cleaned",
        look("H4", On::Screen, "screens can be brushed or drawn out from below without taking cladding off"),
    ),
    by_eye(
        "SV-07",
        "nothing kept for repairs",
        look(
            "H7",
            On::Wall,
            "spares left with the owner: {spare.share} of the cladding and one length of each trim, and where they lie",
        ),
    ),
    by_eye(
        "SV-08",
        "the next trade drills a seam or wire",
        look("H7", On::Membrane, "the owner has the sheet that shows where nobody may drill").by("owner"),
    ),
    by_eye(
        "SV-09",
        "the painter fills the weeps",
        look("H7", On::Weeps, "weeps were masked before painting; each one is poked through now").by("painter").photo(),
    ),
    checked("SV-10", "the ground will rise", &["base.grade_rises"]).and_look(look(
        "H7",
        On::Ground,
        "a line on the wall or foundation that no soil, mulch or paving may pass, shown to the owner",
    )),
    checked("SV-11", "one tape over another of an unknown family", &["tape.unknown_family"]).and_look(look(
        "H1",
        On::Membrane,
        "name and family of each tape and sealant written in the register, with the day",
    )),
];
