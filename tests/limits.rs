//! Rule sets: options of the trade's disputes, what a project overrides, and how sure the sets of the library are.
#![allow(missing_docs, clippy::unwrap_used)]

#[path = "common/folder.rs"]
mod folder;

use std::sync::Arc;

use wythe::checks::Finding;
use wythe::diagnose::Severity;
use wythe::emit::footer::footer_line;
use wythe::model::{DISPUTES, Model};
use wythe::session::{Checked, Settings, check};
use wythe::source::{MapWorld, World};

fn checked(text: &str) -> Checked {
    let world = MapWorld::new().with("wall.wythe", &format!("wythe 1\n{text}"));
    let checked = check(&world, &["wall.wythe".to_owned()], &Settings::default());
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    checked
}

/// The rule sets of one site.
fn model(text: &str) -> Model {
    checked(text).model
}

const OURS: &str = "limits ours {\n    title \"Ours\"\n    limit clearance.ground 150mm\n}\n";

#[test]
fn a_number_over_another_set_says_what_it_stands_in_place_of() {
    let model = model(&format!("{OURS}site s {{\n    limits ours and std.limits.canada_part9_2020\n}}\n"));
    let limit = model.limit("clearance.ground").unwrap();
    assert_eq!(
        limit.citation(),
        "Ours (from memory); overridden by project: 150 mm (5-7/8 in), was 200 mm (7-7/8 in) by NBC Part 9, 9.27.2.4.(1), \
         2020"
    );
    assert_eq!(model.limit("clearance.roof").unwrap().citation(), "NBC Part 9, 9.27.2.4.(2), 2020");
}

#[test]
fn under_like_a_changed_line_borrows_no_clause_and_an_untouched_one_keeps_its_own() {
    let text = OURS.replace("title", "like  std.limits.canada_part9_2020\n    title");
    let model = model(&format!("{text}site s {{\n    limits ours\n}}\n"));
    let limit = model.limit("clearance.ground").unwrap();
    assert!(!limit.sure.is_firm(), "a number of one's own is not the code's");
    assert_eq!((limit.clause.as_str(), limit.source.as_str()), ("", ""));
    assert!(
        limit.citation().contains("was 200 mm (7-7/8 in) by NBC Part 9, 9.27.2.4.(1), 2020"),
        "{}",
        limit.citation()
    );
    assert_eq!(model.limit("clearance.roof").unwrap().citation(), "NBC Part 9, 9.27.2.4.(2), 2020");
}

#[test]
fn the_same_number_overrides_nothing() {
    let text = OURS.replace("150mm", "20cm");
    let model = model(&format!("{text}site s {{\n    limits ours and std.limits.canada_part9_2020\n}}\n"));
    assert_eq!(model.limit("clearance.ground").unwrap().instead_of, None);
}

#[test]
fn sets_of_the_library_override_nothing() {
    let model = model("site s {\n    limits std.limits.nz_e2_as1 and std.limits.canada_part9_2020\n}\n");
    assert_eq!(model.rule_sets.iter().flat_map(|set| set.overrides()).count(), 0);
}

#[test]
fn an_override_is_noted_and_stands_on_every_output() {
    let checked = checked(&format!("{OURS}site s {{\n    limits ours and std.limits.canada_part9_2020\n}}\n"));
    let noted: Vec<&Finding> =
        checked.findings.iter().map(|one| &one.finding).filter(|one| one.rule == "limit.overridden").collect();
    assert_eq!(noted.len(), 1);
    assert_eq!((noted[0].severity, noted[0].subject.as_str()), (Severity::Note, "ours.clearance.ground"));
    let line = footer_line(&checked);
    assert!(line.contains("rules: Ours, overrides 1 limit; NBC Part 9, 2020; Common practice, 2026"), "{line}");
    assert!(line.starts_with("No fault found"), "a changed number is no fault: {line}");
}

/// The findings of Heron Lane with one of its windows without a pan, under the rule sets given.
fn without_pan(limits: &str) -> Vec<(Severity, String)> {
    let folder = folder::folder("examples/heron-lane");
    let mut world = MapWorld::new();
    for name in folder.list() {
        let text: Arc<str> = folder.read(&name).unwrap();
        let lines = text.lines().map(|line| match line.trim_start().strip_prefix("limits ") {
            Some(_) => format!("    limits {limits}\n"),
            None => format!("{line}\n"),
        });
        let text: String = lines.collect();
        let start = text.find("detail house_window {").map(|at| at + text[at..].find("like").unwrap());
        let text = match start {
            Some(at) => format!("{}sill {{\n without pan\n}}\n{}", &text[..at], &text[at..]),
            None => text,
        };
        world = world.with(&name, &text);
    }
    let checked = check(&world, &["building.wythe".to_owned()], &Settings::default());
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    let found = checked.findings.iter().map(|one| &one.finding).filter(|one| one.rule == "sill.no_pan");
    found.map(|one| (one.severity, one.help.join("\n"))).collect()
}

#[test]
fn a_recommended_pan_warns_and_a_required_one_is_a_fault() {
    let required = without_pan("std.limits.canada_part9_2020");
    assert!(required.iter().any(|(severity, help)| {
        *severity == Severity::Violation && help.contains("required by NBC Part 9, CSA A440.4, 2020")
    }));
    let recommended = without_pan("std.limits.common_practice and std.limits.canada_part9_2020");
    assert!(!recommended.is_empty());
    for (severity, help) in recommended {
        assert_eq!(severity, Severity::Warning);
        assert!(help.contains("recommended by Common practice") && help.contains("sources disagree"), "{help}");
    }
}

#[test]
fn common_practice_takes_every_dispute_and_no_set_takes_an_unknown_side() {
    for sets in ["common_practice", "canada_part9_2020", "us_residential", "nz_e2_as1"] {
        let model = model(&format!("site s {{\n    limits std.limits.{sets}\n}}\n"));
        for dispute in DISPUTES {
            let word = model.option(dispute.name).and_then(|option| option.word());
            assert!(word.is_some_and(|word| dispute.choices.contains(&word)), "{sets}: {} {word:?}", dispute.name);
        }
        let known = |name: &String| DISPUTES.iter().any(|one| one.name == name);
        assert!(model.rule_sets.iter().all(|set| set.options.keys().all(known)), "{sets}");
    }
}

/// What only memory or a guide says never makes a violation; what was read in a public copy is named here.
#[test]
fn few_numbers_of_the_united_states_and_none_of_new_zealand_are_firm() {
    for (name, firm) in [("us_residential", vec!["step_flashing.leg"]), ("nz_e2_as1", vec![])] {
        let model = model(&format!("site s {{\n    limits std.limits.{name}\n}}\n"));
        let set = model.rule_sets.iter().find(|set| set.name == name).unwrap();
        let found: Vec<&str> =
            set.limits.iter().filter(|(_, limit)| limit.sure.is_firm()).map(|(name, _)| name.as_str()).collect();
        assert_eq!(found, firm, "{name}");
        for (limit, one) in &set.limits {
            assert!(!one.source.is_empty(), "{name}: {limit} has no source");
        }
    }
}
