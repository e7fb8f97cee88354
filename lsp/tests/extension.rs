//! What the extension offers as settings is what the server understands.
#![allow(missing_docs, clippy::unwrap_used)]

use std::collections::BTreeSet;

use serde_json::{Value, json};
use wythe::diagnose::Severity;
use wythe::ide::HintKind;
use wythe::units::System;
use wythe_lsp::capabilities::ClientFacts;
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

#[test]
fn pictures_in_hovers_are_on_in_the_extension_and_off_elsewhere() {
    assert_eq!(setting("hover_drawing")["default"], true);
    assert!(Settings::read(&json!({ "hover_drawing": true })).hover_drawing);
    assert!(!Settings::default().hover_drawing);
}

/// A command that the server offers is registered by the client and goes through its middleware; were it registered twice,
/// the client would not start. All others are the extension's own.
#[test]
fn every_command_of_a_lens_does_something() {
    let lenses = include_str!("../editors/code/src/lenses.js");
    let lua = include_str!("../editors/neovim/lua/wythe/init.lua");
    let offered = wythe_lsp::capabilities::offered(&ClientFacts::default());
    let offered = offered.execute_command_provider.unwrap().commands;
    for command in ["wythe.findings", "wythe.draw", "wythe.trace", "wythe.uses"] {
        let asked = lenses.contains(&format!("\"{command}\": async"));
        let registered = lenses.contains(&format!("registerCommand(\"{command}\""));
        let known = offered.iter().any(|one| one == command);
        assert_eq!((asked, registered), (known, !known), "{command}");
        assert!(lua.contains(&format!("M.lenses['{command}']")), "{command}");
    }
}
