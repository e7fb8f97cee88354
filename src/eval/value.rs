//! Values, and statements with their values filled in.

use std::sync::Arc;

use super::Arguments;
use crate::resolve::DeclarationId;
use crate::schema::Row;
use crate::source::Span;
use crate::syntax::Word;
use crate::units::{Length, Number, System, display};

/// One evaluated declaration, as an index into [`super::Evaluated::instances`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InstanceId(pub u32);

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// Year.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month.
    pub day: u8,
}

impl std::fmt::Display for Date {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// What stands in a slot.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number with its dimension.
    Number(Number),
    /// From one number to another of the same dimension, in order.
    Range(Number, Number),
    /// Lengths: a size, a list joined by `and`, or a tuple.
    Lengths(Vec<Length>),
    /// A tuple of numbers.
    Numbers(Vec<Number>),
    /// x to the right, y up.
    Point(Length, Length),
    /// Several points.
    Points(Vec<(Length, Length)>),
    /// A quoted text.
    Text(Arc<str>),
    /// A day.
    Date(Date),
    /// One of the schema's words.
    Word(&'static str),
    /// Several of the schema's words.
    Words(Vec<&'static str>),
    /// A new name.
    Name(Box<str>),
    /// Names in brackets.
    Names(Vec<Word>),
    /// A dotted place, rule or module, to be looked up by whoever reads it.
    Path(Vec<Word>),
    /// Several of them.
    Paths(Vec<Vec<Word>>),
    /// A declared thing.
    Instance(InstanceId),
    /// Several declared things.
    Instances(Vec<InstanceId>),
    /// Could not be understood; the reason has been reported.
    Broken,
}

/// A value with its label and place.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotValue {
    /// Label of the slot in the form.
    pub label: &'static str,
    /// Its value.
    pub value: Value,
    /// Where it stands.
    pub span: Span,
}

/// A statement with its values.
#[derive(Clone, Debug)]
pub struct Bound {
    /// Its row of the schema.
    pub row: &'static Row,
    /// Keyword and arguments.
    pub span: Span,
    /// All of it.
    pub whole: Span,
    /// Its `///` lines.
    pub doc: Option<Box<str>>,
    /// Slots that were given, in order.
    pub values: Vec<SlotValue>,
    /// Its clauses, in order.
    pub clauses: Vec<Bound>,
    /// Something in it was not understood and has been reported.
    pub broken: bool,
}

/// One declaration with its values.
#[derive(Clone, Debug)]
pub struct Instance {
    /// What it was made from.
    pub declaration: DeclarationId,
    /// Keyword of the declaration.
    pub kind: &'static str,
    /// Its name.
    pub name: Box<str>,
    /// Its name with the arguments it was given: `garden_wall(depth = 10 mm)`.
    pub label: String,
    /// Its values.
    pub bound: Arc<Bound>,
}

impl Value {
    /// Whether it is a declared thing, or several.
    pub(super) fn is_instance(&self) -> bool {
        matches!(self, Value::Instance(_) | Value::Instances(_))
    }
}

impl Bound {
    /// The value of a slot, unless it was left out or broken.
    pub fn get(&self, label: &str) -> Option<&Value> {
        self.values
            .iter()
            .find(|slot| slot.label == label)
            .map(|slot| &slot.value)
            .filter(|value| **value != Value::Broken)
    }

    /// Place of a slot; of the statement if the slot was left out.
    pub fn span_of(&self, label: &str) -> Span {
        self.values.iter().find(|slot| slot.label == label).map_or(self.span, |slot| slot.span)
    }

    /// A length.
    pub fn length(&self, label: &str) -> Option<Length> {
        match self.get(label)? {
            Value::Number(number) => number.length(),
            Value::Range(low, _) => low.length(),
            _ => None,
        }
    }

    /// A length or both ends of a range.
    pub fn range(&self, label: &str) -> Option<(Length, Length)> {
        match self.get(label)? {
            Value::Number(number) => number.length().map(|length| (length, length)),
            Value::Range(low, high) => Some((low.length()?, high.length()?)),
            _ => None,
        }
    }

    /// Lengths of a size or list; a single length counts as a list of one.
    pub fn lengths(&self, label: &str) -> Vec<Length> {
        match self.get(label) {
            Some(Value::Lengths(lengths)) => lengths.clone(),
            Some(Value::Number(number)) => number.length().into_iter().collect(),
            _ => Vec::new(),
        }
    }

    /// A number in SI units (degrees Celsius for temperatures, radians for angles, 0…1 for percentages).
    pub fn number(&self, label: &str) -> Option<f64> {
        match self.get(label)? {
            Value::Number(number) | Value::Range(number, _) => Some(number.si()),
            _ => None,
        }
    }

    /// A slope as rise over run.
    pub fn slope(&self, label: &str) -> Option<f64> {
        if let Value::Number(number) = self.get(label)? { number.slope() } else { None }
    }

    /// A whole number.
    pub fn integer(&self, label: &str) -> Option<i64> {
        if let Value::Number(number) = self.get(label)? { number.count() } else { None }
    }

    /// A point.
    pub fn point(&self, label: &str) -> Option<(Length, Length)> {
        if let Value::Point(x, y) = self.get(label)? { Some((*x, *y)) } else { None }
    }

    /// Points.
    pub fn points(&self, label: &str) -> Vec<(Length, Length)> {
        if let Some(Value::Points(points)) = self.get(label) { points.clone() } else { Vec::new() }
    }

    /// A quoted text.
    pub fn text(&self, label: &str) -> Option<Arc<str>> {
        if let Value::Text(text) = self.get(label)? { Some(text.clone()) } else { None }
    }

    /// A day.
    pub fn date(&self, label: &str) -> Option<Date> {
        if let Value::Date(date) = self.get(label)? { Some(*date) } else { None }
    }

    /// One of the schema's words.
    pub fn word(&self, label: &str) -> Option<&'static str> {
        if let Value::Word(word) = self.get(label)? { Some(word) } else { None }
    }

    /// Several of the schema's words.
    pub fn words(&self, label: &str) -> Vec<&'static str> {
        match self.get(label) {
            Some(Value::Words(words)) => words.clone(),
            Some(Value::Word(word)) => vec![word],
            _ => Vec::new(),
        }
    }

    /// A dotted path as text, `kitchen.head`.
    pub fn path(&self, label: &str) -> Option<String> {
        if let Value::Path(words) = self.get(label)? { Some(join(words)) } else { None }
    }

    /// Dotted paths with their places.
    pub fn paths(&self, label: &str) -> Vec<(String, Span)> {
        match self.get(label) {
            Some(Value::Paths(paths)) => {
                paths.iter().filter_map(|path| Some((join(path), path.first()?.span))).collect()
            }
            Some(Value::Path(path)) => vec![(join(path), self.span_of(label))],
            _ => Vec::new(),
        }
    }

    /// The new name it gives, if it gives one.
    pub fn name(&self) -> Option<&str> {
        self.values.iter().find_map(|slot| if let Value::Name(name) = &slot.value { Some(&**name) } else { None })
    }

    /// A declared thing.
    pub fn instance(&self, label: &str) -> Option<InstanceId> {
        if let Value::Instance(id) = self.get(label)? { Some(*id) } else { None }
    }

    /// Declared things; a single one counts as a list of one.
    pub fn instances(&self, label: &str) -> Vec<InstanceId> {
        match self.get(label) {
            Some(Value::Instances(ids)) => ids.clone(),
            Some(Value::Instance(id)) => vec![*id],
            _ => Vec::new(),
        }
    }

    /// The first clause with this keyword.
    pub fn clause(&self, word: &str) -> Option<&Bound> {
        self.clauses.iter().find(|clause| clause.row.word == word)
    }

    /// All clauses with this keyword.
    pub fn all<'b>(&'b self, word: &'b str) -> impl Iterator<Item = &'b Bound> + 'b {
        self.clauses.iter().filter(move |clause| clause.row.word == word)
    }

    /// Whether a clause stands there, values or not.
    pub fn has(&self, word: &str) -> bool {
        self.clause(word).is_some()
    }
}

fn join(words: &[Word]) -> String {
    words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".")
}

/// Arguments as a text that is the same for the same values: the key of an instance.
pub(super) fn key(arguments: &Arguments) -> String {
    let shown = arguments.iter().map(|(name, value)| format!("{name} = {value:?}"));
    shown.collect::<Vec<_>>().join(", ")
}

/// Arguments as people read them behind a name: `depth = 10 mm, mesh = insect`.
pub(super) fn label(arguments: &Arguments, instances: &[Instance]) -> String {
    let shown = arguments.iter().map(|(name, value)| format!("{name} = {}", show(value, instances)));
    shown.collect::<Vec<_>>().join(", ")
}

fn show(value: &Value, instances: &[Instance]) -> String {
    let number = |number: &Number| display::number(*number, System::Metric);
    let length = |length: &Length| display::number(Number::Length(*length), System::Metric);
    let list = |parts: Vec<String>, between: &str| parts.join(between);
    match value {
        Value::Number(one) => number(one),
        Value::Range(low, high) => format!("{} to {}", number(low), number(high)),
        Value::Lengths(lengths) => list(lengths.iter().map(length).collect(), " x "),
        Value::Numbers(numbers) => list(numbers.iter().map(number).collect(), ", "),
        Value::Point(x, y) => format!("({}, {})", length(x), length(y)),
        Value::Points(points) => format!("{} points", points.len()),
        Value::Text(text) => format!("\"{text}\""),
        Value::Date(date) => date.to_string(),
        Value::Word(word) => (*word).to_owned(),
        Value::Words(words) => words.join(" and "),
        Value::Name(name) => name.to_string(),
        Value::Names(words) | Value::Path(words) => join(words),
        Value::Paths(paths) => list(paths.iter().map(|path| join(path)).collect(), " and "),
        Value::Instance(id) => named(*id, instances),
        Value::Instances(ids) => list(ids.iter().map(|id| named(*id, instances)).collect(), " and "),
        Value::Broken => "?".to_owned(),
    }
}

fn named(id: InstanceId, instances: &[Instance]) -> String {
    instances.get(id.0 as usize).map_or_else(String::new, |instance| instance.label.clone())
}
