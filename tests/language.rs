//! What the language means, and what it says of mistakes: the settled sample, and small texts with marks under their lines.
//!
//! A case is `tests/cases/{resolve,eval,model}/NAME.wythe`: a small project whose mistakes are marked where they are found,
//! one mark for each (`tests/common/marks.rs`). `tests/cases/kit.wythe` may be used by every case. `UPDATE=1` writes the
//! marks as they are found, for whoever reads them afterwards line by line; `CASE=eval/sums` runs one.
#![allow(missing_docs, clippy::unwrap_used)]

mod common;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use common::marks::{MAIN, Mark, differences, mark, sort, split, unmark, with_marks};
use wythe::diagnose::settle;
use wythe::emit::findings::{Paint, text::mistakes};
use wythe::model::{self, LayerKind, Model};
use wythe::session::{Checked, Settings, check};
use wythe::source::MapWorld;
use wythe::units::Length;
use wythe::{eval, resolve};

const STAGES: [&str; 3] = ["eval", "model", "resolve"];

fn cases() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases")
}

/// Project, values, wall, and all their problems in order.
struct Read {
    project: resolve::Project,
    problems: Vec<wythe::diagnose::Diagnostic>,
}

fn read(world: &MapWorld, roots: &[String]) -> Read {
    let project = resolve::load(world, roots);
    let evaluated = eval::evaluate(&project);
    let model = model::build(&project, &evaluated);
    let mut problems = project.problems.clone();
    problems.extend(evaluated.problems);
    problems.extend(model.problems);
    settle(&mut problems);
    Read { project, problems }
}

fn world(files: &[(String, String)]) -> MapWorld {
    let kit = fs::read_to_string(cases().join("kit.wythe")).unwrap();
    files.iter().fold(MapWorld::new().with("kit.wythe", &kit), |world, (path, text)| world.with(path, text))
}

/// The report of one case, or nothing if it is as marked.
fn run(path: &Path) -> Option<String> {
    let text = fs::read_to_string(path).unwrap();
    let files = split(&text);
    let read = read(&world(&files), &[MAIN.to_owned()]);
    let mut found: BTreeMap<String, Vec<Mark>> = BTreeMap::new();
    for problem in &read.problems {
        let span = problem.main.span;
        let mark = mark(&read.project.files, span, problem.code, &problem.title);
        found.entry(read.project.files.path(span.file).to_owned()).or_default().push(mark);
    }
    sort(&mut found);
    let (mut wrong, mut better) = (Vec::new(), String::new());
    for (path, text) in &files {
        let marks = found.remove(path).unwrap_or_default();
        let (plain, expected) = unmark(text);
        wrong.extend(differences(path, &expected, &marks));
        if path != MAIN {
            better.push_str(&format!("//- {path}\n"));
        }
        better.push_str(&with_marks(&plain, &marks));
    }
    let elsewhere = found.into_iter().flat_map(|(path, marks)| marks.into_iter().map(move |mark| (path.clone(), mark)));
    wrong.extend(elsewhere.map(|(path, mark)| format!("in {path}: {}: {}", mark.code, mark.words)));
    if wrong.is_empty() {
        return None;
    }
    if std::env::var_os("UPDATE").is_some() {
        fs::write(path, &better).unwrap();
    }
    Some(format!("===== {}\n{}\n--- as found:\n{better}", path.display(), wrong.join("\n")))
}

fn case_files() -> Vec<PathBuf> {
    let only = std::env::var("CASE").unwrap_or_default();
    let mut found: Vec<PathBuf> = STAGES
        .iter()
        .flat_map(|stage| fs::read_dir(cases().join(stage)).unwrap().flatten())
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end == "wythe") && path.to_string_lossy().contains(&only))
        .collect();
    found.sort();
    found
}

#[test]
fn every_mistake_is_told_once_at_its_place() {
    let files = case_files();
    assert!(files.len() >= 60 || std::env::var_os("CASE").is_some(), "{} cases", files.len());
    let failures: Vec<String> = files.iter().filter_map(|path| run(path)).collect();
    assert!(failures.is_empty(), "{} of {} cases:\n{}", failures.len(), files.len(), failures.join("\n"));
}

/// Words that builders do not use, and marks of a careless sentence.
#[test]
fn every_message_is_written_for_a_builder() {
    const JARGON: [&str; 12] = [
        "parse",
        "token",
        "identifier",
        "invalid",
        "syntax",
        "null",
        "enum",
        "EOF",
        "argument",
        "expression",
        "tuple",
        "scope",
    ];
    let mut wrong = Vec::new();
    for path in case_files() {
        let files = split(&fs::read_to_string(&path).unwrap());
        for problem in read(&world(&files), &[MAIN.to_owned()]).problems {
            let lines = std::iter::once(&problem.title).chain(&problem.help);
            for line in lines {
                let plain: String = line.split('`').step_by(2).collect::<Vec<_>>().join("`");
                let careless = plain.ends_with('.')
                    || plain.contains("  ")
                    || [" a a", " a e", " a i", " a o"].iter().any(|slip| plain.contains(slip))
                    || plain.starts_with(char::is_uppercase);
                if careless || JARGON.iter().any(|word| plain.split(' ').any(|own| own == *word)) {
                    wrong.push(format!("{}: {line}", path.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A dozen messages as a person sees them.
#[test]
fn messages_as_shown() {
    let chosen = [
        "eval/choice_misspelt",
        "eval/comma_forgotten",
        "eval/parameters",
        "eval/wrong_dimension",
        "eval/unknown_names",
        "eval/clause_twice",
        "model/outline_crossing",
        "model/opening_outside",
        "model/row_overlaps",
        "resolve/declares_imported",
        "resolve/use_missing_file",
        "resolve/use_cycle",
    ];
    for name in chosen {
        let files: Vec<(String, String)> = split(&fs::read_to_string(cases().join(format!("{name}.wythe"))).unwrap())
            .into_iter()
            .map(|(path, text)| (path, unmark(&text).0.into_iter().map(|(_, line)| format!("{line}\n")).collect()))
            .collect();
        let read = read(&world(&files), &[MAIN.to_owned()]);
        insta::assert_snapshot!(name.replace('/', "_"), mistakes(&read.project.files, &read.problems, Paint::Plain));
    }
}

fn sample() -> Checked {
    let folder = cases().join("language/sample");
    let names = ["heron_lane.wythe", "other_faces.wythe"];
    let world = names
        .iter()
        .fold(MapWorld::new(), |world, name| world.with(name, &fs::read_to_string(folder.join(name)).unwrap()));
    let today = Some(eval::Date { year: 2026, month: 11, day: 25 });
    check(&world, &names.map(str::to_owned), &Settings { today, ..Settings::default() })
}

#[test]
fn the_sample_has_no_mistake_and_its_check_runs() {
    let checked = sample();
    let shown = mistakes(&checked.project.files, &checked.problems, Paint::Plain);
    assert!(checked.problems.is_empty(), "{shown}");
    assert_eq!(checked.rules_run, wythe::checks::RULES.len());
    assert!(checked.model.faces.iter().all(|face| !face.broken && face.outline.is_some()));
    assert!(checked.model.assemblies.iter().all(|assembly| !assembly.broken));
    let accepted = checked.findings.iter().filter(|one| one.accepted.is_some()).count();
    assert!(accepted > 0, "the thin gap is accepted on the lower area");
}

fn names<'a>(things: impl Iterator<Item = &'a String>) -> Vec<&'a str> {
    things.map(String::as_str).collect()
}

#[test]
fn the_sample_means_the_house_it_describes() {
    let Checked { model, .. } = sample();
    assert_eq!(names(model.faces.iter().map(|face| &face.name)), ["east", "south", "west", "north"]);
    let east = &model.faces[0];
    assert_eq!((east.measured_to, east.looks.map(|looks| looks.round())), (Some("sheathing"), Some(100.0)));
    assert_eq!(names(east.edges.iter().map(|edge| &edge.name)), ["base", "right", "rake.1", "rake.2", "left"]);
    assert!(east.edges.iter().all(|edge| edge.details.len() == 1));
    assert_eq!(east.edges[0].keep, Some(Length::mm(200)));
    assert_eq!(east.edges[0].segment.to.y, Length::INCH * -18);
    assert_eq!(east.edges[2].segment.to.y, Length::FOOT * 17 + Length::INCH * 2);
    let meets: Vec<_> = east.edges.iter().filter_map(|edge| edge.meets.as_ref()).collect();
    assert_eq!(meets.iter().map(|corner| corner.face.as_str()).collect::<Vec<_>>(), ["south", "north"]);
    assert!(meets.iter().all(|corner| corner.id.is_some()));
    assert_eq!(names(east.areas.iter().map(|area| &area.name)), ["lower", "upper"]);
    assert_eq!(east.areas[0].below, Some(Length::FOOT * 9));
    assert_eq!(east.areas[1].above, Some(Length::FOOT * 9));
    assert_eq!(east.betweens[0].flush, Some("sheathing"));
    let ground = &east.ground[0];
    assert_eq!((ground.surface, ground.planned.len()), (Some("soil"), 1));
    let fall = ground.points[0].y - ground.points[1].y;
    assert!((fall.as_mm() - 28.0 * 304.8 * 0.05).abs() < 0.001, "5 % over 28 ft: {fall:?}");
    let window = &east.openings[0];
    assert_eq!(
        (window.name.as_str(), window.measure, window.head),
        ("kitchen", Some("frame"), Some("behind_membrane"))
    );
    assert_eq!((window.width, window.height), (Length::FOOT * 4, Length::FOOT * 5));
    assert_eq!(window.trims, Some((Length::mm(89), "furring")));
    assert_eq!(model.accepts.len(), 1);
    assert_eq!((model.accepts[0].place.as_str(), model.accepts[0].rule.as_str()), ("east.lower", "gap.shallow"));
    let house = &model.buildings[0];
    assert!(house.faces.len() == 4 && house.faces.iter().all(|(_, id, _)| id.is_some()));
    assert_eq!(house.exposure, Some((Length::mm(130), Length::mm(140))));
    assert_eq!(model.site.as_ref().and_then(|site| site.wind), Some(480.0));
    assert_eq!(
        model.rule_sets.iter().map(|set| set.name.as_str()).collect::<Vec<_>>(),
        ["canada_part9_2020", "common_practice"]
    );
}

fn gap_depth(model: &Model, area: usize) -> Length {
    let assembly = model.assembly(model.faces[0].areas[area].assembly).unwrap();
    assembly.gap().unwrap().1.depth.0
}

#[test]
fn the_sample_has_two_depths_of_gap_and_all_its_layers() {
    let Checked { model, .. } = sample();
    assert_eq!((gap_depth(&model, 0), gap_depth(&model, 1)), (Length::mm(10), Length::mm(19)));
    let wall = model.assembly(model.faces[0].areas[1].assembly).unwrap();
    let layers = names(wall.layers.iter().map(|layer| &layer.name));
    let wanted = ["boards", "cavity", "insulation", "membrane", "sheathing", "studs", "retarder", "board"];
    assert_eq!(layers, wanted, "outside to inside");
    let (_, gap) = wall.gap().unwrap();
    let furring = &gap.furring[0];
    assert_eq!(gap.openness, Some(model::Openness::Ventilated));
    assert_eq!((furring.spacing, furring.first), (Some(Length::INCH * 16), Some(Length(15_250_000 * 254 / 10))));
    assert!(furring.at_corners && furring.at_jambs && !furring.at_blocks);
    assert_eq!(furring.fasten.as_ref().and_then(|fasten| fasten.into), Some("studs"));
    let membrane = &wall.layers[3];
    assert!(membrane.controls.water && membrane.controls.air && !membrane.controls.rain);
    assert_eq!((membrane.lap, membrane.end_lap), (Some(Length::mm(100)), Some(Length::mm(150))));
    assert!(
        matches!(&wall.layers[5].kind, LayerKind::Frame(frame) if frame.depth == Length::mm(140) && frame.fill.is_some())
    );
}

#[test]
fn the_sample_has_its_services_and_its_trim() {
    let Checked { model, .. } = sample();
    let east = &model.faces[0];
    let block = &east.blocks[0];
    assert_eq!((block.courses, block.removable, block.on), (Some(3), true, Some("furring")));
    assert_eq!(block.flashing.as_ref().and_then(|cap| cap.end_dams), Some(Length::mm(25)));
    let services = names(east.services.iter().map(|service| &service.name));
    assert_eq!(services, ["garden", "low_voltage", "spare_3"]);
    assert!(east.services.iter().all(|service| service.block == Some(0)));
    let tap = &east.services[0];
    assert_eq!(tap.at.x, Length::FOOT * 14 + Length::INCH * 4, "measured from the block");
    assert_eq!((tap.owner, tap.stem, tap.sleeve), (Some("plumber"), Some(Length::mm(300)), Some(Length::mm(32))));
    assert!(east.services[2].capped);
    let trim = &east.trims[0];
    assert_eq!((trim.along.as_str(), trim.holes.len(), trim.fixed.len()), ("base", 2, 1));
    assert_eq!((trim.holes[0].on, trim.holes[0].end_distance), (Some("furring"), Some(Length::mm(50))));
    assert_eq!(
        (trim.holes[1].purpose, trim.holes[1].between, trim.holes[1].height),
        ("weep", Some("furring"), Length::mm(8))
    );
    let base =
        model.details.iter().find(|detail| detail.name == "screened_base" && !detail.label.contains('(')).unwrap();
    assert_eq!((base.edge.gives.len(), base.edge.needs.len(), base.edge.parts.len()), (2, 2, 1));
    assert_eq!(base.edge.parts[0].laps[0].by, Some(Length::mm(100)), "the parameter's default");
    assert!(base.edge.gap_ends[0].screen.is_some());
}

fn built(text: &str) -> Model {
    let files = [(MAIN.to_owned(), text.to_owned())];
    let project = resolve::load(&world(&files), &[MAIN.to_owned()]);
    let evaluated = eval::evaluate(&project);
    let model = model::build(&project, &evaluated);
    let all: Vec<_> = project.problems.iter().chain(&evaluated.problems).chain(&model.problems).collect();
    assert!(all.is_empty(), "{all:?}");
    model
}

#[test]
fn a_row_names_and_places_its_pieces() {
    let model = built(
        "wythe 1\nface north {\n    base 0 from 0 to 8m\n    top  2.4m\n    repeat 5 every 1200mm {\n        \
         window kitchen 600mm x 600mm at (300mm, 1m)\n        pipe drain 40mm at (100mm, 500mm)\n    }\n}\n",
    );
    let face = &model.faces[0];
    let names: Vec<_> = face.openings.iter().map(|opening| opening.name.as_str()).collect();
    assert_eq!(names, ["kitchen.1", "kitchen.2", "kitchen.3", "kitchen.4", "kitchen.5"]);
    let places: Vec<_> = face.openings.iter().map(|opening| opening.at.x).collect();
    assert_eq!(places, [300, 1500, 2700, 3900, 5100].map(Length::mm));
    assert_eq!(face.services[4].at.x, Length::mm(4900));
}

#[test]
fn a_head_is_the_upper_left() {
    let model = built(
        "wythe 1\nface north {\n    base 0 from 0 to 8m\n    top  2.4m\n    window a 1m x 600mm head_at (1m, 2m)\n}\n",
    );
    let opening = &model.faces[0].openings[0];
    assert_eq!((opening.at.x, opening.at.y), (Length::mm(1000), Length::mm(1400)));
}

#[test]
fn like_changes_one_line_and_keeps_the_rest() {
    let model = built(
        "wythe 1\nuse kit (wall)\nuse std.furring\nassembly other {\n    like    wall\n    without insulation\n    \
         after   sheathing {\n        layer extra plywood 9mm\n    }\n    gap cavity {\n        \
         strapping furring.spruce 22mm x 89mm\n    }\n    layer boards {\n        exposure 120mm\n    }\n}\n",
    );
    let other = model.assemblies.iter().find(|assembly| assembly.name == "other").unwrap();
    let layers: Vec<_> = other.layers.iter().map(|layer| layer.name.as_str()).collect();
    assert_eq!(layers, ["boards", "cavity", "membrane", "sheathing", "extra", "studs", "retarder", "board"]);
    let (_, gap) = other.gap().unwrap();
    assert_eq!(gap.furring.len(), 1, "a synonym replaces");
    let strip = &gap.furring[0];
    assert_eq!((strip.thickness, strip.width), (Length::mm(22), Some(Length::mm(89))));
    assert_eq!((strip.spacing, strip.stops), (Some(Length::INCH * 16), Some(Length::mm(25))), "clauses are kept");
    assert_eq!(gap.depth.0, Length::mm(19));
    assert_eq!(other.layers[0].exposure, Some((Length::mm(120), Length::mm(120))));
    assert_eq!(other.layers[0].thickness, Some(Length::mm(20)));
}

#[test]
fn lengths_are_exact_in_every_form() {
    let model = built(
        "wythe 1\nface north {\n    base 0 from 0 to 8ft 6-1/2in\n    top  (2 * 4ft - 1/2in)\n    \
         window a 3 ft x 1/64in at (1 m, 0.5m)\n}\n",
    );
    let face = &model.faces[0];
    assert_eq!(face.edges[0].segment.to.x, Length::FOOT * 8 + Length(25_400_000 * 13 / 2));
    assert_eq!(face.edges[1].segment.to.y, Length::FOOT * 8 - Length(12_700_000));
    assert_eq!((face.openings[0].width, face.openings[0].height), (Length::FOOT * 3, Length(396_875)));
}
