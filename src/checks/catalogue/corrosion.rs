//! Failures by corrosion, CO-01 to CO-11.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] =
    &[
        checked("CO-01", "two metals touch in the wet", &["metal.pair"]),
        checked("CO-02", "a small piece of the less noble metal in a large one", &["fastener.less_noble"]).and_look(
            look("H4", On::Metal, "fasteners in metal parts are the ones of the schedule: read the box, try a magnet"),
        ),
        checked("CO-03", "water runs off a nobler metal onto a lesser one", &["metal.runoff"]),
        checked("CO-04", "metal lies on wood treated with copper", &["metal.on_treated_wood"]).and_look(look(
            "H4",
            On::Treated,
            "between treated wood and aluminium or zinc: a strip of membrane; fasteners stainless or hot-dipped",
        )),
        checked("CO-05", "aluminium or zinc on concrete, mortar or cement dust", &["metal.on_cement"]).and_look(look(
            "H4",
            On::Cement,
            "metal kept off concrete and mortar by a membrane or coat; cement dust washed off the same day",
        )),
        checked("CO-06", "a fastener with a finish for indoors", &["fastener.wrong_finish"]).and_look(look(
            "H0",
            On::Wall,
            "boxes of fasteners on site: stainless or hot-dipped, as in the schedule; nothing else in the aprons",
        )),
        checked("CO-07", "steel or zinc in wood that blackens it", &["fastener.in_acid_wood"]),
        checked("CO-08", "cut edges in the splash", &["metal.cut_edge_in_splash"]).and_look(look(
            "H5",
            On::Metal,
            "cut edges of coated metal within {300mm} of ground or roof are hemmed, sealed, and touch nothing",
        )),
        checked("CO-09", "a channel that keeps dirt wet", &["channel.traps_debris"]).and_look(look(
            "H4",
            On::Trim,
            "no channel opens upward without holes in its floor; sawdust and swarf brushed out of it",
        )),
        checked("CO-10", "salt from road or sea", &["metal.in_salt"]).and_look(look(
            "H0",
            On::Salt,
            "metal parts and fasteners are of the salt grade of the schedule: read the marks on the boxes",
        )),
        checked("CO-11", "swarf left on a finish", &["trim.drilled_in_place"]).and_look(look(
            "H5",
            On::Metal,
            "no steel swarf on coated metal: drilled on the bench, brushed and washed off the same day",
        )),
    ];
