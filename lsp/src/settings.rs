//! What the user of an editor sets: units shown first, the day, the rule set that is asked, how loud a rule is, what is shown.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::Value;
use wythe::diagnose::Severity;
use wythe::session;
use wythe::units::System;

/// The section of the client's settings that is ours.
pub const SECTION: &str = "wythe";

/// How loud.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Loudness {
    /// Not shown in the editor. A run of the checker still says it.
    Off,
    /// Worth knowing.
    Note,
    /// A warning.
    Warning,
    /// A violation.
    Violation,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Units {
    Metric,
    Imperial,
}

/// The settings, as the client writes them. What is missing or misspelt is as if it were not set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settings {
    units: Option<Units>,
    today: Option<String>,
    limits: Option<String>,
    severity: BTreeMap<String, Loudness>,
    hints: BTreeMap<String, bool>,
    /// Hovers may hold pictures. A client that takes markdown may still not show them, so it must be asked for.
    pub hover_drawing: bool,
}

impl Settings {
    /// Reads our section, or an object that holds it.
    pub fn read(value: &Value) -> Self {
        let own = value.get(SECTION).unwrap_or(value);
        let field = |name: &str| own.get(name).cloned().unwrap_or_default();
        let by_code: BTreeMap<String, Value> = serde_json::from_value(field("severity")).unwrap_or_default();
        let known = |(code, word): (String, Value)| Some((code, serde_json::from_value(word).ok()?));
        Self {
            units: serde_json::from_value(field("units")).ok(),
            today: serde_json::from_value(field("today")).ok(),
            limits: serde_json::from_value(field("limits")).ok(),
            severity: by_code.into_iter().filter_map(known).collect(),
            hints: serde_json::from_value(field("hints")).unwrap_or_default(),
            hover_drawing: field("hover_drawing").as_bool().unwrap_or(false),
        }
    }

    /// What a check is told. A day that is none, as an empty one, is today.
    pub fn of_session(&self) -> session::Settings {
        let given = self.today.as_deref().filter(|text| !text.is_empty());
        let today = wythe::cli::today(given).or_else(|_| wythe::cli::today(None));
        let units = self.units.map(|units| match units {
            Units::Metric => System::Metric,
            Units::Imperial => System::Imperial,
        });
        let limits = self.limits.clone().filter(|name| !name.is_empty());
        session::Settings { today: today.ok(), units, limits }
    }

    /// Whether a group of hints is shown: all are unless switched off by name, `{ "area": false }`.
    pub fn shows_hints(&self, group: &str) -> bool {
        self.hints.get(group).copied().unwrap_or(true)
    }

    /// How loud a message is shown: as set for its code (`gap.shallow`), else for its family (`gap`), else as it is.
    pub fn loudness(&self, code: &str, severity: Severity) -> Option<Severity> {
        let family = code.split('.').next().unwrap_or(code);
        match self.severity.get(code).or_else(|| self.severity.get(family)) {
            None => Some(severity),
            Some(Loudness::Off) => None,
            Some(Loudness::Note) => Some(Severity::Note),
            Some(Loudness::Warning) => Some(Severity::Warning),
            Some(Loudness::Violation) => Some(Severity::Violation),
        }
    }
}
