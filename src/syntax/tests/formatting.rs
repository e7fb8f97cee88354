//! What the formatter keeps and what it changes.

use proptest::prelude::*;

use super::trees::{SAMPLE, tree};
use crate::source::FileId;
use crate::syntax::{format, parse};

/// Formats, and holds the result against every promise of the formatter.
#[track_caller]
fn checked(text: &str) -> String {
    let once = format(text).unwrap_or_else(|| panic!("{:?} in\n{text}", parse(FileId(0), text).problems));
    let comments = |text: &str| -> Vec<String> {
        parse(FileId(0), text).tree.comments.iter().map(|span| text[span.range()].to_owned()).collect()
    };
    assert_eq!(tree(&once), tree(text), "the meaning changed:\n{text}\n→\n{once}");
    assert_eq!(comments(&once), comments(text), "comments changed:\n{text}\n→\n{once}");
    assert_eq!(format(&once).as_deref(), Some(&*once), "a second time changes it again:\n{text}");
    once
}

#[test]
fn the_sample_keeps_its_form() {
    insta::assert_snapshot!(checked(SAMPLE));
}

#[test]
fn blanks_and_indents_are_settled() {
    let text = "wythe   1\n\n\n\nface  a{\n\n  looks   100deg\n\n\n\n\tarea lower wall( depth=10mm ,mesh = a ) below  9ft\n\n}\nuse b\n";
    let expected =
        "wythe 1\n\nface a {\n    looks 100deg\n\n    area lower wall(depth = 10mm, mesh = a) below 9ft\n}\n\nuse b\n";
    assert_eq!(checked(text), expected);
    assert_eq!(
        checked("use a at(1ft ,2in),b×\n".replace(",b×", ",b 1mm × 2mm").as_str()),
        "use a at (1ft, 2in), b 1mm x 2mm\n"
    );
    assert_eq!(checked(""), "");
    assert_eq!(checked("\u{FEFF}use a\r\nuse b\r\n"), "use a\r\nuse b\r\n");
}

#[test]
fn short_blocks_fold_and_long_lines_open() {
    let text = "face a {\n    pipe b {\n        fall 2%\n        seal c\n    }\n    pipe c, fall 2% {\n        a\n        b\n        c\n    }\n    pipe d {\n    }\n}\n";
    let expected = "face a {\n    pipe b, fall 2%, seal c\n    pipe c {\n        fall 2%\n        a\n        b\n        c\n    }\n    pipe d\n}\n";
    assert_eq!(checked(text), expected);
    let long = format!("use a, {}, last\n", ["clause with some words"; 5].join(", "));
    assert!(checked(&long).starts_with("use a {\n    clause with some words\n"));
    assert_eq!(checked("face a {\n    looks 3deg\n}\n"), "face a {\n    looks 3deg\n}\n");
    assert_eq!(checked("face a {}\n"), "face a {}\n");
}

#[test]
fn comments_stay_where_they_are() {
    let text = "// top\n\n// second\n/// doc\nface a { // head\n    // first\n    pipe b {   // open\n        fall 2%   // steep\n    }  // close\n    pipe c {\n        fall 2%\n        // last\n    }\n\n    // end\n} // behind\n// bottom\n";
    let expected = "// top\n\n// second\n/// doc\nface a { // head\n    // first\n    pipe b { // open\n        fall 2% // steep\n    } // close\n    pipe c {\n        fall 2%\n        // last\n    }\n\n    // end\n} // behind\n\n// bottom\n";
    assert_eq!(checked(text), expected);
    checked("use a (\n    b, // one\n    c\n), d // two\n");
    checked("face a {\n    pipe (b, // one\n  c), d, e {\n  f // g\n  }\n}\n");
    checked("face a { // one\n}\nuse b // two");
}

#[test]
fn numbers_and_texts_are_never_touched() {
    let text = "use a 0.50mm 3/4in 08mm 16 in 8ft  6-1/2in \"x  // {, ;}\" 130mm .. 140mm (a*1)\n"
        .replace("(a*1)", "(a * 1 + (b - 2) * (3))");
    assert_eq!(
        checked(&text),
        "use a 0.50mm 3/4in 08mm 16 in 8ft 6-1/2in \"x  // {, ;}\" 130mm..140mm (a * 1 + (b - 2) * (3))\n"
    );
}

#[test]
fn wide_brackets_break_one_entry_a_line() {
    let long = format!("use a ({}), b\n", ["some.long.name"; 9].join(", "));
    let broken = checked(&long);
    assert!(broken.starts_with("use a (\n    some.long.name,\n"), "{broken}");
    assert_eq!(checked("use a (\n    b,\n    c,\n)\n"), "use a (b, c)\n");
    let numbers = checked(&format!("use a ({})\n", ["-12.5degC"; 20].join(", ")));
    assert!(numbers.lines().all(|line| line.chars().count() <= 100), "{numbers}");
    assert_eq!(numbers.lines().count(), 5, "{numbers}");
}

#[test]
fn a_text_with_mistakes_is_left_alone() {
    assert_eq!(format("use a\nface b {\n    lap 2x4\n}\n"), None);
    assert_eq!(format("face b {\n"), None);
    assert_eq!(format("/// lost\n"), None);
}

/// A sound text of random shape.
fn sound() -> impl Strategy<Value = String> {
    let item = prop::sample::select(vec![
        "b",
        "19mm",
        "8ft 6in",
        "(1ft,  2in)",
        "\"t // u\"",
        "1mm x 2mm",
        "w(d=1mm)",
        "some.rather.long.name",
        "(a + 1mm)",
        "(b, // note\n  c)",
    ]);
    let clause =
        prop::collection::vec(item, 0..5).prop_map(|items| format!("k {}", items.join("  ")).trim_end().to_owned());
    let line = prop::collection::vec(clause, 1..6).prop_map(|clauses| clauses.join(","));
    let end = prop::sample::select(vec!["\n", " // c\n", "\n\n\n", "\n// own\n", "\n\n  // own\n\n", "\n/// doc\n"]);
    let leaf = (line.clone(), end.clone())
        .prop_map(|(line, end)| format!("{line}{}", if end.contains("///") { "\n" } else { end }));
    let tree = leaf.prop_recursive(3, 24, 5, move |inner| {
        (line.clone(), end.clone(), prop::collection::vec(inner, 0..5), end.clone()).prop_map(
            |(line, open, children, close)| {
                let body = children.concat();
                let open = if body.is_empty() && open.contains("///") { "\n" } else { open };
                let close = if close.contains("///") { "\n" } else { close };
                format!("{line} {{{open}{body}}}{close}")
            },
        )
    });
    prop::collection::vec(tree, 0..4).prop_map(|parts| parts.into_iter().map(|part| format!("face {part}")).collect())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn every_sound_text_keeps_its_meaning_and_its_comments(text in sound()) {
        checked(&text);
    }
}
