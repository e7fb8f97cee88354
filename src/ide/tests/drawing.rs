//! What is drawn for the place under the cursor.

use crate::ide::testing::{Desk, desk, heron_lane};
use crate::ide::{Drawn, drawing, picture, traced};

fn title(drawn: &Drawn) -> &str {
    match drawn {
        Ok(drawing) => &drawing.title,
        Err(why) => why,
    }
}

fn at(desk: &Desk) -> Drawn {
    drawing(&desk.glance, desk.file, desk.offset)
}

#[test]
fn every_place_has_its_drawing_or_a_reason() {
    let told = [
        ("north.wythe", "face north", "north", "North wall, elevation"),
        ("north.wythe", "area all", "all", "North wall, elevation"),
        ("north.wythe", "window hall", "hall", "North wall, window hall"),
        ("north.wythe", "window stair", "trims", "North wall, window stair"),
        ("north.wythe", "base to", "base", "North wall, base"),
        ("north.wythe", "rake to", "rake", "North wall, rake 1"),
        ("north.wythe", "lamp entry_lamp", "flange", "North wall, lamp entry_lamp"),
        ("assemblies.wythe", "assembly house_wall", "gap", "house_wall, wall section"),
        ("details.wythe", "detail house_window", "house_window", "North wall, window hall"),
        (
            "north.wythe",
            "use assemblies",
            "house_wall",
            "nothing to draw here: put the cursor in a face, an assembly or a detail",
        ),
    ];
    for (file, before, after, wanted) in told {
        let drawn = at(&heron_lane(file, before, after));
        assert_eq!(title(&drawn), wanted, "{file}: {before}");
        if let Ok(drawing) = drawn {
            assert!(drawing.svg.contains("this is not approval"), "{wanted}: the line of every output");
        }
    }
}

#[test]
fn a_thing_is_drawn_with_its_own_measures_and_with_what_was_found_there() {
    let drawn = at(&heron_lane("north.wythe", "window hall", "hall")).unwrap();
    // Lower left at (4600, 875), 900 by 1215, as written in the text.
    for figure in [">4600<", ">5500<", ">+875<", ">+2090<", ">900 × 1215<", "No fault found here in what was"] {
        assert!(drawn.svg.contains(figure), "{figure}");
    }
    let lamp = at(&heron_lane("north.wythe", "lamp entry_lamp", "entry_lamp")).unwrap();
    for words in ["1 accepted", "entry_lamp is 60 mm", ">(A)<"] {
        assert!(lamp.svg.contains(words), "{words}");
    }
}

#[test]
fn what_cannot_be_drawn_says_why() {
    let told = [
        ("face n$0orth {\n    looks 0deg\n}\n", "`north` cannot be drawn: its outline could not be read"),
        ("assembly w$0 {\n    layer skin boards.larch 20mm, controls rain\n}\n", "no area is built as `w` yet"),
        ("material s$0oft {\n    kind fibre\n}\n", "a material `soft` has no drawing"),
    ];
    for (text, wanted) in told {
        let desk = desk(&[("wall.wythe", &format!("wythe 1\n\nuse std.boards\n\n{text}"))]);
        let drawn = at(&desk);
        assert!(drawn.is_err() && title(&drawn).starts_with(wanted), "{}", title(&drawn));
    }
}

#[test]
fn openings_and_edges_have_small_pictures_and_nothing_else_has() {
    let small = |before: &str, after: &str| {
        let desk = heron_lane("north.wythe", before, after);
        picture(&desk.glance, desk.file, desk.offset + 1)
    };
    for (before, after) in [("window hall", "hall"), ("door entry", "door"), ("base to", "base"), ("rake to", "rake")] {
        let svg = small(before, after).unwrap();
        assert!(svg.len() < 20_000 && svg.ends_with("</svg>\n"), "{before}: {} bytes", svg.len());
    }
    let window = small("window hall", "hall").unwrap();
    assert!(window.contains(">hall<") && window.contains("1215"), "{window}");
    assert!(!small("window hall", "hall").unwrap().contains("entry_lamp"), "of this opening only");
    for (before, after) in
        [("window hall", "trims"), ("area all", "area"), ("face north", "north"), ("lamp entry", "lamp")]
    {
        assert_eq!(small(before, after), None, "{before} {after}");
    }
}

#[test]
fn water_is_followed_from_above_the_opening_or_from_the_top() {
    let followed = |before: &str, after: &str| {
        let desk = heron_lane("north.wythe", before, after);
        traced(&desk.glance, desk.file, desk.offset)
    };
    let face = followed("face north", "north").unwrap();
    assert_eq!(face.title, "North wall, way of the water");
    let text = face.text.unwrap();
    assert!(text.contains("reaches daylight") && text.contains("this is not approval"), "{text}");
    // The head of the window lies at 875 + 1215 = 2090, its middle at 4600 + 450.
    let window = followed("window hall", "hall").unwrap().text.unwrap();
    assert!(window.contains("at (5.05 m, 2.19 m)"), "{window}");
    assert!(followed("use assemblies", "house_wall").is_err());
}
