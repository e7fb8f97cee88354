//! Outline, search by name, folds, selections, colours, links: shown on Heron Lane.

use std::fmt::Write as _;

use super::shown;
use crate::ide::testing::{desk, heron_lane};
use crate::ide::{Entry, FoldKind, Target, TokenKind, find_named, folds, links, outline, selections, tokens};

fn listed(entries: &[Entry], depth: usize, out: &mut String) {
    for entry in entries {
        let _ = writeln!(out, "{}{} {} ({:?})", "  ".repeat(depth), entry.word, entry.name, entry.kind);
        listed(&entry.inside, depth + 1, out);
    }
}

fn outlined(path: &str, word: &str) -> String {
    let desk = heron_lane(path, "", word);
    let mut out = String::new();
    listed(&outline(&desk.glance, desk.file), 0, &mut out);
    out
}

#[test]
fn outlines_of_a_face_of_assemblies_and_of_the_house() {
    insta::assert_snapshot!("outline_north", outlined("north.wythe", "face north"));
    insta::assert_snapshot!("outline_garden_east", outlined("garden_east.wythe", "face"));
    insta::assert_snapshot!("outline_assemblies", outlined("assemblies.wythe", "assembly"));
    insta::assert_snapshot!("outline_building", outlined("building.wythe", "building"));
}

#[test]
fn things_are_found_by_some_of_their_letters() {
    let desk = heron_lane("north.wythe", "", "face");
    let best = |query: &str| {
        let found = find_named(&desk.glance, query);
        let one = |at: usize| found.get(at).map(|one| format!("{} {} {}", one.word, one.of, one.name));
        (0..3).filter_map(one).collect::<Vec<_>>().join("; ")
    };
    assert!(best("house_window").starts_with("detail  house_window"), "{}", best("house_window"));
    assert!(best("hwin").starts_with("detail  house_window"), "{}", best("hwin"));
    assert!(best("entry").starts_with("door north entry"), "{}", best("entry"));
    assert!(best("north").starts_with("face  north"), "{}", best("north"));
    assert!(best("larch").contains("product  larch"), "{}", best("larch"));
    assert_eq!(best("nothing_of_the_kind"), "");
    assert_eq!(find_named(&desk.glance, "").len(), 200);
}

#[test]
fn blocks_use_lines_and_comments_fold() {
    let desk = heron_lane("assemblies.wythe", "", "use");
    let found = folds(&desk.glance, desk.file);
    let count = |kind: FoldKind| found.iter().filter(|fold| fold.kind == kind).count();
    assert_eq!(count(FoldKind::Uses), 1);
    assert!(count(FoldKind::Block) >= 6);
    let text = desk.glance.project.files.text(desk.file);
    for fold in found.iter().filter(|fold| fold.kind == FoldKind::Block) {
        let hidden = &text[fold.span.range()];
        let open = hidden.matches(['{', '(']).count();
        assert_eq!(open, hidden.matches(['}', ')']).count(), "{hidden}");
        assert!(text[fold.span.end as usize..].trim_start().starts_with(['}', ')']), "the last line stays: {hidden}");
    }
    let comments = heron_lane("details.wythe", "", "use");
    let text = "// one\n// two\n\n/// three\ndetail a {\n    // four\n    // five\n}\n";
    let own = self::desk(&[("a.wythe", &format!("{text}$0"))]);
    let found = folds(&own.glance, own.file);
    assert_eq!(found.iter().filter(|fold| fold.kind == FoldKind::Comment).count(), 2);
    assert!(!folds(&comments.glance, comments.file).is_empty());
}

#[test]
fn a_selection_grows_by_the_tree() {
    let desk = heron_lane("assemblies.wythe", "furring furring.spruce", "spruce");
    let found = selections(&desk.glance, desk.file, desk.offset + 1);
    let lines: Vec<String> = found.iter().map(|span| shown(&desk, *span)).collect();
    insta::assert_snapshot!("selections", lines.join("\n"));
}

#[test]
fn words_are_coloured_by_their_meaning() {
    let desk = heron_lane("assemblies.wythe", "", "use");
    let text = desk.glance.project.files.text(desk.file);
    let mut out = String::new();
    for token in tokens(&desk.glance, desk.file) {
        let word = &text[token.span.range()];
        let word = if word.chars().count() > 24 { word.chars().take(24).collect() } else { word.to_owned() };
        let given = if token.declares { " given" } else { "" };
        let library = if token.library { " library" } else { "" };
        let _ = writeln!(out, "{word:24} {:?}{given}{library}", token.kind);
    }
    insta::assert_snapshot!("tokens_assemblies", out);
}

/// No word of the demo house is left without a meaning.
#[test]
fn every_word_of_heron_lane_has_a_colour() {
    for path in ["north.wythe", "assemblies.wythe", "details.wythe", "building.wythe", "site.wythe", "south.wythe"] {
        let desk = heron_lane(path, "", "wythe 1");
        let text = desk.glance.project.files.text(desk.file);
        let mut bare: Vec<char> = text.chars().collect();
        let starts: std::collections::BTreeMap<usize, usize> =
            text.char_indices().enumerate().map(|(count, (at, _))| (at, count)).collect();
        for token in tokens(&desk.glance, desk.file) {
            let from = starts[&(token.span.start as usize)];
            for letter in bare.iter_mut().skip(from).take(text[token.span.range()].chars().count()) {
                *letter = ' ';
            }
        }
        let left: String = bare.into_iter().filter(|letter| letter.is_alphanumeric()).collect();
        let allowed = left.chars().all(|letter| letter == 'x');
        assert!(allowed, "{path}: {left}");
    }
}

#[test]
fn figures_and_units_are_two_words() {
    let text = "wythe 1\n\nface north {\n    base 0 from 0 to 8ft 6-1/2in$0\n    top 3 m\n}\n";
    let desk = desk(&[("north.wythe", text)]);
    let text = desk.glance.project.files.text(desk.file);
    let of = |kind: TokenKind| -> Vec<&str> {
        let found = tokens(&desk.glance, desk.file);
        found.iter().filter(|one| one.kind == kind).map(|one| &text[one.span.range()]).collect()
    };
    assert_eq!(of(TokenKind::Unit), ["ft", "in", "m"]);
    assert_eq!(of(TokenKind::Number), ["1", "0", "0", "8", "6-1/2", "3"]);
}

#[test]
fn use_lines_and_photographs_lead_to_files() {
    let text = "wythe 1\n\nuse std.boards\nuse details\n\nevidence H2 on north by \"lead\" {\n    photo \"photos/north_base.jpg\"\n    photo \"no 14\"\n    photo \"../else.jpg\"\n}\n$0";
    let desk = desk(&[("site/north.wythe", text), ("site/details.wythe", "wythe 1\n")]);
    let found: Vec<String> = links(&desk.glance, desk.file)
        .into_iter()
        .map(|link| match link.to {
            Target::Text(file) => desk.glance.project.files.path(file).to_owned(),
            Target::Beside(path) => path,
        })
        .collect();
    assert_eq!(found, ["std/boards.wythe", "site/details.wythe", "site/photos/north_base.jpg"]);
}
