//! Cards hold what they should, stay on their sheets, and come out the same twice.

use super::*;
use crate::emit::Emitter;

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

fn stays_inside(sheets: &[Sheet]) {
    for sheet in sheets {
        let area = sheet.area();
        for item in &sheet.items {
            let bounds = item.bounds().unwrap();
            assert!(
                bounds.x >= area.x - 0.5
                    && bounds.y >= area.y - 0.5
                    && bounds.right() <= area.right() + 0.5
                    && bounds.bottom() <= area.bottom() + 0.5,
                "{}: {bounds:?} in {area:?}",
                sheet.id
            );
        }
    }
}

#[test]
fn jig_cards_stay_on_their_sheets() {
    let checked = checked();
    let pieces = crate::layout::pieces::cut(&checked.model, &checked.plan, crate::emit::cutting::CUT_FOR);
    let found = crate::layout::jigs::find(&checked.model, &checked.plan, &pieces);
    stays_inside(&jigs::sheets(&checked, &found));
    let outputs = Jigs.emit(&checked);
    assert_eq!(outputs, Jigs.emit(&checked));
    let csv = outputs.iter().find(|output| output.path == "jigs/angles.csv").unwrap();
    let text = String::from_utf8(csv.bytes.clone()).unwrap();
    assert!(text.contains("56.31") && text.contains("8.000") && text.contains("666.7"), "{text}");
}
