//! Rules of the office, written in the language: found, not found, cannot tell, and mistakes in them.
#![allow(missing_docs, clippy::unwrap_used)]

use wythe::diagnose::Severity;
use wythe::session::{Settings, check};
use wythe::source::MapWorld;

const GAPS: &str = "assembly deep {\n    gap g 25mm ventilated\n}\nassembly shallow {\n    gap g 19mm ventilated\n}\nassembly silent {\n    gap g 25mm\n}\n";

fn findings(rule: &str) -> Vec<(Severity, String, String)> {
    let world = MapWorld::new().with("wall.wythe", &format!("wythe 1\n{rule}{GAPS}"));
    let checked = check(&world, &["wall.wythe".to_owned()], &Settings::default());
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    let own = checked.findings.into_iter().filter(|settled| settled.finding.rule.starts_with("office."));
    own.map(|settled| (settled.finding.severity, settled.finding.rule.to_owned(), settled.finding.subject)).collect()
}

#[test]
fn a_number_is_held_to_its_limit() {
    let found =
        findings("rule deep_gap for gap {\n    wants depth at_least 1in\n    says \"our gaps are an inch deep\"\n}\n");
    let names: Vec<_> = found.iter().map(|(_, _, subject)| subject.as_str()).collect();
    assert_eq!(names, ["deep.g", "shallow.g", "silent.g"], "25 mm is not an inch");
    let found =
        findings("rule deep_gap for gap {\n    wants depth at_least 25mm\n    says \"our gaps are 25 mm deep\"\n}\n");
    assert_eq!(found, [(Severity::Warning, "office.deep_gap".to_owned(), "shallow.g".to_owned())]);
}

#[test]
fn a_missing_fact_cannot_be_told_and_a_published_rule_violates() {
    let found = findings(
        "rule open_gap for gap {\n    wants openness is ventilated\n    says \"gaps are open at both ends\"\n}\n",
    );
    assert_eq!(found, [(Severity::Unknown, "office.open_gap".to_owned(), "silent.g".to_owned())]);
    let found = findings(
        "rule deep_gap for gap {\n    where depth at_most 20mm\n    wants depth at_least 25mm\n    says \"deep\"\n    sure published\n}\n",
    );
    assert_eq!(found, [(Severity::Violation, "office.deep_gap".to_owned(), "shallow.g".to_owned())]);
}

#[test]
fn mistakes_in_a_rule_are_told_once() {
    let text = "wythe 1\nrule a for gap {\n    wants dept at_least 25mm\n    says \"deep\"\n}\nrule b for gap {\n    wants depth at_least 25mm\n}\nrule c for gap {\n    says \"nothing\"\n}\n";
    let world = MapWorld::new().with("wall.wythe", text);
    let checked = check(&world, &["wall.wythe".to_owned()], &Settings::default());
    let codes: Vec<_> = checked.problems.iter().map(|problem| problem.code).collect();
    assert_eq!(codes, ["rule.property", "rule.silent", "rule.empty"]);
}

/// A small house with one thing of each kind that says what it is, and one that says little.
const HOUSE: &str = "use std.screws
use std.tapes
use std.trims
use std.details (screened_base, eave)
assembly wall {
    layer boards pine 20mm {
        controls rain
        runs vertical
        fasten screws.stainless 4.5mm x 50mm, into furring, every 400mm
    }
    gap cavity 19mm ventilated {
        furring spruce 19mm x 64mm, every 400mm, horizontal, held_up 10mm
        bulge 3mm
    }
    layer sheathing plywood 12.5mm
}
face north {
    measured to sheathing
    base  0 from 0 to 8m, detail screened_base, keep 200mm
    top   2.4m, detail eave
    right, meets east outside
    area  all wall
    overhang 600mm
    window kitchen frame 1m x 1m at (1m, 1m), opens yes, rough_gap 10mm
    window hall 1m x 1m at (3m, 1m)
    pipe drain 40mm at (5m, 1m), owner plumber, capped, removal \"unscrew the cap\"
    pipe other 40mm at (6m, 1m)
    block pad at (7m, 1m), width 200mm, height 300mm, thickness 40mm, side_gap 6mm
    trim ledge trims.frieze along top, on furring {
        holes weep 6mm
    }
}
face east {
    base 0 from 0 to 4m, detail screened_base
    top  2.4m
    left, meets north outside
    area all wall
}
";

/// Severity and subject of what one rule finds in the house.
fn in_house(rule: &str) -> Vec<(Severity, String)> {
    let world = MapWorld::new().with("wall.wythe", &format!("wythe 1\n{HOUSE}{rule}"));
    let checked = check(&world, &["wall.wythe".to_owned()], &Settings::default());
    assert!(checked.problems.is_empty(), "{rule}: {:?}", checked.problems);
    let own = checked.findings.into_iter().filter(|settled| settled.finding.rule.starts_with("office."));
    own.map(|settled| (settled.finding.severity, settled.finding.subject)).collect()
}

/// A rule that wants one thing, with or without a filter.
fn wants(subject: &str, filter: &str, want: &str) -> Vec<(Severity, String)> {
    let filter = if filter.is_empty() { String::new() } else { format!("    where {filter}\n") };
    in_house(&format!("rule ours for {subject} {{\n{filter}    wants {want}\n    says \"ours\"\n}}\n"))
}

#[test]
fn every_kind_of_thing_answers_for_its_properties() {
    let fault = |subject: &str| vec![(Severity::Warning, subject.to_owned())];
    let unknown = |subject: &str| vec![(Severity::Unknown, subject.to_owned())];
    let clear = Vec::new;
    for (subject, filter, want, expected) in [
        ("layer", "name is boards", "runs is horizontal", fault("wall.boards")),
        ("layer", "name is boards", "fastener_spacing at_most 400mm", clear()),
        ("layer", "name is boards", "fastener_length at_least 2in", fault("wall.boards")),
        ("layer", "name is sheathing", "fastener_spacing at_most 300mm", unknown("wall.sheathing")),
        ("gap", "", "bulge at_most 2mm", fault("wall.cavity")),
        ("gap", "", "mat is no", clear()),
        ("furring", "", "runs is vertical", fault("wall.cavity.furring")),
        ("furring", "", "held_up at_least 10mm", clear()),
        ("furring", "", "held_down at_least 10mm", unknown("wall.cavity.furring")),
        ("opening", "", "opens is yes", unknown("north.hall")),
        ("opening", "name is kitchen", "measured is rough", fault("north.kitchen")),
        ("edge", "kind is base", "keep at_least 150mm", unknown("east.base")),
        ("edge", "name is right", "corner is outside", unknown("east.right")),
        ("edge", "meets is east", "corner is inside", [fault("north.right"), Vec::new()].concat()),
        ("area", "face is east", "layers at_least 4", fault("east.all")),
        ("area", "face is north", "upper_end at_most 3m", unknown("north.all")),
        ("service", "", "removal is yes", fault("north.other")),
        ("service", "", "capped is yes", fault("north.other")),
        ("service", "owner is plumber", "flange at_least 50mm", unknown("north.drain")),
        ("block", "", "side_gap at_least 10mm", fault("north.pad")),
        ("block", "", "height at_most 300mm", clear()),
        ("trim", "", "weep_size at_least 8mm", fault("north.ledge")),
        ("trim", "", "lies_on is furring", clear()),
        ("trim", "", "low_end is open", unknown("north.ledge")),
        ("product", "name is frieze", "kind is trim", clear()),
        ("product", "name is frieze", "opening at_most 3mm", unknown("frieze")),
        ("face", "", "overhang at_least 1m", [fault("north"), unknown("east")].concat()),
        ("face", "", "width at_least 5m", fault("east")),
        ("face", "", "height is 2.4m", clear()),
    ] {
        let mut found = wants(subject, filter, want);
        let own_filter =
            |one: &(Severity, String)| filter.is_empty() || one.0 != Severity::Unknown || expected.contains(one);
        found.retain(own_filter);
        assert_eq!(found, expected, "{subject} where {filter} wants {want}");
    }
}

#[test]
fn a_filter_that_cannot_be_told_is_told_unless_all_that_is_wanted_is_true() {
    let found = wants("opening", "opens is yes", "width at_least 2m");
    let expected = [(Severity::Warning, "north.kitchen".to_owned()), (Severity::Unknown, "north.hall".to_owned())];
    assert_eq!(found.len(), 2);
    assert!(expected.iter().all(|one| found.contains(one)), "{found:?}");
    assert_eq!(wants("opening", "opens is yes", "width at_least 1m"), []);
}

#[test]
fn a_length_held_against_a_word_cannot_be_told() {
    assert_eq!(wants("gap", "", "depth is deep"), [(Severity::Unknown, "wall.cavity".to_owned())]);
}

/// A word that joins slots cannot name a property: a rule that asks for it would not be understood.
#[test]
fn every_property_can_be_written_in_a_rule() {
    let subjects =
        ["layer", "gap", "furring", "opening", "edge", "area", "service", "block", "trim", "product", "face"];
    for subject in subjects {
        let lines =
            wythe::checks::office_properties(subject).iter().map(|name| format!("    wants {name} is_not other\n"));
        let rule = format!("rule ours for {subject} {{\n{}    says \"ours\"\n}}\n", lines.collect::<String>());
        in_house(&rule);
    }
}
