//! The project, the site, the rule sets, and what was knowingly accepted.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::eval::{Date, Value};
use crate::source::Span;
use crate::units::{Length, Number, Range, System, display};

/// How sure a value is, best first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sureness {
    /// Read in the standard itself.
    Published,
    /// Recomputed independently.
    Verified,
    /// Read in a summary or a public copy.
    Summary,
    /// From memory.
    #[default]
    Memory,
    /// Crew habit, common practice.
    Habit,
}

impl Sureness {
    /// From the schema's word.
    pub fn from_word(word: &str) -> Self {
        match word {
            "published" => Sureness::Published,
            "verified" => Sureness::Verified,
            "summary" => Sureness::Summary,
            "habit" => Sureness::Habit,
            _ => Sureness::Memory,
        }
    }

    /// As printed behind a limit.
    pub fn phrase(self) -> &'static str {
        match self {
            Sureness::Published => "published",
            Sureness::Verified => "verified",
            Sureness::Summary => "read in a summary",
            Sureness::Memory => "from memory",
            Sureness::Habit => "common practice",
        }
    }

    /// Whether breaking such a limit may count as a violation.
    pub fn is_firm(self) -> bool {
        self <= Sureness::Summary
    }
}

/// A value with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The value, in SI units where it is a number.
    pub value: T,
    /// Where it was read; empty if not said.
    pub source: Arc<str>,
    /// How sure it is.
    pub sure: Sureness,
    /// Where it stands in the text.
    pub origin: Span,
}

/// How the job is called and shown.
#[derive(Clone, Debug)]
pub struct ProjectFacts {
    /// Its name; empty if not declared.
    pub name: String,
    /// As printed.
    pub title: String,
    /// Printed in the corner.
    pub revision: String,
    /// The unit printed first.
    pub units: System,
}

impl Default for ProjectFacts {
    fn default() -> Self {
        Self { name: String::new(), title: String::new(), revision: String::new(), units: System::Metric }
    }
}

/// Twelve months of a place. Lists hold twelve values, or none if not declared.
#[derive(Clone, Debug, Default)]
pub struct Climate {
    /// Its name.
    pub name: String,
    /// °C.
    pub temperature: Vec<f64>,
    /// 0…1.
    pub humidity: Vec<f64>,
    /// m/s.
    pub wind_speed: Vec<f64>,
    /// mm a month.
    pub rain: Vec<f64>,
    /// A file of the project with measured hours, and where it is named.
    pub hours: Option<(Arc<str>, Span)>,
    /// What that file holds, once it was read; the error is what is missing of it.
    pub measured: Option<Result<super::MeasuredHours, String>>,
    /// Radians north of the equator.
    pub latitude: Option<f64>,
    /// Mean sun on level ground, W/m².
    pub sun: Vec<f64>,
    /// Share of the sun of a clear sky that reaches level ground.
    pub clearness: Option<f64>,
    /// Driving rain of a year in the open on walls that look north, north-east and so on, L/m²; empty if not declared.
    pub rain_index: Vec<f64>,
    /// Coldest and hottest design air temperature, °C.
    pub extremes: Option<(f64, f64)>,
    /// Heating degree-days below 18 °C.
    pub degree_days: Option<f64>,
    /// Moisture index.
    pub moisture_index: Option<f64>,
    /// Pa.
    pub driving_rain: Option<f64>,
    /// Pa.
    pub wind: Option<f64>,
}

/// What a wall gets of the driving rain in the open, by one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct RainFactor {
    /// `terrain`, `hill`, `shelter` or `wall`.
    pub of: &'static str,
    /// The factor.
    pub value: Sourced<Range>,
}

/// Where the building stands.
#[derive(Clone, Debug)]
pub struct Site {
    /// Its name.
    pub name: String,
    /// Its climate.
    pub climate: Option<Climate>,
    /// Reference wind pressure, Pa.
    pub wind: Option<f64>,
    /// Driving-rain wind pressure, Pa.
    pub driving_rain: Option<f64>,
    /// Usual depth of snow against the wall.
    pub snow: Option<Length>,
    /// `none`, `road` or `sea`.
    pub salt: Option<&'static str>,
    /// Ember rules apply.
    pub wildfire: bool,
    /// `open` or `rough`.
    pub terrain: Option<&'static str>,
    /// `dry`, `normal`, `humid` or `pool`.
    pub interior: Option<&'static str>,
    /// Temperature of the rooms, °C.
    pub indoors: Option<f64>,
    /// Humidity class of the rooms, 1 to 5 (ISO 13788).
    pub humidity_class: Option<u32>,
    /// What walls get of the driving rain in the open, unless their faces say otherwise.
    pub rain_factors: Vec<RainFactor>,
    /// Where it stands in the text.
    pub origin: Span,
}

/// Named limits of one code, standard or office.
#[derive(Clone, Debug, Default)]
pub struct RuleSet {
    /// Its name.
    pub name: String,
    /// As printed.
    pub title: String,
    /// As printed.
    pub edition: String,
    /// Where it is in force.
    pub jurisdiction: String,
    /// By dotted name.
    pub limits: BTreeMap<String, Limit>,
    /// Sides taken in disputes of the trade, by dotted name; see [`super::DISPUTES`].
    pub options: BTreeMap<String, Limit>,
    /// Declared by the project, not by the library.
    pub own: bool,
}

impl RuleSet {
    /// Limits and options of other sets that this one replaces.
    pub fn overrides(&self) -> impl Iterator<Item = (&str, &Limit)> {
        let all = self.limits.iter().chain(&self.options);
        all.filter(|(_, limit)| limit.instead_of.is_some()).map(|(name, limit)| (name.as_str(), limit))
    }
}

/// One number that rules read, or one side taken in a dispute.
#[derive(Clone, Debug)]
pub struct Limit {
    /// Its value.
    pub value: Value,
    /// Clause or table; empty if none.
    pub clause: String,
    /// Where it was read, or why the project changed it.
    pub source: String,
    /// The edition it is from.
    pub edition: String,
    /// Title of its rule set.
    pub set: String,
    /// How sure it is.
    pub sure: Sureness,
    /// What it stands in place of, where the project overrides another rule set: "overridden by project: 150 mm (5-7/8 in),
    /// was 200 mm (7-7/8 in) by NBC Part 9, 9.27.2.4.(1), 2020".
    pub instead_of: Option<String>,
    /// Where it stands in the text.
    pub origin: Span,
}

impl Limit {
    /// Its number, if it is one.
    pub fn given(&self) -> Option<Number> {
        if let Value::Number(number) = self.value { Some(number) } else { None }
    }

    /// As shown; `name` tells leakages, which share their dimension with speeds, from those.
    pub fn shown(&self, name: &str, units: System) -> String {
        match &self.value {
            Value::Number(_) if name.ends_with(".leakage") => self.number().map_or_else(String::new, display::leakage),
            Value::Number(Number::Length(length)) => display::both(*length, units),
            Value::Number(number) => display::number(*number, units),
            Value::Text(word) => word.to_string(),
            _ => "not a number".to_owned(),
        }
    }

    /// As a word: the side taken in a dispute.
    pub fn word(&self) -> Option<&str> {
        if let Value::Text(word) = &self.value { Some(word) } else { None }
    }

    /// As a length.
    pub fn length(&self) -> Option<Length> {
        if let Value::Number(number) = &self.value { number.length() } else { None }
    }

    /// As a number in SI units.
    pub fn number(&self) -> Option<f64> {
        if let Value::Number(number) = &self.value { Some(number.si()) } else { None }
    }

    /// As a slope, rise over run.
    pub fn slope(&self) -> Option<f64> {
        if let Value::Number(number) = &self.value { number.slope() } else { None }
    }

    /// As cited: "NBC Part 9, 9.27.2.4.(1), 2020" or "common practice"; an override says what it stands in place of.
    pub fn citation(&self) -> String {
        let mut parts = vec![self.set.as_str()];
        parts.extend([self.clause.as_str(), self.edition.as_str()].into_iter().filter(|part| !part.is_empty()));
        let how = if self.sure.is_firm() { String::new() } else { format!(" ({})", self.sure.phrase()) };
        let instead = self.instead_of.as_ref().map(|text| format!("; {text}")).unwrap_or_default();
        format!("{}{how}{instead}", parts.join(", "))
    }
}

/// A finding knowingly accepted.
#[derive(Clone, Debug)]
pub struct Accept {
    /// Rule id.
    pub rule: String,
    /// Dotted place, from the file or face it stands in: `north.lower`.
    pub place: String,
    /// Why.
    pub why: Arc<str>,
    /// Who.
    pub by: Arc<str>,
    /// Until when.
    pub until: Option<Date>,
    /// Role, reference and date of whoever stands behind a stop-severity one.
    pub authority: Option<Authority>,
    /// The measured value that was accepted, SI.
    pub not_worse_than: Option<f64>,
    /// Where it stands in the text.
    pub origin: Span,
}

/// Who stands behind accepting a stop-severity finding.
#[derive(Clone, Debug)]
pub struct Authority {
    /// By role.
    pub role: Arc<str>,
    /// The letter or drawing; absent if not said.
    pub reference: Option<Arc<str>>,
    /// Its date; absent if not said.
    pub dated: Option<Date>,
}

/// A rule of the office, written in the language.
#[derive(Clone, Debug)]
pub struct OfficeRule {
    /// Its name; findings show it behind `office.`.
    pub name: String,
    /// The schema's word for what it is asked of.
    pub subject: &'static str,
    /// Which things it is asked of: all of these must hold.
    pub filters: Vec<Condition>,
    /// What must be true of them.
    pub wants: Vec<Condition>,
    /// The message.
    pub says: Arc<str>,
    /// What to do.
    pub advice: Vec<Arc<str>>,
    /// `S1` to `S4`.
    pub grade: &'static str,
    /// Hold point before which it must be mended.
    pub before: &'static str,
    /// Whose rule it is; empty if not said.
    pub source: Arc<str>,
    /// How sure it is.
    pub sure: Sureness,
    /// Where it stands in the text.
    pub origin: Span,
}

/// A property compared with a value.
#[derive(Clone, Debug)]
pub struct Condition {
    /// Name of the property.
    pub property: String,
    /// `is`, `is_not`, `at_least`, `at_most`, `has`, `has_not`.
    pub relation: &'static str,
    /// What it is compared with: a number, a text, or a word as a path.
    pub value: Value,
    /// Where it stands in the text.
    pub origin: Span,
}

/// What was seen on the wall at a hold point.
#[derive(Clone, Debug)]
pub struct Evidence {
    /// `H0` to `H7`.
    pub hold: &'static str,
    /// Dotted place: a face, a building, or something on a face.
    pub place: String,
    /// Who saw it.
    pub by: Arc<str>,
    /// Until when it counts.
    pub until: Option<Date>,
    /// When it was seen.
    pub seen: Option<Date>,
    /// Files or numbers of photographs.
    pub photos: Vec<Arc<str>>,
    /// Measured values, in the words of whoever measured.
    pub readings: Vec<Arc<str>>,
    /// A remark.
    pub note: Option<Arc<str>>,
    /// Where it stands in the text.
    pub origin: Span,
}
