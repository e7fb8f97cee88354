//! What is said about mistakes, and what is kept in spite of them.

use super::render::problems;
use super::trees::tree;
use crate::source::FileId;
use crate::syntax::parse;

/// Codes and the underlined text of every problem.
fn found(text: &str) -> Vec<(&'static str, String)> {
    let shown = |range: std::ops::Range<usize>| text.get(range).unwrap_or("?").to_owned();
    parse(FileId(0), text).problems.iter().map(|problem| (problem.code, shown(problem.main.span.range()))).collect()
}

#[track_caller]
fn one(text: &str, code: &str, at: &str) {
    let found = found(text);
    assert_eq!(found.len(), 1, "{text}: {found:?}");
    assert_eq!((found[0].0, &*found[0].1), (code, at), "{text}");
}

#[test]
fn habits_of_the_trade_get_their_own_words() {
    let cases = [
        ("lap 2x4", "text.nominal_size", "2x4"),
        ("lap 2×4", "text.nominal_size", "2×4"),
        ("lap 19mmx64mm", "text.size_blanks", "19mmx64mm"),
        ("lap 19x64mm", "text.size_blanks", "19x64mm"),
        ("lap 8'-6\"", "text.inch_mark", "8'-6\""),
        ("lap 8’-6”", "text.inch_mark", "8’-6”"),
        ("lap 16\"", "text.inch_mark", "16\""),
        ("lap 8'", "text.inch_mark", "8'"),
        ("lap 6 1/2in", "text.mixed_number", "6 1/2in"),
        ("lap 10-15mm", "text.range_dash", "10-15mm"),
        ("lap 10mm–15mm", "text.range_dash", "10mm–15mm"),
        ("lap 8ft-6in", "text.feet_dash", "8ft-6in"),
        ("lap .5in", "text.leading_point", ".5in"),
        ("lap 1 000mm", "text.thousands", "1 000mm"),
        ("lap 1,000mm", "text.thousands", "1,000mm"),
        ("lap (1,000mm, 2ft)", "text.thousands", "1,000mm"),
        ("lap “old, wall”", "text.quote", "“old, wall”"),
        ("lap 'old wall'", "text.quote", "'old wall'"),
        ("lap 6½in", "text.fraction_sign", "6½in"),
        ("lap 25°C", "text.sign", "25°C"),
        ("lap 5kg/m²", "text.sign", "5kg/m²"),
        ("lap = 100mm", "text.equals", "="),
        ("lap: 100mm", "text.equals", ":"),
        ("lap 100mm;", "text.semicolon", ";"),
        ("lap 100mm # wide", "text.hash_comment", "# wide"),
        ("# wide", "text.hash_comment", "# wide"),
        ("lap #8", "text.gauge", "#"),
        ("lap water & air", "text.ampersand", "&"),
        ("lap depth + 81mm", "text.sum_outside", "+"),
        ("lap (depth +81mm)", "text.operator_blanks", "+"),
        ("lap cold-lake", "text.hyphen", "cold-lake"),
        ("lap 100mm)", "text.stray_bracket", ")"),
        ("lap (100mm", "text.unclosed_bracket", "("),
        ("lap \"wide", "text.unclosed_text", "\"wide"),
        ("lap \"a\\qb\"", "text.unknown_escape", "\\q"),
        ("lap 100mm,", "text.comma_at_end", ","),
        ("lap 99999999999999999999mm", "text.number_too_long", "99999999999999999999mm"),
        ("lap 1/0in", "text.zero_below", "1/0in"),
        ("lap\u{A0}100mm", "text.odd_blank", "\u{A0}"),
        ("lap , , a", "text.expected", ","),
        ("lap ? a", "text.expected", "?"),
        ("lap (a b)", "text.expected", "b"),
        ("lap (a, )) b", "text.stray_bracket", ")"),
        ("lap a { b }", "text.brace_in_line", "{"),
    ];
    for (line, code, at) in cases {
        let text = format!("use a\nface b {{\n    looks 100deg\n    {line}\n    area c\n}}\nuse d\n");
        one(&text, code, at);
        let tree = tree(&text);
        assert!(tree.starts_with("use a\nface b {looks 100deg") && tree.contains("area c}\nuse d"), "{line}: {tree}");
    }
}

#[test]
fn fixes_mend_the_text() {
    let cases = [
        "8'-6\"",
        "16\"",
        "6 1/2in",
        "10-15mm",
        ".5in",
        "1 000mm",
        "1,000mm",
        "2x4",
        "19x64mm",
        "“old”",
        "6½in",
        "25°C",
        "= 1",
        "a;",
        "a & b",
    ];
    for case in cases {
        let text = format!("use a\nface b {{\n    lap {case}\n}}\n");
        let parsed = parse(FileId(0), &text);
        let (span, better) = &parsed.problems[0].fixes[0].edits[0];
        let mended = format!("{}{better}{}", &text[..span.start as usize], &text[span.end as usize..]);
        assert_eq!(parse(FileId(0), &mended).problems, [], "{case}: {mended}");
    }
}

#[test]
fn three_mistakes_give_three_messages_and_the_rest_is_kept() {
    let text = "use std.boards\nsite a {\n    climate = b\n    wind 0.48kPa\n}\nface c {\n    lap 8'-6\", detail d\n    pipe e at (1ft, 2ft\n    area f\n}\n";
    assert_eq!(
        found(text),
        [("text.equals", "=".into()), ("text.inch_mark", "8'-6\"".into()), ("text.unclosed_bracket", "(".into())]
    );
    assert_eq!(
        tree(text),
        "use std.boards\nsite a {climate; wind 48/100kPa}\nface c {lap 8 {detail d}; pipe e at; area f}"
    );
}

#[test]
fn a_mistake_costs_its_own_clause_only() {
    let text = "use a b, lap 2x4, c d, e ?, f 3mm\n";
    assert_eq!(found(text).len(), 2);
    assert_eq!(tree(text), "use a b {lap; c d; e; f 3mm}");
    let statement = &parse(FileId(0), text).tree.statements[0];
    let broken: Vec<bool> = statement.clauses.iter().map(|clause| clause.broken).collect();
    assert_eq!((statement.broken, &broken[..]), (false, &[true, false, true, false][..]));
}

#[test]
fn a_missing_inner_brace_is_one_mistake() {
    let text = "face a {\n    block b {\n        courses 3\n        box c\n    trim d {\n        fixed at left\n    }\n    area e\n}\nuse f\n";
    one(text, "text.unclosed_block", "{");
    assert_eq!(tree(text), "face a {block b {courses 3; box c}; trim d {fixed at left}; area e}\nuse f");
}

#[test]
fn a_missing_brace_of_an_empty_block_is_one_mistake() {
    let text = "face a {\n    block b {\n    area e\n}\nuse f\n";
    one(text, "text.unclosed_block", "{");
    assert_eq!(tree(text), "face a {block b; area e}\nuse f");
}

#[test]
fn a_missing_last_brace_is_one_mistake() {
    let text = "face a {\n    block b {\n        courses 3\n    }\n    area e\nuse f\n";
    one(text, "text.unclosed_block", "{");
    assert_eq!(tree(text), "face a {block b {courses 3}; area e}\nuse f");
    one("face a {\n    block b {\n        courses 3\n", "text.unclosed_block", "{");
    one("face a {", "text.unclosed_block", "{");
}

#[test]
fn a_missing_opening_brace_is_one_mistake() {
    let text = "face a {\n    block b\n        courses 3\n        box c\n    }\n    area e\n}\nuse f\n";
    one(text, "text.missing_open", "block b");
    assert_eq!(tree(text), "face a {block b {courses 3; box c}; area e}\nuse f");
    let text = "face a\n    looks 3deg\n    area e\n}\nuse f\n";
    one(text, "text.missing_open", "face a");
    assert_eq!(tree(text), "face a {looks 3deg; area e}\nuse f");
    let text = "face a\n    looks 3deg\n    area e\nuse f\n";
    one(text, "text.missing_open", "face a");
    assert_eq!(tree(text), "face a {looks 3deg; area e}\nuse f");
}

#[test]
fn a_brace_too_many_is_one_mistake() {
    let text = "face a {\n    block b {\n        courses 3\n    }\n    }\n    area e\n}\nuse f\n";
    one(text, "text.stray_brace", "}");
    assert_eq!(tree(text), "face a {block b {courses 3}; area e}\nuse f");
    let text = "face a {\n    looks 3deg\n}\n    area e\n}\nuse f\n";
    one(text, "text.stray_brace", "}");
    assert_eq!(tree(text), "face a {looks 3deg; area e}\nuse f");
    one("use a\n}\nuse b\n", "text.stray_brace", "}");
}

#[test]
fn text_that_is_not_indented_goes_by_its_braces() {
    let text = "face a {\nblock b {\ncourses 3\n}\narea c\nuse f\n";
    one(text, "text.unclosed_block", "{");
    assert_eq!(tree(text), "face a {block b {courses 3}; area c}\nuse f");
}

#[test]
fn a_broken_line_keeps_its_block() {
    for head in [
        "block 8'-6\" {",
        "block ? b {",
        "block (1ft, 2ft {",
        "block \"b {",
        "? {",
        "block b; {",
        "block b, {",
        "block b { # note",
        "block b = {",
    ] {
        let text = format!("face a {{\n    {head}\n        courses 3\n    }}\n    area e\n}}\nuse f\n");
        assert_eq!(found(&text).len(), 1, "{head}: {:?}", found(&text));
        assert!(tree(&text).contains("{courses 3}; area e}\nuse f"), "{head}: {}", tree(&text));
    }
}

#[test]
fn lines_behind_a_comma_belong_to_its_statement() {
    let text = "face a {\n    layer b c, controls water,\n        lap 100mm,\n        end_lap 150mm\n    area e\n}\n";
    one(text, "text.comma_at_end", ",");
    assert_eq!(tree(text), "face a {layer b c {controls water; lap 100mm; end_lap 150mm}; area e}");
}

#[test]
fn first_words_are_mended() {
    one("Face a {\n    looks 3deg\n}\n", "text.keyword_case", "Face");
    assert_eq!(tree("use b\nFACE a {\n    looks 3deg\n}\n"), "use b\nface a {looks 3deg}");
    one("use b\nfase a {\n    looks 3deg\n}\nuse c\n", "text.unknown_declaration", "fase");
    one("  face a {\n    looks 3deg\n  }\n", "text.indented_declaration", "face");
    one("use b\nhello, world!\nuse c\n", "text.unknown_declaration", "hello");
    one("use b\nface a\n{\n    looks 3deg\n}\nuse c\n", "text.brace_alone", "{");
    assert_eq!(tree("use b\nface a\n{\n    looks 3deg\n}\nuse c\n"), "use b\nface a {looks 3deg}\nuse c");
    one("use b\n    area c\n    area d\nuse e\n", "text.missing_open", "use b");
}

#[test]
fn brackets_that_break_lines_are_one_mistake() {
    let text =
        "face a {\n    outline (\n        (0, 0),\n        (8'-6\", 0),\n        (1ft, 2ft),\n    )\n    area e\n}\n";
    one(text, "text.inch_mark", "8'-6\"");
    assert_eq!(tree(text), "face a {outline; area e}");
    let text = "face a {\n    outline (\n        (0, 0),\n        (1ft, 2ft),\n    area e\n    area f {\n        looks 3deg\n    }\n}\nuse b\n";
    assert_eq!(found(text)[0], ("text.unclosed_bracket", "(".into()));
    assert!(tree(text).contains("area f {looks 3deg}}\nuse b"), "{}", tree(text));
}

#[test]
fn words_above_nothing_are_doubted() {
    one("use b\n/// lost\n\nuse c\n", "text.doc_alone", "/// lost");
    one("face a {\n    looks 3deg\n    /// lost\n}\n", "text.doc_alone", "/// lost");
}

#[test]
fn messages_read_well() {
    let cases = [
        ("inch_marks", "face a {\n    window b frame 4' x 5' at (6ft, 3ft)\n    lap 16\"\n}\n"),
        ("nominal", "face a {\n    furring spruce 2x4\n    furring spruce 1x5\n}\n"),
        ("numbers", "face a {\n    lap 6 1/2in\n    lap 10-15mm\n    lap .5in\n    lap 1,000mm\n    lap 1 000mm\n}\n"),
        (
            "expected",
            "face a {\n    lap ?\n    pipe b at (1ft 2, 3)\n    lap 3mm x\n    lap (1mm +)\n    , b\n    5mm\n}\n",
        ),
        ("left_open", "face a {\n    block b {\n        courses 3\n    trim d {\n        fixed at left\n    }\n}\n"),
        ("cut_off", "face a {\n    block b {\n        courses 3\n"),
        ("no_open", "face a\n    looks 3deg\n}\n"),
        ("stray", "use a\n}\nuse b\n    area c\n"),
        ("unknown", "fase a {\n}\nhello\nFace b {\n}\n  use c\n"),
        ("quotes", "use a because “old wall”\nuse b because 'old'\nuse c because \"old\n"),
        ("signs", "use a = b;\nuse a & b\nuse a + b\nuse 25°C\nuse ½in # wide\n"),
        ("braces", "face a { looks 3deg }\nface b\n{\n    looks 3deg }\n"),
        ("commas", "face a {\n    layer b, controls water,\n        lap 3mm\n    layer c,, d\n}\n"),
        ("doc_alone", "use b\n/// lost\n\nuse c\n"),
    ];
    for (name, text) in cases {
        insta::assert_snapshot!(name, problems(text));
    }
}
