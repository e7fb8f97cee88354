//! Tests of the parser as a whole.

use super::*;

const SAMPLE: &str = include_str!("../../tests/cases/syntax/sample.wythe");

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
}
