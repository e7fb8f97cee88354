//! Compares a property with the value of a condition: true, false, or cannot tell.

use super::properties::Property;
use crate::checks::Measure;
use crate::eval::Value;
use crate::model::Condition;
use crate::units::{Number, System, display};

/// Three answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Answer {
    True,
    False,
    CannotTell,
}

impl Answer {
    fn of(truth: bool) -> Self {
        if truth { Answer::True } else { Answer::False }
    }
}

/// Whether the condition holds. A missing property, or a comparison of unlike things, cannot be told.
pub(super) fn compare(found: &Property, condition: &Condition) -> Answer {
    match (found, condition.relation) {
        (Property::Missing, _) => Answer::CannotTell,
        (Property::Number(number), relation) => numbers(*number, relation, &condition.value),
        (Property::Words(words), relation) => {
            let Some(wanted) = word(&condition.value) else { return Answer::CannotTell };
            let holds = words.contains(&wanted);
            match relation {
                "is" | "has" => Answer::of(holds),
                "is_not" | "has_not" => Answer::of(!holds),
                _ => Answer::CannotTell,
            }
        }
    }
}

fn numbers(found: Number, relation: &str, wanted: &Value) -> Answer {
    let (low, high) = match wanted {
        Value::Number(number) => (*number, *number),
        Value::Range(low, high) => (*low, *high),
        _ => return Answer::CannotTell,
    };
    let (Some(low), Some(high)) = (low.in_dimension(found.dimension()), high.in_dimension(found.dimension())) else {
        return Answer::CannotTell;
    };
    let value = found.si();
    match relation {
        "is" => Answer::of(low <= value && value <= high),
        "is_not" => Answer::of(value < low || high < value),
        "at_least" => Answer::of(low <= value),
        "at_most" => Answer::of(value <= high),
        _ => Answer::CannotTell,
    }
}

fn word(value: &Value) -> Option<String> {
    match value {
        Value::Path(words) => Some(words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".")),
        Value::Text(text) => Some(text.to_string()),
        Value::Word(word) => Some((*word).to_owned()),
        _ => None,
    }
}

/// What is wanted, as shown.
pub(super) fn wanted(condition: &Condition, units: System) -> Option<Measure> {
    let relation = condition.relation.replace('_', " ");
    let (value, shown) = match &condition.value {
        Value::Number(number) => (Some(number.si()), show(*number, units)),
        Value::Range(low, high) => (None, format!("{} to {}", show(*low, units), show(*high, units))),
        value => (None, word(value)?),
    };
    Some(Measure { value, shown: format!("{relation} {shown}") })
}

/// A number as shown to people.
pub(super) fn show(number: Number, units: System) -> String {
    match number {
        Number::Length(length) => display::both(length, units),
        number => display::number(number, units),
    }
}
