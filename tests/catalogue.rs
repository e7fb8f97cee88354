//! Holds the table of failures to the list of the trade reference and to the rules that exist.
#![allow(missing_docs, clippy::unwrap_used)]

use std::collections::BTreeSet;

use wythe::checks::catalogue::{FAMILIES, How, Piece, failures, pieces};
use wythe::checks::{RULES, rule};
use wythe::session::{Settings, check};
use wythe::source::MapWorld;

/// Families of the trade reference and how many failures each has: 157.
const LIST: [(&str, usize); 14] = [
    ("DR", 18),
    ("VE", 12),
    ("AI", 14),
    ("LA", 18),
    ("VA", 7),
    ("TH", 6),
    ("CO", 11),
    ("MO", 10),
    ("FA", 14),
    ("F", 7),
    ("PE", 6),
    ("FR", 9),
    ("BL", 14),
    ("SV", 11),
];

#[test]
fn every_failure_of_the_list_stands_once_and_in_order() {
    let wanted: Vec<String> =
        LIST.iter().flat_map(|(family, count)| (1..=*count).map(move |at| format!("{family}-{at:02}"))).collect();
    let found: Vec<&str> = failures().map(|row| row.id).collect();
    assert_eq!(wanted.len(), 157);
    assert_eq!(found, wanted);
    assert_eq!(FAMILIES.len(), LIST.len());
}

#[test]
fn every_rule_named_exists_and_is_named_once_in_a_row() {
    for row in failures() {
        let names: BTreeSet<&str> = row.rules().iter().copied().collect();
        assert_eq!(names.len(), row.rules().len(), "{} names a rule twice", row.id);
        for name in names {
            assert!(RULES.iter().any(|rule| rule.meta().id == name), "{}: there is no rule `{name}`", row.id);
        }
        assert!(!matches!(row.how, How::Checked([])), "{} is checked by nothing", row.id);
    }
}

#[test]
fn every_rule_stands_in_the_row_it_names() {
    for meta in RULES.iter().map(|rule| rule.meta()).filter(|meta| !meta.catalogue.is_empty()) {
        let row = failures().find(|row| row.id == meta.catalogue);
        let row = row.unwrap_or_else(|| panic!("`{}` names `{}`, which is not in the list", meta.id, meta.catalogue));
        assert!(
            row.rules().contains(&meta.id),
            "the row {} in src/checks/catalogue is to become checked(\"{0}\", …, &[.., \"{}\"])",
            row.id,
            meta.id
        );
    }
}

#[test]
fn what_is_not_checked_says_what_to_look_for_or_why_not() {
    for row in failures() {
        match row.how {
            How::HoldPoint => assert!(row.look.is_some(), "{} has no line", row.id),
            How::NotClaimed { why, .. } => assert!(!why.is_empty(), "{} does not say why", row.id),
            How::Checked(_) => {}
        }
        let texts = [Some(row.title), row.look.map(|look| look.text)];
        for text in texts.into_iter().flatten() {
            assert!(!text.is_empty() && !text.ends_with('.'), "{}: {text}", row.id);
        }
        if let Some(look) = row.look {
            let points = ["H0", "H1", "H2", "H3", "H4", "H5", "H6", "H7"];
            assert!(points.contains(&look.before), "{}: {}", row.id, look.before);
        }
    }
}

#[test]
fn every_number_in_a_line_is_a_limit_that_common_practice_holds() {
    let checked =
        check(&MapWorld::new().with("wall.wythe", "wythe 1\n"), &["wall.wythe".to_owned()], &Settings::default());
    let lines = failures().filter_map(|row| Some((row.id, row.look?.text)));
    for (id, text) in lines {
        for piece in pieces(text) {
            if let Piece::Limit(name) = piece {
                let given = checked.model.limit(name).and_then(|limit| limit.given());
                assert!(given.is_some(), "{id}: no limit `{name}` in common practice");
            }
        }
    }
}

#[test]
fn a_rule_is_found_by_its_number_and_its_name() {
    assert_eq!(rule("dr-05").unwrap().meta().id, "weep.on_furring");
    assert_eq!(rule("weep.on_furring").unwrap().meta().catalogue, "DR-05");
}
