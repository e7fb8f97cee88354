//! Random texts made of the language's own words: nothing panics, every run says the same, and damage stays where it is.
#![allow(missing_docs, clippy::unwrap_used)]

use std::fs;
use std::path::Path;

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use wythe::eval::{self, Bound, Evaluated, Value};
use wythe::schema::{self, Element, Row, SlotKind};
use wythe::source::MapWorld;
use wythe::syntax::pieces;
use wythe::{model, resolve};

const MAIN: &str = "case.wythe";

fn sample() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/language/sample/heron_lane.wythe");
    fs::read_to_string(path).unwrap()
}

fn evaluate(text: &str) -> Evaluated {
    let world = MapWorld::new().with(MAIN, text);
    eval::evaluate(&resolve::load(&world, &[MAIN.to_owned()]))
}

/// A value without places; declared things by name.
fn shown(evaluated: &Evaluated, value: &Value) -> String {
    let name = |id| evaluated.instance(id).map(|one| one.name.to_string()).unwrap_or_default();
    match value {
        Value::Path(words) | Value::Names(words) => words.iter().map(|word| format!("{} ", word.text)).collect(),
        Value::Paths(paths) => paths.iter().flatten().map(|word| format!("{} ", word.text)).collect(),
        Value::Instance(id) => name(*id),
        Value::Instances(ids) => ids.iter().map(|id| name(*id)).collect::<Vec<_>>().join(" "),
        other => format!("{other:?}"),
    }
}

fn is_reference(value: &Value) -> bool {
    matches!(value, Value::Instance(_) | Value::Instances(_))
}

/// What was lost of a statement: values that were there and are not, except names of what was damaged.
fn lost(before: (&Evaluated, &Bound), after: (&Evaluated, &Bound), references_may_go: bool, into: &mut Vec<String>) {
    for slot in before.1.values.iter().filter(|slot| slot.value != Value::Broken) {
        let old = shown(before.0, &slot.value);
        match after.1.get(slot.label) {
            None if references_may_go && is_reference(&slot.value) => {}
            new => {
                let new = new.map(|value| shown(after.0, value));
                if new.as_ref() != Some(&old) {
                    into.push(format!("{} {}: {old} became {new:?}", before.1.row.word, slot.label));
                }
            }
        }
    }
    if before.1.clauses.len() != after.1.clauses.len() {
        into.push(format!(
            "{}: {} clauses became {}",
            before.1.row.word,
            before.1.clauses.len(),
            after.1.clauses.len()
        ));
    }
    for (old, new) in before.1.clauses.iter().zip(&after.1.clauses) {
        lost((before.0, old), (after.0, new), references_may_go, into);
    }
}

fn damage_stays(text: &str, piece: usize, from: f64, length: usize, insert: &str) -> Result<(), TestCaseError> {
    let ranges: Vec<_> = pieces(text);
    let range = ranges[piece % ranges.len()].clone();
    let floor = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    // The line end of the declaration is not its own: without it the next one would begin in the middle of a line.
    let inside = text[range.clone()].trim_end().len();
    let start = floor(range.start + (inside as f64 * from) as usize);
    let end = floor((start + length).min(range.start + inside)).max(start);
    let damaged = format!("{}{insert}{}", &text[..start], &text[end..]);
    let (before, after) = (evaluate(text), evaluate(&damaged));
    let mut wrong = Vec::new();
    for id in &before.own {
        let old = before.instance(*id).unwrap();
        if range.contains(&(old.bound.whole.start as usize)) || old.name.is_empty() {
            continue;
        }
        let same = after
            .own
            .iter()
            .filter_map(|id| after.instance(*id))
            .find(|new| new.kind == old.kind && new.name == old.name);
        match same {
            // What a declaration names may have been damaged; everything else of it must stand.
            Some(new) => lost((&before, &old.bound), (&after, &new.bound), true, &mut wrong),
            None => wrong.push(format!("{} {} is gone", old.kind, old.name)),
        }
    }
    prop_assert!(wrong.is_empty(), "{}\n--- in\n{}", wrong.join("\n"), damaged);
    Ok(())
}

/// A random source of choices: small numbers, used up one by one.
struct Dice<'d> {
    rolls: &'d [u16],
    at: usize,
}

impl Dice<'_> {
    fn roll(&mut self, sides: usize) -> usize {
        let roll = self.rolls.get(self.at % self.rolls.len().max(1)).copied().unwrap_or(0);
        self.at += 1;
        // Later rounds through the same numbers give other choices.
        (usize::from(roll) + self.at / self.rolls.len().max(1) * 7) % sides.max(1)
    }

    fn of<'a>(&mut self, choices: &[&'a str]) -> &'a str {
        choices.get(self.roll(choices.len())).copied().unwrap_or("")
    }
}

const NAMES: [&str; 7] = ["north", "wall", "foot", "strip", "larch", "depth", "kit"];
const LENGTHS: [&str; 12] = [
    "0",
    "19mm",
    "3/4in",
    "8ft 6-1/2in",
    "-2m",
    "1km",
    "999999999m",
    "(depth + 1mm)",
    "depth",
    "12",
    "1/0in",
    "0.001mm",
];
const OTHERS: [&str; 14] = [
    "0.48kPa",
    "4:12",
    "5%",
    "-25degC",
    "6deg",
    "2027-02-30",
    "\"why\"",
    "130mm..140mm",
    "2mm..1mm",
    "(1m, 2m)",
    "3",
    "larch(depth = 1mm)",
    "wall(depth = (depth * 2))",
    "1 mm x 0",
];

fn slot(dice: &mut Dice<'_>, kind: &SlotKind) -> String {
    if dice.roll(9) == 0 {
        return dice.of(&OTHERS).to_owned();
    }
    let number = |dice: &mut Dice<'_>| dice.of(&LENGTHS).to_owned();
    match kind {
        SlotKind::Choice(words) => dice.of(words).to_owned(),
        SlotKind::Choices(words) => format!("{} and {}", dice.of(words), dice.of(words)),
        SlotKind::New | SlotKind::Reference(_) | SlotKind::References(_) | SlotKind::Path | SlotKind::Paths => {
            dice.of(&NAMES).to_owned()
        }
        SlotKind::Length | SlotKind::Lengths | SlotKind::Where => number(dice),
        SlotKind::Range => format!("{}..{}", dice.of(&["1mm", "0", "5in"]), dice.of(&["2mm", "0", "1ft", "3kPa"])),
        SlotKind::Size => format!("{} x {}", number(dice), number(dice)),
        SlotKind::Point | SlotKind::PointOrStart | SlotKind::LengthTuple => {
            format!("({}, {})", number(dice), number(dice))
        }
        SlotKind::Points => format!("(({0}, {0}), (0, {1}), ({1}, 0))", number(dice), number(dice)),
        SlotKind::Integer => dice.of(&["0", "3", "-1", "100000", "1.5"]).to_owned(),
        SlotKind::Names => "(north, wall)".to_owned(),
        SlotKind::Slope
        | SlotKind::Number
        | SlotKind::NumberTuple
        | SlotKind::Quantity(_)
        | SlotKind::QuantityTuple(_)
        | SlotKind::Text
        | SlotKind::Date
        | SlotKind::Any => dice.of(&OTHERS).to_owned(),
    }
}

fn elements(dice: &mut Dice<'_>, form: &[Element], into: &mut String) {
    for element in form {
        match element {
            Element::Word(word) => into.push_str(&format!(" {word}")),
            Element::Slot(_, kind) => into.push_str(&format!(" {}", slot(dice, kind))),
            Element::Optional(inner) if dice.roll(2) == 0 => elements(dice, inner, into),
            Element::Optional(_) => {}
        }
    }
}

fn statement(dice: &mut Dice<'_>, row: &'static Row, depth: usize, into: &mut String) {
    let indent = "    ".repeat(depth);
    into.push_str(&indent);
    into.push_str(row.word);
    elements(dice, &row.parsed().elements, into);
    let inner: Vec<&'static Row> = schema::context(row.body).values().copied().collect();
    if inner.is_empty() || depth > 4 || dice.roll(6) == 0 {
        into.push('\n');
        return;
    }
    into.push_str(" {\n");
    for _ in 0..dice.roll(5) {
        let at = dice.roll(inner.len());
        statement(dice, inner[at], depth + 1, into);
    }
    into.push_str(&format!("{indent}}}\n"));
}

fn soup(rolls: &[u16]) -> String {
    let mut dice = Dice { rolls, at: 0 };
    let rows: Vec<&'static Row> = schema::context("file").values().copied().collect();
    let mut text = "wythe 1\n".to_owned();
    for _ in 0..3 + dice.roll(6) {
        let at = dice.roll(rows.len());
        statement(&mut dice, rows[at], 0, &mut text);
    }
    text
}

/// How many cases: as the environment says for a longer hunt, else few enough for every day.
fn cases(usual: u32) -> u32 {
    std::env::var("PROPTEST_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(96), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn damage_to_one_declaration_leaves_the_others(
        piece in 0_usize..64,
        from in 0.0_f64..1.0,
        length in 0_usize..40,
        insert in prop::sample::select(vec!["", "", "{", "}", "(", "\"", ",", "\n", "  ", "°", "x", "8'-6\"", "//", "and"]),
    ) {
        damage_stays(&sample(), piece, from, length, insert)?;
    }

    #[test]
    fn a_soup_of_statements_is_read_twice_alike(rolls in prop::collection::vec(any::<u16>(), 20..200)) {
        let text = soup(&rolls);
        let world = MapWorld::new().with(MAIN, &text);
        let project = resolve::load(&world, &[MAIN.to_owned()]);
        let (first, second) = (eval::evaluate(&project), eval::evaluate(&project));
        prop_assert_eq!(format!("{:?}", first), format!("{:?}", second));
        let (one, other) = (model::build(&project, &first), model::build(&project, &second));
        prop_assert_eq!(format!("{:?}", one), format!("{:?}", other));
        for problem in first.problems.iter().chain(&one.problems) {
            prop_assert!(project.files.text(problem.main.span.file).get(problem.main.span.range()).is_some());
            prop_assert!(!problem.title.is_empty());
        }
    }
}

#[test]
fn long_chains_end_with_a_message() {
    let mut text = String::from("wythe 1\n");
    for number in 0..4000 {
        text.push_str(&format!("detail d{number}(n = 1mm) {{\n    like d{}(n = (n * 2))\n}}\n", number + 1));
    }
    let problems = evaluate(&text).problems;
    assert!(problems.iter().any(|problem| problem.code == "name.too_deep"), "{:?}", problems.first());
}

#[test]
fn rings_that_grow_end_with_a_message() {
    let text = "wythe 1\nproduct a(n = 1mm) board {\n    like b(n = (n * 2))\n    width n\n}\n\
                product b(n = 1mm, m = a(n = (n * 3))) board {\n    like a(n = (n + 1mm))\n}\n";
    let started = std::time::Instant::now();
    let problems = evaluate(text).problems;
    assert!(!problems.is_empty());
    assert!(started.elapsed().as_secs() < 20, "{:?}", started.elapsed());
}

/// The sample with some of its words exchanged for others.
fn exchanged(text: &str, changes: &[(usize, usize)]) -> String {
    let others: Vec<&str> = NAMES.iter().chain(&LENGTHS).chain(&OTHERS).copied().collect();
    let mut words: Vec<String> = text.split(' ').map(str::to_owned).collect();
    let full: Vec<usize> = (0..words.len()).filter(|&at| !words[at].trim().is_empty()).collect();
    for &(place, word) in changes {
        let at = full[place % full.len()];
        let old = words[at].clone();
        let ending = old.trim_start_matches(|letter: char| !",\n".contains(letter));
        words[at] = format!("{}{ending}", others[word % others.len()]);
    }
    words.join(" ")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(48), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_check_of_a_spoilt_sample_ends(changes in prop::collection::vec((any::<usize>(), any::<usize>()), 1..12)) {
        let text = exchanged(&sample(), &changes);
        let world = MapWorld::new().with(MAIN, &text);
        let checked = wythe::session::check(&world, &[MAIN.to_owned()], &Default::default());
        prop_assert!(checked.problems.len() < 200, "{} problems", checked.problems.len());
    }

    #[test]
    fn a_check_of_a_soup_ends(rolls in prop::collection::vec(any::<u16>(), 20..200)) {
        let world = MapWorld::new().with(MAIN, &soup(&rolls));
        let _ = wythe::session::check(&world, &[MAIN.to_owned()], &Default::default());
    }
}

#[test]
fn the_comparison_sees_a_loss() {
    let text = sample();
    let (before, after) = (
        evaluate(&text),
        evaluate(&text.replace("keep 200mm", "keep 210mm").replace("    gives    exit and inlet\n", "")),
    );
    let mut wrong = Vec::new();
    for id in &before.own {
        let old = before.instance(*id).unwrap();
        let new = after
            .own
            .iter()
            .filter_map(|id| after.instance(*id))
            .find(|new| new.kind == old.kind && new.name == old.name);
        lost((&before, &old.bound), (&after, &new.unwrap().bound), true, &mut wrong);
    }
    assert_eq!(wrong.len(), 2, "{wrong:?}");
}
