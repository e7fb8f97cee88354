//! The list and the boards hold the same pieces, and nothing leaves its sheet.

use super::*;

fn checked() -> Checked {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron-lane");
    let mut world = crate::source::MapWorld::new();
    let mut roots = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        if name.ends_with(".wythe") {
            world = world.with(&name, &std::fs::read_to_string(&path).unwrap());
            roots.push(name);
        }
    }
    roots.sort();
    crate::session::check(&world, &roots, &crate::session::Settings::default())
}

#[test]
fn every_piece_of_the_wall_is_in_the_list_and_on_a_board() {
    let checked = checked();
    let pieces = pieces::cut(&checked.model, &checked.plan, CUT_FOR);
    let outputs = Cutting.emit(&checked);
    let csv: String = outputs
        .iter()
        .filter(|output| output.path.ends_with(".csv"))
        .map(|output| String::from_utf8(output.bytes.clone()).unwrap())
        .collect();
    for piece in &pieces.list {
        let written =
            csv.matches(&format!("{},", mark(piece))).count() + csv.matches(&format!("{} ", mark(piece))).count();
        assert!(written >= 2, "{} is written {written} times", piece.mark);
    }
    assert_eq!(outputs, Cutting.emit(&checked));
}

#[test]
fn nothing_is_drawn_outside_its_sheet() {
    let checked = checked();
    let pieces = pieces::cut(&checked.model, &checked.plan, CUT_FOR);
    for plan in cut_plans::of_pieces(&checked.model, &pieces) {
        for sheet in stock::sheets(&checked, &pieces, &plan) {
            let area = sheet.area();
            for item in &sheet.items {
                let bounds = item.bounds().unwrap();
                assert!(bounds.right() <= area.right() + 0.5 && bounds.bottom() <= area.bottom() + 0.5, "{bounds:?}");
            }
        }
    }
}
