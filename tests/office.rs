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
