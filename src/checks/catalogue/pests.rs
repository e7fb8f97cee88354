//! Failures against pests, PE-01 to PE-06.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("PE-01", "an opening that a mouse can pass", &["opening.unscreened"]).and_look(
        look("H4", On::Base, "no hole or slot without screen takes a rod of {pest.opening}; try corners and pipes")
            .photo(),
    ),
    checked("PE-02", "wasps nest in the slots", &["vent.lets_wasps_in"]).and_look(look(
        "H6",
        On::Top,
        "slots at the top are screened, with openings of {4mm} or less",
    )),
    checked("PE-03", "hollow corner posts", &["corner_post.hollow"]).and_look(look(
        "H4",
        On::Corner,
        "a hollow corner post is closed at both ends with a cap that drains and is screened",
    )),
    checked("PE-04", "the screen breaks at a corner", &["screen.breaks_at_corner"]).and_look(
        look("H4", On::Corner, "the screen goes round the corner in one piece, or laps {screen.lap}").photo(),
    ),
    checked("PE-05", "a screen that can be chewed", &["screen.chewable"]).and_look(look(
        "H4",
        On::Screen,
        "screens within {600mm} of the ground are of metal",
    )),
    checked("PE-06", "a slot stands open at the rake", &["opening.rake_unscreened"]).and_look(look(
        "H6",
        On::Rake,
        "slot along the rake screened to its very ends, no opening over {5mm}",
    )),
];
