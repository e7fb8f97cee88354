//! Sums of the block `code`: limits of the rule sets of the library, and what the rules make of the ratio table.

use wythe::model::{Limit, Model};
use wythe::session::{Settings, check};
use wythe::source::MapWorld;

use super::super::sums::{Answer, Inputs, numbers, word};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    Some(match sum {
        "limits" => {
            let model = rule_set(given.text("set"));
            let scale = scale(given.text("in"));
            let names = given.list("names").iter().map(|name| name.as_str().unwrap());
            numbers(names.map(|name| value(&model, name) / scale))
        }
        "ratio_table" => word(if is_too_cold(given) { "too cold" } else { "passes" }),
        "tight_layer" => word(if is_refused(given) { "too cold" } else { "passes" }),
        _ => return None,
    })
}

fn rule_set(name: &str) -> Model {
    let world =
        MapWorld::new().with("house.wythe", &format!("wythe 1\n\nsite s {{\n    limits std.limits.{name}\n}}\n"));
    check(&world, &["house.wythe".to_owned()], &Settings::default()).model
}

fn limit<'m>(model: &'m Model, name: &str) -> &'m Limit {
    model.rule_sets.first().and_then(|set| set.limits.get(name)).unwrap_or_else(|| panic!("no limit `{name}`"))
}

fn value(model: &Model, name: &str) -> f64 {
    let limit = limit(model, name);
    limit.slope().or(limit.number()).unwrap_or_else(|| panic!("`{name}` is no number"))
}

/// One of the unit of a row in SI units.
fn scale(unit: &str) -> f64 {
    match unit {
        "mm" | "mm/Pa" => 1e-3,
        "%" => 1e-2,
        "L/(s·m²)" => 1e-3,
        "mm²/m" => 1e-6,
        "ng/(Pa·s·m²)" => 1e-12,
        _ => 1.0,
    }
}

/// A sheet of the given permeance in ng/(Pa·s·m²) and air leakage in L/(s·m²) at a place in a wall of filled studs.
fn is_refused(given: Inputs<'_>) -> bool {
    let sheet = "    layer sheet tight\n";
    let [before, behind, inside] = match given.text("place") {
        "outboard of the gap" => [sheet, "", ""],
        "behind the gap" => ["", sheet, ""],
        "warm side" => ["", "", sheet],
        place => panic!("no place `{place}`"),
    };
    let text = format!(
        "wythe 1\n
use std.materials\n
product tight membrane {{\n    permeance {}ng/(Pa.s.m2)\n    air_leakage {}L/(s.m2)\n}}\n
material open {{\n    kind fibre\n    conductivity 0.05W/(m.K)\n    vapour_factor 1 to 1\n}}\n
climate cold {{\n    degree_days 4325, source \"made up\"\n}}\n
site s {{\n    climate cold\n    interior normal\n    limits std.limits.canada_part9_2020\n}}\n
assembly wall {{\n    layer boards spruce 20mm, controls rain\n{before}    gap cavity 19mm ventilated\n{behind}    frame studs spruce 38mm x 140mm, every 16in on centre, fill open\n{inside}}}\n
face north {{\n    measured to cladding\n    base 0 from 0 to 3000mm\n    top 2400mm\n    left\n    right\n    area all wall\n}}\n",
        given.number("permeance"),
        given.number("leakage"),
    );
    judged(&text)
}

/// A tight board of the given resistance outboard of filled studs, at so many degree-days.
fn is_too_cold(given: Inputs<'_>) -> bool {
    // Conductivities that make round thicknesses of the resistances.
    let thick = |resistance: f64, conductivity: f64| (resistance * conductivity * 1e6).round() / 1e3;
    let text = format!(
        "wythe 1\n
use std.materials\n
material tight {{\n    kind foam\n    conductivity 0.025W/(m.K)\n    vapour_factor 1000 to 1000\n}}\n
material open {{\n    kind fibre\n    conductivity 0.05W/(m.K)\n    vapour_factor 1 to 1\n}}\n
climate cold {{\n    degree_days {}, source \"made up\"\n}}\n
site s {{\n    climate cold\n    interior normal\n    limits std.limits.canada_part9_2020\n}}\n
assembly wall {{\n    layer boards spruce 20mm, controls rain\n    gap cavity 19mm ventilated\n    layer foam tight {}mm, controls heat
    frame studs spruce 38mm x {}mm, every 16in on centre, fill open\n}}\n
face north {{\n    measured to cladding\n    base 0 from 0 to 3000mm\n    top 2400mm\n    left\n    right\n    area all wall\n}}\n",
        given.number("degree_days"),
        thick(given.number("outboard"), 0.025),
        thick(given.number("inboard"), 0.05),
    );
    judged(&text)
}

/// Whether the rule of cold tight layers refuses the wall of a text.
fn judged(text: &str) -> bool {
    let checked = check(&MapWorld::new().with("house.wythe", text), &["house.wythe".to_owned()], &Settings::default());
    let problems: Vec<&str> = checked.problems.iter().map(|problem| problem.title.as_str()).collect();
    assert!(problems.is_empty(), "{problems:?}\n{text}");
    let findings = checked.findings.iter().map(|one| &one.finding);
    let mut told = findings.filter(|finding| finding.rule == "vapour.cold_tight_layer");
    told.next().is_some_and(|finding| {
        assert!(finding.message.contains("too cold"), "{}", finding.message);
        true
    })
}

/// A number from memory never makes a violation, so it must not be called firm in the library.
#[test]
fn what_is_from_memory_here_is_not_firm_in_the_library() {
    let data = super::read("code");
    for case in data["case"].as_array().unwrap().iter().filter(|case| case["sum"] == "limits") {
        let model = rule_set(case["inputs"]["set"].as_str().unwrap());
        for name in case["inputs"]["names"].as_array().unwrap() {
            let limit = limit(&model, name.as_str().unwrap());
            assert!(case["tag"] != "M" || !limit.sure.is_firm(), "{name} is from memory and called {:?}", limit.sure);
        }
    }
}
