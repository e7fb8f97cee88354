//! The air barrier: where it joins, where it ends, and what cannot be told.

use super::{barrier, wall};
use crate::continuity::{AirBarrier, AirEnd};

/// Two faces back to back, closed by a foundation and a roof.
fn house(front: &str, back: &str) -> String {
    let face = |name: &str, other: &str, rest: &str| {
        format!(
            "face {name} {{\n outline from (0, 0) {{\n base to (1200mm, 0), detail open_base\n right to (1200mm, 2400mm), detail \
             side, meets {other}\n top to (0, 2400mm), detail open_top\n left to start, detail side, meets {other}\n }}\n area all \
             wall\n{rest}\n}}\n"
        )
    };
    let building = "building house {\n faces north and south\n foundation slab_edge, air concrete\n roof main, air \
                    ceiling_membrane\n}\n";
    format!("{}{}{building}", face("north", "south", front), face("south", "north", back))
}

fn said(ends: &[AirEnd]) -> Vec<(&'static str, String)> {
    ends.iter().map(|end| (end.kind, end.why.clone())).collect()
}

fn ends(text: &str) -> Vec<(&'static str, String)> {
    said(&barrier(text).ends)
}

fn none(barrier: &AirBarrier) {
    assert!(barrier.ends.is_empty() && barrier.undecided.is_empty(), "{barrier:#?}");
}

#[test]
fn a_closed_house_has_no_end() {
    none(&barrier(&house("", "window pane frame 300mm x 300mm at (450mm, 900mm), detail frame_edge, seal to air")));
}

#[test]
fn a_base_without_a_joint_ends_the_barrier() {
    let loose = "detail loose_base {\n at base\n gap_end open\n gives exit\n}\n";
    let text = format!("{loose}{}", house("", "").replacen("open_base", "loose_base", 1));
    let found = barrier(&text);
    assert_eq!(
        said(&found.ends),
        [("base", "no part of `loose_base` seals the base of `north` to the foundation".to_owned())]
    );
    assert_eq!(found.ends[0].path, ["membrane of `north`", "base of `north`", "nothing"]);
    assert!(found.undecided.is_empty());
    // Sealed to the wrong thing.
    let wrong = "detail wrong_base {\n at base\n gap_end open\n air seals to cladding with tapes.acrylic\n}\n";
    let found = barrier(&format!("{wrong}{}", house("", "").replacen("open_base", "wrong_base", 1)));
    assert_eq!(found.ends[0].why, "`wrong_base` seals the base of `north` to the cladding, not to the foundation");
    assert_eq!(found.ends[0].path.last().map(String::as_str), Some("cladding"));
}

#[test]
fn a_joint_without_its_part_and_an_edge_without_detail_cannot_be_told() {
    let vague = "detail vague_base {\n at base\n gap_end open\n air seals to foundation\n}\n";
    let found = barrier(&format!("{vague}{}", house("", "").replacen("open_base", "vague_base", 1)));
    assert!(found.ends.is_empty());
    let fact = "the part that seals the base of `north` to the foundation: `vague_base` names none";
    assert_eq!(said(&found.undecided), [("base", fact.to_owned())]);
    let found = barrier(&house("", "").replacen("base to (1200mm, 0), detail open_base", "base to (1200mm, 0)", 1));
    assert_eq!(said(&found.undecided), [("base", "how the base is built: `north.base` has no detail".to_owned())]);
}

#[test]
fn all_sides_of_an_opening_are_sealed_to_the_frame() {
    let leaky = "detail leaky_edge {\n at window\n head {\n air seals to frame with tapes.acrylic\n }\n jamb {\n gap_end closed\n \
                 }\n sill {\n gap_end closed\n }\n}\n";
    let text = house("window pane frame 300mm x 300mm at (450mm, 900mm), detail leaky_edge", "");
    let found = barrier(&format!("{leaky}{text}"));
    assert_eq!(found.ends.len(), 1);
    assert_eq!(found.ends[0].path, ["membrane of `north`", "jambs and sill of `pane`", "nothing"]);
    let text = house("window pane frame 300mm x 300mm at (450mm, 900mm), detail frame_edge, seal to trim", "");
    let why = "the frame of `pane` is sealed to the trim, not to the air barrier";
    assert_eq!(ends(&text), [("opening", why.to_owned())]);
}

#[test]
fn every_hole_has_a_part_on_the_barrier() {
    let pipe = |seal: &str| barrier(&house(&format!("pipe drain 40mm at (600mm, 600mm){seal}"), ""));
    none(&pipe(", seal collar"));
    assert_eq!(pipe(", seal collar, sealed to cladding").ends[0].path, ["membrane of `north`", "`drain`", "cladding"]);
    assert_eq!(pipe(", seal none").ends[0].path.last().map(String::as_str), Some("nothing"));
    assert_eq!(pipe(", seal foam").ends[0].kind, "service");
    let open = pipe("");
    assert_eq!(said(&open.undecided), [("service", "what seals the hole of `drain`: it has no `seal`".to_owned())]);
    assert_eq!(open.undecided[0].service, Some(0));
}

#[test]
fn a_wall_has_exactly_one_barrier() {
    let half = "assembly half_wall {\n layer boards materials.larch_wood 20mm\n layer sheathing plywood 12.5mm, controls air\n layer retarder \
                membranes.variable, controls air and vapour\n}\nassembly no_wall {\n layer boards materials.larch_wood 20mm\n}\n";
    let text = format!("{half}{}", house("", "").replacen("area all wall", "area all half_wall", 1));
    let why = "`sheathing` and `retarder` of `half_wall` are each said to control air, and none is the barrier";
    assert_eq!(ends(&text), [("assembly", why.to_owned())]);
    let text = format!("{half}{}", house("", "").replacen("area all wall", "area all no_wall", 1));
    assert_eq!(ends(&text), [("assembly", "no layer of `no_wall` controls air".to_owned())]);
}

#[test]
fn one_membrane_runs_through_and_two_barriers_need_a_joint() {
    let two = |upper: &str, detail: &str| {
        // Both faces alike: at a corner of two planes the points would want a part of their own.
        house("", "").replace(
            "area all wall",
            &format!(
                "area lower wall below 1200mm\n area upper {upper} above 1200mm\n between lower and upper{detail}"
            ),
        )
    };
    let inner = "assembly inner_wall {\n layer boards materials.larch_wood 20mm\n layer sheathing plywood 12.5mm\n frame studs spruce 38mm x \
                 140mm\n layer retarder membranes.variable, controls air and vapour\n}\n";
    none(&barrier(&two("wall", "")));
    // Where the joint of two planes meets a corner, a part must be turned over the point.
    let shelf = two("inner_wall", ", detail shelf");
    let points = barrier(&format!("{inner}{shelf}")).ends;
    assert!(points.len() == 4 && points.iter().all(|end| end.kind == "point"), "{points:#?}");
    let turned = "detail turned_side {\n at corner\n gap_end closed\n part membrane membranes.self_adhered {\n wraps 150mm\n \
                  controls air\n }\n air seals to neighbour with tapes.acrylic\n}\n";
    let two = |upper: &str, detail: &str| {
        format!("{turned}{}", two(upper, detail).replace("detail side", "detail turned_side"))
    };
    none(&barrier(&format!("{inner}{}", two("inner_wall", ", detail shelf"))));
    let found = barrier(&format!("{inner}{}", two("inner_wall", "")));
    assert_eq!(said(&found.undecided).first().map(|said| said.0), Some("transition"));
    let bare = "detail bare_shelf {\n at transition\n gap_end closed\n}\n";
    let text = format!("{inner}{bare}{}", two("inner_wall", ", detail bare_shelf"));
    let why = "no part of `bare_shelf` joins the barriers at the joint of `lower` and `upper`";
    assert_eq!(ends(&text), [("transition", why.to_owned()), ("transition", why.to_owned())]);
}

#[test]
fn a_floor_cuts_an_inner_barrier_only() {
    let inner = "assembly inner_wall {\n layer boards materials.larch_wood 20mm\n layer sheathing plywood 12.5mm\n frame studs spruce 38mm x \
                 140mm\n layer retarder membranes.variable, controls air and vapour\n}\ndetail rim {\n at floor_line\n air seals \
                 to itself with tapes.acrylic\n}\ndetail bare_rim {\n at floor_line\n}\n";
    let floor = |assembly: &str, detail: &str| {
        let text = house(&format!("floor_line upper at 1200mm{detail}"), "");
        barrier(&format!("{inner}{}", text.replace("area all wall", &format!("area all {assembly}"))))
    };
    none(&floor("wall", ""));
    none(&floor("inner_wall", ", detail rim"));
    assert_eq!(floor("inner_wall", ", detail bare_rim").ends[0].kind, "floor_line");
    assert_eq!(floor("inner_wall", "").undecided[0].kind, "floor_line");
}

#[test]
fn a_building_is_closed_all_round() {
    let text = house("", "").replacen("left to start, detail side, meets north", "left to start, detail side", 1);
    let found = ends(&text);
    assert_eq!(found.len(), 2, "{found:?}");
    assert_eq!(found[0], ("building", "`north.right` meets `south`, which does not meet it back".to_owned()));
    assert_eq!(found[1], ("building", "`south.left` meets no face, and `house` is open there".to_owned()));
    let left_out = text.replace("building house {", "building house {\n open_side \"left of south, to the neighbour\"");
    assert_eq!(ends(&left_out).len(), 1);
    let text = house("", "").replace("roof main, air ceiling_membrane", "roof main, air none");
    assert_eq!(ends(&text), [("building", "nothing in the roof `main` is airtight".to_owned())]);
    let text = house("", "").replace("foundation slab_edge, air concrete", "foundation slab_edge");
    let found = said(&barrier(&text).undecided);
    assert_eq!(found, [("building", "what is airtight in the foundation `slab_edge`".to_owned())]);
}

#[test]
fn a_face_without_a_building_is_told_once() {
    let found = barrier(&wall("", ""));
    assert!(found.ends.is_empty());
    assert_eq!(found.undecided.len(), 1);
    assert_eq!(found.undecided[0].kind, "building");
    let text = house("", "").replace("faces north and south", "faces north");
    let found = barrier(&text);
    assert_eq!(said(&found.undecided), [("building", "the building of `south`: none names it".to_owned())]);
    assert_eq!(found.ends.len(), 2);
}
