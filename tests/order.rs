//! The order of work of Heron Lane keeps every tie, goes from lift to lift, and is worked out in no time for many faces.
#![allow(missing_docs, clippy::unwrap_used)]

#[path = "common/folder.rs"]
mod folder;

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use folder::checked;
use wythe::continuity::{Kind, Order, TaskId, removals};
use wythe::session::{Settings, check};
use wythe::source::MapWorld;

fn places(order: &Order) -> BTreeMap<TaskId, usize> {
    order.sequence.iter().enumerate().map(|(at, id)| (*id, at)).collect()
}

#[test]
fn every_task_comes_once_and_after_all_it_waits_for() {
    let checked = checked("examples/heron-lane");
    let order = Order::find(&checked.model, &checked.plan);
    assert!(order.loops.is_empty(), "{:?}", order.loops.iter().map(|circle| order.reasons(circle)).collect::<Vec<_>>());
    let places = places(&order);
    assert_eq!(places.len(), order.tasks.len());
    assert_eq!(order.sequence.len(), order.tasks.len());
    assert!(order.ties.len() > order.tasks.len());
    for tie in &order.ties {
        assert!(places[&tie.first] < places[&tie.then], "{tie:?}");
    }
}

#[test]
fn a_head_is_flashed_from_the_sill_upward_and_tested_before_it_is_covered() {
    let checked = checked("examples/heron-lane");
    let order = Order::find(&checked.model, &checked.plan);
    let places = places(&order);
    let at = |subject: &str| {
        let found = order.tasks.iter().position(|task| task.subject == subject);
        places[&TaskId(found.unwrap_or_else(|| panic!("no task `{subject}`")) as u32)]
    };
    let hall = [
        "north.hall.sill.pan",
        "north.hall.jamb.jamb_strip",
        "north.hall.window",
        "north.hall.head.plane_flashing",
        "north.hall.head.head_flap",
        "north.hall.membrane folded down",
        "test of the air barrier",
        "north.all.insulation",
        "north.hall.head.head_trim",
        "north.hall.head.trim_flashing",
    ];
    for pair in hall.windows(2) {
        assert!(at(pair[0]) < at(pair[1]), "{} comes after {}", pair[0], pair[1]);
    }
}

#[test]
fn upper_lifts_wait_for_lower_ones() {
    let checked = checked("examples/heron-lane");
    let order = Order::find(&checked.model, &checked.plan);
    let places = places(&order);
    for (at, task) in order.tasks.iter().enumerate().filter(|(_, task)| task.kind == Kind::Cladding) {
        let lane = &order.lanes[task.lane.unwrap()];
        for (other, below) in order.tasks.iter().enumerate().filter(|(_, below)| below.kind == Kind::Cladding) {
            let lower = &order.lanes[below.lane.unwrap()];
            let under = lower.face == lane.face && lower.stops && lower.left < lane.right && lane.left < lower.right;
            if under && lower.top <= lane.bottom {
                assert!(
                    places[&TaskId(other as u32)] < places[&TaskId(at as u32)],
                    "{} {}",
                    task.subject,
                    below.subject
                );
            }
        }
    }
}

#[test]
fn everything_that_passes_through_has_a_way_out() {
    let checked = checked("examples/heron-lane");
    let ways = removals(&checked.model, &checked.plan);
    assert_eq!(ways.len(), checked.model.faces.iter().map(|face| face.services.len()).sum::<usize>());
    assert!(ways.iter().all(|way| way.crosses.is_none() && way.hidden.is_none() && way.untold.is_none()), "{ways:#?}");
    let tap =
        ways.iter().find(|way| checked.model.face(way.face).unwrap().services[way.service].name == "garden").unwrap();
    assert!(tap.steps.contains(&"lift block `services` off".to_owned()), "{:?}", tap.steps);
}

#[test]
fn the_sheet_has_boxes_holds_and_stop_lines() {
    let checked = checked("examples/heron-lane");
    let made = wythe::emit::outputs(&checked, Some(&["order_of_work".to_owned()]));
    let paths: Vec<&str> = made.iter().map(|output| output.path.as_str()).collect();
    assert_eq!(paths, ["order-of-work.html", "order-of-work.csv"]);
    let page = String::from_utf8(made[0].bytes.clone()).unwrap();
    for words in
        ["class=\"tick\"", "H1, test of the air barrier", "Lift 2, west wall", "tonight's rain", "this is not approval"]
    {
        assert!(page.contains(words), "the page does not say `{words}`");
    }
    assert!(page.contains("width:6mm;height:6mm"), "boxes are at least 5 mm");
}

/// Many faces with sections, openings and services. The time allowed is thirty times what it takes.
#[test]
fn a_thousand_faces_are_sorted_quickly() {
    let mut text = String::from("wythe 1\nuse std.boards\nuse std.furring\nuse std.membranes\nuse std.details\n");
    text += "assembly thin {\n    layer boards boards.larch 20mm, controls rain\n    gap cavity 19mm ventilated {\n        furring furring.spruce 19mm x 64mm, every 600mm on centre, vertical\n    }\n    layer membrane membranes.vapour_open, controls water and air\n    frame studs spruce 38mm x 140mm, every 600mm on centre\n}\n";
    for at in 0..1000 {
        text += &format!(
            "face f{at} {{\n    outline from (0, 0) {{\n        base to (4800mm, 0), detail details.screened_base\n        right to (4800mm, 5400mm), detail details.corner_boards\n        top to (0, 5400mm), detail details.eave\n        left to start, detail details.corner_boards\n    }}\n    area all thin\n    window w frame 900mm x 1200mm at (1800mm, 900mm), detail details.flashed_window_on_furring\n}}\nsection low{at} on f{at} up to 2700mm\nsection high{at} on f{at}\n"
        );
    }
    let checked = check(&MapWorld::new().with("wall.wythe", &text), &["wall.wythe".to_owned()], &Settings::default());
    assert!(checked.problems.is_empty(), "{:?}", checked.problems.first());
    assert_eq!(checked.model.sections.len(), 2000);
    let start = Instant::now();
    let order = Order::find(&checked.model, &checked.plan);
    let took = start.elapsed();
    assert!(order.tasks.len() > 20_000, "{}", order.tasks.len());
    assert!(order.loops.is_empty());
    assert!(took < Duration::from_secs(20), "{took:?}");
    println!("{} tasks, {} ties, {took:?}", order.tasks.len(), order.ties.len());
}
