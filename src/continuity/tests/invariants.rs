//! What must hold whatever is built: closing never drains, a screen never widens.

use super::{flow, wall};
use crate::continuity::BayFlow;
use crate::geometry::Point;
use crate::model::FaceId;
use crate::units::Length;

/// Traps by place, with their depth; the deepest depth for one that fills the bay.
fn traps(bays: &[BayFlow]) -> Vec<((FaceId, usize, Point), Length)> {
    let of = |bay: &BayFlow| {
        let key = (bay.id.face, bay.id.bay);
        bay.traps
            .iter()
            .map(move |trap| ((key.0, key.1, trap.at), trap.depth.unwrap_or(Length(i64::MAX))))
            .collect::<Vec<_>>()
    };
    bays.iter().flat_map(of).collect()
}

/// A wall with a step, a sloped base and two windows, each of its edges open or shut by a bit of `shut`.
fn stepped(shut: u32) -> String {
    let bit = |at: u32, open: &'static str, closed: &'static str| if shut >> at & 1 == 0 { open } else { closed };
    let base = |at| bit(at, "open_base", "closed_base");
    let head = |at| bit(at, "frame_edge", "shut_edge");
    format!(
        "detail shut_edge {{\n at window\n gap_end closed\n}}\nface north {{\n outline from (0, 0) {{\n base a to (500mm, 0), \
         detail {}\n step b to (500mm, 200mm), detail side\n base c to (1200mm, 150mm), detail {}\n right to (1200mm, 2400mm), \
         detail side\n top to (0, 2400mm), detail open_top\n left to start, detail side\n }}\n area all wall\n window pane frame \
         400mm x 300mm at (400mm, 900mm), detail {}\n window lid frame 300mm x 300mm at (0, 1500mm), detail {}\n}}\n",
        base(0),
        base(1),
        head(2),
        head(3),
    )
}

#[test]
fn closing_an_exit_never_removes_a_trap_nor_makes_one_shallower() {
    let found: Vec<_> = (0..16).map(|shut| traps(&flow(&stepped(shut)))).collect();
    assert!(found[0].is_empty(), "{:?}", found[0]);
    assert!(found[15].len() > found[1].len());
    for (few, before) in found.iter().enumerate() {
        for (more, after) in found.iter().enumerate().filter(|(more, _)| few & more == few) {
            for (place, depth) in before {
                let kept = after.iter().find(|(other, _)| other == place);
                assert!(
                    kept.is_some_and(|(_, deeper)| deeper >= depth),
                    "{few:04b} → {more:04b}: {place:?} {depth:?} {after:?}"
                );
            }
        }
    }
}

#[test]
fn a_screen_never_raises_an_area_and_age_never_does() {
    for slot in ["", " 3mm", " 10mm"] {
        for trim in [
            "",
            "trim foot pierced along base",
            "trim foot shut along base {\n holes vent 8mm, leg floor, between furring\n}",
        ] {
            let areas = |screen: &str| {
                let detail =
                    format!("detail foot_edge {{\n at base\n gap_end open{slot}{screen}\n gives exit and inlet\n}}\n");
                flow(&format!("{detail}{}", wall("base to (1200mm, 0), detail foot_edge", trim)))
            };
            let (open, screened) = (areas(""), areas(", screen mesh"));
            for (open, screened) in open.iter().zip(&screened) {
                let (open, screened) = (open.inlet_area().unwrap(), screened.inlet_area().unwrap());
                assert!(screened.new <= open.new && screened.aged <= screened.new && open.aged <= open.new);
                assert!(screened.aged > 0.0);
            }
        }
    }
}
