//! Long sittings: what the server holds does not grow with the count of edits.
#![allow(missing_docs, clippy::unwrap_used)]

mod support;

use std::path::Path;

use serde_json::json;
use support::{Wire, at};

/// Edits of the demo house, one after the other: numbers change, lines go and come back, words break and mend.
fn sit(wire: &mut Wire, path: &Path, from: i64, count: i64) {
    let text = std::fs::read_to_string(path).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    for step in (from..from + count).step_by(2) {
        let line = (step as usize * 7) % lines.len();
        let words = lines[line];
        let end = words.encode_utf16().count() as u32;
        let (there, back) = match step / 2 % 3 {
            0 => (at(line as u32, 0, end, ""), at(line as u32, 0, 0, words)),
            1 => (at(line as u32, 0, 0, "°𝄞 "), at(line as u32, 0, 4, "")),
            _ => (at(line as u32, end, end, " 25mm"), at(line as u32, end, end + 5, "")),
        };
        wire.change(path, step, json!([there]));
        wire.marks(path, Some(step));
        wire.change(path, step + 1, json!([back]));
        wire.marks(path, Some(step + 1));
        wire.seen.clear();
    }
}

/// Kilobytes by which the server grew between the edits `warm` and `warm + more`.
fn growth(warm: i64, more: i64) -> i64 {
    let home = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/heron-lane").canonicalize().unwrap();
    let south = home.join("south.wythe");
    let mut wire = Wire::begin(json!({}), &[&home]);
    let text = std::fs::read_to_string(&south).unwrap();
    wire.open(&south, &text);
    let first = wire.marks(&south, Some(1));
    sit(&mut wire, &south, 2, warm);
    let before = wire.memory().unwrap_or_default() as i64;
    sit(&mut wire, &south, 2 + warm, more);
    let after = wire.memory().unwrap_or_default() as i64;
    // After all of them the text is what it was, and so is what is said of it.
    let version = 2 + warm + more;
    wire.change(&south, version, json!([at(0, 0, 0, "")]));
    assert_eq!(wire.marks(&south, Some(version)), first);
    after - before
}

#[test]
fn a_hundred_edits_hold_memory_flat() {
    let grown = growth(30, 70);
    assert!(grown < 8 << 10, "grown by {grown} kB");
}

#[test]
#[ignore = "takes minutes; `cargo test --release -p wythe-lsp --test soak -- --ignored`"]
fn ten_thousand_edits_hold_memory_flat() {
    let grown = growth(1_000, 9_000);
    assert!(grown < 8 << 10, "grown by {grown} kB");
}
