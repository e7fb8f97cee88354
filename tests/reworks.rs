//! What is said otherwise leaves the wall as it is: the same findings, the same areas and runs, no mistake in the text.
#![allow(missing_docs, clippy::unwrap_used)]

use wythe::ide::{Rework, mends, reworks};
use wythe::session::{Checked, Glance, Live, Settings, check};
use wythe::source::MapWorld;
use wythe::syntax::format as form;

const KIT: &str = include_str!("cases/kit.wythe");

fn world(text: &str) -> MapWorld {
    MapWorld::new().with("kit.wythe", KIT).with("wall.wythe", text)
}

fn look(text: &str) -> Glance {
    Live::default().check(&world(text), &["wall.wythe".to_owned()], &Settings::default())
}

fn checked(text: &str) -> Checked {
    check(&world(text), &["wall.wythe".to_owned()], &Settings::default())
}

/// What can be said otherwise at `$0`, and each text that comes of it.
fn offered(marked: &str) -> Vec<(Rework, String)> {
    let text = marked.replace("$0", "");
    let glance = look(&text);
    let file = glance.project.files.find("wall.wythe").unwrap();
    let found = reworks(&glance, file, marked.find("$0").unwrap() as u32);
    let applied = |rework: &Rework| {
        let mut new = text.clone();
        rework.edits.iter().rev().for_each(|(span, put)| new.replace_range(span.range(), put));
        new
    };
    found.into_iter().map(|rework| (applied(&rework), rework)).map(|(new, rework)| (rework, new)).collect()
}

/// Findings without their places, and what the plan measures.
fn said(text: &str) -> (Vec<String>, Vec<String>, Vec<String>) {
    let checked = checked(text);
    let problems = checked.problems.iter().map(|one| format!("{} {}", one.code, one.title)).collect();
    let of =
        |one: &wythe::checks::Settled| format!("{} {} {}", one.finding.rule, one.finding.subject, one.finding.message);
    let mut findings: Vec<String> = checked.findings.iter().map(of).collect();
    findings.sort();
    let faces = checked.plan.faces.iter().map(|face| format!("{:?}", face.outline)).collect();
    (problems, findings, faces)
}

fn keeps(marked: &str, title: &str) -> String {
    let all = offered(marked);
    let titles: Vec<&str> = all.iter().map(|(rework, _)| rework.title.as_str()).collect();
    let (_, new) = all.iter().find(|(rework, _)| rework.title.contains(title)).unwrap_or_else(|| panic!("{titles:?}"));
    assert_eq!(form(new).as_deref(), Some(new.as_str()), "in form");
    let old = marked.replace("$0", "");
    assert_eq!(said(&old), said(new), "{new}");
    new.clone()
}

const WALL: &str = "wythe 1

use std.boards
use std.furring
use std.screws
use kit (wall, foot, head, side)

/// A base for others.
assembly plain {
    like wall
    layer board gypsum 15.9mm
}

assembly own(depth = 19mm) {
    like plain
    gap cavity depth ventilated {
        furring furring.spruce 19mm x 64mm {
            every 16in on centre
            first 15-1/4in
            vertical
            also at corners and jambs
            on studs
        }
        bulge 2mm
        fasten screws.structural 6mm x 140mm, into studs, every 300mm, end_distance 75mm
    }
    layer insulation insulations.wool_board 64mm, controls heat
}

face north {
    measured to sheathing
    looks 0deg
    base 0 from 0 to 4800mm, detail foot
    top 2700mm, detail head
    left, detail side
    right, detail side
    ground at left -250mm, surface gravel
    area all own
}
";

fn wall() -> String {
    let text = WALL.replace("use std.furring\n", "use std.furring\nuse std.insulations\n");
    form(&text).unwrap()
}

fn at(place: &str, within: &str) -> String {
    let text = wall();
    let start = text.find(place).unwrap_or_else(|| panic!("no `{place}`"));
    let offset = start + text[start..].find(within).unwrap();
    format!("{}$0{}", &text[..offset], &text[offset..])
}

#[test]
fn the_wall_has_no_mistakes() {
    assert_eq!(said(&wall()).0, Vec::<String>::new());
}

#[test]
fn a_length_in_the_other_unit_is_the_same_or_says_by_how_much_not() {
    assert!(keeps(&at("every", "16in"), "Write 16in as 406.4mm: the same length").contains("every 406.4mm on centre"));
    let titles: Vec<String> = offered(&at("gypsum", "15.9mm")).into_iter().map(|(rework, _)| rework.title).collect();
    assert_eq!(titles, ["Write 15.9mm as 5/8in: to the nearest 1/16 in, 0.03 mm shorter"]);
    let titles: Vec<String> = offered(&at("first", "15-1/4in")).into_iter().map(|(rework, _)| rework.title).collect();
    assert_eq!(
        titles,
        [
            "Write 15-1/4in as 387.35mm: the same length",
            "Write 15-1/4in as 387mm: to the nearest 1 mm, 0.35 mm shorter",
        ]
    );
}

#[test]
fn a_length_said_twice_becomes_a_parameter() {
    let new = keeps(&at("furring.spruce", "64mm"), "Make 64mm, said 2 times here, the parameter `depth_2`");
    assert!(new.contains("assembly own(depth = 19mm, depth_2 = 64mm) {"), "{new}");
}

#[test]
fn a_parameter_nobody_hands_in_goes_back_to_its_places() {
    let new = keeps(&at("assembly own", "depth"), "Put 19mm in the place of the parameter `depth`");
    assert!(new.contains("assembly own {") && new.contains("gap cavity 19mm ventilated {"), "{new}");
    let handed = at("assembly own", "depth").replace("area all own", "area all own(depth = 25mm)");
    assert!(offered(&handed).iter().all(|(rework, _)| !rework.title.contains("parameter `depth`")));
}

#[test]
fn a_base_of_one_declaration_goes_back_to_its_place() {
    let new = keeps(&at("assembly own", "like plain"), "Put `plain`, which nothing else is like, in its place");
    assert!(!new.contains("plain") && new.contains("layer board gypsum 15.9mm"), "{new}");
}

#[test]
fn an_edge_is_split_in_two() {
    let new = offered(&at("base 0", "detail foot"));
    let (_, new) = new.iter().find(|(rework, _)| rework.title.starts_with("Split")).unwrap();
    assert!(new.contains("detail foot to centre") && new.contains("detail foot from centre"), "{new}");
    let (before, after) = (said(&wall()), said(new));
    assert_eq!(before.0, after.0);
    assert_eq!(before.2, after.2);
    let rules = |findings: &[String]| -> std::collections::BTreeSet<String> {
        findings.iter().filter_map(|line| line.split(' ').next().map(str::to_owned)).collect()
    };
    assert_eq!(rules(&before.1), rules(&after.1));
}

#[test]
fn a_name_of_the_library_is_brought_in() {
    let text = wall().replace("use std.screws\n", "");
    let glance = look(&text);
    let file = glance.project.files.find("wall.wythe").unwrap();
    let at = text.find("screws.structural").unwrap() as u32;
    let found = mends(&glance, file, at, at);
    let all: Vec<_> = found.iter().flat_map(|(_, mends)| mends).collect();
    let mend = all.iter().find(|mend| mend.fix.title == "Use the `screws` of the library").unwrap();
    let mut new = text.clone();
    mend.fix.edits.iter().rev().for_each(|(span, put)| new.replace_range(span.range(), put));
    assert_eq!(said(&new).0, Vec::<String>::new(), "{new}");
}
