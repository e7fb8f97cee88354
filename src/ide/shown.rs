//! Values in words, in both units, for hovers, hints and lists.

use crate::eval::{Bound, Evaluated, Value};
use crate::model::Sureness;
use crate::schema::Row;
use crate::syntax::{Item, ItemKind};
use crate::units::{self, Dimension, Number, Quantity, System, display};

/// A number in both units: `19 mm (3/4 in)`; once where both say the same.
pub fn both(number: Number, units: System) -> String {
    let (own, other) = (display::number(number, units), display::number(number, units.other()));
    if own == other { own } else { format!("{own} ({other})") }
}

/// A measured value in SI in both units.
pub fn quantity(value: f64, dimension: Dimension, units: System) -> String {
    both(Number::Quantity(Quantity { value, dimension }), units)
}

/// A thermal resistance in m²·K/W as the trade says it: `RSI 5.73 (R-32.6)`.
pub fn resistance(value: f64, units: System) -> String {
    format!("{} ({})", display::resistance(value, units), display::resistance(value, units.other()))
}

/// The number an argument is, if it is one by itself.
pub fn number_of(item: &Item) -> Option<Number> {
    match &item.kind {
        ItemKind::Quantity(literal) => units::evaluate(literal).ok(),
        ItemKind::FeetInches(feet, inches) => units::feet_inches(feet, inches).ok(),
        ItemKind::Pitch(rise, run) => units::pitch(rise, run).ok(),
        _ => None,
    }
}

/// A value of a clause in words.
pub fn value(value: &Value, word: &str, units: System, evaluated: &Evaluated) -> String {
    let length = |length: &units::Length| display::both(*length, units);
    let named = |id: &crate::eval::InstanceId| evaluated.instance(*id).map_or("", |one| &one.label).to_owned();
    let list = |parts: Vec<String>, between: &str| parts.join(between);
    match value {
        Value::Number(number) if word == "air_leakage" => display::leakage(number.si()),
        Value::Number(number) => both(*number, units),
        Value::Range(low, high) => format!("{} to {}", both(*low, units), both(*high, units)),
        Value::Lengths(lengths) => {
            list(lengths.iter().map(length).collect(), if word == "size" || word == "roll" { " x " } else { ", " })
        }
        Value::Numbers(numbers) => list(numbers.iter().map(|number| both(*number, units)).collect(), ", "),
        Value::Point(x, y) => format!("{} to the right, {} up", length(x), length(y)),
        Value::Points(points) => format!("{} points", points.len()),
        Value::Text(text) => text.to_string(),
        Value::Date(date) => date.to_string(),
        Value::Word(word) => word.replace('_', " "),
        Value::Words(words) => words.join(", ").replace('_', " "),
        Value::Instance(id) => named(id),
        Value::Instances(ids) => list(ids.iter().map(named).collect(), ", "),
        Value::Name(_) | Value::Names(_) | Value::Path(_) | Value::Paths(_) | Value::Broken => String::new(),
    }
}

/// What stands between the values of a clause when it is read aloud: "0.3 kg/m² in 1 h".
fn between(row: &Row) -> String {
    let word = row.form.split('>').nth(1).and_then(|rest| rest.split('<').next()).unwrap_or_default();
    let word = word.trim_matches([' ', '[', ']', '(', ',']);
    format!(" {} ", if word.is_empty() { "to" } else { word })
}

/// Values of a declaration, one clause a line, each with where it was read and how sure it is.
pub fn values(bound: &Bound, units: System, evaluated: &Evaluated) -> Vec<String> {
    const ASIDE: [&str; 6] = ["source", "sure", "note", "like", "without", "supplier"];
    let own = |bound: &Bound, word: &str| {
        bound.clause(word).and_then(|clause| {
            let slot = clause.values.first()?;
            Some(value(&slot.value, word, units, evaluated))
        })
    };
    let (source, sure) = (own(bound, "source"), bound.clause("sure").and_then(|clause| clause.word("how")));
    let mut lines = Vec::new();
    for clause in bound.clauses.iter().filter(|clause| !ASIDE.contains(&clause.row.word)) {
        let shown: Vec<String> =
            clause.values.iter().map(|slot| value(&slot.value, clause.row.word, units, evaluated)).collect();
        let shown = shown.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(&between(clause.row));
        let sourced = clause.row.body == "sourced";
        let source = own(clause, "source").or_else(|| source.clone()).filter(|_| sourced);
        let sure = clause.clause("sure").and_then(|sure| sure.word("how")).or(sure).filter(|_| sourced);
        let sure = sure.map(|word| Sureness::from_word(word).phrase().to_owned());
        let mut origin: Vec<String> = source.into_iter().chain(sure).collect();
        origin.dedup();
        let origin = if origin.is_empty() { String::new() } else { format!(" · {}", origin.join(", ")) };
        lines.push(format!("{}: {shown}{origin}", clause.row.word.replace('_', " ")));
    }
    if let Some(note) = own(bound, "note") {
        lines.push(format!("note: {note}"));
    }
    lines
}
