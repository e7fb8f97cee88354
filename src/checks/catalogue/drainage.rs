//! Failures of drainage, DR-01 to DR-18.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("DR-01", "no way out for water at the base", &["drain.no_exit"]).and_look(
        look("H4", On::Base, "pour a cup of water into the gap near each end: it comes out below within a minute")
            .photo(),
    ),
    checked("DR-02", "weep holes too small to drain", &["weep.too_small", "exit.too_small_for_rain"]).and_look(look(
        "H4",
        On::Weeps,
        "every weep is open right through, deburred, {weep.diameter} or wider: push a rod of that size through",
    )),
    checked("DR-03", "weeps not at the low point", &["weep.above_floor", "channel.ponds"]),
    checked("DR-04", "a sloped base trim works as a gutter", &["base.runs_to_corner"]),
    checked("DR-05", "a weep lands on a furring strip", &["weep.on_furring"]).and_look(look(
        "H4",
        On::Weeps,
        "each bay between strips has its weep; none stands in front of a strip",
    )),
    checked("DR-06", "horizontal furring dams the gap", &["furring.dams"]),
    checked("DR-07", "a piece of wood lies tight above an opening", &["nailer.above_head"]).and_look(look(
        "H3",
        On::Opening,
        "nothing lies in the gap within {nailer.clear} above a head flashing, offcuts included",
    )),
    checked("DR-08", "a block or box dams the gap", &["block.dams_gap"]),
    checked("DR-09", "cladding stands on a ledge", &["cladding.on_ledge"]).and_look(look(
        "H5",
        On::Flashing,
        "daylight of {clearance.flashing} or more between the cladding and every flashing below it",
    )),
    checked("DR-10", "cladding too close to the ground", &["base.near_ground"]).and_look(look(
        "H7",
        On::Ground,
        "ground as it lies now: {clearance.ground} or more below the cladding along the whole base",
    )),
    checked("DR-11", "cladding too close to a roof or deck", &["base.near_roof"]),
    checked("DR-12", "no kick-out where a roof ends against the wall", &["roof.no_kick_out"]).and_look(
        look("H2", On::Roof, "kick-out in place under the first step flashing, {kick_out.height} high or more").photo(),
    ),
    checked("DR-13", "a valley or an upper eave empties onto the wall", &["roof.pours_on_wall"]).and_look(look(
        "H7",
        On::Wall,
        "no valley, eave or downpipe above empties onto this wall: a gutter or diverter takes it away",
    )),
    checked("DR-14", "the gap is pinched", &["gap.shallow"]).and_look(look(
        "H3",
        On::Gap,
        "membrane flat and insulation not bulging: {gap.depth} clear in every bay, felt with a gauge block",
    )),
    checked("DR-15", "no break in a tall gap", &["gap.too_tall"]),
    checked("DR-16", "a flashing is flat or falls to the wall", &["flashing.flat"]).and_look(look(
        "H4",
        On::Flashing,
        "a level on each flashing: it falls to the outside by {flashing.slope} or more",
    )),
    checked("DR-17", "no drip at the edge of a flashing", &["flashing.no_drip"]),
    checked("DR-18", "no end dam", &["flashing.no_end_dam"]).and_look(
        look(
            "H3",
            On::Flashing,
            "both ends of each flashing are turned up {end_dam.height} or more and do not leak at the fold",
        )
        .photo(),
    ),
];
