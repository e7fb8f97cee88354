//! Floors, ledgers and rows of brackets across a wall: what they part, what they let through, and how they are counted.

use super::*;
use crate::continuity::GapFlow;
use crate::quantities::{Amount, take_off};

const DETAILS: &str = "
detail tight {
    at floor_line
    gap_end closed
}
detail open_break {
    at floor_line
    part flashing std.flashings.aluminium_coil 0.6mm, laps under water by 75mm
    gap_end open 12mm to lower
    gap_end open 12mm to upper
    gives outlet to lower
    gives exit and inlet to upper
}
detail plain {
    at floor_line
    air seals to itself with std.tapes.acrylic
}
detail deck_board {
    at ledger
    gap_end open 10mm to lower
    gap_end open 10mm to upper
    gives outlet to lower
    gives exit and inlet to upper
}
detail clip {
    at bracket
    part pad std.materials.polyamide
    part bracket std.materials.stainless_steel 2mm
}
";

/// The plain wall with lines of text added.
fn with(lines: &str) -> (Model, Plan) {
    placed("", &format!("{DETAILS}\n{}", PLAIN.replace("    area all", &format!("    {lines}\n    area all"))))
}

#[test]
fn a_floor_parts_the_gap_only_where_its_detail_says_so() {
    let (_, whole) = with("floor_line upper at 1200mm, detail plain");
    assert_eq!(whole.faces[0].areas[0].bays.len(), 4);
    let (_, bare) = with("floor_line upper at 1200mm");
    assert_eq!(bare.faces[0].areas[0].bays.len(), 4);
    assert!(bare.runs.iter().any(|run| run.kind == "floor_line" && run.detail.is_none()), "for `edge.no_detail`");
    for detail in ["tight", "open_break"] {
        let (model, plan) = with(&format!("floor_line upper at 1200mm, detail {detail}"));
        assert_eq!(bays(&plan, 0).len(), 8, "{detail}");
        adds_up(&model, &plan, true);
        let run = plan.runs.iter().find(|run| run.kind == "floor_line").unwrap();
        assert_eq!((run.segment.from, run.segment.to), (Point::mm(0, 1200), Point::mm(1300, 1200)));
    }
}

#[test]
fn water_leaves_over_a_floor_and_air_below_it() {
    let (model, plan) = with("floor_line upper at 1200mm, detail open_break");
    let flow = GapFlow::find(&model, &plan);
    let (upper, lower): (Vec<_>, Vec<_>) = flow
        .bays
        .iter()
        .partition(|bay| plan.faces[0].areas[0].bays[bay.id.bay].shape.bounds().bottom >= Length::mm(1200));
    assert!(upper.iter().all(|bay| bay.exits.len() == 1 && bay.inlets.iter().any(|inlet| inlet.area.is_some())));
    assert!(upper.iter().flat_map(|bay| &bay.outlets).all(|outlet| outlet.missing.is_some()));
    // The foot and the top of this wall have no detail: below the floor there is one known way out for air and none for water.
    assert!(lower.iter().all(|bay| bay.exits.is_empty() && bay.outlets.iter().any(|out| out.area.is_some())));
    assert!(lower.iter().flat_map(|bay| &bay.inlets).all(|inlet| inlet.missing.is_some()));
}

#[test]
fn a_ledger_takes_its_height_out_of_the_gap() {
    let (model, plan) = with("ledger terrace spruce 38mm x 200mm at 700mm from 300mm to 900mm, detail deck_board");
    adds_up(&model, &plan, true);
    let run = plan.runs.iter().find(|run| run.kind == "ledger").unwrap();
    assert_eq!((run.segment.from, run.segment.to), (Point::mm(300, 700), Point::mm(900, 700)));
    let over = plan.faces[0].areas[0].bays.iter().filter(|bay| bay.shape.bounds().bottom == Length::mm(700));
    let under = plan.faces[0].areas[0].bays.iter().filter(|bay| bay.shape.bounds().top == Length::mm(500));
    assert_eq!((over.count(), under.count()), (1, 1), "the bay that the ledger spans is cut in two");
}

#[test]
fn each_line_is_counted_once() {
    let house = "building house, faces north";
    let text =
        "bracket_row rail at 1800mm, every 400mm, detail clip\n    floor_line upper at 1200mm, detail open_break";
    let (model, plan) = placed(
        "",
        &format!("{DETAILS}\n{}\n{house}", PLAIN.replace("    area all", &format!("    {text}\n    area all"))),
    );
    let rows = take_off(&model, &plan);
    let of = |place: &str, what: &str| -> Vec<_> {
        rows.iter().filter(|row| row.place == place && row.what == what).map(|row| row.net).collect()
    };
    // 1300 mm at 400 mm: four spaces, five brackets.
    assert_eq!(of("north.rail", "bracket"), [Some(Amount::Count(5))]);
    assert_eq!(of("north.rail", "pad"), [Some(Amount::Count(5))]);
    assert_eq!(of("north.upper.flashing", "flashing"), [Some(Amount::Length(Length::mm(1300)))]);
}
