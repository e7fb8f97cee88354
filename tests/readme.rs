//! What the README shows is what the program does: the wall, its fault, its drawing.
#![allow(missing_docs, clippy::unwrap_used)]

#[path = "common/folder.rs"]
mod folder;

use std::fs;
use std::path::Path;

/// The first wall, checked without a date, so that its drawing stays the same.
fn checked() -> wythe::session::Checked {
    wythe::session::check(&folder::folder("examples/first-wall"), &["wall.wythe".to_owned()], &Default::default())
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The indented blocks of the README, without their indentation.
fn shown() -> String {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    text.lines().map(|line| line.strip_prefix("    ").unwrap_or(line)).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_wall_shown_is_the_wall_checked() {
    let wall = fs::read_to_string(root().join("examples/first-wall/wall.wythe")).unwrap();
    let face = wall.find("face north {").unwrap();
    let face = wall[face..].split("\n}\n").next().unwrap();
    assert!(shown().contains(face), "the README shows another face than examples/first-wall/wall.wythe:\n{face}");
}

#[test]
fn the_fault_shown_is_the_fault_found() {
    let checked = checked();
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    let found: Vec<_> = checked.findings.iter().map(|settled| &settled.finding).collect();
    let [fault] = found.as_slice() else { panic!("{found:#?}") };
    let shown = shown();
    for line in [&fault.message, &fault.place, &fault.basis.citation, &fault.help[0]] {
        assert!(shown.contains(line.as_str()), "the README does not show `{line}`");
    }
}

#[test]
fn the_drawing_shown_is_the_drawing_made() {
    let checked = checked();
    let outputs = wythe::emit::outputs(&checked, Some(&["elevations".to_owned()]));
    let made = outputs.iter().find(|output| output.path == "elevations/north.svg").unwrap();
    let path = root().join("examples/first-wall/north.svg");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, &made.bytes).unwrap();
    }
    let stored = fs::read(&path).unwrap_or_default();
    assert!(stored == made.bytes, "examples/first-wall/north.svg is out of date: run the tests once with UPDATE=1");
}
