//! Formatting by document, by range, and while it is typed.

use super::edited;
use crate::ide::testing::{Desk, desk, heron_lane};
use crate::ide::{format_document, format_range, format_typed};

fn text(desk: &Desk, edits: &crate::ide::Edits) -> String {
    edited(&desk.glance, edits).remove(desk.glance.project.files.path(desk.file)).unwrap()
}

#[test]
fn a_document_gets_its_one_form_by_one_edit() {
    let desk = desk(&[(
        "a.wythe",
        "wythe 1\n\n/// Kept.\ndetail a {\n  at   base // why\n}\n\n\ndetail b {\n    at base\n}\n$0",
    )]);
    let edits = format_document(&desk.glance, desk.file);
    let before = desk.glance.project.files.text(desk.file);
    assert_eq!(text(&desk, &edits), crate::syntax::format(before).unwrap());
    assert_eq!(edits.len(), 1);
    let (span, _) = &edits[0];
    assert!(before[span.range()].starts_with("  at   base"), "only lines that change: {}", &before[span.range()]);
    let done = heron_lane("north.wythe", "", "face");
    assert!(format_document(&done.glance, done.file).is_empty());
}

#[test]
fn declarations_with_mistakes_stay_and_the_others_are_formatted() {
    let desk = desk(&[(
        "a.wythe",
        "wythe 1\n\ndetail a {\n  at   base\n}\n\ndetail b {\n  at  (\n}\n\ndetail c {\n  at   sill\n}\n$0",
    )]);
    let after = text(&desk, &format_document(&desk.glance, desk.file));
    assert!(
        after.contains("detail a {\n    at base\n}\n\ndetail b {\n  at  (\n}\n\ndetail c {\n    at sill\n}\n"),
        "{after}"
    );
}

#[test]
fn a_range_touches_whole_declarations_and_no_others() {
    let whole = "wythe 1\n\ndetail a {\n  at   base\n}\n\ndetail b {\n  at $0  head\n}\n\ndetail c {\n  at   sill\n}\n";
    let desk = desk(&[("a.wythe", whole)]);
    let after = text(&desk, &format_range(&desk.glance, desk.file, desk.offset, desk.offset + 2));
    assert_eq!(after, whole.replace("  at $0  head", "    at head"));
}

#[test]
fn windows_line_ends_stay() {
    let desk =
        desk(&[("a.wythe", "wythe 1\r\n\r\ndetail a {\r\n  at   base\r\n}\r\n\r\ndetail b {\r\n  (\r\n}\r\n$0")]);
    let after = text(&desk, &format_document(&desk.glance, desk.file));
    assert!(after.contains("detail a {\r\n    at base\r\n}\r\n"), "{after:?}");
    assert_eq!(after.matches('\n').count(), after.matches("\r\n").count());
}

fn typed(text_with_cursor: &str) -> String {
    let desk = desk(&[("a.wythe", text_with_cursor)]);
    text(&desk, &format_typed(&desk.glance, desk.file, desk.offset))
}

#[test]
fn a_new_line_is_indented_by_the_brackets_round_it() {
    assert_eq!(typed("face north {\n$0\n}\n"), "face north {\n    \n}\n");
    assert_eq!(
        typed("face north {\n    outline from (0, 0) { // {\n$0"),
        "face north {\n    outline from (0, 0) { // {\n        "
    );
    assert_eq!(typed("use details (\n$0\n"), "use details (\n    \n");
    assert_eq!(typed("face north {\n    note \"{ \\\" {\"\n$0"), "face north {\n    note \"{ \\\" {\"\n    ");
    assert_eq!(typed("face a {\n\nface b {\n$0"), "face a {\n\nface b {\n    ");
    assert_eq!(typed("face a {\n}\n$0"), "face a {\n}\n");
}

#[test]
fn a_closing_brace_stands_under_the_line_it_closes() {
    assert_eq!(
        typed("face north {\n    ground at left 0 {\n        }$0\n"),
        "face north {\n    ground at left 0 {\n    }\n"
    );
    assert_eq!(typed("face north {\n    }$0"), "face north {\n}");
    assert_eq!(typed("face north {\n}$0"), "face north {\n}");
}
