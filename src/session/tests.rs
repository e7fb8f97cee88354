//! What is said after many edits is what a first look at the same texts would say.

use super::{Live, Settings, check, heron_lane_world};
use crate::checks::Settled;
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
