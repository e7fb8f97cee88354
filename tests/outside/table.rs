//! The table of all outside checks, as a page.

use std::fmt::Write as _;

use serde_json::Value;

use super::Row;
use super::cutting_checked::Solved;
use super::sums::Answer;

/// Up to ten decimals without idle noughts; what is very small as a power of ten.
pub fn figure(number: f64) -> String {
    if number != 0.0 && number.abs() < 1e-3 {
        return format!("{number:.1e}");
    }
    let text = format!("{number:.10}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// One answer of ours: four decimals, seven for what is less than one.
pub fn answer(answer: &Answer) -> String {
    match answer {
        Answer::Number(number) if number.abs() >= 1.0 => figure((number * 1e4).round() / 1e4),
        Answer::Number(number) => figure((number * 1e7).round() / 1e7),
        Answer::Word(word) => word.clone(),
    }
}

/// What a case expects.
pub fn wanted(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Object(range) => format!("{}…{}", wanted(&range["from"]), wanted(&range["to"])),
        number => number.as_f64().map(figure).unwrap_or_default(),
    }
}

/// In one cell.
pub fn list(figures: impl Iterator<Item = String>) -> String {
    figures.collect::<Vec<String>>().join(" · ")
}

const HEAD: &str = "# Outside checks

Made by `cargo test --test outside` from the files beside it; `UPDATE=1` writes it anew.

Every row holds one figure of the program, or a few that belong together, against the same figure from somewhere else.
The tag says how that one is known:

- **P** read on a public page that shows the value; the standard itself was not read;
- **V** worked out again by other means than this program: a library, or a script that stands here. Where the source says
  \"made here\" the inputs are ours and no page shows the answer; where it says \"from memory\" the formula is: V then proves the
  sums, not the formula. In `physics` every V row names its script, and `.ci/run` runs them all (`again.py` for the blocks
  written by hand);
- **C** made for these checks: trade arithmetic with inputs of our own, worked by hand;
- **M** from memory, to be held against a licensed copy before it carries weight.

P and V must agree or the test fails, and so must C where it is exact by construction. The others are compared and told.
Most M rows guard the library against slips of the pen: both sides come from memory, so agreement says nothing about the standard.

";

/// Files here that are no figures.
const COPIED: &str = "
## Copied from outside

- `sarif-schema-2.1.0.json`: the schema of SARIF 2.1.0 as published by OASIS, copied unchanged from `src/schema.json` of the \
package `serde-sarif` 0.8.0 (MIT). The reports of `wythe check --report sarif` are held to it.
";

/// Compared sums that no code works out yet, so that the gaps of this table show.
const WAITING: [&str; 1] = [
    "butt joints of a wall of 9144 from starts of 3657.6, 2438.4 and 1219.2: the program takes others, with fewer boards, that \
     keep two bays apart (trade arithmetic)",
];

/// The whole page.
pub fn page(
    blocks: &[(String, Vec<Row>)],
    layouts: &[(String, usize, usize, usize)],
    shapes: &Value,
    boards: &Value,
    cuts: &Solved,
) -> String {
    let mut page = HEAD.to_owned();
    count(&mut page, blocks);
    for (block, rows) in blocks {
        let _ = write!(
            page,
            "## {block}\n\n| check | source | tag | expected | ours | error |\n|---|---|---|---|---|---|\n"
        );
        for row in rows {
            page.push_str(&line(row));
        }
        page.push('\n');
    }
    random(&mut page, layouts, shapes, boards);
    cutting(&mut page, cuts);
    page.push_str("## Not compared yet\n\nFigures that wait for the sum that works them out:\n\n");
    for waiting in WAITING {
        let _ = writeln!(page, "- {waiting}");
    }
    page.push_str(COPIED);
    page
}

fn count(page: &mut String, blocks: &[(String, Vec<Row>)]) {
    let rows = || blocks.iter().flat_map(|(_, rows)| rows);
    let tagged = |tag: &str| rows().filter(|row| row.tag == tag).count();
    let _ = write!(
        page,
        "{} rows: {} P, {} V, {} C of which {} exact, {} M. {} must agree. {} differ.\n\n",
        rows().count(),
        tagged("P"),
        tagged("V"),
        tagged("C"),
        rows().filter(|row| row.tag == "C" && row.exact).count(),
        tagged("M"),
        rows().filter(|row| row.binds()).count(),
        rows().filter(|row| !row.agrees).count(),
    );
}

fn line(row: &Row) -> String {
    let with_unit = |figures: &str| {
        let unit = if row.unit.is_empty() { String::new() } else { format!(" {}", row.unit) };
        format!("{figures}{unit}")
    };
    let error = match row.error {
        Some(error) if error <= super::sums::HAIR => "0".to_owned(),
        Some(error) => {
            let shown = figure((error * 1e6).round() / 1e6);
            if row.agrees { shown } else { format!("**{shown}**") }
        }
        None => "**differs**".to_owned(),
    };
    let tag = if row.exact { format!("{}, exact", row.tag) } else { row.tag.clone() };
    let expected = if row.expected_unit { with_unit(&row.expected) } else { row.expected.clone() };
    let ours = with_unit(&row.ours);
    format!("| {} | {} | {tag} | {expected} | {ours} | {error} |\n", row.check, row.source)
}

/// What the kinds of `layout_marks.json` are in words.
const KINDS: [(&str, &str); 8] = [
    ("between_supports", "holes between strips"),
    ("both_ends", "marks with both ends alike"),
    ("coursing_free", "courses of one exposure from any first line"),
    ("coursing_from_base", "exposures chosen from the base"),
    ("from_first", "marks from a first one"),
    ("on_supports", "holes on strips"),
    ("slot_area", "free areas of slots"),
    ("studs", "studs of a wall"),
];

fn random(page: &mut String, layouts: &[(String, usize, usize, usize)], shapes: &Value, boards: &Value) {
    page.push_str("## Random cases, equal to the last digit\n\n| check | source | tag | cases | figures | agree |\n|---|---|---|---|---|---|\n");
    for (kind, cases, agree, numbers) in layouts {
        let words = KINDS.iter().find(|(known, _)| known == kind).map_or(kind.as_str(), |(_, words)| words);
        let _ = writeln!(page, "| {words} | exact fractions, `layout_marks.py` | V | {cases} | {numbers} | {agree} |");
    }
    let cases = shapes["cases"].as_array().map_or(0, Vec::len);
    let source = shapes["source"].as_str().unwrap_or_default().split(", ").next().unwrap_or_default();
    let _ = writeln!(
        page,
        "| net areas, pieces and holes of shapes | {source}; asserted in `tests/outside_geometry.rs` | V | {cases} | {} | asserted there |",
        cases * 3
    );
    let walls = boards["cases"].as_array().map(Vec::as_slice).unwrap_or_default();
    let count: usize = walls.iter().filter_map(|wall| Some(wall["boards"].as_array()?.len())).sum();
    let _ = writeln!(
        page,
        "| boards of whole walls: course, edges, area; none on another | {source}; asserted in `tests/outside_geometry.rs` | V | {} | {} | asserted there |\n",
        walls.len(),
        count * 6
    );
}

fn cutting(page: &mut String, cuts: &Solved) {
    let _ = writeln!(
        page,
        "Of {} random cutting orders whose optimum `cutting_milp.py` works out in whole numbers (V), {} are planned at the \
         optimum, {} of them proven to be so; no bound lies above an optimum, and no plan costs more than one length too much.\n",
        cuts.cases, cuts.best, cuts.proven
    );
}
