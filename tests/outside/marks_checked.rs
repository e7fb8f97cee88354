//! Random marks, slots and courses against those that `layout_marks.py` works out with exact fractions.

use std::collections::BTreeMap;

use serde_json::Value;
use wythe::layout::coursing::{CutLine, choose};
use wythe::layout::holes::{Support, between_supports, both_ends, from_first, on_supports, studs};
use wythe::model::Frame;
use wythe::physics::openings::slot_per_metre;
use wythe::units::Length;

fn length(case: &Value, key: &str) -> Length {
    Length(case[key].as_i64().unwrap_or_else(|| panic!("no `{key}` in {case}")))
}

fn supports(case: &Value) -> Vec<Support> {
    let half = length(case, "width") / 2;
    let centres = case["centres"].as_array().unwrap();
    centres.iter().map(|centre| Support { centre: Length(centre.as_i64().unwrap()), half }).collect()
}

fn lines(case: &Value) -> Vec<CutLine> {
    let line = |line: &Value| super::sums::cut_line(line[0].as_str().unwrap(), Length(line[1].as_i64().unwrap()));
    case["lines"].as_array().unwrap().iter().map(line).collect()
}

/// Our answer in whole nanometres.
fn ours(case: &Value) -> Vec<i64> {
    let of = |key: &str| length(case, key);
    let lengths = match case["kind"].as_str().unwrap() {
        "both_ends" => both_ends(of("piece"), of("end"), of("most")),
        "from_first" => from_first(of("piece"), of("first"), of("spacing"), of("end")),
        "on_supports" => on_supports(of("start"), of("piece"), &supports(case), of("end")),
        "between_supports" => between_supports(of("start"), of("piece"), &supports(case), of("hole"), Length::ZERO),
        "studs" => {
            let frame = Frame {
                depth: Length::mm(140),
                width: of("width"),
                spacing: Some(of("spacing")),
                first: Some(of("first")),
                marks: Vec::new(),
                fill: None,
                wood_share: None,
                kind: None,
            };
            studs(&frame, Length::ZERO, of("wall")).into_iter().map(|stud| stud.centre).collect()
        }
        "coursing_from_base" => {
            let found = choose(&lines(case), of("low"), of("high"), Some(Length::ZERO)).unwrap();
            vec![found.exposure, found.smallest(), Length(i64::from(found.solves()))]
        }
        "coursing_free" => {
            let found = choose(&lines(case), of("exposure"), of("exposure"), None).unwrap();
            vec![found.smallest()]
        }
        kind => panic!("no kind {kind}"),
    };
    lengths.into_iter().map(|length| length.0).collect()
}

/// Whether our answer is the same: to the nanometre, slots to the last bits of a float.
fn agrees(case: &Value) -> bool {
    if case["kind"] == "slot_area" {
        let of = |key: &str| case[key].as_f64().unwrap();
        let ours =
            slot_per_metre(of("height") / 1e3, of("strip") / 1e3, of("spacing") / 1e3, of("mesh")).unwrap() * 1e6;
        let wanted = case["expected"][0].as_f64().unwrap();
        return (ours - wanted).abs() <= 1e-12 * wanted;
    }
    let wanted: Vec<i64> = case["expected"].as_array().unwrap().iter().map(|mark| mark.as_i64().unwrap()).collect();
    ours(case) == wanted
}

/// Kind, cases, those that agree, numbers compared.
pub fn summary(data: &Value) -> Vec<(String, usize, usize, usize)> {
    let mut kinds: BTreeMap<&str, (usize, usize, usize)> = BTreeMap::new();
    for case in data["cases"].as_array().unwrap() {
        let kind = kinds.entry(case["kind"].as_str().unwrap()).or_default();
        kind.0 += 1;
        kind.1 += usize::from(agrees(case));
        kind.2 += case["expected"].as_array().unwrap().len();
    }
    kinds.into_iter().map(|(kind, (cases, agree, numbers))| (kind.to_owned(), cases, agree, numbers)).collect()
}

#[test]
fn random_layouts_are_those_of_exact_fractions() {
    let data = super::read("layout_marks.json");
    let cases = data["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 50);
    let wrong: Vec<String> = cases
        .iter()
        .filter(|case| !agrees(case))
        .map(|case| format!("{case}\nours {:?}", if case["kind"] == "slot_area" { Vec::new() } else { ours(case) }))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
