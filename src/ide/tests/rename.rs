//! Rename: by resolution, there and back, with the same findings; refusals with reasons.

use std::collections::BTreeMap;

use super::{checked, edited, world};
use crate::ide::testing::{Desk, desk, heron_lane};
use crate::ide::{prepare_rename, rename};
use crate::session::{Glance, heron_lane_world};
use crate::source::World;

/// Findings without the words that name things.
fn findings(glance: &Glance) -> BTreeMap<(&'static str, &'static str), usize> {
    let mut counts = BTreeMap::new();
    for one in &glance.findings {
        *counts.entry((one.finding.rule, one.finding.grade.word())).or_default() += 1;
    }
    for one in &glance.problems {
        *counts.entry((one.code, "text")).or_default() += 1;
    }
    counts
}

fn renamed(desk: &Desk, new: &str) -> String {
    let edits = rename(&desk.glance, desk.file, desk.offset, new).unwrap();
    edited(&desk.glance, &edits).into_values().collect::<Vec<_>>().join("---\n")
}

fn refused(desk: &Desk, new: &str) -> String {
    rename(&desk.glance, desk.file, desk.offset, new).unwrap_err()
}

/// Every fourth name that Heron Lane gives is changed and changed back: the same findings between, the same bytes after.
#[test]
fn there_and_back_gives_the_same_bytes_and_the_same_findings() {
    let texts = heron_lane_world();
    let before = checked(&texts);
    let counts = findings(&before);
    let names = crate::ide::names::Names::of(&before);
    let given: Vec<_> = names.everywhere().into_iter().filter(|one| one.declares).collect();
    let mut done = 0;
    for (at, one) in given.iter().enumerate().step_by(4) {
        if prepare_rename(&before, one.span.file, one.span.start).is_err() {
            continue;
        }
        let old = before.project.files.slice(one.span);
        let edits = rename(&before, one.span.file, one.span.start, "brand_new").unwrap();
        assert!(edits.iter().all(|(span, _)| before.project.files.slice(*span) == old), "{old}");
        let there = world(&edited(&before, &edits));
        // A whole check is dear: some names have one, all others their names read again.
        let after = if at % 100 == 0 {
            let after = checked(&there);
            assert_eq!(findings(&after), counts, "{old}");
            after.project
        } else {
            crate::resolve::load(&there, &there.list())
        };
        let path = before.project.files.path(one.span.file);
        let file = after.files.find(path).unwrap();
        let shift = edits.iter().filter(|(span, _)| span.file == one.span.file && span.start < one.span.start).count();
        let offset = (one.span.start as usize + shift * "brand_new".len() - shift * old.len()) as u32;
        let names = crate::ide::names::Names::in_project(&after);
        let symbol = names.at(file, offset).unwrap().symbol;
        let mut back: Vec<_> = names.places_of(&symbol).into_iter().map(|one| one.span).collect();
        back.sort();
        let mut old_texts: BTreeMap<&str, String> = BTreeMap::new();
        for span in back.iter().rev() {
            let text = old_texts.entry(after.files.path(span.file)).or_insert(after.files.text(span.file).to_owned());
            text.replace_range(span.range(), old);
        }
        assert!(!old_texts.is_empty());
        for (path, text) in old_texts {
            assert_eq!(&*texts.read(path).unwrap(), text, "{old} in {path}");
        }
        done += 1;
    }
    assert!(done > 25, "{done} names were changed");
}

#[test]
fn a_detail_is_renamed_in_use_lists_and_on_faces() {
    let text = renamed(
        &desk(&[
            ("details.wythe", "wythe 1\n\ndetail cor$0ner {\n    at corner\n}\n\ndetail nook {\n    like corner\n}\n"),
            (
                "north.wythe",
                "wythe 1\n\nuse details (corner)\n\nface north {\n    base 0 from 0 to 4m\n    top 3m\n    left, detail corner\n}\n",
            ),
            (
                "south.wythe",
                "wythe 1\n\nuse details\n\n// corner stays\nface south {\n    base 0 from 0 to 4m\n    top 3m\n    right, detail details.corner\n}\n",
            ),
        ]),
        "arris",
    );
    assert_eq!(text.matches("arris").count(), 5, "{text}");
    assert!(text.contains("like arris") && text.contains("use details (arris)") && text.contains("details.arris"));
    assert!(text.contains("at corner") && text.contains("// corner stays"), "{text}");
}

#[test]
fn a_face_is_renamed_where_the_whole_project_names_it() {
    let desk = heron_lane("north.wythe", "face", "north {");
    let text = renamed(&desk, "street");
    for wanted in ["meets street", "faces street and", "on street from", "use north (street)", "face street {"] {
        assert!(text.contains(wanted), "{wanted}");
    }
}

#[test]
fn a_parameter_is_renamed_in_its_declaration_and_in_every_call() {
    let desk = heron_lane("assemblies.wythe", "panel_wall(", "depth");
    let text = renamed(&desk, "air");
    assert!(text.contains("panel_wall(air = 19mm)") && text.contains("gap cavity air ventilated"), "{text}");
    assert!(!text.contains("panel_wall(depth"));
    assert!(text.contains("corner_boards(depth = 95mm)"));
}

#[test]
fn a_layer_is_renamed_in_all_that_are_like_its_assembly() {
    let desk = heron_lane("assemblies.wythe", "layer", "boards boards.larch");
    let text = renamed(&desk, "siding");
    assert!(text.contains("layer siding boards.larch") && text.contains("layer siding boards.fibre_cement"));
    assert!(text.contains("use std.boards"));
}

#[test]
fn what_cannot_be_renamed_says_why() {
    let here = |path: &str, before: &str, after: &str| heron_lane(path, before, after);
    let why = |desk: &Desk| prepare_rename(&desk.glance, desk.file, desk.offset).unwrap_err();
    assert!(why(&here("assemblies.wythe", "layer boards boards.", "larch")).contains("belongs to the library"));
    assert!(why(&here("details.wythe", "screened_base(", "upstand")).contains("belongs to the library"));
    assert!(why(&here("assemblies.wythe", "use std.", "tapes")).contains("library"));
    assert!(why(&here("north.wythe", "use ", "assemblies")).contains("rename the file"));
    assert!(why(&here("north.wythe", "", "face north")).contains("a word of the language"));
    assert!(why(&here("north.wythe", "measured to", "sheathing")).contains("a word of the language"));
    assert!(why(&here("north.wythe", "accept", "service.crowded")).contains("built-in rule"));
    assert!(why(&here("north.wythe", "outline", "base to")).contains("a word of the language"));
}

#[test]
fn a_bad_name_or_a_clash_is_refused_with_its_reason() {
    let detail = heron_lane("details.wythe", "detail", "house_base");
    assert!(refused(&detail, "2nd").contains("is no name"));
    assert!(refused(&detail, "two words").contains("is no name"));
    assert!(refused(&detail, "").contains("is no name"));
    assert!(refused(&detail, "a, b").contains("is no name"));
    assert!(refused(&detail, "x").contains("is"), "{}", refused(&detail, "x"));
    assert!(refused(&detail, "from").contains("a word of the language"));
    assert!(refused(&detail, "face").contains("starts a declaration"));
    assert_eq!(refused(&detail, "sloping_base"), "`sloping_base` is taken: details.wythe:16:8");
    assert!(refused(&detail, "house_wall").contains("is taken"), "it would clash where both are brought in");
    assert!(refused(&detail, "spruce").contains("every file knows"));
    let face = heron_lane("north.wythe", "face", "north {");
    assert!(refused(&face, "south").contains("is taken: south.wythe:"));
    assert!(refused(&face, "entry").contains("could mean either"));
    let window = heron_lane("north.wythe", "window", "hall");
    assert!(refused(&window, "stair").contains("is taken"));
    assert!(refused(&window, "base").contains("an edge"));
    let layer = heron_lane("assemblies.wythe", "layer", "boards boards.larch");
    assert!(refused(&layer, "sheathing").contains("is taken"));
    assert!(refused(&layer, "gap").contains("`without gap` could mean either"));
}
