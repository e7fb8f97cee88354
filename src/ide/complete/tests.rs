//! Completion as somebody types: labels, in whole and in broken text.

use super::*;
use crate::ide::testing::{desk, heron_lane};
use crate::session::{Live, Settings};
use crate::source::MapWorld;

fn at(files: &[(&str, &str)]) -> Vec<Completion> {
    let desk = desk(files);
    complete(&desk.glance, desk.file, desk.offset)
}

fn labels(text: &str) -> Vec<String> {
    at(&[("wall.wythe", text)]).into_iter().map(|one| one.label).collect()
}

fn has(text: &str, wanted: &[&str]) {
    let found = labels(text);
    for word in wanted {
        assert!(found.iter().any(|label| label == word), "`{word}` is not offered in {text:?}: {found:?}");
    }
}

fn has_not(text: &str, unwanted: &[&str]) {
    let found = labels(text);
    for word in unwanted {
        assert!(!found.iter().any(|label| label == word), "`{word}` is offered in {text:?}");
    }
}

#[test]
fn statements_are_offered_where_they_belong() {
    has("wythe 1\n\ndet$0\n", &["detail", "face", "assembly", "detail, a base"]);
    has("face north {\n    $0\n}\n", &["window", "outline", "area", "window, whole"]);
    has("face north {\n    win$0\n", &["window"]);
    has_not("face north {\n    $0\n}\n", &["detail", "assembly", "trims"]);
    has("face north {\n    window k frame 4ft x 5ft, $0\n}\n", &["trims", "detail"]);
}

#[test]
fn clauses_that_stand_there_are_not_offered_again() {
    let text = "face north {\n    window k frame 4ft x 5ft {\n        trims 89mm on furring\n        $0\n        reveal 6mm\n    }\n}\n";
    has(text, &["head", "opens"]);
    has_not(text, &["trims", "reveal"]);
    has("assembly w {\n    layer a spruce 19mm\n    $0\n}\n", &["layer", "gap"]);
}

#[test]
fn slots_take_what_the_schema_says() {
    has(
        "face north {\n    window k frame 4ft x 5ft {\n        trims 89mm on $0\n    }\n}\n",
        &["plane", "furring", "cladding"],
    );
    has("face north {\n    window k frame 4ft x 5ft {\n        trims 89mm $0\n    }\n}\n", &["on"]);
    has("assembly w {\n    layer a spruce 19mm, controls rain and $0\n}\n", &["water", "heat"]);
    has("face north {\n    window k frame 4ft x 5$0\n}\n", &["mm", "in", "ft"]);
    has("material m {\n    conductivity 0.1$0\n}\n", &["W/(m.K)"]);
    has_not("material m {\n    conductivity 0.1$0\n}\n", &["mm", "kPa"]);
    has("site s {\n    wind 0.5$0\n}\n", &["kPa", "psf"]);
    has("rule r for layer {\n    wants $0\n}\n", &["thickness"]);
    assert_eq!(labels("face north { // win$0\n}\n"), Vec::<String>::new());
}

#[test]
fn names_are_of_the_right_kind_and_bring_their_use() {
    let text = "wythe 1\n\nuse std.boards\n\nassembly w {\n    layer a $0\n}\n";
    let found = at(&[("wall.wythe", text)]);
    let one = |label: &str| found.iter().find(|one| one.label == label).unwrap();
    assert!(one("boards.larch").also.is_empty());
    assert_eq!(one("boards.larch").detail, "board of materials.larch_wood · size 20mm x 165mm · exposure 110mm..140mm");
    assert!(one("spruce").detail.contains("conductivity"), "{}", one("spruce").detail);
    let (at, use_line) = &one("membranes.vapour_open").also[0];
    assert_eq!((at.start, use_line.as_str()), (23, "\nuse std.membranes"));
    assert!(!found.iter().any(|one| one.label.contains("screened_base")));
    has("use std.boards\nassembly w {\n    layer a boards.$0\n}\n", &["larch", "cedar"]);
    has("assembly w {\n    layer a std.$0\n}\n", &["boards", "materials"]);
    has_not("assembly w {\n    layer a std.$0\n}\n", &["details", "limits"]);
    has("use std.$0\n", &["boards", "details"]);
    has("use std.details (ea$0\n", &["eave", "screened_base"]);
    has("use std.details (\n    eave,\n    $0\n)\n", &["screened_base"]);
}

#[test]
fn other_files_of_the_project_are_offered() {
    let other = ("details.wythe", "wythe 1\n\n/// Mine.\ndetail my_base {\n    like std.details.screened_base\n}\n");
    let wall = "wythe 1\n\nface n {\n    outline from (0, 0) {\n        base to (1m, 0), detail $0\n    }\n}\n";
    let found = at(&[("wall.wythe", wall), other]);
    let one = found.iter().find(|one| one.label == "my_base").unwrap();
    assert_eq!((one.doc.as_str(), one.also[0].1.as_str()), ("Mine.", "\n\nuse details (my_base)"));
    let found = at(&[("wall.wythe", "use $0\n"), other]);
    assert!(found.iter().any(|one| one.label == "details"));
    let listed =
        "use details (other)\n\nface n {\n    outline from (0, 0) {\n        base to (1m, 0), detail $0\n    }\n}\n";
    let found = at(&[("wall.wythe", listed), other]);
    assert_eq!(found.iter().find(|one| one.label == "my_base").unwrap().also[0].1, ", my_base");
}

#[test]
fn calls_offer_their_parameters() {
    let text = "use std.details\nface n {\n    outline from (0, 0) {\n        base to (1m, 0), detail details.screened_base($0)\n    }\n}\n";
    has(text, &["mesh", "upstand", "metal"]);
    let given = text.replace("($0)", "(upstand = 90mm, $0)");
    has(&given, &["mesh"]);
    has_not(&given, &["upstand"]);
    has(&text.replace("($0)", "(upstand = 9$0)"), &["mm", "in"]);
    has(&text.replace("($0)", "(mesh = $0)"), &["meshes.insect"]);
    has("assembly w(depth = 19mm) {\n    gap cavity $0\n}\n", &["depth"]);
}

#[test]
fn places_rules_and_limits_are_offered() {
    let told = |path, before, after, shift: u32, wanted: &[&str]| {
        let desk = heron_lane(path, before, after);
        let found = complete(&desk.glance, desk.file, desk.offset + shift);
        for word in wanted {
            assert!(
                found.iter().any(|one| one.label == *word),
                "{word} in {:?}",
                found.iter().map(|one| &one.label).collect::<Vec<_>>()
            );
        }
    };
    told("north.wythe", "accept", " service.crowded", 1, &["gap.shallow", "service.crowded"]);
    told("north.wythe", "accept service.crowded on", " entry_lamp", 1, &["entry_lamp", "hall"]);
    told("north.wythe", "meets", " west", 1, &["west", "south"]);
    told("north.wythe", "detail", " house_base", 1, &["house_base", "house_rake", "sloping_base"]);
    has("limits mine {\n    limit $0\n}\n", &["clearance.ground"]);
    has("limits mine {\n    option $0\n}\n", &["gap.top"]);
    has("limits mine {\n    option gap.top $0\n}\n", &["open", "closed"]);
    has("use std.details\ndetail d {\n    like details.screened_base\n    without $0\n}\n", &["gap_end"]);
}

/// A snippet with its places filled in.
fn filled(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find('$') {
        out.push_str(&rest[..at]);
        rest = &rest[at + 1..];
        if let Some(hole) = rest.strip_prefix('{') {
            let end = hole.find('}').unwrap();
            let inner = hole[..end].trim_start_matches(|letter: char| letter.is_ascii_digit());
            out.push_str(inner.trim_start_matches(':').trim_matches('|').split(',').next().unwrap());
            rest = &hole[end + 1..];
        } else {
            rest = rest.trim_start_matches(|letter: char| letter.is_ascii_digit());
        }
    }
    out + rest
}

/// Every whole statement, filled in as it stands, is read without a mistake.
#[test]
fn whole_statements_have_no_mistake() {
    let wall = filled(whole::WHOLE[0].text);
    let face = filled(whole::WHOLE[1].text);
    for one in whole::WHOLE {
        let own = filled(one.text);
        let text = match one.context {
            "file" if one.label.starts_with("assembly") => own,
            "file" if one.label.starts_with("face") => format!("{wall}\n{own}"),
            "file" => own,
            "face" if one.label.starts_with("outline") => {
                format!("{wall}\nface n {{\n    measured to sheathing\n{own}\n}}\n")
            }
            "face" => format!("{wall}\n{}\n{own}\n}}\n", face.trim_end().trim_end_matches('}')),
            "outline" => continue,
            _ => format!("assembly other {{\n    layer a spruce 19mm\n{own}\n}}\n"),
        };
        let world = MapWorld::new().with("wall.wythe", &format!("wythe 1\n\n{text}"));
        let glance = Live::default().check(&world, &["wall.wythe".to_owned()], &Settings::default());
        let said: Vec<&str> = glance.problems.iter().map(|problem| problem.title.as_str()).collect();
        assert!(said.is_empty(), "{}: {said:?}\n{text}", one.label);
    }
}

/// Every row as a snippet, filled in, has the words its form wants.
#[test]
fn rows_as_snippets_have_the_form_of_the_row() {
    for row in crate::schema::rows() {
        let text = filled(&statements::snippet(row, false));
        let rest = text.strip_prefix(row.word).unwrap();
        let statement = crate::syntax::parse(FileId(0), &format!("section{rest}")).tree.statements.remove(0);
        let form = wanted(row.parsed(), &statement.arguments, &|_| false);
        assert!(form.whole, "{text}");
    }
}
