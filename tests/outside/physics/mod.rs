//! Blocks of physics: `NAME.toml` holds the cases, `NAME.rs` the sums that only they ask for; `NAME.py`, where there is one,
//! makes the cases anew; `again.py` works out again what is written by hand. A case is `[[case]]` with `check`, `sum`, `source`, `tag`, `exact` (may be left out), `unit`,
//! `tolerance` (a number, or a share such as `"0.5 %"`), `inputs` and `expected`; above them stands `block`.

mod cavity;
mod climates;
mod code;
mod conduction;
mod corrosion;
mod drainage;
mod fastening;
mod heat;
mod hourly;
mod leakage;
mod moisture;
mod mould;
mod movement;
mod psychrometrics;
mod rain;
mod sheets;
mod sun;
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
    ("climates", climates::ours),
    ("code", code::ours),
    ("conduction", conduction::ours),
    ("corrosion", corrosion::ours),
    ("drainage", drainage::ours),
    ("fastening", fastening::ours),
    ("heat", heat::ours),
    ("hourly", hourly::ours),
    ("leakage", leakage::ours),
    ("moisture", moisture::ours),
    ("mould", mould::ours),
    ("movement", movement::ours),
    ("psychrometrics", psychrometrics::ours),
    ("rain", rain::ours),
    ("sheets", sheets::ours),
    ("sun", sun::ours),
    ("wind", wind::ours),
];

/// Every block of the folder, in the order of the file names.
pub fn blocks(folder: &Path) -> Vec<(String, Vec<Row>)> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "toml"));
    paths.sort();
    paths.iter().map(|path| block(path)).collect()
}

/// The data of a block.
fn read(name: &str) -> Value {
    let path = super::folder().join(format!("physics/{name}.toml"));
    toml::from_str(&fs::read_to_string(&path).unwrap()).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// A figure counts as verified only if a script here works it out: the one that made the whole block, or the one its source names.
#[test]
fn every_verified_row_names_a_script_that_stands_here() {
    let folder = super::folder().join("physics");
    let stands = |name: &str| folder.join(name).is_file();
    for path in fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()) {
        if path.extension().is_none_or(|extension| extension != "toml") {
            continue;
        }
        let name = path.file_stem().unwrap().to_str().unwrap();
        let head = fs::read_to_string(&path).unwrap();
        let made = head.lines().next().and_then(|line| line.strip_prefix("# Made by ")?.strip_suffix('.'));
        assert!(made.is_none_or(stands), "{name}: made by {made:?}");
        for case in read(name)["case"].as_array().unwrap().iter().filter(|case| case["tag"] == "V") {
            let source = text(case, "source");
            let mut scripts = source.split([' ', ';', ',', '(', ')']).filter(|word| word.ends_with(".py"));
            assert!(made.is_some() || scripts.any(stands), "{name}: {}: no script in `{source}`", text(case, "check"));
        }
    }
}

fn block(path: &Path) -> (String, Vec<Row>) {
    let name = path.file_stem().unwrap().to_str().unwrap();
    let data = read(name);
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
