//! The library and the examples are read whole, and nothing in them is misunderstood.
#![allow(missing_docs, clippy::unwrap_used)]

#[path = "common/folder.rs"]
mod folder;

use folder::folder;
use wythe::diagnose::{Diagnostic, Severity};
use wythe::session::{Settings, check};
use wythe::source::{Files, MapWorld, World};
use wythe::{eval, resolve};

/// Folders of the library; a folder in it is one module in several files.
const LIBRARY: &[&str] = &["stdlib", "stdlib/details", "stdlib/limits"];

fn words(files: &Files, problem: &Diagnostic) -> String {
    let span = problem.main.span;
    let position = files.position(span.file, span.start);
    format!("{}:{}: {} {}", files.path(span.file), position.line, problem.title, problem.help.join("; "))
}

/// Every problem of one root file, in words.
fn problems(world: &dyn World, root: &str) -> Vec<String> {
    let project = resolve::load(world, &[root.to_owned()]);
    let evaluated = eval::evaluate(&project);
    project.problems.iter().chain(&evaluated.problems).map(|problem| words(&project.files, problem)).collect()
}

#[test]
fn every_module_of_the_library_is_understood() {
    let mut read = 0;
    let mut found = Vec::new();
    for place in LIBRARY {
        let library = folder(place);
        let modules = library.list();
        read += modules.len();
        found.extend(modules.iter().flat_map(|module| problems(&library, module)));
    }
    assert!(read >= 20, "{read} modules");
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn the_examples_are_understood() {
    for example in ["examples/heron-lane", "examples/heron-lane-broken"] {
        let found = problems(&folder(example), "building.wythe");
        assert!(found.is_empty(), "{example}\n{}", found.join("\n"));
    }
}

#[test]
fn under_like_a_strip_with_a_dotted_name_replaces_the_one_it_changes() {
    let project = resolve::load(&folder("examples/heron-lane"), &["building.wythe".to_owned()]);
    let evaluated = eval::evaluate(&project);
    let walls: Vec<_> = evaluated.instances.iter().filter(|instance| &*instance.name == "panel_wall").collect();
    assert!(walls.len() >= 2, "one with its default and one with a thin gap");
    for wall in walls {
        let gap = wall.bound.clauses.iter().find(|clause| clause.row.word == "gap").map(|gap| {
            gap.clauses
                .iter()
                .filter(|clause| clause.row.word == "furring")
                .map(|furring| furring.clauses.len())
                .collect()
        });
        let strips: Vec<usize> = gap.unwrap_or_default();
        assert_eq!(strips.len(), 1, "{}", wall.label);
        assert!(strips.iter().all(|&clauses| clauses >= 8), "spacing, direction and the rest are kept: {strips:?}");
    }
}

#[test]
fn every_text_is_written_in_the_one_way() {
    for place in LIBRARY.iter().chain(&["examples/heron-lane", "examples/heron-lane-broken"]) {
        let folder = folder(place);
        for name in folder.list() {
            let text = folder.read(&name).expect("a listed file");
            let formatted = wythe::syntax::format(&text);
            assert_eq!(formatted.as_deref(), Some(&*text), "{place}/{name}: run `wythe format {place}`");
        }
    }
}

/// The junctions C01 to C24 of the trade, with the details of the library that build them.
const JUNCTIONS: [(&str, &[&str]); 24] = [
    ("c01", &["screened_base"]),
    ("c02", &["raked_base", "stepped_base", "step_end"]),
    ("c03", &["roof_abutment", "kick_out_point", "three_plane_corner", "deck_over_roof"]),
    ("c04", &["corner_boards", "corner_cap"]),
    ("c05", &["inside_corner"]),
    ("c06", &["flashed_window", "flashed_window_on_furring", "flashed_window_on_cladding"]),
    ("c07", &["flashed_window_on_furring"]),
    ("c08", &["window_with_sub_sill"]),
    ("c09", &["stepped_down_door", "level_access_door"]),
    ("c10", &["eave"]),
    ("c11", &["rake_outlet"]),
    ("c12", &["parapet_coping", "saddle_point"]),
    ("c13", &["shelf_flashing"]),
    ("c14", &["vertical_joint", "old_to_new"]),
    ("c15", &["floor_break", "floor_break_with_stop"]),
    ("c16", &["sealed_pipe"]),
    ("c17", &["sealed_box"]),
    ("c18", &["sealed_duct"]),
    ("c19", &["service_block"]),
    ("c20", &["bolted_ledger"]),
    ("c21", &["thermal_clip"]),
    ("c22", &["frost_proof_tap"]),
    ("c23", &["meter_backer"]),
    ("c24", &["bay_underside"]),
];

/// The walls of `tests/cases/details`, by file name.
fn walls() -> Vec<(String, String)> {
    let folder = folder("tests/cases/details");
    folder.list().into_iter().map(|name| (name.clone(), folder.read(&name).unwrap().to_string())).collect()
}

#[test]
fn every_junction_has_its_details_and_a_wall_that_uses_them() {
    let walls = walls();
    let mut wrong = Vec::new();
    for (junction, details) in JUNCTIONS {
        let own: Vec<_> = walls.iter().filter(|(name, _)| name.starts_with(junction)).collect();
        let kinds = [".clear.wythe", ".fault.wythe"];
        if !kinds.iter().all(|kind| own.iter().any(|(name, _)| name.ends_with(kind))) {
            wrong.push(format!("{junction} lacks a clean wall or a broken one"));
        }
        for detail in details {
            let used =
                |text: &str| text.split(|one: char| !one.is_alphanumeric() && one != '_').any(|word| word == *detail);
            if !own.iter().any(|(name, text)| name.ends_with(".clear.wythe") && used(text)) {
                wrong.push(format!("no clean wall of {junction} uses `{detail}`"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_junction_built_as_the_library_says_has_no_fault_and_a_broken_one_is_found() {
    let kit = folder("tests/cases").read("kit.wythe").unwrap();
    let mut wrong = Vec::new();
    for (name, text) in walls() {
        let world = MapWorld::new().with("kit.wythe", &kit).with("wall.wythe", &text);
        let checked = check(&world, &["wall.wythe".to_owned()], &Settings::default());
        wrong.extend(checked.problems.iter().map(|problem| format!("{name}: {}", problem.title)));
        let found = checked.findings.iter().map(|one| &one.finding);
        match text.lines().find_map(|line| line.strip_prefix("// finds: ")) {
            None => wrong.extend(found.map(|one| format!("{name}: {}: {}", one.rule, one.message))),
            Some(rule) => {
                let faults = found.filter(|one| one.severity != Severity::Unknown);
                if !faults.into_iter().any(|one| one.rule == rule) {
                    wrong.push(format!("{name}: `{rule}` finds no fault"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_detail_says_how_it_is_built_and_why() {
    let text = folder("stdlib/details");
    let all: Vec<String> = text.list().iter().map(|name| text.read(name).unwrap().to_string()).collect();
    let all = all.join("\n");
    let mut wrong = Vec::new();
    for body in all.split("\ndetail ").skip(1) {
        let body = body.split("\n}\n").next().unwrap_or_default();
        let name = body.split([' ', '(']).next().unwrap_or_default();
        let says = |word: &str| body.lines().any(|line| line.trim_start().starts_with(word));
        wrong.extend(
            ["at ", "edition ", "part ", "order ", "why "]
                .iter()
                .filter(|word| !says(word))
                .map(|word| format!("`{name}` says no `{}`", word.trim())),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
