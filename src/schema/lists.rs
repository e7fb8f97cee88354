//! Rows of lists to cut that come from no wall.

use super::{Row, row};

pub(super) const ROWS: &[Row] = &[
    row(
        "file",
        "cutlist",
        "<name:new>",
        "pieces to cut from lengths that come from no wall; it is planned, and nothing else",
    )
    .many()
    .body("cutlist"),
    row(
        "cutlist",
        "stock",
        "<lengths:lengths> [price <amount:number>]",
        "lengths it is sold in; with a price, that of one of them in the project's currency",
    )
    .many(),
    row("cutlist", "kerf", "<width:length>", "width of the saw cut")
        .basis("3 mm, or the limit `saw.kerf`: common practice"),
    row("cutlist", "keep", "<length:length>", "shortest offcut worth keeping")
        .basis("300 mm, or the limit `offcut.keep`: common practice"),
    row("cutlist", "offcut", "<length:length>", "a length that lies there and is used before new stock")
        .many()
        .body("lengths_alike"),
    row("cutlist", "piece", "<length:length>", "a piece to cut, to its long point").many().body("lengths_alike"),
    row("lengths_alike", "count", "<number:integer>", "how many of them; one if not said"),
    row("lengths_alike", "mark", "<words:text>", "what is written on it"),
];
