//! What is said after many edits is what a first look at the same texts would say.

use super::{Live, Settings, check, heron_lane_world};
use crate::checks::Settled;
use crate::emit::{elevation, wall_section};
use crate::source::{MapWorld, World};

/// A small house beside the demo house, with faults of its own, and a wall of no building.
const NEIGHBOUR: &str = "wythe 1

use assemblies (panel_wall)
use std.details (screened_base, corner_boards, eave)

face shed_front {
    measured to sheathing
    looks 100deg
    outline from (0, 0) {
        base to (12ft, 0), detail screened_base, keep 50mm
        right to (12ft, 8ft), detail corner_boards, meets shed_side
        top to (0, 8ft), detail eave
        left to start, detail corner_boards
    }
    ground at left -2in, surface soil
    area main panel_wall
}

face shed_side {
    measured to frame
    looks 190deg
    outline from (0, 0) {
        base to (8ft, 0), keep 200mm
        right to (8ft, 8ft)
        top to (0, 8ft), detail eave
        left to start, detail corner_boards, meets shed_front
    }
    area main panel_wall
}

building shed {
    faces shed_front and shed_side
    roof truss, air ceiling_membrane, vented no
}

face fence {
    looks 10deg
    outline from (0, 0) {
        base to (8ft, 0), detail screened_base
        right to (8ft, 6ft)
        top to (0, 6ft)
        left to start
    }
    area main panel_wall
}
";

fn said(findings: &[Settled]) -> Vec<String> {
    let mut said: Vec<String> = findings.iter().map(|one| format!("{one:?}")).collect();
    said.sort();
    said
}

fn same(live: &mut Live, world: &MapWorld, what: &str) {
    let settings = Settings::default();
    let roots = world.list();
    let anew = check(world, &roots, &settings);
    let glance = live.check(world, &roots, &settings);
    assert_eq!(glance.problems, anew.problems, "{what}");
    let (ours, theirs) = (said(&glance.findings), said(&anew.findings));
    let only = |one: &[String], other: &[String]| -> Vec<String> {
        one.iter().filter(|line| !other.contains(line)).cloned().collect()
    };
    assert_eq!((only(&ours, &theirs), only(&theirs, &ours)), (Vec::new(), Vec::new()), "{what}");
    assert_eq!(ours.len(), theirs.len(), "{what}");
    assert_eq!(glance.summary, anew.summary, "{what}");
}

fn two_houses() -> MapWorld {
    heron_lane_world().with("shed.wythe", NEIGHBOUR)
}

#[test]
fn the_first_look_says_what_a_check_says() {
    let world = two_houses();
    let checked = check(&world, &world.list(), &Settings::default());
    assert_eq!(checked.model.houses().len(), 3, "the demo house, the shed, the fence");
    same(&mut Live::default(), &world, "first look");
}

#[test]
fn after_edits_it_says_what_a_first_look_would_say() {
    let world = two_houses();
    let mut live = Live::default();
    for (count, path) in world.list().into_iter().enumerate() {
        let text = world.read(&path).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        // A few lines of every file: taken out, and with another number.
        for at in (count * 3 % 7..lines.len()).step_by(lines.len() / 2 + 1) {
            let mut without = lines.clone();
            without.remove(at);
            same(&mut live, &world.clone().with(&path, &without.join("\n")), &format!("{path} without line {at}"));
            let changed = lines[at].replace(['1', '2'], "5");
            let mut other = lines.clone();
            other[at] = &changed;
            let above = format!("// moved down\n\n{}", other.join("\n"));
            same(&mut live, &world.clone().with(&path, &above), &format!("{path} with line {at} changed"));
        }
    }
    same(&mut live, &world, "taken back");
}

#[test]
fn a_house_is_planned_when_asked_for() {
    let world = two_houses();
    let glance = Live::default().check(&world, &world.list(), &Settings::default());
    let side = glance.model.face_named("shed_side").unwrap();
    let (house, face) = glance.house(side).unwrap();
    assert_eq!(house.model.face(face).unwrap().name, "shed_side");
    assert_eq!(house.model.faces.len(), 2);
    assert_eq!(house.plan.faces.len(), 2);
}

/// Up to the rules: what is kept reads as what is read anew, down to every number and place.
fn reads_the_same(live: &mut Live, world: &MapWorld, what: &str) {
    let (settings, roots) = (Settings::default(), world.list());
    let (glance, anew) = (live.read(world, &roots, &settings), Live::default().read(world, &roots, &settings));
    for (ours, theirs) in glance.evaluated.instances.iter().zip(&anew.evaluated.instances) {
        assert_eq!(format!("{ours:?}"), format!("{theirs:?}"), "{what}");
    }
    assert_eq!(glance.evaluated.instances.len(), anew.evaluated.instances.len(), "{what}");
    assert_eq!(glance.evaluated.own, anew.evaluated.own, "{what}");
    assert_eq!(glance.evaluated.references, anew.evaluated.references, "{what}");
    assert_eq!(glance.problems, anew.problems, "{what}");
    assert_eq!(format!("{:?}", glance.model), format!("{:?}", anew.model), "{what}");
}

/// Words that change what others mean: put in anywhere, they break names, `use`, `like`, parameters and blocks.
const WORDS: [&str; 14] = [
    "use std.boards\n",
    "like house_wall\n",
    "like details.screened_base(upstand = 90mm)\n",
    "(depth = 22mm)",
    "(upstand)",
    "x",
    "5",
    " ",
    "\n",
    "}",
    "{",
    "\ndetail extra {\n    like extra\n}\n",
    "/// said above\n",
    "",
];

#[test]
fn any_edits_leave_what_is_read_as_if_it_was_read_anew() {
    let mut world = two_houses();
    let whole = world.clone();
    let mut live = Live::default();
    let mut seed: u64 = 20_261_128;
    let mut pick = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below
    };
    for count in 0..48 {
        // Mistakes pile up for a while; then everything is taken back at once.
        if count % 8 == 7 {
            world = whole.clone();
        }
        let paths = world.list();
        let path = &paths[pick(paths.len())];
        let text = world.read(path).unwrap();
        // Half of the edits fall on the words that matter to others.
        let marks = ["like", "use", "(", "detail", "assembly", "face", "=", "std."];
        let mark = marks[pick(marks.len())];
        let places: Vec<usize> = text.match_indices(mark).map(|(at, _)| at + pick(mark.len() + 8)).collect();
        let any = pick(text.len());
        let from = if pick(2) == 0 || places.is_empty() { any } else { places[pick(places.len())] };
        let from = (0..=from.min(text.len())).rev().find(|&at| text.is_char_boundary(at)).unwrap();
        let to = (from + pick(6)).min(text.len());
        let to = (to..=text.len()).find(|&at| text.is_char_boundary(at)).unwrap();
        let edited = format!("{}{}{}", &text[..from], WORDS[pick(WORDS.len())], &text[to..]);
        world = world.with(path, &edited);
        reads_the_same(&mut live, &world, &format!("edit {count} of {path} at {from}"));
    }
}

/// Edits of one declaration that others are made from: what rests on it follows, in whatever file it is.
#[test]
fn what_is_made_from_an_edited_declaration_is_made_anew() {
    let whole = two_houses();
    let mut live = Live::default();
    reads_the_same(&mut live, &whole, "first");
    let edits = [
        ("assemblies.wythe", "assembly panel_wall(depth = 19mm)", "assembly panel_wall(depth = 22mm)"),
        ("assemblies.wythe", "assembly panel_wall(depth = 19mm)", "assembly panel_wall(depth)"),
        ("assemblies.wythe", "assembly panel_wall(depth = 19mm)", "assembly panel_wall"),
        ("assemblies.wythe", "    like house_wall\n", "    like panel_wall\n"),
        ("assemblies.wythe", "    like house_wall\n", ""),
        ("details.wythe", "like details.screened_base(upstand = 120mm)", "like details.screened_base(upstand = 12)"),
        ("details.wythe", "like details.screened_base(upstand = 120mm)", "like details.screened_base(up = 120mm)"),
        ("details.wythe", "    like details.stepped_base\n", "    like step_side\n"),
        ("shed.wythe", "area main panel_wall", "area main panel_wall(depth = 25mm)"),
        ("shed.wythe", "use assemblies (panel_wall)\n", ""),
        ("shed.wythe", "use assemblies (panel_wall)", "use assemblies (house_wall as panel_wall)"),
    ];
    for (path, from, to) in edits {
        let text = whole.read(path).unwrap();
        assert!(text.contains(from), "{path} has no `{from}`");
        let world = whole.clone().with(path, &text.replacen(from, to, 1));
        reads_the_same(&mut live, &world, &format!("{path}: {to}"));
        reads_the_same(&mut live, &whole, &format!("{path}: {to}, taken back"));
    }
}

#[test]
fn the_sheets_of_a_glance_are_those_of_a_check() {
    let world = two_houses();
    let checked = check(&world, &world.list(), &Settings::default());
    let glance = Live::default().check(&world, &world.list(), &Settings::default());
    let svg = |sheets: Vec<crate::emit::drawing::Sheet>| -> Vec<String> {
        sheets.iter().map(crate::emit::drawing::Sheet::to_svg).collect()
    };
    for at in 0..checked.model.faces.len() {
        let face = crate::model::FaceId(at as u32);
        let (wall, own) = glance.wall(face).unwrap();
        let (ours, theirs) = (elevation::sheets(wall, own), elevation::sheets(&checked, face));
        assert_eq!(svg(ours), svg(theirs), "{}", checked.model.face(face).unwrap().name);
    }
    assert_eq!(svg(wall_section::sheets(&glance)), svg(wall_section::sheets(&checked)));
}

/// A window frame of solid wood, too cold in a damp room.
const JAMB: &str = "wythe 1

heat_cut jamb {
    region from (0mm, 0mm) to (68mm, 90mm) of spruce
    inside from (68mm, 0mm) to (68mm, 90mm)
    outside from (0mm, 0mm) to (0mm, 90mm)
}
";

#[test]
fn a_cut_is_told_once_and_judged_again_only_when_its_own_texts_change() {
    let world = two_houses().with("jamb.wythe", JAMB);
    let mut live = Live::default();
    same(&mut live, &world, "a cut beside two houses");
    let mut look = |world: &MapWorld| {
        let glance = live.check(world, &world.list(), &Settings::default());
        let told = glance.findings.iter().filter(|one| one.finding.rule == "heat_cut.cold_surface").count();
        (told, live.kept())
    };
    let (told, judged) = look(&world);
    assert_eq!(told, 1);
    let with = |path: &str, old: &str, new: &str| {
        let text = world.read(path).unwrap();
        assert!(text.contains(old), "{path} has no {old}");
        two_houses().with("jamb.wythe", JAMB).with(path, &text.replacen(old, new, 1))
    };
    // A face of one house; the detail and the wall that a cut names: only houses are judged again.
    assert_eq!(look(&with("shed.wythe", "keep 50mm", "keep 60mm")), (1, judged + 1));
    assert_eq!(
        look(&with("details.wythe", "corner_boards(depth = 95mm)", "corner_boards(depth = 96mm)")),
        (1, judged + 2)
    );
    // Text above it moves it; its own text changes what is said.
    assert_eq!(look(&with("jamb.wythe", "wythe 1", "// moved\nwythe 1")), (1, judged + 2));
    assert_eq!(
        look(&with("jamb.wythe", "(68mm, 90mm) of", "(68mm, 90mm) conductivity 0.05W/(m.K) // of")),
        (0, judged + 3)
    );
}
