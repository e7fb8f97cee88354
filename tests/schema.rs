//! Every file for programs has the shape that `wythe schema` publishes: JSON Schema, draft 2020-12, judged by a validator that is
//! not ours.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used)]

#[path = "common/folder.rs"]
mod folder;

use std::process::Command;

use folder::checked;
use jsonschema::Validator;
use serde_json::Value;
use wythe::emit::{EMITTERS, Output, order, schemas};

fn validator(schema: &Value) -> Validator {
    jsonschema::draft202012::meta::validate(schema).unwrap_or_else(|error| panic!("no schema: {error}"));
    jsonschema::draft202012::new(schema).expect("a schema that can be used")
}

fn faults(validator: &Validator, value: &Value) -> String {
    let faults = validator.iter_errors(value).take(5).map(|error| format!("{}: {error}", error.instance_path()));
    faults.collect::<Vec<_>>().join("\n")
}

fn json_files(outputs: &[Output]) -> Vec<&Output> {
    outputs.iter().filter(|output| output.path.ends_with(".json")).collect()
}

#[test]
fn every_file_of_the_house_for_programs_has_the_published_shape() {
    let checked = checked("examples/heron-lane");
    let mut seen = Vec::new();
    for emitter in EMITTERS {
        let outputs = emitter.emit(&checked);
        let files = json_files(&outputs);
        let Some(schema) = emitter.schema() else {
            assert!(files.is_empty(), "`{}` writes JSON whose shape is not published", emitter.id());
            continue;
        };
        assert_eq!(files.len(), 1, "`{}` publishes a shape for one file", emitter.id());
        let (any, value) = (validator(&schema), serde_json::from_slice::<Value>(&files[0].bytes).unwrap());
        assert_eq!(faults(&any, &value), "", "{}", files[0].path);
        if let Some(own) = &files[0].schema {
            let own = validator(own);
            assert_eq!(faults(&own, &value), "", "{} against its own columns", files[0].path);
            assert!(
                spoilt(&value).iter().all(|value| !own.is_valid(value)),
                "{}: its shape lets all pass",
                files[0].path
            );
        }
        seen.push(emitter.id());
    }
    assert!(seen.len() >= 8, "{seen:?}");
}

/// The same list of tables with a figure that is a word, a column too many, and a table that is not there.
fn spoilt(tables: &Value) -> [Value; 3] {
    let [mut word, mut column, mut table] = [(); 3].map(|()| tables.clone());
    let row = word[0]["rows"][0].as_object_mut().expect("a row");
    row.values_mut().next().map(|cell| *cell = Value::Array(Vec::new())).expect("a cell");
    column[0]["rows"][0].as_object_mut().expect("a row").insert("more".to_owned(), Value::Null);
    table[0]["table"] = Value::from("not_there");
    [word, column, table]
}

#[test]
fn what_commands_print_has_the_published_shape() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let run = |arguments: &[&str]| {
        let done = Command::new(env!("CARGO_BIN_EXE_wythe")).args(arguments).current_dir(root).output().unwrap();
        serde_json::from_slice::<Value>(&done.stdout).unwrap_or_else(|error| panic!("{arguments:?}: {error}"))
    };
    let house = "examples/heron-lane";
    let broken = "examples/heron-lane-broken";
    let printed: [(&str, &[&str]); 6] = [
        ("findings", &["check", broken, "--report", "json"]),
        ("findings_of_several", &["check", house, broken, "--report", "json"]),
        ("takeoff", &["takeoff", house, "--report", "json"]),
        ("figures", &["figures", house, "--report", "json"]),
        ("rules", &["rules", house, "--report", "json"]),
        ("rules", &["rules", "--report", "json"]),
    ];
    for (name, arguments) in printed {
        let schema = validator(&run(&["schema", name]));
        let value = run(arguments);
        assert_eq!(faults(&schema, &value), "", "{arguments:?}");
        assert!(!schema.is_valid(&serde_json::json!({ "schema": "one" })), "{name} lets all pass");
    }
    let own = validator(&run(&["schema", "layout", house]));
    let tables = EMITTERS.iter().find(|emitter| emitter.id() == "layout").unwrap().emit(&checked(house));
    let tables: Value = serde_json::from_slice(&json_files(&tables)[0].bytes).unwrap();
    assert_eq!(faults(&own, &tables), "");
}

#[test]
fn shapes_have_names_of_their_own_and_say_which_draft() {
    let shapes = schemas::all();
    let mut names: Vec<&str> = shapes.iter().map(|shape| shape.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), shapes.len());
    for shape in &shapes {
        assert_eq!(shape.schema["$schema"], "https://json-schema.org/draft/2020-12/schema", "{}", shape.name);
        assert_eq!(shape.schema["title"], shape.title.as_str());
    }
    let checked = checked("examples/heron-lane");
    let text = order::json(&checked, &order::lines(&checked));
    let takeoff = shapes.iter().find(|shape| shape.name == "takeoff").unwrap();
    assert_eq!(faults(&validator(&takeoff.schema), &serde_json::from_str(&text).unwrap()), "");
}
