//! Failures of laps and flashings, LA-01 to LA-18.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("LA-01", "an upper sheet tucked behind a lower one", &["membrane.reversed_lap"]).and_look(
        look("H1", On::Membrane, "at every lap the upper sheet lies outside the lower one").photo(),
    ),
    checked("LA-02", "a lap too short", &["membrane.short_lap"]).and_look(look(
        "H1",
        On::Membrane,
        "level laps are {membrane.lap} or more, upright ones {membrane.end_lap} or more: measure the shortest",
    )),
    checked("LA-03", "a head flashing outside the membrane and not taped", &["head.flashing_over_membrane"]).and_look(
        look("H2", On::Opening, "upstand of each head flashing behind the membrane, or taped over it along its whole edge").photo(),
    ),
    checked("LA-04", "head flashing does not suit the plane of the trims", &["head.wrong_arrangement"]),
    checked("LA-05", "no sill pan, or one without dams", &["sill.no_pan"]).and_look(
        look("H2", On::Opening, "sill pan with back dam and both end dams; water poured on it runs out to the front").photo(),
    ),
    checked("LA-06", "the sill is sealed at its outside", &["sill.sealed_outside"])
        .and_look(look("H3", On::Opening, "no sealant along the outer edge of any sill")),
    checked("LA-07", "jamb membrane under the sill pan", &["jamb.under_sill"])
        .and_look(look("H2", On::Opening, "at each lower corner of an opening the jamb strip lies over the pan").photo()),
    checked("LA-08", "one long angle in place of step flashings", &["step_flashing.continuous"])
        .and_look(look("H2", On::Roof, "along a sloped roof: one step flashing for each course, legs {step_flashing.leg}, lapped {step_flashing.head_lap} or more")
            .by("roofer")
            .photo()),
    checked("LA-09", "wall membrane behind the step flashings", &["step_flashing.over_membrane"])
        .and_look(look("H2", On::Roof, "the membrane of the wall laps over the upstands of the step flashings by {flashing.upstand} or more").photo()),
    checked("LA-10", "sealant in place of a flashing", &["joint.caulk_only"])
        .and_look(look("H5", On::Transition, "no level joint relies on sealant alone: there is a flashing behind it")),
    checked("LA-11", "head flashing sealed to the trim or cladding over it", &["head.sealed"]).and_look(look(
        "H5",
        On::Opening,
        "the slot above each head flashing is open, {head_trim.held_up} or more, with no sealant in it",
    )),
    checked("LA-12", "a flashing too short for its opening", &["flashing.too_short"])
        .and_look(look("H2", On::Opening, "each head flashing runs {10mm} or more past the trims on both sides, or ends in dams")),
    checked("LA-13", "a splice of flashings stands open", &["flashing.splice_open"])
        .and_look(look("H4", On::Flashing, "splices of flashings lap {100mm} or more with butyl between, or lie over a splice plate and membrane")),
    checked("LA-14", "no saddle where a parapet or roof meets a higher wall", &["point.no_detail", "parapet.no_saddle"]),
    checked("LA-15", "a deck ledger without flashing, or in the wrong order", &["ledger.unflashed"])
        .and_look(look("H2", On::Deck, "ledger: flashing over it, membrane over the flashing by {100mm}, drained space of {10mm} behind it").photo()),
    checked("LA-16", "a fastener through the wet leg of a flashing", &["flashing.fixed_in_wet_leg"])
        .and_look(look("H4", On::Flashing, "fasteners of flashings are in the upstand only, {25mm} or more above the bend")),
    checked("LA-17", "claddings meet without a flashing through the wall", &["transition.no_flashing"]),
    checked("LA-18", "membrane ends behind the base flashing", &["membrane.behind_base_flashing"]).and_look(
        look("H4", On::Base, "the membrane hangs in front of the upstand of the base flashing by {flashing.upstand} or more").photo(),
    ),
];
