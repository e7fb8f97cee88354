//! The shape of a table in JSON, made from the same columns as its files: JSON Schema, draft 2020-12.

use serde_json::{Map, Value, json};

use super::{Holds, Kind, Table};

/// Kinds whose columns end in their units.
const MEASURES: [Kind; 4] = [Kind::Length, Kind::LongLength, Kind::Area, Kind::Mass];

/// The shape of this table: its name, its columns, and nothing else.
pub fn schema(table: &Table) -> Value {
    let mut properties = Map::new();
    for column in &table.columns {
        for (end, unit, holds) in column.kind.flat() {
            let words = if unit.is_empty() { column.heading.to_owned() } else { format!("{}, {unit}", column.heading) };
            properties.insert(format!("{}{end}", column.key), cell(*holds, &words));
        }
    }
    let required: Vec<&String> = properties.keys().collect();
    let row = json!({
        "type": "object",
        "required": required,
        "properties": properties,
        "additionalProperties": false,
    });
    whole(&json!({ "const": table.id }), &row)
}

/// The shape of any table: a column whose name ends in a unit holds that unit.
pub fn any_table() -> Value {
    let ends = MEASURES.iter().flat_map(|kind| kind.flat());
    let measures: Map<String, Value> =
        ends.map(|(end, unit, holds)| (format!("[a-z0-9]{end}$"), cell(*holds, unit))).collect();
    let row = json!({
        "type": "object",
        "patternProperties": measures,
        "additionalProperties": { "type": ["string", "number", "null"] },
    });
    whole(&json!({ "type": "string" }), &row)
}

fn whole(id: &Value, row: &Value) -> Value {
    let words = |what: &str| json!({ "type": "string", "description": what });
    json!({
        "type": "object",
        "required": ["table", "title", "line", "notes", "rows"],
        "properties": {
            "table": id,
            "title": words("what it is, for people"),
            "line": words("what every output says: faults, rule sets, that this is no approval"),
            "notes": { "type": "array", "items": { "type": "string" } },
            "rows": { "type": "array", "items": row },
        },
        "additionalProperties": false,
    })
}

/// What a cell may hold; what is not known, or not for this row, is null.
fn cell(holds: Holds, words: &str) -> Value {
    let types = match holds {
        Holds::Words => json!(["string", "null"]),
        Holds::Whole => json!(["integer", "null"]),
        Holds::Figure => json!(["number", "null"]),
    };
    json!({ "type": types, "description": words })
}
