//! Failures of insulation, TH-01 to TH-06.

use super::{Failure, On, checked, look};

/// In order.
pub(super) static ROWS: &[Failure] = &[
    checked("TH-01", "girts that run on through the insulation", &["furring.girt_through_insulation"]).and_look(look(
        "H3",
        On::Insulation,
        "no metal rail runs on through the insulation: only the clips or screws of the wall section",
    )),
    checked("TH-02", "voids at blocks and holes", &["block.cold"]).and_look(
        look("H3", On::Insulation, "no void in the insulation at blocks, sleeves and edges: cut to fit, or filled")
            .photo(),
    ),
    checked("TH-03", "wind washes through fibrous boards", &["insulation.wind_washed"]).and_look(look(
        "H3",
        On::Insulation,
        "boards of fibre tight to what is behind them, joints closed, facing whole towards the gap",
    )),
    checked("TH-04", "gap and cladding counted as insulation", &["thermal.effective_resistance_low"]),
    checked("TH-05", "screws through insulation left out of R", &["furring.screws_leak_heat"]),
    checked("TH-06", "a ledger or canopy bolted hard through the insulation", &["deck.ledger_bridges"]).and_look(look(
        "H3",
        On::Deck,
        "ledger and brackets stand on their thermal break, not hard on the frame",
    )),
];
