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
    let cut = checked.pieces();
    assert_eq!(walls.matches("class=\"piece\"").count(), cut.list.len());
    let made = checked.trims();
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
    let made = checked.trims();
    let mut sheets = strips::sheets(&checked, made, &trims::templates(&made.list));
    for at in 0..checked.model.faces.len() {
        sheets.extend(holes::sheets(&checked, made, FaceId(at as u32)));
        sheets.extend(furring::sheet(&checked, FaceId(at as u32)));
    }
    let poles = story_pole::poles(&checked.model, &checked.plan);
    sheets.extend(poles.iter().enumerate().flat_map(|(at, one)| pole::sheets(&checked, one, at)));
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

#[test]
fn the_drawn_pole_has_every_mark_of_its_list_and_the_map_every_strip() {
    let checked = heron_lane();
    let poles = story_pole::poles(&checked.model, &checked.plan);
    let drawn: String = pole::sheets(&checked, &poles[0], 0).iter().map(Sheet::to_svg).collect();
    for mark in &poles[0].marks {
        let (first, second) = tables::figures(poles[0].from_foot(mark.height), checked.model.project.units);
        assert!(drawn.contains(&format!(">{first}<")) && drawn.contains(&format!(">{second}<")), "{first} {second}");
    }
    for at in 0..checked.model.faces.len() {
        let strips = crate::layout::furring_map::of_face(&checked.model, &checked.plan, FaceId(at as u32));
        let map = furring::sheet(&checked, FaceId(at as u32)).expect("a map").to_svg();
        assert_eq!(map.matches("class=\"strip\"").count(), strips.len());
    }
}
