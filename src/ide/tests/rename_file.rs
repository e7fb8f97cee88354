//! Files that move take their `use` lines along.

use super::{checked, edited, world};
use crate::ide::rename_files;
use crate::session::heron_lane_world;
use crate::source::MapWorld;

#[test]
fn use_lines_and_what_goes_through_them_follow() {
    let texts = MapWorld::new()
        .with("details.wythe", "wythe 1\n\ndetail a {\n    at base\n}\n")
        .with("north.wythe", "wythe 1\n\nuse details\nuse details (a)\n\ndetail b {\n    like details.a\n}\n")
        .with("parts/east.wythe", "wythe 1\n\nuse corner\n")
        .with("parts/corner.wythe", "wythe 1\n");
    let glance = checked(&texts);
    let moves = [("details.wythe".to_owned(), "parts/joints.wythe".to_owned())];
    let moved = rename_files(&glance, &moves);
    assert_eq!(moved.lost, []);
    let after = edited(&glance, &moved.edits);
    let north = &after["north.wythe"];
    assert!(north.contains("use parts.joints\nuse parts.joints (a)\n") && north.contains("like joints.a"), "{north}");
    let folder = rename_files(&glance, &[("parts".to_owned(), "bits".to_owned())]);
    assert_eq!((folder.edits, folder.lost), (vec![], vec![]));
}

#[test]
fn what_no_use_line_can_reach_is_said() {
    let texts = MapWorld::new().with("a/details.wythe", "wythe 1\n").with("a/north.wythe", "wythe 1\n\nuse details\n");
    let glance = checked(&texts);
    let why = |to: &str| rename_files(&glance, &[("a/details.wythe".to_owned(), to.to_owned())]).lost[0].1.clone();
    assert!(why("b/details.wythe").contains("beside it and below"));
    assert!(why("a/my-details.wythe").contains("is no name"));
    assert!(why("a/details.txt").contains("does not end in"));
    let into = rename_files(&glance, &[("a/north.wythe".to_owned(), "north.wythe".to_owned())]);
    assert_eq!(edited(&glance, &into.edits)["a/north.wythe"], "wythe 1\n\nuse a.details\n");
}

/// A file of the demo house gets another name: the same findings, with another name in them.
#[test]
fn heron_lane_checks_the_same_with_a_file_renamed() {
    let glance = checked(&heron_lane_world());
    let moved = rename_files(&glance, &[("details.wythe".to_owned(), "joints.wythe".to_owned())]);
    assert!(moved.edits.len() >= 7 && moved.lost.is_empty());
    let mut texts = edited(&glance, &moved.edits);
    let text = texts.remove("details.wythe").unwrap();
    texts.insert("joints.wythe".to_owned(), text);
    let after = checked(&world(&texts));
    let said = |glance: &crate::session::Glance| -> Vec<String> {
        let mut said: Vec<String> =
            glance.findings.iter().map(|one| format!("{} {}", one.finding.subject, one.finding.message)).collect();
        said.sort();
        said
    };
    assert_eq!(said(&glance), said(&after));
    assert_eq!(after.problems.len(), glance.problems.len());
}
