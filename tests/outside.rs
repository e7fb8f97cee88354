//! Our figures against figures worked out elsewhere: `tests/outside/*.json` and `tests/outside/physics/*.toml`, one file for
//! each block of checks.
//!
//! Each case names its source, how it is known (`tag`), what goes in and what should come out. Published and verified
//! figures must agree, and so must plain arithmetic marked `exact`; all others are compared and reported.
//! `tests/outside/README.md` is the table of them all; `UPDATE=1` writes it.

#![expect(clippy::unwrap_used, reason = "a malformed data file should fail the test")]

#[path = "outside/cutting_checked.rs"]
mod cutting_checked;
#[path = "outside/marks_checked.rs"]
mod marks_checked;
#[path = "outside/physics/mod.rs"]
mod physics;
#[path = "outside/sums.rs"]
mod sums;
#[path = "outside/table.rs"]
mod table;

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use sums::{Answer, Inputs};

/// The blocks in the order of the table.
const BLOCKS: [&str; 9] =
    ["marks", "angles", "openings", "coursing", "wall", "quantities", "cutting", "units", "materials"];

/// One comparison.
#[derive(Debug)]
pub struct Row {
    check: String,
    source: String,
    tag: String,
    /// Arithmetic without a doubt in it: must agree whatever its tag.
    exact: bool,
    unit: String,
    expected: String,
    expected_unit: bool,
    ours: String,
    /// The worst difference; `None` where words differ or counts of numbers do.
    error: Option<f64>,
    agrees: bool,
}

impl Row {
    /// Whether a difference is a failure, or only worth telling.
    fn binds(&self) -> bool {
        self.exact || ["P", "V"].contains(&self.tag.as_str())
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside")
}

fn read(name: &str) -> Value {
    let text = fs::read_to_string(folder().join(name)).unwrap();
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn text(case: &Value, key: &str) -> String {
    case[key].as_str().unwrap_or_else(|| panic!("no `{key}` in {case}")).to_owned()
}

/// How far an answer is from what is expected: a number, a length such as `33/2in`, a range or a word.
fn off(ours: &Answer, expected: &Value) -> Option<f64> {
    match (ours, expected) {
        (Answer::Word(word), Value::String(wanted)) => (word == wanted).then_some(0.0),
        (Answer::Number(number), Value::Object(range)) => {
            let (from, to) = (sums::number(&range["from"]), sums::number(&range["to"]));
            Some((from - number).max(number - to).max(0.0))
        }
        (Answer::Number(number), wanted) => Some((number - sums::number(wanted)).abs()),
        (Answer::Word(_), _) => None,
    }
}

/// How far a figure may be off: a number in the unit of the case, or a share of what is expected such as `0.5 %`.
fn allowed(tolerance: &Value, expected: &Value) -> f64 {
    let Some(share) = tolerance.as_str() else { return tolerance.as_f64().unwrap() };
    let percent: f64 = share.strip_suffix('%').unwrap().trim().parse().unwrap();
    // A range, or a word, has no share.
    percent / 100.0 * expected.as_f64().unwrap_or_default().abs()
}

fn compare(case: &Value, ours: &[Answer]) -> Row {
    let expected = case["expected"].as_array().unwrap();
    let offs: Vec<Option<f64>> = ours.iter().zip(expected).map(|(ours, expected)| off(ours, expected)).collect();
    // A hair for the last bit of a decimal fraction.
    let near = |(off, expected): (&Option<f64>, &Value)| {
        off.is_some_and(|off| off <= allowed(&case["tolerance"], expected) + sums::HAIR)
    };
    let agrees = ours.len() == expected.len() && offs.iter().zip(expected).all(near);
    let error = offs.into_iter().try_fold(0.0_f64, |worst, off| Some(worst.max(off?)));
    let error = error.filter(|_| ours.len() == expected.len());
    Row {
        check: text(case, "check"),
        source: text(case, "source"),
        tag: text(case, "tag"),
        exact: case["exact"] == true,
        unit: text(case, "unit"),
        expected: table::list(expected.iter().map(table::wanted)),
        // `33/2in` has its own.
        expected_unit: !expected.iter().any(Value::is_string),
        ours: table::list(ours.iter().map(table::answer)),
        error,
        agrees,
    }
}

/// The blocks of both kinds, physics after the others in the order of their file names.
fn blocks() -> Vec<(String, Vec<Row>)> {
    let block = |name: &&str| {
        let data = read(&format!("{name}.json"));
        let row = |case: &Value| compare(case, &sums::ours(&text(case, "sum"), Inputs(&case["inputs"])));
        (text(&data, "block"), data["cases"].as_array().unwrap().iter().map(row).collect())
    };
    BLOCKS.iter().map(block).chain(physics::blocks(&folder().join("physics"))).collect()
}

#[test]
fn published_and_verified_figures_and_plain_arithmetic_agree() {
    let rows: Vec<Row> = blocks().into_iter().flat_map(|(_, rows)| rows).collect();
    let wrong: Vec<String> =
        rows.iter().filter(|row| row.binds() && !row.agrees).map(|row| format!("{row:#?}")).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(rows.iter().filter(|row| row.binds()).count() >= 80, "checks are missing");
    for row in &rows {
        assert!(["P", "V", "C", "M"].contains(&row.tag.as_str()), "{row:#?}");
        assert!(row.source.len() > 8, "{row:#?}");
    }
}

#[test]
fn every_material_is_compared_or_said_to_have_no_figures() {
    let data = read("materials.json");
    let compared = data["cases"].as_array().unwrap().iter().map(|case| text(&case["inputs"], "name"));
    let without = data["without"].as_array().unwrap().iter().map(|name| name.as_str().unwrap().to_owned());
    let mut known: Vec<String> = compared.chain(without).collect();
    known.sort();
    let mut declared = sums::declared();
    declared.sort_unstable();
    assert_eq!(known, declared);
    assert_eq!(sums::library().materials.len(), declared.len());
}

#[test]
fn every_data_file_is_read() {
    let names = fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut found: Vec<String> = names.filter_map(|name| name.strip_suffix(".json").map(str::to_owned)).collect();
    found.sort();
    let mut read: Vec<&str> = BLOCKS.to_vec();
    // Read by `outside_geometry.rs`, `outside_airflow.rs` and `marks_checked.rs` and `cutting_checked.rs`, and by whoever holds outputs against that schema.
    read.extend([
        "airflow_scipy",
        "cutting_milp",
        "pieces_shapely",
        "shapely_areas",
        "layout_marks",
        "sarif-schema-2.1.0",
    ]);
    read.sort_unstable();
    assert_eq!(found, read);
}

#[test]
fn the_table_is_current() {
    let path = folder().join("README.md");
    let made = table::page(
        &blocks(),
        &marks_checked::summary(&read("layout_marks.json")),
        &read("shapely_areas.json"),
        &read("pieces_shapely.json"),
        &cutting_checked::solved(&read("cutting_milp.json")),
    );
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, &made).unwrap();
    }
    let stored = fs::read_to_string(&path).unwrap_or_default();
    assert!(stored == made, "{} is out of date: run the tests once with UPDATE=1", path.display());
}
