//! Heron Lane has no fault but what is knowingly accepted, and every fault seeded in its spoilt copy is found.
#![allow(missing_docs, clippy::expect_used, clippy::unwrap_used)]

#[path = "common/folder.rs"]
mod folder;

use folder::checked;
use wythe::checks::{RULES, rule};

#[test]
fn the_house_has_no_fault_but_two_that_are_accepted() {
    let checked = checked("examples/heron-lane");
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    let open: Vec<String> = checked
        .findings
        .iter()
        .filter(|settled| settled.accepted.is_none())
        .map(|settled| format!("{} {}: {}", settled.finding.rule, settled.finding.subject, settled.finding.message))
        .collect();
    assert!(open.is_empty(), "{}", open.join("\n"));
    assert_eq!(checked.summary.accepted, 2);
}

/// A row of the table: file, line, text, number of the rule, subject.
struct Row {
    file: String,
    line: usize,
    text: String,
    rule: String,
    subject: String,
}

fn rows(table: &str) -> Vec<Row> {
    let cells = |line: &str| -> Vec<String> {
        line.trim_matches('|').split(" | ").map(|cell| cell.trim().trim_matches('`').to_owned()).collect()
    };
    let rows = table.lines().filter(|line| line.starts_with("| `")).map(cells);
    rows.map(|cells| Row {
        file: cells[0].clone(),
        line: cells[1].parse().expect("a line number"),
        text: cells[2].trim_end_matches('…').to_owned(),
        rule: cells[3].clone(),
        subject: cells[4].clone(),
    })
    .collect()
}

#[test]
fn every_seeded_fault_is_found_where_it_was_put() {
    let folder = "examples/heron-lane-broken";
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let table = std::fs::read_to_string(root.join("FAULTS.md")).expect("the table of faults");
    let checked = checked(folder);
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    let rows = rows(&table);
    assert!(rows.len() >= 40, "{} faults are seeded", rows.len());
    let mut missed = Vec::new();
    for row in &rows {
        let text = std::fs::read_to_string(root.join(&row.file)).expect("a file of the house");
        let line = text.lines().nth(row.line - 1).unwrap_or_default();
        assert!(line.contains(row.text.as_str()), "{}:{} is `{line}`, not `{}`", row.file, row.line, row.text);
        assert!(RULES.iter().any(|rule| rule.meta().catalogue == row.rule), "no rule has the number {}", row.rule);
        let found = checked.findings.iter().any(|settled| {
            let number = rule(settled.finding.rule).map(|rule| rule.meta().catalogue);
            settled.accepted.is_none()
                && settled.finding.missing.is_none()
                && number == Some(row.rule.as_str())
                && settled.finding.subject.starts_with(&row.subject)
        });
        if !found {
            missed.push(format!("{} {}:{} {} at {}", row.rule, row.file, row.line, row.text, row.subject));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn the_barrier_of_the_house_is_continuous_and_that_of_its_spoilt_copy_is_open_where_it_was_spoilt() {
    use wythe::continuity::{AirBarrier, Hold, Leakage, PRESSURE};
    let sound = checked("examples/heron-lane");
    let air = AirBarrier::find(&sound.model, &sound.plan);
    assert!(air.ends.is_empty() && air.undecided.is_empty(), "{:?} {:?}", air.ends, air.undecided);
    assert!(air.joints.len() > 100, "{} joints", air.joints.len());
    let fails = |hold: &Hold<'_>| !matches!(hold, Hold::Yes | Hold::CannotTell);
    let loose: Vec<_> = air.joints.iter().filter(|joint| fails(&joint.holds(&sound.model))).collect();
    assert!(loose.is_empty(), "{loose:?}");
    let whole = Leakage::estimate(&sound.model, &sound.plan, &air).expect("the limits of the library");
    let (low, high) = whole.per_area(PRESSURE);
    assert!(0.0 < low && low < high && high < 0.001, "{low} to {high} m3/(s m2)");

    let spoilt = checked("examples/heron-lane-broken");
    let open = AirBarrier::find(&spoilt.model, &spoilt.plan);
    let found = |first: &str, last: &str| {
        open.ends.iter().find(|end| {
            end.path.get(1).is_some_and(|step| step == first) && end.path.last().is_some_and(|step| step == last)
        })
    };
    // The base of the north wall is 7.2 m long, less the door that reaches no lower than 200 mm above it.
    assert_eq!(found("base of `north`", "nothing").and_then(|end| end.free).map(|free| free.as_m()), Some(7.2));
    // The dryer's duct is 100 mm wide: 0.4 m by twice the sum of its sides.
    assert_eq!(found("`dryer`", "cladding").and_then(|end| end.free).map(|free| free.as_m()), Some(0.4));
    // The frame of the kitchen window, 1500 by 1215 mm.
    assert_eq!(found("frame of `kitchen`", "trim").and_then(|end| end.free).map(|free| free.as_m()), Some(5.43));
    let worse = Leakage::estimate(&spoilt.model, &spoilt.plan, &open).expect("the limits of the library");
    assert!(worse.per_area(PRESSURE).0 > low && worse.per_area(PRESSURE).1 > high);
}
