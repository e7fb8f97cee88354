//! Failures of movement, MO-01 to MO-10.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("MO-01", "a joint too tight for a hot day", &["joint.too_tight"]).and_look(look(
        "H5",
        On::Wall,
        "joints measured with a gauge: the width for today's temperature; write both down",
    )),
    checked("MO-02", "a lap that opens in the cold", &["trim.lap_opens", "board.lap_opens"]),
    checked("MO-03", "one piece fixed at two points", &["trim.fixed_twice", "board.fixed_twice"]).and_look(look(
        "H4",
        On::Trim,
        "each length of trim slides by hand at its slots; one fixed point only",
    )),
    checked("MO-04", "the frame shrinks at a floor and the cladding does not", &["floor.shrinkage_no_gap"]).and_look(
        look(
            "H5",
            On::Floor,
            "at each floor line the cladding and the upright trims are parted, {floor_line.gap} or as drawn",
        )
        .photo(),
    ),
    checked("MO-05", "a flashing loses its slope as the frame shrinks", &["flashing.slope_lost"]),
    checked("MO-06", "a mitre opens", &["mitre.opens"]).and_look(look(
        "H5",
        On::Opening,
        "no mitre on wood or plastic trims wider than {mitre.leg}: returned, rebated or butted under a cap",
    )),
    checked("MO-07", "a wide board pinned twice", &["board.pinned_twice"]).and_look(look(
        "H5",
        On::Courses,
        "boards wider than {150mm} are held by one row or by clips, so that they can shrink",
    )),
    checked("MO-08", "flat metal faces ripple", &["sheet.flat_face"]),
    checked("MO-09", "one part bridges concrete and frame", &["part.bridges_movement"]).and_look(look(
        "H5",
        On::Base,
        "no board, trim or sheet is fixed to the foundation and to the frame at once",
    )),
    checked("MO-10", "butt joints tight in wood that will swell", &["board.tight_joint"]).and_look(look(
        "H5",
        On::Absorbs,
        "butt joints open by the maker's width, or {joint.gap}; all ends sealed before they meet",
    )),
];
