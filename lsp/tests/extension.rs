//! What the extension offers as settings is what the server understands.
#![allow(missing_docs, clippy::unwrap_used)]

use std::collections::BTreeSet;

use serde_json::{Value, json};
use wythe::diagnose::Severity;
use wythe::ide::HintKind;
use wythe::units::System;
use wythe_lsp::settings::Settings;

/// What the package says of a setting.
fn setting(name: &str) -> Value {
    let package: Value = serde_json::from_str(include_str!("../editors/code/package.json")).unwrap();
    package["contributes"]["configuration"]["properties"][format!("wythe.{name}")].clone()
}

fn words(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|word| word.as_str().unwrap()).collect()
}

#[test]
fn every_choice_of_units_has_its_meaning() {
    let units = |word: &str| Settings::read(&json!({ "wythe": { "units": word } })).of_session().units;
    let offered = setting("units");
    let meant: Vec<_> = words(&offered["enum"]).into_iter().map(units).collect();
    assert_eq!(meant, [None, Some(System::Metric), Some(System::Imperial)]);
}

#[test]
fn every_loudness_has_its_meaning() {
    let offered = setting("severity");
    let loudness =
        |word: &str| Settings::read(&json!({ "severity": { "gap": word } })).loudness("gap.shallow", Severity::Unknown);
    let meant: Vec<_> = words(&offered["additionalProperties"]["enum"]).into_iter().map(loudness).collect();
    assert_eq!(meant, [None, Some(Severity::Note), Some(Severity::Warning), Some(Severity::Violation)]);
}

#[test]
fn every_group_of_hints_can_be_switched_off() {
    let kinds =
        [HintKind::OtherEnd, HintKind::Wall, HintKind::Area, HintKind::Count, HintKind::Edge, HintKind::OtherUnit];
    let known: BTreeSet<&str> = kinds.into_iter().map(HintKind::word).collect();
    let offered = setting("hints");
    let offered: BTreeSet<&str> = offered["properties"].as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(offered, known);
    for group in known {
        assert!(Settings::default().shows_hints(group));
        assert!(!Settings::read(&json!({ "hints": { group: false } })).shows_hints(group));
    }
}
