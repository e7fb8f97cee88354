//! The sheets of a whole house hold their words apart, and those of a tiny wall say what they should.

use crate::continuity::{AirFlow, Conditions, GapFlow, Trace};
use crate::emit::drawing::samples::texts;
use crate::emit::drawing::{Rect, Sheet};
use crate::emit::{EMITTERS, Output, elevation};
use crate::geometry::Point;
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

/// A wall with a window, open below and at the head.
const DRAINED: &str = "wythe 1
use std.boards
use std.details
use std.membranes

project tiny {
    title \"Tiny shed\"
}

assembly shed {
    layer boards boards.larch 20mm, controls rain, exposure 130mm
    gap cavity 19mm vented {
        furring spruce 19mm x 38mm, vertical, every 600mm on centre
    }
    layer membrane membranes.vapour_open, controls water and air, lap 100mm, lapped upper_over_lower
    layer sheathing plywood 12.5mm
    frame studs spruce 38mm x 89mm, every 600mm on centre
}

face front {
    measured to sheathing
    looks 180deg
    outline from (0, 0) {
        base  to (2400mm, 0), detail details.screened_base
        right to (2400mm, 2000mm)
        top   to (0, 2000mm)
        left  to start
    }
    area all shed
    window eye frame 600mm x 600mm at (900mm, 900mm), detail details.flashed_window
}
";

fn drained() -> Checked {
    let mut checked =
        check(&MapWorld::new().with("shed.wythe", DRAINED), &["shed.wythe".to_owned()], &Settings::default());
    checked.findings.clear();
    checked.problems.clear();
    checked.summary = crate::checks::Summary::default();
    checked
}

/// The way of a drop from a place in mm.
fn drop(checked: &Checked, face: FaceId, x: i64, y: i64) -> Option<Trace> {
    let flow = GapFlow::find(&checked.model, &checked.plan);
    Trace::water(&checked.model, &checked.plan, &flow, face, Point::mm(x, y)).ok()
}

#[test]
fn the_way_of_a_drop_over_a_window_reads_as_before() {
    let checked = drained();
    let trace = drop(&checked, FaceId(0), 1100, 1800).unwrap();
    let flow = GapFlow::find(&checked.model, &checked.plan);
    let rain = crate::continuity::RainLoads::find(&checked.model, &checked.plan, &flow);
    insta::assert_snapshot!(crate::emit::trace::text((&checked).into(), &trace, &rain));
}

#[test]
fn the_way_of_a_drop_beside_a_window_is_drawn_as_before() {
    let checked = drained();
    let trace = drop(&checked, FaceId(0), 620, 1700).unwrap();
    insta::assert_snapshot!(elevation::traced(&checked, &trace).unwrap().to_svg());
}

/// The words of the last steps of a drop on the wall with other clauses.
fn last_words(clauses: &str) -> String {
    let text = DRAINED.replace("    area all shed\n", &format!("    area all shed\n{clauses}\n"));
    let checked = check(&MapWorld::new().with("shed.wythe", &text), &["shed.wythe".to_owned()], &Settings::default());
    let trace = drop(&checked, FaceId(0), 300, 1700).unwrap();
    crate::emit::trace::lines((&checked).into(), &trace).last().cloned().unwrap_or_default()
}

#[test]
fn where_a_drop_stands_is_told_with_what_and_why() {
    assert_eq!(
        last_words("    nailer cleat 19mm x 38mm from (0, 1000mm) to 2400mm"),
        "stands on nailer `cleat`: no way out, it dams the gap"
    );
    assert_eq!(
        last_words("    nailer cleat 19mm x 38mm from (100mm, 1000mm) to 2400mm"),
        "leaves through the slot of `front.base` over its drip, 19 mm clear, through the screen `insect`"
    );
}

#[test]
fn the_air_of_a_bay_is_told_with_what_is_not_known() {
    let checked = drained();
    let trace = drop(&checked, FaceId(0), 300, 1700).unwrap();
    let flow = GapFlow::find(&checked.model, &checked.plan);
    let air = AirFlow::find(&checked.model, &checked.plan, &flow, &Conditions::default());
    let words = crate::emit::trace::air((&checked).into(), &trace, flow.bay(trace.bay).unwrap(), &air);
    assert!(words.contains("  in   slot of `front.base`"), "{words}");
    assert!(words.contains("can't tell"), "{words}");
}

#[test]
fn no_word_lies_over_another_where_water_is_drawn() {
    for name in ["heron-lane", "heron-lane-broken"] {
        let checked = example(name);
        let faces = (0..checked.model.faces.len()).map(|face| FaceId(face as u32));
        let places = [(500, 200), (1900, 2300), (3300, 3000), (4900, 3000), (2000, 6000)];
        let traces = faces.flat_map(|face| places.map(|(x, y)| (face, x, y)));
        let sheets = traces.filter_map(|(face, x, y)| elevation::traced(&checked, &drop(&checked, face, x, y)?));
        let found: Vec<String> = sheets.flat_map(|sheet| collisions(&sheet)).collect();
        assert!(found.is_empty(), "{name}: {found:#?}");
    }
}

#[test]
fn no_word_lies_over_another_where_air_is_drawn_and_every_bay_tells_what_passes_it() {
    let checked = example("heron-lane");
    let broken = example("heron-lane-broken");
    let flow = GapFlow::find(&broken.model, &broken.plan);
    let air = AirFlow::find(&broken.model, &broken.plan, &flow, &Conditions::default());
    let faces = (0..broken.model.faces.len()).map(|face| FaceId(face as u32));
    let found: Vec<String> = faces.flat_map(|face| collisions(&elevation::air(&broken, face, &air).unwrap())).collect();
    assert!(found.is_empty(), "{found:#?}");
    let flow = GapFlow::find(&checked.model, &checked.plan);
    let air = AirFlow::find(&checked.model, &checked.plan, &flow, &Conditions::default());
    for face in (0..checked.model.faces.len()).map(|face| FaceId(face as u32)) {
        let sheet = elevation::air(&checked, face, &air).unwrap();
        let found = collisions(&sheet);
        assert!(found.is_empty(), "{found:#?}");
        let written: String = texts(&sheet.items).iter().map(|text| format!("{} ", text.content)).collect();
        for bay in air.bays.iter().filter(|bay| bay.id.face == face) {
            let [litres, _] = crate::emit::gap_air::flow(bay.aged.unwrap().flow, checked.model.project.units);
            assert!(written.contains(&litres), "{litres} of {:?}", bay.id);
        }
    }
}
