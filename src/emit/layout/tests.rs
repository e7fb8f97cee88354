//! What is placed is what is cut, nothing leaves its sheet, and a strip at full size is at full size.

use super::*;
use crate::session::heron_lane;

#[test]
fn every_piece_is_placed_on_its_wall_and_every_trim_is_listed() {
    let checked = heron_lane();
    let outputs = LayoutSheets.emit(&checked);
    let of = |start: &str, end: &str| -> String {
        let fits = |output: &&Output| output.path.starts_with(start) && output.path.ends_with(end);
        outputs.iter().filter(fits).map(|output| String::from_utf8(output.bytes.clone()).unwrap()).collect()
    };
    let walls = of("layout/walls-", ".svg");
    let cut = pieces::cut(&checked.model, &checked.plan, trims::CUT_FOR);
    assert_eq!(walls.matches("class=\"piece\"").count(), cut.list.len());
    let made = trims::cut(&checked.model, &checked.plan, trims::CUT_FOR);
    assert_eq!(walls.matches("class=\"trim\"").count(), made.list.len());
    let lists = of("layout/trims_", ".csv");
    for piece in &made.list {
        assert!(lists.contains(&tables::mark(piece)), "{}", piece.mark);
    }
    let holes = of("layout/holes", ".csv");
    let count: usize = made.list.iter().map(trims::TrimPiece::hole_count).sum();
    assert!(holes.lines().count() > count);
    assert_eq!(outputs, LayoutSheets.emit(&checked));
}

#[test]
fn nothing_is_drawn_outside_its_sheet() {
    let checked = heron_lane();
    let made = trims::cut(&checked.model, &checked.plan, trims::CUT_FOR);
    let mut sheets = strips::sheets(&checked, &made, &trims::templates(&made.list));
    for at in 0..checked.model.faces.len() {
        sheets.extend(holes::sheets(&checked, &made, FaceId(at as u32)));
    }
    assert!(!sheets.is_empty());
    for sheet in sheets {
        let area = sheet.area();
        for item in &sheet.items {
            let bounds = item.bounds().unwrap();
            assert!(
                bounds.x >= area.x - 2.0
                    && bounds.right() <= area.right() + 2.0
                    && bounds.bottom() <= area.bottom() + 0.5,
                "{}: {bounds:?} {area:?}",
                sheet.id
            );
        }
    }
}
