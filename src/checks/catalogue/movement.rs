//! Failures of movement, MO-01 to MO-10.

use super::{Failure, On, by_eye, checked, look, not_claimed};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("MO-01", "a joint too tight for a hot day", &["joint.too_tight"]).and_look(look(
        "H5",
        On::Wall,
        "joints measured with a gauge: the width for today's temperature; write both down",
    )),
    checked("MO-02", "a lap that opens in the cold", &["trim.lap_opens"]),
    checked("MO-03", "one piece fixed at two points", &["trim.fixed_twice"]).and_look(look(
        "H4",
        On::Trim,
        "each length of trim slides by hand at its slots; one fixed point only",
    )),
    by_eye(
        "MO-04",
        "the frame shrinks at a floor and the cladding does not",
        look(
            "H5",
            On::Floor,
            "at each floor line the cladding and the upright trims are parted, {floor_line.gap} or as drawn",
        )
        .photo(),
    ),
    checked("MO-05", "a flashing loses its slope as the frame shrinks", &["flashing.flat"]),
    by_eye(
        "MO-06",
        "a mitre opens",
        look(
            "H5",
            On::Opening,
            "no mitre on wood or plastic trims wider than {mitre.leg}: returned, rebated or butted under a cap",
        ),
    ),
    by_eye(
        "MO-07",
        "a wide board pinned twice",
        look("H5", On::Courses, "boards wider than {150mm} are held by one row or by clips, so that they can shrink"),
    ),
    not_claimed(
        "MO-08",
        "flat metal faces ripple",
        On::MetalCladding,
        "a matter of looks; nothing leaks by it, and no limit was found that holds for every sheet",
    ),
    by_eye(
        "MO-09",
        "one part bridges concrete and frame",
        look("H5", On::Base, "no board, trim or sheet is fixed to the foundation and to the frame at once"),
    ),
    by_eye(
        "MO-10",
        "butt joints tight in wood that will swell",
        look(
            "H5",
            On::Absorbs,
            "butt joints open by the maker's width, or {joint.gap}; all ends sealed before they meet",
        ),
    ),
];
