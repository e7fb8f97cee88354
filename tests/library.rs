//! The library and the examples are read whole, and nothing in them is misunderstood.
#![allow(missing_docs, clippy::unwrap_used)]

#[path = "common/folder.rs"]
mod folder;

use folder::folder;
use wythe::diagnose::Diagnostic;
use wythe::source::{Files, World};
use wythe::{eval, resolve};

/// Folders of the library; a folder in it is one module in several files.
const LIBRARY: &[&str] = &["stdlib", "stdlib/limits"];

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
