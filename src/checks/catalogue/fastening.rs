//! Failures of fastening and structure, FA-01 to FA-14.

use super::{Failure, On, by_eye, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("FA-01", "a fastener misses what should hold it", &["fastener.misses"]).and_look(look(
        "H5",
        On::Wall,
        "fasteners on the chalk lines of strips and studs, within {fastener.hit}; a miss is drawn, sealed and set again",
    )),
    checked("FA-02", "a fastener too short", &["fastener.too_short"]),
    checked("FA-03", "what it goes into does not hold", &["fastener.no_base"]),
    checked("FA-04", "furring too thin for its nails", &["furring.thin_for_nails"]).and_look(look("H4", On::Furring, "strips as thick as in the wall section; ring-shank nails or screws where they are {19mm} or less")),
    checked("FA-05", "furring splits", &["furring.splits"]).and_look(look("H3", On::Furring, "no split strip: screws {furring.end_distance} or more from ends, or pilot holes; split ones replaced")),
    checked("FA-06", "too few fasteners near corners, where wind pulls hardest", &["fastening.too_sparse_for_wind"]).and_look(look("H5", On::Corner, "near outside corners and eaves the closer spacing that the drawing gives there, counted over {1000mm}")),
    checked("FA-07", "long screws through insulation carry too much", &["screws.overloaded_through_insulation"]).and_look(look("H3", On::Insulation, "furring screws through insulation: size, length and spacing as the drawing or the engineer gives")),
    checked("FA-08", "something heavy hangs on furring alone", &["load.on_furring_only"]).and_look(look("H3", On::Block, "behind anything that weighs more than about 5 kg (11 lb): solid wood to the studs").photo()),
    checked("FA-09", "a bracket bears on a soft layer", &["bracket.on_soft_layer"]).and_look(look("H3", On::Deck, "brackets and ledgers bear on something rigid all the way to the frame, not on foam or air").photo()),
    checked("FA-10", "a butt joint away from its support", &["joint.off_support"]).and_look(look("H5", On::Courses, "both ends of every butt joint lie on a strip or a back plate")),
    checked("FA-11", "fasteners too near an edge", &["fastener.near_edge"]).and_look(look("H5", On::Wall, "fasteners {fastener.edge_distance} or more from edges of boards, or the maker's distance if that is more")),
    checked("FA-12", "a notch leaves a sliver", &["notch.sliver"]).and_look(look("H5", On::Opening, "pieces notched round an opening keep {notch.left} or more of board and two fasteners on each side")),
    by_eye(
        "FA-13",
        "fasteners overdriven",
        look("H5", On::Wall, "heads flush, neither dimpled nor proud; an overdriven one has another beside it and is sealed"),
    ),
    checked("FA-14", "the starter is not fixed often enough", &["starter.loose"]).and_look(look("H4", On::Base, "starter fixed every {starter.spacing} or closer and within {fastener.end_distance} of each end")),
];
