//! Definition, references, highlights.

use super::shown;
use crate::ide::testing::{Desk, desk, heron_lane};
use crate::ide::{definition, highlights, references};

fn goes_to(desk: &Desk) -> Vec<String> {
    let found = definition(&desk.glance, desk.file, desk.offset);
    found.map_or_else(Vec::new, |found| found.to.iter().map(|place| shown(desk, place.name)).collect())
}

/// From `after` behind `before` in a file of Heron Lane.
fn leads(path: &str, before: &str, after: &str) -> String {
    goes_to(&heron_lane(path, before, after)).join("\n")
}

#[test]
fn names_lead_to_where_they_are_given() {
    let base = leads("north.wythe", "base to", "house_base");
    assert!(base.starts_with("details.wythe:") && base.ends_with("house_base"), "{base}");
    assert_eq!(leads("north.wythe", "use details (", "house_corner"), leads("north.wythe", "right to", "house_corner"));
    let meets = leads("north.wythe", "meets", "west");
    assert!(meets.starts_with("west.wythe:") && meets.ends_with(" west"), "{meets}");
    let faces = leads("building.wythe", "faces north and", "east");
    assert!(faces.starts_with("east.wythe:"), "{faces}");
    assert!(leads("sections.wythe", "section north_left on", "north from").starts_with("north.wythe:"));
    assert!(leads("sections.wythe", "order (", "west_low,").contains("sections.wythe:"));
    assert!(leads("sections.wythe", "out_of_reach on", "south").starts_with("south.wythe:"));
}

#[test]
fn names_lead_into_the_library() {
    let product = leads("assemblies.wythe", "layer boards boards", "larch 20mm");
    assert!(product.starts_with("std/boards.wythe:") && product.ends_with(" larch"), "{product}");
    assert!(leads("assemblies.wythe", "layer boards ", "boards.larch").starts_with("std/boards.wythe:1:1"));
    assert!(leads("assemblies.wythe", "use std.", "tapes").starts_with("std/tapes.wythe:1:1"));
    assert!(leads("details.wythe", "like details.", "screened_base").starts_with("std/details.wythe:"));
    let parameter = leads("details.wythe", "screened_base(", "upstand");
    assert!(parameter.starts_with("std/details.wythe:") && parameter.ends_with(" upstand"), "{parameter}");
    assert!(leads("site.wythe", "std.", "climates").starts_with("std/climates.wythe:1:1"));
    assert!(leads("site.wythe", "std.climates.", "cold_lake").ends_with(" cold_lake"));
    assert!(leads("assemblies.wythe", "frame studs", "spruce").starts_with("std/materials.wythe:"));
}

#[test]
fn parameters_lead_to_the_head_of_their_declaration() {
    assert_eq!(leads("assemblies.wythe", "gap cavity depth", "depth x 64mm"), "assemblies.wythe:59:21 depth");
    assert_eq!(leads("assemblies.wythe", "gap cavity", "depth ventilated"), "assemblies.wythe:59:21 depth");
}

#[test]
fn layers_lead_to_the_assembly_that_first_names_them() {
    let layer = leads("assemblies.wythe", "like house_wall", "boards boards.fibre");
    assert!(layer.starts_with("assemblies.wythe:14:11"), "{layer}");
}

#[test]
fn places_lead_word_by_word() {
    let text = "wythe 1\n\nuse std.details (flashed_window)\n\nface north {\n    base 0 from 0 to 4m\n    top 3m\n    window kitchen frame 900mm x 900mm at (1m, 1m), detail flashed_window\n    block services at (3m, 500mm) {\n        hose_bib garden at (4in, 3in)\n    }\n    accept gap.shallow on PLACE because \"b\" by \"c\"\n}\n\naccept gap.shallow on north.kitchen because \"b\" by \"c\"\n";
    let at = |place: &str| desk(&[("north.wythe", &text.replace("PLACE", place))]);
    assert_eq!(goes_to(&at("kit$0chen.head")), ["north.wythe:8:12 kitchen"]);
    let head = goes_to(&at("kitchen.he$0ad"));
    assert!(
        matches!(head.as_slice(), [one] if one.starts_with("std/details.wythe:") && one.ends_with(" head")),
        "{head:?}"
    );
    assert_eq!(goes_to(&at("services.gar$0den")), ["north.wythe:10:18 garden"]);
    assert_eq!(goes_to(&at("no$0rth.kitchen")), ["north.wythe:5:6 north"]);
    assert_eq!(goes_to(&at("north.kit$0chen")), ["north.wythe:8:12 kitchen"]);
    assert_eq!(goes_to(&at("ba$0se")), ["north.wythe:6:5 base"]);
    let outside = text.replace("on north.kitchen", "on north.ki$0tchen").replace("PLACE", "base");
    assert_eq!(goes_to(&desk(&[("north.wythe", &outside)])), ["north.wythe:8:12 kitchen"]);
}

#[test]
fn edges_without_names_are_counted_and_trims_and_areas_find_theirs() {
    let text = "wythe 1\n\nface north {\n    outline from (0, 0) {\n        base to (4m, 0)\n        right to (4m, 3m)\n        rake to (2m, 4m)\n        rake to (0, 3m)\n        left to start\n    }\n    area low wall below 1m\n    area high wall above 1m\n    between low and hi$0gh\n    accept edge.no_detail on rake.2 because \"b\" by \"c\"\n}\n";
    assert_eq!(goes_to(&desk(&[("north.wythe", text)])), ["north.wythe:12:10 high"]);
    let rake = text.replace("$0", "").replace("rake.2", "rake$0.2");
    assert_eq!(goes_to(&desk(&[("north.wythe", &rake)])), ["north.wythe:8:9 rake"]);
}

#[test]
fn a_rule_leads_to_the_limits_it_reads_and_a_limit_to_the_one_it_overrides() {
    let text = "wythe 1\n\nsite here {\n    limits own and std.limits.common_practice\n}\n\nlimits own {\n    limit lap.te$0rmination 100mm\n}\n";
    let found = goes_to(&desk(&[("site.wythe", text)]));
    let name = "lap.termination";
    let known = found.iter().all(|one| one.starts_with("std/limits.wythe:") && one.ends_with(name));
    assert!(known || found == [format!("site.wythe:8:11 {name}")], "{found:?}");
    let rule = leads("north.wythe", "accept", "service.crowded");
    assert!(rule.lines().all(|line| line.starts_with("std/limits.wythe:")) && !rule.is_empty(), "{rule}");
    let office = "wythe 1\n\nrule deep for gap {\n    wants depth at_least 19mm\n    says \"s\"\n}\n\naccept office.de$0ep on north because \"b\" by \"c\"\n";
    assert_eq!(goes_to(&desk(&[("office.wythe", office)])), ["office.wythe:3:6 deep"]);
}

#[test]
fn broken_text_still_has_names() {
    let text = "wythe 1\n\nassembly wall(depth = 19mm) {\n    gap cavity depth ventilated {\n        furring de$0pth x\n    layer boards nothing.known 20mm\n}\n\nface north {\n    area all wall(depth = \n";
    assert_eq!(goes_to(&desk(&[("wall.wythe", text)])), ["wall.wythe:3:15 depth"]);
    let call = text.replace("de$0pth", "depth").replace("all wall(", "all wa$0ll(");
    assert_eq!(goes_to(&desk(&[("wall.wythe", &call)])), ["wall.wythe:3:10 wall"]);
}

#[test]
fn references_are_found_across_files() {
    let desk = heron_lane("details.wythe", "detail", "house_window");
    let with = references(&desk.glance, desk.file, desk.offset, true);
    let without = references(&desk.glance, desk.file, desk.offset, false);
    assert_eq!(with.len(), without.len() + 1);
    let files: std::collections::BTreeSet<&str> =
        with.iter().map(|span| desk.glance.project.files.path(span.file)).collect();
    assert!(files.len() > 4, "{files:?}");
    // Every place that the evaluator noted is among them, and no word else.
    for span in &with {
        assert_eq!(desk.glance.project.files.slice(*span), "house_window");
    }
    let noted = desk.glance.evaluated.references.iter();
    let noted =
        noted.filter(|one| desk.glance.project.declaration(one.declaration).unwrap().name == "house_window".into());
    for one in noted {
        assert!(with.iter().any(|span| span.end == one.span.end && span.file == one.span.file));
    }
}

/// The reader of names and the evaluator agree on every name of the demo house.
#[test]
fn what_the_evaluator_looked_up_is_read_here_too() {
    let desk = heron_lane("details.wythe", "detail", "house_window");
    let names = crate::ide::names::Names::of(&desk.glance);
    let mut own = 0;
    for one in &desk.glance.evaluated.references {
        let found = names.at(one.span.file, one.span.end).or_else(|| names.at(one.span.file, one.span.start));
        let all = names.in_file(one.span.file);
        let symbol = crate::ide::names::Symbol::Declaration(one.declaration);
        let here = all.iter().find(|other| one.span.touches(other.span.start) && other.symbol == symbol);
        assert!(here.is_some(), "{} {found:?}", shown(&desk, one.span));
        own += usize::from(!desk.glance.project.files.is_std(one.span.file));
        if own > 400 {
            break;
        }
    }
    assert!(own > 100, "{own}");
}

#[test]
fn highlights_tell_giving_from_using() {
    let desk = heron_lane("assemblies.wythe", "panel_wall(", "depth");
    let found = highlights(&desk.glance, desk.file, desk.offset);
    let told: Vec<bool> = found.iter().map(|one| one.declares).collect();
    assert_eq!(told, [true, false, false]);
}
