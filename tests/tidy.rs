//! Holds the house rules that no compiler checks: generated pages are current, every source file says what it is for.
#![allow(missing_docs, clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// All files below a folder with this ending, sorted.
fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    fn walk(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
        let Ok(entries) = fs::read_dir(folder) else { return };
        for entry in entries.flatten() {
            let path = entry.path();
            if path.is_dir() && path.file_name().is_none_or(|name| name != "target") {
                walk(&path, ending, found);
            } else if path.extension().is_some_and(|found| found == ending) {
                found.push(path);
            }
        }
    }
    let mut found = Vec::new();
    walk(&root().join(folder), ending, &mut found);
    found.sort();
    found
}

/// Compares a generated page with the stored one; `UPDATE=1` writes it.
fn same_as_stored(path: &str, made: &str) {
    let path = root().join(path);
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, made).unwrap();
    }
    let stored = fs::read_to_string(&path).unwrap_or_default();
    assert!(stored == made, "{} is out of date: run the tests once with UPDATE=1", path.display());
}

#[test]
fn the_printed_reference_is_current() {
    same_as_stored("grammar/reference.md", &wythe::schema::reference());
}

/// Case files of a rule, relative to `tests/cases`.
fn cases(rule: &str) -> Vec<String> {
    let stem = rule.replace('.', "_") + ".";
    let base = root().join("tests/cases");
    let of_rule = |path: &PathBuf| path.file_name().unwrap().to_string_lossy().starts_with(&stem);
    let found = files("tests/cases", "wythe").into_iter().filter(of_rule);
    found.map(|path| path.strip_prefix(&base).unwrap().to_string_lossy().replace('\\', "/")).collect()
}

#[test]
fn the_table_of_failures_is_current() {
    same_as_stored("tests/cases/README.md", &wythe::checks::catalogue::page(cases));
}

#[test]
fn what_is_called_checked_has_its_cases() {
    for row in wythe::checks::catalogue::failures() {
        for rule in row.rules() {
            let found = cases(rule);
            let has = |kind: &str| found.iter().any(|path| path.ends_with(&format!(".{kind}.wythe")));
            assert!(has("fault") && has("clear"), "{}: `{rule}` has the cases {found:?}", row.id);
        }
    }
}

#[test]
fn every_source_file_opens_with_a_sentence() {
    for path in ["src", "lsp", "tests", "benches"].into_iter().flat_map(|folder| files(folder, "rs")) {
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.starts_with("//! "), "{} does not say what it is for", path.display());
        assert!(text.ends_with('\n'), "{} does not end its last line", path.display());
    }
}

#[test]
fn no_source_file_is_a_hall() {
    for path in ["src", "lsp"].into_iter().flat_map(|folder| files(folder, "rs")) {
        let lines = fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 800, "{} has {lines} lines", path.display());
    }
}

#[test]
fn no_words_that_belong_to_the_making() {
    let banned = ["chatgpt", "claude", "copilot", "language model", "this session", "the recording", "subagent"];
    let kinds =
        [("src", "rs"), ("lsp", "rs"), ("tests", "rs"), ("stdlib", "wythe"), ("examples", "wythe"), ("grammar", "md")];
    for path in
        kinds.into_iter().flat_map(|(folder, ending)| files(folder, ending)).filter(|path| !path.ends_with("tidy.rs"))
    {
        let text = fs::read_to_string(&path).unwrap().to_lowercase();
        for word in banned {
            assert!(!text.contains(word), "{} says `{word}`", path.display());
        }
    }
}
