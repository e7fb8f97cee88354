//! Failures of the air barrier, AI-01 to AI-14.

use super::{Failure, On, by_eye, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("AI-01", "no layer is the air barrier", &["air.no_barrier"]),
    checked("AI-02", "the air barrier is open at the foundation", &["air.open_at_base"]).and_look(
        look("H1", On::Base, "barrier bonded to the foundation along the whole base: pull at the edge every metre")
            .photo(),
    ),
    checked("AI-03", "the air barrier is open at the ceiling", &["air.open_at_top"]).and_look(
        look("H1", On::Top, "barrier joined to that of the ceiling along the whole top, before the soffit hides it")
            .photo(),
    ),
    checked(
        "AI-04",
        "the air barrier is open at a floor, a corner, an opening or a change of cladding",
        &[
            "air.open_at_corner",
            "air.open_at_transition",
            "air.open_at_opening",
            "air.open_at_floor",
            "air.open_at_point",
        ],
    ),
    checked("AI-05", "joists or a cantilever carry air through the wall", &["floor.joists_through"]).and_look(
        look(
            "H1",
            On::Floor,
            "each joist space that runs through the wall is blocked and sealed at the line of the barrier",
        )
        .photo(),
    ),
    checked("AI-06", "something passes through without a part that seals it", &["service.unsealed"]).and_look(
        look(
            "H3",
            On::Service,
            "each hole is sealed at the barrier, all round, with the part of its row in the register",
        )
        .photo(),
    ),
    checked("AI-07", "holes too close together to be sealed", &["service.crowded"]),
    checked(
        "AI-08",
        "a tape on a surface it does not hold to",
        &["tape.wrong_surface", "air.joint_does_not_bond", "air.joint_too_narrow"],
    )
    .and_look(look(
        "H1",
        On::Membrane,
        "tapes pressed down with a roller on a dry, wiped surface: no edge lifts under a fingernail",
    )),
    checked("AI-09", "only a tape keeps water out of a reversed lap", &["lap.held_by_adhesive"]).and_look(look(
        "H1",
        On::Membrane,
        "no tape has to hold against water running down: above each tape the sheet laps over it",
    )),
    checked("AI-10", "a window is sealed to the cladding instead of the air barrier", &["opening.sealed_to_cladding"])
        .and_look(
            look(
                "H2",
                On::Opening,
                "each frame is sealed to the air barrier all round, from inside or at the sheathing",
            )
            .photo(),
        ),
    checked("AI-11", "a seam is buried with no way back to it", &["seam.buried"]).and_look(look(
        "H3",
        On::Membrane,
        "seams that must be renewed one day lie behind parts that come off; the others are for good",
    )),
    checked("AI-12", "furring screws go through the membrane into nothing", &["fastener.through_bare_membrane"])
        .and_look(look(
            "H3",
            On::Furring,
            "no furring screw missed its stud; each hole of one that was drawn out is sealed",
        )),
    checked("AI-13", "the membrane lay in the sun too long", &["membrane.exposed_too_long"]).and_look(look(
        "H3",
        On::Membrane,
        "days since the membrane went on: fewer than its maker allows; no tear, no loose edge",
    )),
    by_eye(
        "AI-14",
        "the air barrier was covered before it was tested",
        look(
            "H1",
            On::Wall,
            "smoke or pressure test done with the barrier in sight; every leak marked, sealed and tested again",
        )
        .by("tester")
        .photo(),
    ),
];
