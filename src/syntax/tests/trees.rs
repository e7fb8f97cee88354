//! What a text without mistakes becomes.

use crate::source::FileId;
use crate::syntax::{Entry, Item, ItemKind, Literal, Operator, Statement, parse, parse_piece, pieces};

pub(super) const SAMPLE: &str = include_str!("../../../tests/cases/syntax/sample.wythe");

/// A statement in a short form without spans, for comparison.
pub(super) fn short(statement: &Statement) -> String {
    let mut out = String::new();
    if let Some(doc) = &statement.doc {
        out.push_str(&format!("[{doc}] "));
    }
    out.push_str(&statement.keyword.text);
    for item in &statement.arguments {
        out.push_str(&format!(" {}", shown(item)));
    }
    if !statement.clauses.is_empty() {
        let clauses: Vec<String> = statement.clauses.iter().map(short).collect();
        out.push_str(&format!(" {{{}}}", clauses.join("; ")));
    }
    out
}

/// All statements of a text in the short form, one a line.
pub(super) fn tree(text: &str) -> String {
    let parsed = parse(FileId(0), text);
    parsed.tree.statements.iter().map(short).collect::<Vec<_>>().join("\n")
}

fn number(literal: &Literal) -> String {
    match literal.denominator {
        1 => format!("{}{}", literal.numerator, literal.unit),
        below => format!("{}/{below}{}", literal.numerator, literal.unit),
    }
}

fn shown(item: &Item) -> String {
    let names = |words: &[crate::syntax::Word]| words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".");
    let list = |entries: &[Entry]| {
        let entry = |entry: &Entry| match &entry.name {
            Some(name) => format!("{}={}", name.text, shown(&entry.value)),
            None => shown(&entry.value),
        };
        entries.iter().map(entry).collect::<Vec<_>>().join(", ")
    };
    match &item.kind {
        ItemKind::Path(words) => names(words),
        ItemKind::Call(words, entries) => format!("{}<{}>", names(words), list(entries)),
        ItemKind::Text(text) => format!("{text:?}"),
        ItemKind::Date(year, month, day) => format!("date:{year}/{month}/{day}"),
        ItemKind::Quantity(literal) => number(literal),
        ItemKind::FeetInches(feet, inches) => format!("{}+{}", number(feet), number(inches)),
        ItemKind::Pitch(rise, run) => format!("pitch:{}:{}", number(rise), number(run)),
        ItemKind::Range(low, high) => format!("{}..{}", shown(low), shown(high)),
        ItemKind::Size(sides) => sides.iter().map(shown).collect::<Vec<_>>().join("×"),
        ItemKind::Tuple(entries) => format!("({})", list(entries)),
        ItemKind::Sum(first, rest) => {
            let sign = |operator: &Operator| match operator {
                Operator::Add => '+',
                Operator::Subtract => '-',
                Operator::Multiply => '*',
                Operator::Divide => '/',
            };
            let rest: String =
                rest.iter().map(|(operator, item)| format!("{}{}", sign(operator), shown(item))).collect();
            format!("[{}{rest}]", shown(first))
        }
    }
}

#[test]
fn the_sample_has_no_mistake() {
    let parsed = parse(FileId(0), SAMPLE);
    assert_eq!(parsed.problems, []);
    let words: Vec<&str> = parsed.tree.statements.iter().map(|statement| &*statement.keyword.text).collect();
    let expected = [
        "wythe", "use", "use", "use", "use", "use", "use", "use", "use", "site", "assembly", "face", "building",
        "detail",
    ];
    assert_eq!(words, expected);
    insta::assert_snapshot!(tree(SAMPLE));
}

#[test]
fn every_kind_of_argument_is_read() {
    let cases = [
        ("product a", "product a"),
        ("product std.boards.larch", "product std.boards.larch"),
        ("product wall(depth = 10mm)", "product wall<depth=10mm>"),
        (
            "product wall(\n    depth = 10mm, // shallow\n    mesh = meshes.insect,\n)",
            "product wall<depth=10mm, mesh=meshes.insect>",
        ),
        (r#"product "a \"b\" \\ c, {d} // e""#, r#"product "a \"b\" \\ c, {d} // e""#),
        ("product 2027-05-01", "product date:2027/5/1"),
        ("product 19mm 3/4in 6-1/2in -8in 0.5mm 0", "product 19mm 3/4in 13/2in -8in 5/10mm 0"),
        ("product 8ft 6-1/2in 8ft -8ft 6in", "product 8ft+13/2in 8ft -8ft+-6in"),
        (
            "product 4:12 5% -25degC 0.036W/(m.K) 60ng/(Pa.s.m2) 1perm",
            "product pitch:4:12 5% -25degC 36/1000W/(m.K) 60ng/(Pa.s.m2) 1perm",
        ),
        ("product 16 in 0.48 kPa 5 every 1200mm", "product 16in 48/100kPa 5 every 1200mm"),
        (
            "product 130mm..140mm 1..2 8ft 6in..9ft, a 3/4in .. 1in",
            "product 130mm..140mm 1..2 8ft+6in..9ft {a 3/4in..1in}",
        ),
        ("product a..b", "product a..b"),
        ("product 19mm x 64mm x 3ft", "product 19mm×64mm×3ft"),
        ("product 4ft × 5ft at (6ft, 3ft)", "product 4ft×5ft at (6ft, 3ft)"),
        ("product (a) () (1,)", "product (a) () (1)"),
        ("product (depth + 81mm)", "product [depth+81mm]"),
        ("product (a + b * c - d / 2)", "product [a+[b*c]-[d/2]]"),
        ("product (a * b)", "product [a*b]"),
        ("product (a - b + c)", "product [a-b+c]"),
        ("product ((a + b) * c, d)", "product ([[a+b]*c], d)"),
        ("product at(4in, 3in)", "product at (4in, 3in)"),
        ("product at, a b, c", "product at {a b; c}"),
        ("product (0, 100, 200mm)", "product (0, 100, 200mm)"),
        ("product kitchen.1 gap.shallow", "product kitchen.1 gap.shallow"),
        ("product façade µ_wert 3µm", "product façade µ_wert 3µm"),
        ("product m x", "product m"),
    ];
    for (text, expected) in &cases[..cases.len() - 1] {
        let parsed = parse(FileId(0), text);
        assert_eq!(parsed.problems, [], "{text}");
        assert_eq!(tree(text), *expected, "{text}");
    }
    let (text, expected) = cases[cases.len() - 1];
    assert_eq!(parse(FileId(0), text).problems.len(), 1);
    assert_eq!(tree(text), expected);
}

#[test]
fn clauses_on_the_line_and_in_the_block_are_one_list() {
    let line = "face a {\n    pipe drain 40mm at (18ft, 30in), fall 2%, seal collar\n}\n";
    let block = "face a {\n  pipe drain 40mm at (18ft, 30in) {\n\tfall 2% // steep\n\n    seal collar\n  }\n}";
    let both = "face a {\npipe drain 40mm at (18ft, 30in), fall 2% {\nseal collar\n}\n}\n";
    let expected = "face {pipe drain 40mm at (18ft, 30in) {fall 2%; seal collar}}".replace("face ", "face a ");
    for text in [line, block, both] {
        assert_eq!(parse(FileId(0), text).problems, [], "{text}");
        assert_eq!(tree(text), expected, "{text}");
    }
}

#[test]
fn documentation_and_comments_have_their_places() {
    let text = "// a\n/// One.\n///   Two.\nface a { // b\n    /// Three.\n    looks 100deg // c\n}\n// d";
    let parsed = parse(FileId(0), text);
    assert_eq!(parsed.problems, []);
    assert_eq!(tree(text), "[One.\n  Two.] face a {[Three.] looks 100deg}");
    let comments: Vec<&str> = parsed.tree.comments.iter().map(|span| &text[span.range()]).collect();
    assert_eq!(comments, ["// a", "// b", "// c", "// d"]);
}

#[test]
fn a_byte_order_mark_and_crlf_change_nothing_but_spans() {
    let windows = format!("\u{FEFF}{}", SAMPLE.replace('\n', "\r\n"));
    assert_eq!(parse(FileId(0), &windows).problems, []);
    assert_eq!(tree(&windows), tree(SAMPLE));
    let parsed = parse(FileId(0), &windows);
    for statement in &parsed.tree.statements {
        assert_eq!(&windows[statement.keyword.span.range()], &*statement.keyword.text);
    }
}

#[test]
fn spans_cover_what_they_name() {
    let text = "face a {\n    pipe b at (1ft, 2in), fall 2% {\n        seal c\n    }\n}\n";
    let parsed = parse(FileId(0), text);
    let face = &parsed.tree.statements[0];
    assert_eq!(&text[face.span.range()], text.trim_end());
    assert_eq!(&text[face.block.unwrap().range()], text[7..].trim_end());
    let pipe = &face.clauses[0];
    assert_eq!(&text[pipe.head_span().range()], "pipe b at (1ft, 2in)");
    assert_eq!(&text[pipe.clauses[0].span.range()], "fall 2%");
    assert_eq!(&text[pipe.span.range()], &text[13..text.len() - 3]);
}

#[test]
fn pieces_cover_the_text_and_begin_with_their_documentation() {
    let text = "\u{FEFF}// head\n/// Doc.\n// between\nface a {\n    face b\n}\n/// lost\n\nuse b\nUSE c\nuseful d\n";
    let cut: Vec<&str> = pieces(text).into_iter().map(|range| &text[range]).collect();
    let expected =
        ["// head\n", "/// Doc.\n// between\nface a {\n    face b\n}\n/// lost\n\n", "use b\n", "USE c\nuseful d\n"];
    assert_eq!(cut, expected);
    assert!(pieces("").is_empty());
    let whole: usize = pieces(SAMPLE).iter().map(std::ops::Range::len).sum();
    assert_eq!(whole, SAMPLE.len());
    let apart: Vec<Statement> =
        pieces(SAMPLE).into_iter().flat_map(|piece| parse_piece(FileId(0), SAMPLE, piece).tree.statements).collect();
    assert_eq!(apart, parse(FileId(0), SAMPLE).tree.statements);
}
