//! Holds the house rules that no compiler checks: generated pages are current, every source file says what it is for.
#![allow(missing_docs, clippy::unwrap_used)]

use std::collections::BTreeSet;
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

#[test]
fn the_colour_grammar_of_editors_is_current() {
    same_as_stored("grammar/wythe.tmLanguage.json", &wythe::schema::textmate());
}

/// The alternatives of the group that begins with `(` behind this text.
fn alternatives(text: &str, behind: &str) -> BTreeSet<String> {
    let (_, rest) = text.split_once(behind).unwrap();
    let words = rest.trim_start_matches('(').split_once(')').unwrap().0;
    words.split('|').map(|word| word.trim().trim_matches('"').to_owned()).collect()
}

/// Keywords of the tables of the reference, with their other names; the first table holds the declarations.
fn printed_keywords(page: &str) -> (BTreeSet<String>, BTreeSet<String>) {
    let (mut declarations, mut clauses) = (BTreeSet::new(), BTreeSet::new());
    let mut into = &mut declarations;
    for line in page.lines() {
        if line.starts_with("## Clauses") {
            into = &mut clauses;
        }
        let Some(row) = line.strip_prefix("| `") else { continue };
        into.insert(row.split([' ', '`']).next().unwrap().to_owned());
        if let Some((_, also)) = row.split_once("(also `") {
            into.extend(also.split_once("`)").unwrap().0.split("`, `").map(str::to_owned));
        }
    }
    (declarations, clauses)
}

#[test]
fn every_grammar_knows_the_same_keywords() {
    let read = |path: &str| fs::read_to_string(root().join(path)).unwrap();
    let (pest, colours) = (read("grammar/wythe.pest"), read("grammar/wythe.tmLanguage.json"));
    let colours: serde_json::Value = serde_json::from_str(&colours).unwrap();
    let pattern = |name: &str| colours["repository"][name]["match"].as_str().unwrap().to_owned();
    let (declarations, clauses) = printed_keywords(&read("grammar/reference.md"));
    assert!(declarations.len() > 10 && clauses.len() > 100, "{} and {}", declarations.len(), clauses.len());

    assert_eq!(alternatives(&pest, "declaration_word = _{\n    "), declarations);
    assert_eq!(alternatives(&pattern("declaration"), "^"), declarations);
    // Coloured besides: the spellings of other regions.
    let coloured = alternatives(&pattern("clause"), "[ \\t]*)");
    let beside: Vec<_> = coloured.iter().filter(|word| clauses.contains(wythe::schema::respell(word))).collect();
    assert_eq!(beside.len(), coloured.len(), "coloured, but no keyword: {:?}", coloured.difference(&clauses));
    assert_eq!(clauses.difference(&coloured).collect::<Vec<_>>(), Vec::<&String>::new(), "keywords without a colour");
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
