//! Runs every case below `tests/cases`: a small wall with what is expected of one rule written under its lines.
//!
//! A case is `tests/cases/FAMILY/NAME.KIND.wythe`. Its first line is `// rule: drain.no_exit`; a second one
//! `// today: 2026-11-25` tells the day. KIND is `fault` (at least one), `clear` (nothing) or `unknown` (at least one check
//! that could not tell); a word may stand between NAME and KIND. Under a line stands what is found there, with marks under
//! the place and a piece of the message:
//!
//! ```text
//!     top 2700mm, detail tight_top
//! //  ^^^^^^^^^^ air.open_at_top: nothing
//! ```
//!
//! Further files of a case follow a line `//- PATH.wythe`. `tests/cases/kit.wythe`, a clean site with assemblies and details,
//! is part of every case. Only the named rule counts, and mistakes of the text. `UPDATE=1` writes the marks as they are
//! found, for whoever reads them afterwards line by line.
#![allow(missing_docs, clippy::unwrap_used)]

mod common;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use common::marks::{MAIN, Mark, differences, mark, sort, split, unmark, with_marks};
use rayon::prelude::*;
use wythe::checks::{RULES, rule};
use wythe::diagnose::Severity;
use wythe::eval::Date;
use wythe::session::{Checked, Settings, check};
use wythe::source::{MapWorld, Span};

const FAMILIES: &str = "src/checks";

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn cases() -> PathBuf {
    root().join("tests/cases")
}

struct Case {
    path: PathBuf,
    kind: String,
    rule: String,
    today: Option<Date>,
    files: Vec<(String, String)>,
}

impl Case {
    fn read(path: &Path) -> Result<Self, String> {
        let text = fs::read_to_string(path).map_err(|error| error.to_string())?;
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
        let kind = name.trim_end_matches(".wythe").rsplit('.').next().unwrap_or_default().to_owned();
        if !["fault", "clear", "unknown"].contains(&kind.as_str()) {
            return Err("its name does not end in `.fault.wythe`, `.clear.wythe` or `.unknown.wythe`".to_owned());
        }
        let header = |word: &str| text.lines().take(3).find_map(|line| line.strip_prefix(word)).map(str::trim);
        let id = header("// rule:").ok_or("its first line is not `// rule: ID`")?;
        if rule(id).is_none() {
            return Err(format!("there is no rule `{id}`"));
        }
        Ok(Self {
            path: path.to_owned(),
            kind,
            rule: id.to_owned(),
            today: header("// today:").map(date),
            files: split(&text),
        })
    }

    /// All files with the marks as they should be, or why the kind of the case is not met.
    fn run(&self, kit: &str) -> Result<(), String> {
        let mut world = MapWorld::new().with("kit.wythe", kit);
        for (path, text) in &self.files {
            world = world.with(path, text);
        }
        let checked = check(&world, &[MAIN.to_owned()], &Settings { today: self.today, ..Settings::default() });
        let mut wrong = self.kind_is_met(&checked);
        let mut found = self.found(&checked);
        let mut better = String::new();
        for (path, text) in &self.files {
            let marks = found.remove(path).unwrap_or_default();
            let (plain, expected) = unmark(text);
            wrong.extend(differences(path, &expected, &marks));
            if path != MAIN {
                better.push_str(&format!("//- {path}\n"));
            }
            better.push_str(&with_marks(&plain, &marks));
        }
        for (path, marks) in found {
            wrong.extend(
                marks.iter().map(|mark| format!("in {path}, line {}: {}: {}", mark.line + 1, mark.code, mark.words)),
            );
        }
        if wrong.is_empty() {
            return Ok(());
        }
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&self.path, &better).map_err(|error| error.to_string())?;
        }
        Err(format!("{}\n--- as found:\n{better}", wrong.join("\n")))
    }

    fn kind_is_met(&self, checked: &Checked) -> Vec<String> {
        let of_rule = || checked.findings.iter().map(|one| &one.finding).filter(|finding| finding.rule == self.rule);
        let faults = of_rule().filter(|finding| finding.severity != Severity::Unknown).count();
        let unknown = of_rule().filter(|finding| finding.severity == Severity::Unknown).count();
        let met = match self.kind.as_str() {
            "fault" => faults > 0,
            "unknown" => unknown > 0,
            _ => faults + unknown == 0,
        };
        if met { Vec::new() } else { vec![format!("expected `{}`: {faults} faults, {unknown} unknown", self.kind)] }
    }

    /// By file: what the rule found and what is wrong with the text.
    fn found(&self, checked: &Checked) -> BTreeMap<String, Vec<Mark>> {
        let files = &checked.project.files;
        let mut found: BTreeMap<String, Vec<Mark>> = BTreeMap::new();
        let mut add = |span: Span, code: &str, words: &str| {
            let mark = mark(files, span, code, words);
            found.entry(files.path(span.file).to_owned()).or_default().push(mark);
        };
        for problem in &checked.problems {
            add(problem.main.span, problem.code, &problem.title);
        }
        for one in checked.findings.iter().filter(|one| one.finding.rule == self.rule) {
            let accepted = if one.accepted.is_some() { "(accepted) " } else { "" };
            add(one.finding.at, one.finding.rule, &format!("{accepted}{}", one.finding.message));
        }
        sort(&mut found);
        found
    }
}

fn date(text: &str) -> Date {
    let parts: Vec<i32> = text.split('-').map(|part| part.parse().unwrap()).collect();
    Date { year: parts[0], month: parts[1] as u8, day: parts[2] as u8 }
}

/// Case files of the families: `folder/name.kind.wythe`.
fn case_files() -> Vec<PathBuf> {
    let mut found = Vec::new();
    for folder in families() {
        let entries = fs::read_dir(cases().join(&folder)).into_iter().flatten().flatten();
        found.extend(entries.map(|entry| entry.path()).filter(|path| path.extension().is_some_and(|e| e == "wythe")));
    }
    found.sort();
    found
}

/// Folders of `src/checks`.
fn families() -> Vec<String> {
    let entries = fs::read_dir(root().join(FAMILIES)).unwrap().flatten();
    let mut names: Vec<String> = entries
        .filter(|entry| entry.path().is_dir())
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    names.sort();
    names
}

#[test]
fn every_case_finds_what_it_says() {
    let kit = fs::read_to_string(cases().join("kit.wythe")).unwrap();
    let only = std::env::var("CASE").unwrap_or_default();
    let paths: Vec<PathBuf> = case_files().into_iter().filter(|path| path.to_string_lossy().contains(&only)).collect();
    let failures: Vec<String> = paths
        .par_iter()
        .filter_map(|path| {
            let result = Case::read(path).and_then(|case| case.run(&kit));
            let name = path.strip_prefix(cases()).unwrap_or(path).display().to_string();
            result.err().map(|error| format!("===== {name}\n{error}"))
        })
        .collect();
    assert!(failures.is_empty(), "{} of {} cases:\n{}", failures.len(), paths.len(), failures.join("\n"));
}

#[test]
fn the_kit_has_no_mistake() {
    let kit = fs::read_to_string(cases().join("kit.wythe")).unwrap();
    let world = MapWorld::new().with("kit.wythe", &kit);
    let checked = check(&world, &["kit.wythe".to_owned()], &Settings::default());
    let found: Vec<_> = checked.problems.iter().map(|problem| &problem.title).collect();
    assert!(found.is_empty(), "{found:?}");
}

/// Files of a family that hold a rule: those that say `impl Rule for`.
fn rule_files(family: &str) -> Vec<(String, String)> {
    let entries = fs::read_dir(root().join(FAMILIES).join(family)).unwrap().flatten();
    let mut found: Vec<(String, String)> = entries
        .filter_map(|entry| {
            let text = fs::read_to_string(entry.path()).ok()?;
            let stem = entry.path().file_stem()?.to_str()?.to_owned();
            text.contains("impl Rule for").then_some((stem, text))
        })
        .collect();
    found.sort();
    found
}

#[test]
fn every_rule_is_listed_once_and_has_its_cases() {
    let mut wrong = Vec::new();
    let mut in_files = Vec::new();
    for family in families() {
        for (stem, _) in rule_files(&family) {
            let Some(listed) = RULES.iter().find(|one| one.meta().id.replace('.', "_") == stem) else {
                wrong.push(format!("{family}/{stem}.rs is not in RULES, or its id is not its file's name"));
                continue;
            };
            let meta = listed.meta();
            in_files.push(meta.id);
            let kinds: &[&str] = if meta.explain.contains("It can always tell") {
                &["fault", "clear"]
            } else {
                &["fault", "clear", "unknown"]
            };
            for kind in kinds {
                if !cases().join(&family).join(format!("{stem}.{kind}.wythe")).exists() {
                    wrong.push(format!("tests/cases/{family}/{stem}.{kind}.wythe is missing"));
                }
            }
        }
    }
    for listed in RULES {
        let count = in_files.iter().filter(|id| **id == listed.meta().id).count();
        if count != 1 {
            wrong.push(format!("`{}` stands in {count} files of a family", listed.meta().id));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_rule_says_what_it_is() {
    const HEADINGS: [&str; 6] = ["What it checks", "Why", "Example", "Better", "Basis", "Known gaps"];
    let mut wrong = Vec::new();
    for listed in RULES {
        let meta = listed.meta();
        let places: Vec<Option<usize>> =
            HEADINGS.iter().map(|heading| meta.explain.find(&format!("# {heading}\n"))).collect();
        if places.iter().any(Option::is_none) || !places.is_sorted() {
            wrong.push(format!("`{}`: explain lacks one of {HEADINGS:?}, or has them in another order", meta.id));
        }
        let dotted = meta.id.split('.').count() == 2;
        let letters = meta.id.chars().all(|letter| letter.is_ascii_lowercase() || ".-_".contains(letter));
        if !dotted || !letters {
            wrong.push(format!("`{}` is not two lower-case words with a dot", meta.id));
        }
        if meta.title.ends_with('.') || meta.title.starts_with(char::is_uppercase) {
            wrong.push(format!("`{}`: its title is no line in lower case without a full stop", meta.id));
        }
        if !["H0", "H1", "H2", "H3", "H4", "H5", "H6", "H7"].contains(&meta.before) {
            wrong.push(format!("`{}`: `{}` is no hold point", meta.id, meta.before));
        }
        let longest = meta.explain.lines().map(|line| line.chars().count()).max().unwrap_or(0);
        if longest > 130 {
            wrong.push(format!("`{}`: a line of explain has {longest} characters", meta.id));
        }
    }
    let mut ids: Vec<_> = RULES.iter().map(|rule| rule.meta().id).collect();
    ids.sort_unstable();
    let twice: Vec<_> = ids.windows(2).filter(|pair| pair[0] == pair[1]).collect();
    assert!(wrong.is_empty() && twice.is_empty(), "{}\n{twice:?}", wrong.join("\n"));
}

#[test]
fn every_limit_a_rule_reads_is_in_the_library() {
    let world = MapWorld::new().with("kit.wythe", &fs::read_to_string(cases().join("kit.wythe")).unwrap());
    let model = check(&world, &["kit.wythe".to_owned()], &Settings::default()).model;
    let names = RULES.iter().flat_map(|rule| rule.meta().limits.iter().map(|name| (rule.meta().id, *name)));
    let missing: Vec<_> = names.filter(|(_, name)| model.limit(name).is_none()).collect();
    assert!(missing.is_empty(), "not in the rule sets of the library: {missing:?}");
}
