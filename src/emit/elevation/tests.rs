//! The sheets of a whole house hold their words apart, and those of a tiny wall say what they should.

use crate::emit::drawing::{Item, Rect, Sheet, Text};
use crate::emit::{EMITTERS, Output, elevation};
use crate::model::FaceId;
use crate::session::{Checked, Settings, check};
use crate::source::MapWorld;

fn example(name: &str) -> Checked {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
    let mut world = MapWorld::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        if name.ends_with(".wythe") {
            world = world.with(&name, &std::fs::read_to_string(&path).unwrap());
        }
    }
    check(&world, &["building.wythe".to_owned()], &Settings::default())
}

const TINY: &str = "wythe 1
use std.boards
use std.details

project tiny {
    title \"Tiny shed\"
}

assembly shed {
    layer boards boards.larch 20mm, controls rain, exposure 130mm
    gap cavity 19mm vented {
        furring spruce 19mm x 38mm, vertical, every 600mm on centre
    }
    layer sheathing plywood 12.5mm, controls water and air
    frame studs spruce 38mm x 89mm, every 600mm on centre
}

face front {
    measured to sheathing
    looks 180deg
    base 0 from 0 to 2400mm
    top 2000mm
    left
    right
    ground at left -200mm, surface soil
    area all shed
    window eye frame 600mm x 600mm at (900mm, 900mm)
    pipe drain 40mm at (300mm, 300mm)
}
";

/// The tiny wall without its findings, which are other tests' to hold.
fn tiny() -> Checked {
    let mut checked =
        check(&MapWorld::new().with("shed.wythe", TINY), &["shed.wythe".to_owned()], &Settings::default());
    checked.findings.clear();
    checked.problems.clear();
    checked.summary = crate::checks::Summary::default();
    checked
}

/// All texts of a sheet.
fn texts(items: &[Item]) -> Vec<Text> {
    let of = |item: &Item| match item {
        Item::Text(text) => vec![text.clone()],
        Item::Group(group) => texts(&group.items),
        _ => Vec::new(),
    };
    items.iter().flat_map(of).collect()
}

fn sheets(checked: &Checked) -> Vec<Sheet> {
    (0..checked.model.faces.len()).flat_map(|face| elevation::sheets(checked, FaceId(face as u32))).collect()
}

/// Pairs of texts that lie one over the other, and texts off the paper.
fn collisions(sheet: &Sheet) -> Vec<String> {
    let paper = Rect { x: 0.0, y: 0.0, width: sheet.width_mm, height: sheet.height_mm };
    let texts = texts(&sheet.all_items());
    let mut found = Vec::new();
    for (index, one) in texts.iter().enumerate() {
        let area = one.bounds();
        if (paper.overlap(&area) - area.width * area.height).abs() > 1e-6 {
            found.push(format!("{}: `{}` off the paper", sheet.id, one.content));
        }
        for other in texts.iter().skip(index + 1) {
            // Half a millimetre of the room for descenders may be shared by lines of one label.
            if area.grow(-0.4).overlap(&other.bounds().grow(-0.4)) > 0.05 {
                found.push(format!("{}: `{}` over `{}`", sheet.id, one.content, other.content));
            }
        }
    }
    found
}

#[test]
fn no_text_lies_over_another_on_any_sheet_of_the_examples() {
    for name in ["heron-lane", "heron-lane-broken"] {
        let checked = example(name);
        let mut sheets = sheets(&checked);
        sheets.extend(crate::emit::wall_section::sheets(&checked));
        assert!(sheets.len() >= 14, "{name}: {} sheets", sheets.len());
        let found: Vec<String> = sheets.iter().flat_map(collisions).collect();
        assert!(found.is_empty(), "{name}: {found:#?}");
    }
}

#[test]
fn two_runs_give_the_same_bytes() {
    let all = || -> Vec<Output> {
        let checked = example("heron-lane");
        EMITTERS.iter().flat_map(|emitter| emitter.emit(&checked)).collect()
    };
    assert_eq!(all(), all());
}

#[test]
fn the_words_of_a_tiny_wall_stay_as_they_are() {
    let checked = tiny();
    let words = sheets(&checked).into_iter().map(|sheet| {
        let lines: Vec<String> = texts(&sheet.items).into_iter().map(|text| text.content).collect();
        let scale = sheet.scale.map_or_else(|| "not to scale".to_owned(), |scale| scale.to_string());
        format!("{}, {scale}\n{}\n", sheet.id, lines.join("\n"))
    });
    insta::assert_snapshot!(words.collect::<Vec<_>>().join("\n"));
}

#[test]
fn the_take_off_of_a_tiny_wall_stays_as_it_is() {
    let checked = tiny();
    let outputs =
        EMITTERS.iter().filter(|emitter| emitter.id() == "quantities").flat_map(|emitter| emitter.emit(&checked));
    let table = outputs.into_iter().find(|output| output.path == "quantities.csv").unwrap();
    insta::assert_snapshot!(String::from_utf8(table.bytes).unwrap());
}

#[test]
fn a_face_without_an_outline_has_no_sheet() {
    let world = MapWorld::new().with("a.wythe", "wythe 1\nface front {\n    looks 0deg\n}\n");
    let checked = check(&world, &["a.wythe".to_owned()], &Settings::default());
    assert!(elevation::sheets(&checked, FaceId(0)).is_empty());
    assert!(elevation::sheets(&checked, FaceId(7)).is_empty());
}
