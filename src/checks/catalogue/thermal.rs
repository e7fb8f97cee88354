//! Failures of insulation, TH-01 to TH-06.

use super::{Failure, On, by_eye, look, not_claimed};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    by_eye(
        "TH-01",
        "girts that run on through the insulation",
        look(
            "H3",
            On::Insulation,
            "no metal rail runs on through the insulation: only the clips or screws of the wall section",
        ),
    ),
    by_eye(
        "TH-02",
        "voids at blocks and holes",
        look("H3", On::Insulation, "no void in the insulation at blocks, sleeves and edges: cut to fit, or filled")
            .photo(),
    ),
    by_eye(
        "TH-03",
        "wind washes through fibrous boards",
        look(
            "H3",
            On::Insulation,
            "boards of fibre tight to what is behind them, joints closed, facing whole towards the gap",
        ),
    ),
    not_claimed(
        "TH-04",
        "gap and cladding counted as insulation",
        On::Insulation,
        "no R of the wall is printed here; whoever computes it leaves out a ventilated gap and all outside it",
    ),
    not_claimed(
        "TH-05",
        "screws through insulation left out of R",
        On::Insulation,
        "no R of the wall is printed here; the loss by long screws belongs in that sum",
    ),
    by_eye(
        "TH-06",
        "a ledger or canopy bolted hard through the insulation",
        look("H3", On::Deck, "ledger and brackets stand on their thermal break, not hard on the frame"),
    ),
];
