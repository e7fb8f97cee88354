//! Failures of vapour control, VA-01 to VA-07.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked(
        "VA-01",
        "a vapour-tight layer outboard with too little insulation outside it",
        &["vapour.cold_tight_layer"],
    )
    .and_look(look(
        "H1",
        On::Insulation,
        "printed on the boards and sheets: the thickness and type that the wall section shows",
    )),
    checked(
        "VA-02",
        "cladding that soaks up rain over an open plane, with no air behind it",
        &["cladding.reservoir_unventilated"],
    )
    .and_look(look(
        "H6",
        On::Absorbs,
        "the gap behind cladding that takes up water is open at its bottom and at its top",
    )),
    checked("VA-03", "vapour-tight on both sides", &["vapour.tight_both_sides"]).and_look(look(
        "H1",
        On::Wall,
        "the side to which the wall is to dry carries no sheet or coat that is not in the wall section",
    )),
    checked(
        "VA-04",
        "air leaks into a cold cavity",
        &[
            "air.open_at_base",
            "air.open_at_top",
            "air.open_at_corner",
            "air.open_at_transition",
            "air.open_at_opening",
            "air.open_at_floor",
            "building.open",
            "building.leaks",
            "service.unsealed",
        ],
    )
    .and_look(
        look("H1", On::Wall, "every leak that the test found is sealed at the barrier, not at the finish inside")
            .by("tester"),
    ),
    checked(
        "VA-05",
        "frost on metal that goes right through",
        &["furring.girt_through_insulation", "deck.ledger_bridges"],
    )
    .and_look(look(
        "H3",
        On::Service,
        "metal that goes through insulation has its pad or sleeve, and its inner end is insulated",
    )),
    checked("VA-06", "wet sheathing is covered", &["sheathing.covered_wet"]).and_look(
        look(
            "H0",
            On::Wall,
            "moisture of sheathing and studs {moisture.cover} or less: write three readings, low, middle and high",
        )
        .photo(),
    ),
    checked("VA-07", "metal cladding with no way for its own condensate", &["cladding.metal_sweats"]).and_look(look(
        "H3",
        On::MetalCladding,
        "behind sheet metal: an underlay that takes vapour, and a gap open at both ends",
    )),
];
