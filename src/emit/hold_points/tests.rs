//! The sheet asks for what stands on the wall, and shows what was seen.
#![allow(clippy::unwrap_used)]

use super::{HoldPoints, points};
use crate::emit::{Emitter as _, Output};
use crate::model::FaceId;
use crate::session::{Checked, Settings, check};
use crate::source::MapWorld;

const WALL: &str = "\
wythe 1

use std.boards

assembly wall {
    layer boards boards.larch 20mm, controls rain
    gap cavity 19mm ventilated {
        furring spruce 19mm x 64mm, every 16in on centre, vertical
    }
    frame studs spruce 38mm x 140mm, every 16in on centre
}

face north {
    outline from (0, 0) {
        base to (4800mm, 0)
        right to (4800mm, 2400mm)
        top to (0, 2400mm)
        left to start
    }
    area all wall
TAPS}
";

fn checked(more: &str, after: &str) -> Checked {
    let text = format!("{}{after}", WALL.replace("TAPS", more));
    check(&MapWorld::new().with("wall.wythe", &text), &["wall.wythe".to_owned()], &Settings::default())
}

fn page(checked: &Checked) -> String {
    let outputs: Vec<Output> = HoldPoints.emit(checked);
    let page = outputs.into_iter().find(|output| output.path == "hold-points/north.html").unwrap();
    String::from_utf8(page.bytes).unwrap()
}

fn asked(checked: &Checked) -> Vec<(&'static str, Vec<String>)> {
    let points = points(checked, Some(FaceId(0)));
    points.into_iter().flat_map(|point| point.asks).map(|ask| (ask.failure.id, ask.places)).collect()
}

#[test]
fn only_what_stands_on_the_wall_is_asked_for() {
    let without = checked("", "");
    let ids: Vec<&str> = asked(&without).into_iter().map(|(id, _)| id).collect();
    assert!(ids.contains(&"VA-06"), "{ids:?}"); // every wall
    assert!(ids.contains(&"FA-05"), "{ids:?}"); // furring
    for other in ["FR-04", "LA-05", "LA-08", "FR-02", "CO-10", "F-05"] {
        assert!(!ids.contains(&other), "{other} is asked of a wall that has nothing of the sort");
    }
    let with = checked("    hose_bib garden 22mm at (1000mm, 600mm)\n    hose_bib drive 22mm at (3000mm, 600mm)\n", "");
    let taps = asked(&with).into_iter().find(|(id, _)| *id == "FR-04").unwrap();
    assert_eq!(taps.1, ["garden", "drive"]);
}

#[test]
fn numbers_stand_in_both_units_with_their_source() {
    let page = page(&checked("", ""));
    assert!(page.contains("<b class=\"number\">75 mm (2-15/16 in)</b>"), "{page}"); // furring.end_distance
    assert!(page.contains("Common practice, 2026 (common practice)"), "{page}");
}

#[test]
fn what_was_seen_is_shown_and_the_rest_is_not_yet_seen() {
    let none = page(&checked("", ""));
    assert!(none.contains("Not yet seen."));
    let evidence = "
evidence H0 on north by \"crew lead\" {
    seen 2026-10-02
    photo \"IMG 14\"
    reading \"16, 17, 16 percent\"
}
";
    let checked = checked("", evidence);
    let seen = page(&checked);
    assert!(seen.contains("north: recorded as seen by crew lead on 2026-10-02"), "{seen}");
    assert!(seen.contains("photo: IMG 14") && seen.contains("reading: 16, 17, 16 percent"));
    let points = points(&checked, Some(FaceId(0)));
    assert_eq!(
        points.iter().filter(|point| !point.seen.is_empty()).map(|point| point.code).collect::<Vec<_>>(),
        ["H0"]
    );
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
}

#[test]
fn evidence_of_a_wall_that_is_not_there_is_a_mistake() {
    let checked = checked("", "\nevidence H0 on nort by \"crew lead\", seen 2026-10-02\n");
    let titles: Vec<&str> = checked.problems.iter().map(|problem| problem.title.as_str()).collect();
    assert_eq!(titles, ["there is no face `nort` in the project"]);
}

#[test]
fn a_fault_stands_at_its_hold_point_on_its_wall() {
    let checked = checked("", "");
    let all: usize =
        points(&checked, Some(FaceId(0))).iter().map(|point| point.mend.len() + point.find_out.len()).sum();
    let none: usize = points(&checked, None).iter().map(|point| point.mend.len() + point.find_out.len()).sum();
    let wanted = checked.findings.iter().filter(|one| one.finding.severity != crate::diagnose::Severity::Note).count();
    assert!(all > 0);
    assert_eq!(all + none, wanted, "every finding stands on one page");
}
