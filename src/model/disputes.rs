//! Points on which the trade's sources disagree. A rule set takes a side with `option`; none of them is a truth.

/// A dispute and the sides a rule set can take.
#[derive(Clone, Copy, Debug)]
pub struct Dispute {
    /// Dotted name behind `option`.
    pub name: &'static str,
    /// The words it takes.
    pub choices: &'static [&'static str],
    /// Who says what, in one line that findings print.
    pub says: &'static str,
}

/// Every dispute that a rule reads.
pub const DISPUTES: &[Dispute] = &[
    Dispute {
        name: "gap.top",
        choices: &["open", "closed", "either"],
        says: "sources disagree: older Canadian advice closes the top of the gap to equalise pressure, research and newer \
               guides open it to dry",
    },
    Dispute {
        name: "gap.into_roof",
        choices: &["refused", "allowed"],
        says: "sources disagree: practitioners citing Canadian codes refuse a gap that opens into the roof, some details \
               from the United States draw it",
    },
    Dispute {
        name: "head_flashing",
        choices: &["behind_membrane", "taped", "either"],
        says: "sources disagree: Canadian code text wants the flashing behind the membrane, an unbroken air barrier wants \
               it taped to the outside",
    },
    Dispute {
        name: "sill_pan",
        choices: &["required", "recommended"],
        says: "sources disagree: some standards and guides require pans and back dams, boards of appeal in British Columbia \
               (1614, 1636) found them recommended",
    },
    Dispute {
        name: "corner_baffle",
        choices: &["wanted", "unwanted", "either"],
        says: "sources disagree: advice on pressure equalisation wants a baffle in the gap at corners, advice on drying does \
               not need it",
    },
    Dispute {
        name: "trim_joint",
        choices: &["open", "caulked", "either"],
        says: "sources disagree: some makers want sealant where cladding meets trim, many practitioners leave it out so that \
               the joint drains",
    },
];
