//! Every fix that is offered for a finding of the case files is applied: the finding goes, no mistake comes into the text, and
//! the text keeps its one form.
#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout)]

mod common;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use common::marks::{MAIN, split, unmark};
use rayon::prelude::*;
use wythe::checks::Settled;
use wythe::diagnose::Severity;
use wythe::eval::Date;
use wythe::ide::{BLANK, Mend, mends_of};
use wythe::session::{Glance, Live, Settings};
use wythe::source::MapWorld;
use wythe::syntax::format;

/// What somebody might fill in, tried until the text is understood.
const FILLED: &[&str] = &[
    "300mm",
    "2%",
    "15deg",
    "5degC",
    "2",
    "2027-05-01",
    "60day",
    "12kg",
    "200Pa",
    "0.2kN",
    "40mm x 60mm",
    "std.tapes.acrylic",
    "std.screws.stainless",
    "std.details.eave",
    "std.details.screened_base",
    "std.details.flashed_window",
    "std.details.shelf_flashing",
    "std.meshes.insect",
    "(300mm, 900mm)",
    "std.materials.spruce",
    "us",
    "0.9kPa",
    "4mm",
    "0.05W/(m.K)",
    "2 to 3",
    "60ng/(Pa.s.m2)",
    "0.15V",
    "1kg/m",
    "200m3",
    "3.5m2.K/W",
];

/// Clauses with two blanks.
const WITH_TWO: &[(&str, &str)] = &[
    ("trims fill_in on fill_in", "trims 89mm on furring"),
    ("reading fill_in on fill_in", "reading 15% on 2027-05-01"),
    ("seal fill_in with fill_in", "seal tape with std.tapes.acrylic"),
];

type Texts = BTreeMap<String, String>;

fn cases() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/cases")
}

struct Case {
    name: String,
    rule: String,
    settings: Settings,
    texts: Texts,
}

impl Case {
    fn read(path: &Path, kit: &str) -> Option<Self> {
        let text = fs::read_to_string(path).ok()?;
        let header = |word: &str| text.lines().take(3).find_map(|line| line.strip_prefix(word)).map(str::trim);
        let rule = header("// rule:")?.to_owned();
        let today = header("// today:").map(|day| {
            let parts: Vec<i32> = day.split('-').map(|part| part.parse().unwrap()).collect();
            Date { year: parts[0], month: parts[1] as u8, day: parts[2] as u8 }
        });
        let plain = |text: &str| unmark(text).0.iter().map(|(_, line)| format!("{line}\n")).collect::<String>();
        let mut texts: Texts = split(&text).iter().map(|(path, text)| (path.clone(), plain(text))).collect();
        texts.insert("kit.wythe".to_owned(), kit.to_owned());
        for text in texts.values_mut() {
            *text = format(text).unwrap_or_else(|| text.clone());
        }
        let name = path.strip_prefix(cases()).unwrap().display().to_string();
        Some(Self { name, rule, settings: Settings { today, ..Settings::default() }, texts })
    }

    fn look(&self, live: &mut Live, texts: &Texts) -> Glance {
        let world = texts.iter().fold(MapWorld::new(), |world, (path, text)| world.with(path, text));
        live.check(&world, &[MAIN.to_owned()], &self.settings)
    }

    /// How many findings, how many of them have a fix, how many one besides acceptance, fixes, and what is wrong with fixes.
    fn told(&self) -> (Vec<[usize; 4]>, Vec<String>) {
        let mut live = Live::default();
        let before = self.look(&mut live, &self.texts);
        let mut wrong = Vec::new();
        let mut counts = Vec::new();
        let own = before.findings.iter().filter(|one| one.finding.rule == self.rule && one.accepted.is_none());
        for settled in own {
            let mends = mends_of(&before, settled);
            let real = mends.iter().filter(|mend| !mend.fix.title.starts_with("Accept `")).count();
            counts.push([1, usize::from(!mends.is_empty()), usize::from(real > 0), mends.len()]);
            if std::env::var_os("SHOW").is_some() {
                println!("{} {}: {}", self.name, settled.finding.subject, settled.finding.message);
                mends.iter().for_each(|mend| println!("    {}{}", mend.fix.title, if mend.blanks { " *" } else { "" }));
            }
            for mend in &mends {
                if let Err(why) = self.applied(&mut live, &before, settled, mend) {
                    let of = &settled.finding;
                    wrong
                        .push(format!("{} `{}`: {}\n    {}: {why}", self.name, of.subject, of.message, mend.fix.title));
                }
            }
        }
        (counts, wrong)
    }

    fn applied(&self, live: &mut Live, before: &Glance, settled: &Settled, mend: &Mend) -> Result<(), String> {
        let mut texts = self.texts.clone();
        for (span, new) in mend.fix.edits.iter().rev() {
            let text = texts.get_mut(before.project.files.path(span.file)).ok_or("it edits the library")?;
            text.replace_range(span.range(), new);
        }
        let changed: Vec<String> = mend.fix.edits.iter().map(|(_, new)| new.clone()).collect();
        let formed = |text: &String| format(text).is_none_or(|formed| formed == *text);
        if !texts.values().all(formed) {
            return Err(format!("not in form:\n{}", changed.join("\n---\n")));
        }
        for text in texts.values_mut() {
            let two = WITH_TWO.iter().find(|(blank, _)| text.contains(blank));
            two.into_iter().for_each(|(blank, filled)| *text = text.replace(blank, filled));
        }
        let tries: &[&str] = if mend.blanks { FILLED } else { &[""] };
        let mut said = String::new();
        for filled in tries {
            let fill = |text: &String| text.replace(&format!("\"{BLANK}\""), "\"as agreed\"").replace(BLANK, filled);
            let texts = texts.iter().map(|(path, text)| (path.clone(), fill(text))).collect();
            let after = self.look(live, &texts);
            match judged(before, &after, settled, mend) {
                Ok(()) => return Ok(()),
                Err(why) if said.is_empty() || !why.starts_with("a mistake") => said = why,
                Err(_) => {}
            }
        }
        Err(format!("{said}\n{}", changed.join("\n---\n")))
    }
}

fn judged(before: &Glance, after: &Glance, settled: &Settled, mend: &Mend) -> Result<(), String> {
    let told = |glance: &Glance| -> Vec<(&'static str, String)> {
        glance.problems.iter().map(|one| (one.code, one.title.clone())).collect()
    };
    let known = told(before);
    if let Some(new) = told(after).iter().find(|one| !known.contains(one)) {
        return Err(format!("a mistake in the text: {} {}", new.0, new.1));
    }
    let of = &settled.finding;
    let alike = |one: &&Settled| one.finding.rule == of.rule && one.finding.subject == of.subject;
    let left: Vec<&Settled> = after.findings.iter().filter(alike).collect();
    if mend.fix.title.starts_with("Accept `") {
        let open = left.iter().find(|one| one.accepted.is_none() && one.finding.message == of.message);
        return open.map_or(Ok(()), |_| Err("it is not accepted".to_owned()));
    }
    if let Some(same) = left.iter().find(|one| one.finding.message == of.message) {
        return Err(format!("it is still there: {}", same.finding.message));
    }
    let count = before.findings.iter().filter(alike).filter(|one| one.finding.severity != Severity::Unknown).count();
    let fault = left.iter().find(|one| one.finding.severity != Severity::Unknown);
    match fault {
        Some(other) if of.severity != Severity::Unknown && count == 1 && !mend.blanks => {
            Err(format!("now it says: {}", other.finding.message))
        }
        _ => Ok(()),
    }
}

#[test]
fn every_fix_of_the_cases_mends() {
    let kit = fs::read_to_string(cases().join("kit.wythe")).unwrap();
    let only = std::env::var("CASE").unwrap_or_default();
    let mut paths: Vec<PathBuf> = Vec::new();
    for folder in fs::read_dir(cases()).unwrap().flatten().filter(|entry| entry.path().is_dir()) {
        paths.extend(fs::read_dir(folder.path()).unwrap().flatten().map(|entry| entry.path()));
    }
    let kind =
        |path: &PathBuf| [".fault.wythe", ".unknown.wythe"].iter().any(|end| path.to_string_lossy().ends_with(end));
    paths.retain(|path| kind(path) && path.to_string_lossy().contains(&only));
    paths.sort();
    let told: Vec<_> = paths.par_iter().filter_map(|path| Case::read(path, &kit)).map(|case| case.told()).collect();
    let mut sums = [0; 4];
    told.iter().flat_map(|(counts, _)| counts).for_each(|count| (0..4).for_each(|at| sums[at] += count[at]));
    let [found, any, real, fixes] = sums;
    println!("{found} findings: {any} can be mended or accepted, {real} mended, by {fixes} fixes");
    let wrong: Vec<&String> = told.iter().flat_map(|(_, wrong)| wrong).collect();
    let list: Vec<&str> = wrong.iter().map(|line| line.as_str()).collect();
    assert!(wrong.is_empty(), "{} fixes do not mend:\n\n{}", wrong.len(), list.join("\n\n"));
}
