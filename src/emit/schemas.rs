//! The shapes of what is written for programs, as JSON Schema, draft 2020-12: taken from the very types and columns that are written.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::{Value, json};

use super::table::{self, Table};
use super::{EMITTERS, findings, order};

/// A shape with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// The word that asks for it.
    pub name: String,
    /// What has this shape.
    pub title: String,
    /// JSON Schema.
    pub schema: Value,
}

/// Every shape: first those of `emit`, in the order of its outputs, then what commands print.
pub fn all() -> Vec<Named> {
    let emitted = EMITTERS.iter().filter_map(|emitter| Some(named(emitter.id(), emitter.title(), emitter.schema()?)));
    let several = of::<Vec<findings::json::Report<'_>>>();
    let printed = [
        named("findings_of_several", "Findings of several projects: `wythe check A B --report json`", several),
        named("takeoff", "What to buy: `wythe takeoff --report json`", order::json_schema()),
    ];
    emitted.chain(printed).collect()
}

/// With its name in it.
pub fn named(name: &str, title: &str, mut schema: Value) -> Named {
    if let Some(fields) = schema.as_object_mut() {
        fields.insert("$id".to_owned(), json!(format!("urn:wythe:{name}")));
        fields.insert("title".to_owned(), json!(title));
    }
    Named { name: name.to_owned(), title: title.to_owned(), schema }
}

/// The shape in which a type is written.
pub fn of<T: JsonSchema>() -> Value {
    SchemaSettings::draft2020_12().for_serialize().into_generator().into_root_schema_for::<T>().to_value()
}

/// The shape of any list of tables.
pub fn tables() -> Value {
    list(table::any_table())
}

/// The shape of a list of these tables and no others.
pub(super) fn of_tables(tables: &[Table]) -> Value {
    list(json!({ "anyOf": tables.iter().map(table::schema).collect::<Vec<_>>() }))
}

fn list(item: Value) -> Value {
    json!({ "$schema": "https://json-schema.org/draft/2020-12/schema", "type": "array", "items": item })
}
