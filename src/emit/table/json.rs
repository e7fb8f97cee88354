//! A table as JSON: one object a row, the same keys as the columns of the CSV file.

use serde_json::{Map, Value, json as object};

use super::{Flat, Table, flat_heads, flat_row};

/// Title, line, notes and rows; numbers are numbers, what is not known is null.
pub fn json(table: &Table, line: &str) -> Value {
    let keys: Vec<String> = flat_heads(&table.columns).into_iter().map(|(key, _)| key).collect();
    let rows = table.rows.iter().map(|row| {
        let cells = flat_row(&table.columns, row).into_iter().map(|cell| match cell {
            Flat::Words(words) => Value::String(words),
            Flat::Figure(value, places) => rounded(value, places),
            Flat::Empty => Value::Null,
        });
        Value::Object(keys.iter().cloned().zip(cells).collect::<Map<String, Value>>())
    });
    object!({
        "table": table.id,
        "title": table.title,
        "line": line,
        "notes": table.notes,
        "rows": rows.collect::<Vec<_>>(),
    })
}

fn rounded(value: f64, places: u8) -> Value {
    if places == 0 && value.abs() < 9e15 {
        return Value::from(value.round() as i64);
    }
    let scale = 10f64.powi(i32::from(places.max(3)));
    Value::from((value * scale).round() / scale)
}
