//! Nothing panics on broken text, and what stands before the damage is still known.

use crate::ide;
use crate::ide::testing::heron_lane;
use crate::session::{Live, Settings};
use crate::source::{MapWorld, World};

/// Asks everything at every ninth place of texts that are cut off, or have a stray letter in them.
#[test]
fn every_answer_is_given_on_any_text() {
    let whole = heron_lane("north.wythe", "face", "north");
    let text = whole.glance.project.files.text(whole.file).to_owned();
    let details = "wythe 1\n\ndetail house_base {\n    at base\n}\n";
    let mut live = Live::default();
    for (count, at) in (0..text.len()).filter(|&at| text.is_char_boundary(at)).step_by(131).enumerate() {
        let broken = match count % 4 {
            0 => text[..at].to_owned(),
            1 => format!("{}{{{}", &text[..at], &text[at..]),
            2 => format!("{}\"°é (\n{}", &text[..at], &text[at..]),
            _ => format!("{}\nface ({}", &text[..at], &text[at..]),
        };
        let world = MapWorld::new().with("north.wythe", &broken).with("details.wythe", details);
        let glance = live.check(&world, &world.list(), &Settings::default());
        let file = glance.project.files.find("north.wythe").unwrap();
        let text = glance.project.files.text(file);
        ide::outline(&glance, file);
        ide::folds(&glance, file);
        ide::lenses(&glance, file);
        ide::links(&glance, file);
        let tokens = ide::tokens(&glance, file);
        assert!(tokens.windows(2).all(|two| two[0].span.end <= two[1].span.start), "tokens overlap");
        assert!(tokens.iter().all(|one| text.get(one.span.range()).is_some_and(|word| !word.contains('\n'))));
        ide::format_document(&glance, file);
        for offset in (0..=broken.len()).filter(|&at| broken.is_char_boundary(at)).step_by(397).map(|at| at as u32) {
            ide::definition(&glance, file, offset);
            ide::highlights(&glance, file, offset);
            ide::format_typed(&glance, file, offset);
            let grown = ide::selections(&glance, file, offset);
            assert!(grown.windows(2).all(|two| two[1].start <= two[0].start && two[0].end <= two[1].end));
            assert!(grown.iter().all(|span| text.get(span.range()).is_some()));
            if ide::prepare_rename(&glance, file, offset).is_ok() {
                ide::rename(&glance, file, offset, "other").ok();
            }
        }
    }
}

#[test]
fn the_outline_goes_on_behind_a_mistake() {
    let text = "wythe 1\n\nface north {\n    window hall frame 900mm x\n    window stair frame 600mm x 600mm at (1m, 1m)\n\nface south {\n    lamp porch at (\n}\n";
    let world = MapWorld::new().with("walls.wythe", text);
    let glance = Live::default().check(&world, &world.list(), &Settings::default());
    let file = glance.project.files.find("walls.wythe").unwrap();
    let names: Vec<String> = ide::outline(&glance, file)
        .iter()
        .flat_map(|face| std::iter::once(face.name.clone()).chain(face.inside.iter().map(|one| one.name.clone())))
        .collect();
    assert_eq!(names, ["north", "hall", "stair", "south", "porch"]);
}
