//! Failures of setting out and building, BL-01 to BL-14.

use super::{Failure, On, by_eye, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("BL-01", "parts that cannot be put up in any order", &["order.cycle"]),
    checked("BL-02", "a section is left open to the rain overnight", &["section.no_dry_in"]).and_look(
        look(
            "H5",
            On::Wall,
            "the top of the section is dry for the night: a flap turned out {dry_in.flap}, or sealed and covered",
        )
        .photo(),
    ),
    checked("BL-03", "a sliver at sill, head or soffit", &["course.sliver"]),
    checked("BL-04", "courses do not meet at a corner", &["course.corner"]).and_look(look(
        "H5",
        On::Corner,
        "course lines of both walls meet at the corner within {course.corner}",
    )),
    checked("BL-05", "butt joints in ladders or steps", &["joint.repeats"]).and_look(look(
            "H5",
            On::Courses,
            "butt joints of neighbouring courses lie {joint.offset_bays} bays or more apart, with no pattern seen from afar",
        )),
    checked("BL-06", "a hole falls into a lap or mitre", &["hole.near_mitre"]).and_look(look(
            "H4",
            On::Trim,
            "no hole in a lap, or within {hole_to_mitre} of a mitre, that the other piece does not match",
        )),
    by_eye(
        "BL-07",
        "marks drift by rounding",
        look(
            "H1",
            On::Furring,
            "marks are read off one tape hooked at the end; the last one is where the drawing has it, within {2mm}",
        ),
    ),
    by_eye(
        "BL-08",
        "the saw cannot make the angle",
        look(
            "H0",
            On::Rake,
            "cuts steeper than {saw.angle} from square: the jig for them is made, and tried on an offcut",
        ),
    ),
    checked("BL-09", "a trim shallower than what it covers", &["trim.too_shallow"]),
    checked("BL-10", "work beyond reach", &["section.out_of_reach"]).and_look(look(
        "H5",
        On::Wall,
        "nothing of the section lies higher than {reach.platform} above the platform or beyond an arm's reach",
    )),
    checked("BL-11", "no strip at an edge", &["furring.none_at_edge"]).and_look(look(
        "H4",
        On::Furring,
        "strips at corners and beside openings: cladding ends {support.end} or less beyond them",
    )),
    checked("BL-12", "a piece longer than its stock", &["trim.longer_than_stock"]),
    checked("BL-13", "measured to the wrong face", &["face.mixed_datum"]),
    by_eye(
        "BL-14",
        "left and right pieces mixed up",
        look(
            "H0",
            On::Rake,
            "handed pieces are marked L or R, with an arrow up, on the back, before they leave the bench",
        ),
    ),
];
