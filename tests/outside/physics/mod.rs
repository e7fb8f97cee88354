//! Blocks of physics: `NAME.toml` holds the cases, `NAME.rs` the sums that only they ask for; `NAME.py`, where there is one,
//! makes the cases anew. A case is `[[case]]` with `check`, `sum`, `source`, `tag`, `exact` (may be left out), `unit`,
//! `tolerance` (a number, or a share such as `"0.5 %"`), `inputs` and `expected`; above them stands `block`.

mod cavity;
mod conduction;
mod corrosion;
mod fastening;
mod heat;
mod hourly;
mod leakage;
mod moisture;
mod mould;
mod movement;
mod psychrometrics;
mod rain;
mod wind;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use super::sums::{self, Answer, Inputs};
use super::{Row, compare, text};

/// Answers to the cases of one block; `None` for a sum it does not know.
type Sums = fn(&str, Inputs<'_>) -> Option<Vec<Answer>>;

/// Whose sums a block asks first: a line for each file. What they do not know the shared sums answer.
const SUMS: &[(&str, Sums)] = &[
    ("cavity", cavity::ours),
    ("conduction", conduction::ours),
    ("corrosion", corrosion::ours),
    ("fastening", fastening::ours),
    ("heat", heat::ours),
    ("hourly", hourly::ours),
    ("leakage", leakage::ours),
    ("moisture", moisture::ours),
    ("mould", mould::ours),
    ("movement", movement::ours),
    ("psychrometrics", psychrometrics::ours),
    ("rain", rain::ours),
    ("wind", wind::ours),
];

/// Every block of the folder, in the order of the file names.
pub fn blocks(folder: &Path) -> Vec<(String, Vec<Row>)> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "toml"));
    paths.sort();
    paths.iter().map(|path| block(path)).collect()
}

fn block(path: &Path) -> (String, Vec<Row>) {
    let name = path.file_stem().unwrap().to_str().unwrap();
    let data: Value = toml::from_str(&fs::read_to_string(path).unwrap())
        .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let own = SUMS.iter().find(|(file, _)| *file == name).map(|(_, ours)| *ours);
    let cases = data["case"].as_array().unwrap_or_else(|| panic!("{name}: no case"));
    let mut told = BTreeSet::new();
    let row = |case: &Value| {
        assert!(told.insert(text(case, "check")), "{name}: `{}` stands there twice", text(case, "check"));
        let (sum, given) = (text(case, "sum"), Inputs(&case["inputs"]));
        let ours = own.and_then(|ours| ours(&sum, given)).or_else(|| sums::known(&sum, given));
        compare(case, &ours.unwrap_or_else(|| panic!("{name}: no sum `{sum}`")))
    };
    (text(&data, "block"), cases.iter().map(row).collect())
}
