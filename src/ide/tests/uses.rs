//! Where things are used, and the lines above declarations.

use super::{checked, shown};
use crate::ide::testing::heron_lane;
use crate::ide::{Action, lenses, node_at, used_by, uses, uses_of};
use crate::source::MapWorld;

#[test]
fn a_detail_knows_every_place_that_changes_with_it() {
    let desk = heron_lane("details.wythe", "detail", "house_corner");
    let node = node_at(&desk.glance, desk.file, desk.offset).unwrap();
    assert_eq!((node.word, node.name.as_str()), ("detail", "house_corner"));
    let places: Vec<String> = uses(&desk.glance, node.id).into_iter().map(|one| one.place).collect();
    insta::assert_snapshot!("uses_house_corner", places.join("\n"));
    let callers: Vec<String> = used_by(&desk.glance, node.id)
        .iter()
        .map(|tie| format!("{} {} {}", tie.node.word, tie.node.name, tie.at.len()))
        .collect();
    assert!(callers.contains(&"face north 2".to_owned()), "{callers:?}");
    let used: Vec<String> =
        uses_of(&desk.glance, node.id).iter().map(|tie| shown(&desk, tie.node.place.name)).collect();
    assert!(matches!(used.as_slice(), [one] if one.ends_with(" corner_boards")), "{used:?}");
}

#[test]
fn what_is_like_a_detail_counts_for_it() {
    let desk = heron_lane("details.wythe", "like details.", "corner_boards");
    let node = node_at(&desk.glance, desk.file, desk.offset).unwrap();
    assert_eq!(node.name, "corner_boards");
    let own = heron_lane("details.wythe", "detail", "house_corner");
    let house = node_at(&own.glance, own.file, own.offset).unwrap();
    assert_eq!(uses(&desk.glance, node.id), uses(&own.glance, house.id));
}

#[test]
fn lines_above_faces_and_details() {
    let mut out = String::new();
    for path in ["north.wythe", "east.wythe", "details.wythe", "assemblies.wythe"] {
        let desk = heron_lane(path, "", "wythe 1");
        for lens in lenses(&desk.glance, desk.file) {
            out += &format!("{}: {}\n", shown(&desk, lens.at), lens.title);
        }
    }
    insta::assert_snapshot!("lenses", out);
}

#[test]
fn a_face_with_mistakes_is_not_said_to_be_without_fault() {
    let glance = checked(&MapWorld::new().with("north.wythe", "wythe 1\n\nface north {\n    windo a\n}\n"));
    let file = glance.project.files.find("north.wythe").unwrap();
    let titles: Vec<String> = lenses(&glance, file).into_iter().map(|lens| lens.title).collect();
    assert_eq!(titles, ["not checked: its text has mistakes", "draw", "trace"]);
    assert!(matches!(lenses(&glance, file)[1].action, Action::Draw(ref face) if face == "north"));
}
