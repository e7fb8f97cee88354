//! Failures against pests, PE-01 to PE-06.

use super::{Failure, On, by_eye, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    by_eye(
        "PE-01",
        "an opening that a mouse can pass",
        look("H4", On::Base, "no hole or slot without screen takes a rod of {pest.opening}; try corners and pipes")
            .photo(),
    ),
    by_eye(
        "PE-02",
        "wasps nest in the slots",
        look("H6", On::Top, "slots at the top are screened, with openings of {4mm} or less"),
    ),
    by_eye(
        "PE-03",
        "hollow corner posts",
        look("H4", On::Corner, "a hollow corner post is closed at both ends with a cap that drains and is screened"),
    ),
    by_eye(
        "PE-04",
        "the screen breaks at a corner",
        look("H4", On::Corner, "the screen goes round the corner in one piece, or laps {screen.lap}").photo(),
    ),
    by_eye(
        "PE-05",
        "a screen that can be chewed",
        look("H4", On::Screen, "screens within {600mm} of the ground are of metal"),
    ),
    by_eye(
        "PE-06",
        "a slot stands open at the rake",
        look("H6", On::Rake, "slot along the rake screened to its very ends, no opening over {5mm}"),
    ),
];
