//! Properties that hold for every text, sound or damaged.

use std::time::{Duration, Instant};

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use super::trees::{SAMPLE, short};
use crate::source::{FileId, Span};
use crate::syntax::{Item, ItemKind, Parsed, Statement, Word, parse, pieces};

/// Every span of a parsed text.
fn spans(parsed: &Parsed) -> Vec<Span> {
    let mut all: Vec<Span> = parsed.tree.comments.clone();
    parsed.tree.statements.iter().for_each(|statement| of_statement(statement, &mut all));
    for problem in &parsed.problems {
        all.push(problem.main.span);
        all.extend(problem.others.iter().map(|label| label.span));
        all.extend(problem.fixes.iter().flat_map(|fix| fix.edits.iter().map(|(span, _)| *span)));
    }
    all
}

fn of_statement(statement: &Statement, all: &mut Vec<Span>) {
    all.extend([statement.span, statement.keyword.span]);
    all.extend(statement.block);
    statement.arguments.iter().for_each(|item| of_item(item, all));
    statement.clauses.iter().for_each(|clause| of_statement(clause, all));
}

fn of_item(item: &Item, all: &mut Vec<Span>) {
    all.push(item.span);
    let words = |words: &[Word], all: &mut Vec<Span>| all.extend(words.iter().map(|word| word.span));
    match &item.kind {
        ItemKind::Path(names) => words(names, all),
        ItemKind::Call(names, entries) => {
            words(names, all);
            entries.iter().for_each(|entry| of_item(&entry.value, all));
        }
        ItemKind::Tuple(entries) => entries.iter().for_each(|entry| of_item(&entry.value, all)),
        ItemKind::Quantity(literal) => all.push(literal.unit_span),
        ItemKind::FeetInches(first, second) | ItemKind::Pitch(first, second) => {
            all.extend([first.unit_span, second.unit_span])
        }
        ItemKind::Range(low, high) => [low, high].into_iter().for_each(|item| of_item(item, all)),
        ItemKind::Size(sides) => sides.iter().for_each(|item| of_item(item, all)),
        ItemKind::Sum(first, rest) => {
            of_item(first, all);
            rest.iter().for_each(|(_, item)| of_item(item, all));
        }
        ItemKind::Text(_) | ItemKind::Date(..) => {}
    }
}

fn holds(text: &str) -> Result<(), TestCaseError> {
    let parsed = parse(FileId(0), text);
    for span in spans(&parsed) {
        prop_assert!(text.get(span.range()).is_some(), "{:?} of {:?}", span, text);
    }
    let words_for_rules = |title: &str| {
        ["one_clause", "good_start", "more_sides", "upper_end", "EOI"]
            .iter()
            .any(|rule| title.contains(rule) && !text.contains(rule))
    };
    prop_assert!(!parsed.problems.iter().any(|problem| words_for_rules(&problem.title)));
    Ok(())
}

/// Mistakes that the grammar of a whole text does not know: numbers and texts without a value, and `///` over nothing.
const BEYOND_GRAMMAR: [&str; 8] = [
    "text.thousands",
    "text.mixed_number",
    "text.number_too_long",
    "text.zero_below",
    "text.unknown_escape",
    "text.doc_alone",
    "text.too_deep",
    "text.too_many",
];

/// The driver puts blocks together by itself; `file` in the grammar says the same in pest's words.
fn agrees(text: &str) -> Result<(), TestCaseError> {
    let problems = parse(FileId(0), text).problems;
    let sound = problems.iter().all(|problem| BEYOND_GRAMMAR.contains(&problem.code));
    let accepted = crate::syntax::grammar::read(crate::syntax::grammar::Rule::file, text).is_ok();
    prop_assert_eq!(sound, accepted, "{:?}\n{:?}", text, problems);
    Ok(())
}

/// Words and signs of the language, and what builders type.
fn alphabet() -> impl Strategy<Value = String> {
    let parts = prop::sample::select(vec![
        "face",
        "use",
        "detail",
        "area",
        "x",
        "at",
        "depth",
        "(",
        ")",
        "{",
        "}",
        ",",
        ", ",
        " ",
        "    ",
        "\n",
        "\n",
        "\r\n",
        "\t",
        "\"",
        "\\",
        "//",
        "///",
        "#",
        ";",
        "=",
        "+",
        "-",
        "*",
        "/",
        ".",
        "..",
        ":",
        "12",
        "3/4in",
        "8ft",
        " 6in",
        "19mm",
        "2x4",
        "8'-6\"",
        "½",
        "“",
        "”",
        "°",
        "é",
        "日本",
        "\u{FEFF}",
        "\u{A0}",
        "µm",
        "2027-05-01",
        "99999999999999999999",
        "{\n",
        "\n}\n",
        "\nface a {\n",
        "×",
    ]);
    prop::collection::vec(parts, 0..60).prop_map(|parts| parts.concat())
}

/// Each declaration of the sample in short form, by where it begins.
fn declarations(text: &str) -> Vec<String> {
    parse(FileId(0), text).tree.statements.iter().map(short).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn no_text_of_the_alphabet_harms(text in alphabet()) {
        holds(&text)?;
    }

    #[test]
    fn the_driver_agrees_with_the_grammar_of_a_whole_text(text in alphabet()) {
        agrees(&text)?;
    }

    #[test]
    fn they_agree_on_a_damaged_text(from in 0.0..1.0_f64, length in 0_usize..20, junk in alphabet()) {
        let sound = &SAMPLE[SAMPLE.find("building").unwrap()..];
        let low = (sound.len() as f64 * from) as usize;
        let junk: String = junk.chars().take(length).collect();
        agrees(&format!("{}{junk}{}", &sound[..low], sound.get(low + length..).unwrap_or("")))?;
    }

    #[test]
    fn no_text_at_all_harms(text in "\\PC*\n?\\PC*") {
        holds(&text)?;
    }

    #[test]
    fn neighbours_survive_a_cut(which in 0_usize..14, from in 0.0..1.0_f64, to in 0.0..1.0_f64) {
        damage(which, from, to, "")?;
    }

    #[test]
    fn neighbours_survive_damage(which in 0_usize..14, from in 0.0..1.0_f64, more in 0.0..0.05_f64, junk in alphabet()) {
        // A `///` line would go with the next declaration, as it should.
        let junk = junk.replace('/', ":");
        damage(which, from, (from + more).min(1.0), &junk)?;
    }
}

/// Replaces a part of one declaration of the sample; all others must be the same as before.
fn damage(which: usize, from: f64, to: f64, junk: &str) -> Result<(), TestCaseError> {
    let cut = pieces(SAMPLE);
    let piece = cut[which % cut.len()].clone();
    // The first word stays, and the last line end: without them it is no declaration any more, or joins the next.
    let words = piece.start
        + SAMPLE[piece.clone()]
            .lines()
            .take_while(|line| line.starts_with("//"))
            .map(|line| line.len() + 1)
            .sum::<usize>();
    let inside = words + SAMPLE[words..].find(' ').unwrap() + 1..piece.end - 1;
    prop_assume!(inside.start < inside.end);
    let boundary = |part: f64| {
        let mut at = inside.start + ((inside.len() as f64) * part) as usize;
        while !SAMPLE.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let (low, high) = (boundary(from.min(to)), boundary(from.max(to)));
    let damaged = format!("{}{junk}{}", &SAMPLE[..low], &SAMPLE[high..]);
    holds(&damaged)?;
    let (before, after) = (declarations(SAMPLE), declarations(&damaged));
    prop_assert_eq!(&after[..which], &before[..which]);
    let behind = before.len() - which - 1;
    prop_assert_eq!(&after[after.len() - behind..], &before[which + 1..]);
    Ok(())
}

#[test]
fn the_grammar_of_a_whole_text_takes_the_sample() {
    agrees(SAMPLE).unwrap();
    for text in [
        "",
        "\u{FEFF}",
        "// a",
        "use a {}",
        "use a { } // b\n",
        "use a {\n}",
        "///\nuse a",
        "use a /// b\n",
        "//// b\nuse a\r\n",
        "use a\n}\n",
    ] {
        agrees(text).unwrap();
    }
    for text in ["face a {\n    \rb\n}\n", "use a\r\r\n", "use a\r // b\n", "use a\rb\n", "\ruse a\n", "\r\n\r"] {
        agrees(text).unwrap();
    }
}

#[test]
fn driver_and_grammar_agree_on_every_single_slip() {
    let sound = "/// Doc.\nface a(b = c) { // d\n    pipe e at (1ft, 2in) {\n        fall 2%, f \"g\"\n    }\n\n    g\n}\nuse h\n";
    assert_eq!(parse(FileId(0), sound).problems, []);
    for at in 0..sound.len() {
        for slip in ["", "\r", " ", "\n", "{", "}", "(", ")", ",", "/", "\"", "x", "face", "\nface "] {
            agrees(&format!("{}{slip}{}", &sound[..at], &sound[at + 1..])).unwrap();
            agrees(&format!("{}{slip}{}", &sound[..at], &sound[at..])).unwrap();
        }
    }
}

#[test]
fn every_prefix_of_the_sample_is_read() {
    let text = SAMPLE.replace("Larch", "Lärche “日本”");
    for (at, _) in text.char_indices() {
        holds(&text[..at]).unwrap();
    }
}

fn quick(text: &str) -> Parsed {
    let start = Instant::now();
    let parsed = parse(FileId(0), text);
    assert!(start.elapsed() < Duration::from_secs(10), "{:?} for {} bytes", start.elapsed(), text.len());
    parsed
}

#[test]
fn deep_nesting_is_one_mistake_and_quick() {
    let many = 100_000;
    let cases = [
        format!("face a {{\n    pipe {}\n    area b\n}}\nuse c\n", "(".repeat(many)),
        format!("face a {{\n    pipe {}{}\n    area b\n}}\nuse c\n", "(".repeat(many), ")".repeat(many)),
        format!("face a {{\n    pipe {}\n}}\nuse c\n", "(\n".repeat(many)),
        format!("face a\n{}use c\n", "a {\n".repeat(many)),
        format!("face a {{\n{}{}}}\nuse c\n", "a {\n".repeat(many), "}\n".repeat(many)),
        format!("face a {{\n    pipe a{}\n}}\nuse c\n", "(b".repeat(many)),
    ];
    for text in cases {
        let parsed = quick(&text);
        let codes: Vec<&str> = parsed.problems.iter().map(|problem| problem.code).collect();
        assert!(codes.contains(&"text.too_deep"), "{codes:?}");
        assert!(codes.len() <= 2, "{codes:?}");
        let last = parsed.tree.statements.last().map(short);
        assert_eq!(last.as_deref(), Some("use c"));
        assert_eq!(&*parsed.tree.statements[0].keyword.text, "face");
    }
}

#[test]
fn nesting_within_the_limit_is_not_exponential() {
    for depth in [10, 20, 40, 62] {
        let nested = format!("use a {}b{} c\n", "(".repeat(depth), ")".repeat(depth));
        assert_eq!(quick(&nested).problems, [], "{depth}");
        for unit in ["(a(", "(1 + (", "(b = (", "(a x ("] {
            quick(&format!("use a {}", unit.repeat(depth / 2)));
            let closed = format!("use a {}1{} ?", unit.repeat(depth / 2), "))".repeat(depth / 2));
            assert_eq!(quick(&closed).problems.len(), 1, "{closed}");
        }
    }
}

#[test]
fn large_and_wrong_texts_end() {
    let sample = SAMPLE.repeat(300);
    assert_eq!(quick(&sample).problems, []);
    for junk in [
        "(\n", "\"\n", "}\n", "{\n", ",", "a,", "hello\n", "face\n", "  a {\n", "'", "///\n", "1 ", "(a\n b\n", "\t\n",
        "#\n", "é",
    ] {
        let text = junk.repeat(200_000 / junk.len());
        let parsed = quick(&text);
        assert!(parsed.problems.len() <= 201, "{junk:?}: {}", parsed.problems.len());
    }
}
