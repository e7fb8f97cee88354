//! Air that moves: the worked cases as walls, and what stands still.

use super::read;
use crate::continuity::{AirFlow, BayAir, Conditions, GapFlow};

const STILL: Conditions = Conditions { outside: 0.0, gap: 5.0, wind: 0.0, direction: None, assumed: false };

/// A wall 2600 high with a bay 368 wide at its left end, `depth` mm of gap, and slots of `base` and `top`.
fn case(depth: &str, base: &str, top: &str) -> String {
    format!(
        "product open_mesh screen {{\n    open 0.6 aged 0.4\n}}\nassembly case_wall {{\n    \
         layer boards materials.larch_wood 20mm, controls rain\n    gap cavity {depth} ventilated {{\n        \
         furring spruce {depth} x 64mm, marks (400mm, 800mm), vertical\n    }}\n    \
         layer membrane membranes.vapour_open, controls water and air\n    layer sheathing plywood 12.5mm\n    \
         frame studs spruce 38mm x 140mm, every 16in on centre, first 15-1/4in\n}}\n\
         detail case_base {{\n    at base\n    gap_end {base}\n    gives exit and inlet\n}}\n\
         detail case_top {{\n    at top\n    gap_end {top}\n    gives outlet\n}}\n\
         face north {{\n    looks 0deg\n    outline from (0, 0) {{\n        base to (1200mm, 0), detail case_base\n        \
         right to (1200mm, 2600mm), detail side\n        top to (0, 2600mm), detail case_top\n        \
         left to start, detail side\n    }}\n    area all case_wall\n}}\n"
    )
}

fn bays(text: &str, conditions: &Conditions) -> Vec<BayAir> {
    let (model, plan) = read(text);
    AirFlow::find(&model, &plan, &GapFlow::find(&model, &plan), conditions).bays
}

fn first(text: &str, conditions: &Conditions) -> BayAir {
    bays(text, conditions).swap_remove(0)
}

fn near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() <= 0.005 * wanted, "{what}: found {found}, wanted {wanted}");
}

/// The cases of `physics::airflow`, given for a metre of wall with furring 38 at 406: a bay 368 wide has 0.406 of that. A slot
/// of 11.033 mm × 368 mm is 0.406 of 0.010 m².
#[test]
fn worked_cases_come_out_of_walls() {
    let a = first(&case("19mm", "open 11.033mm", "open 11.033mm"), &Conditions::default());
    near(a.clean.unwrap().litres(), 3.863 * 0.406, "A");
    near(a.clean.unwrap().changes, 310.6, "A");
    assert_eq!(a.clean, a.aged);
    near(a.friction, 0.3374, "A");
    let losses = a.friction + a.openings.iter().map(|one| one.clean.loss).sum::<f64>();
    assert!((losses - 0.5926 - 0.2585).abs() < 0.001 * losses, "{losses}");
    let b = first(
        &case("19mm", "open 11.033mm, screen open_mesh", "open 11.033mm, screen open_mesh"),
        &Conditions::default(),
    );
    near(b.clean.unwrap().litres(), 3.430 * 0.406, "B");
    near(b.clean.unwrap().changes, 275.7, "B");
    assert!(b.aged.unwrap().flow < b.clean.unwrap().flow);
    let c = first(&case("10mm", "open 5.5163mm", "open 5.5163mm"), &STILL);
    near(c.clean.unwrap().litres(), 0.8305 * 0.406, "C");
    near(c.clean.unwrap().changes, 126.9, "C");
    // Furring of D leaves the whole width; half the coefficient is as good as half the square of the wind.
    let wind = Conditions { gap: 3.0, wind: 0.5f64.sqrt(), ..STILL };
    let d = first(&case("25mm", "open 1.0833mm", "open 1.0833mm"), &wind);
    near(d.clean.unwrap().litres(), 0.3584 * 0.368, "D");
    near(d.clean.unwrap().changes, 19.8, "D");
}

#[test]
fn the_smaller_opening_governs() {
    for (base, top, governs) in [("open 4mm", "open 12mm", 0), ("open 12mm", "open 4mm", 1)] {
        let bay = first(&case("19mm", base, top), &STILL);
        assert_eq!((bay.governs, bay.dead), (Some(governs), None));
        let flows: Vec<f64> = bay.openings.iter().map(|one| one.clean.flow).collect();
        assert!(flows[0] > 0.0 && (flows[0] + flows[1]).abs() < 1e-9 * flows[0], "{flows:?}");
    }
    // A gap colder than the air outside sinks.
    let cold = first(&case("19mm", "open", "open"), &Conditions { gap: -5.0, ..STILL });
    assert!(cold.openings[0].clean.flow < 0.0 && cold.dead.is_none());
}

#[test]
fn a_bay_shut_at_one_end_is_dead_and_says_why() {
    let dead = |base, top, conditions: &Conditions| {
        let bay = first(&case("19mm", base, top), conditions);
        assert!(bay.clean.unwrap().flow.abs() < 1e-12 && bay.governs.is_none(), "{bay:?}");
        bay.dead
    };
    let only = Some("only one opening: air has no second way");
    assert_eq!(dead("open", "closed", &Conditions::default()), only);
    assert_eq!(dead("closed", "open", &Conditions::default()), only);
    assert_eq!(dead("open", "open, joins none", &Conditions::default()), only);
    assert_eq!(dead("closed", "closed", &Conditions::default()), Some("no opening lets air in or out"));
    let even = Conditions { gap: 0.0, ..STILL };
    assert_eq!(dead("open", "open", &even), Some("nothing drives air through it"));
}

#[test]
fn what_cannot_be_told_is_named() {
    let blind = case("19mm", "open, screen blind_mesh", "open");
    for bay in bays(&blind, &Conditions::default()) {
        assert_eq!(bay.missing.as_deref(), Some("open share of the screen `blind_mesh`"));
        assert!(bay.clean.is_none() && bay.dead.is_none());
    }
}

#[test]
fn wind_counts_by_the_side_it_stands_on_where_the_head_joins_a_roof() {
    let text = case("19mm", "open 10mm", "open 10mm, joins roof");
    let from = |direction| {
        let conditions = Conditions { wind: 4.0, direction, ..STILL };
        first(&text, &conditions).openings[0].clean.flow
    };
    // The wall looks north.
    let (ahead, behind, none) = (from(Some(0.0)), from(Some(180.0)), from(None));
    assert!(ahead > none && none > behind, "{ahead} {none} {behind}");
    assert_eq!(from(Some(90.0)), from(Some(270.0)));
}

/// Strips across the wall that others hold off: three bays one above the other, one way through all of them.
#[test]
fn bays_joined_behind_strips_share_one_flow() {
    let text = case("38mm", "open 10mm", "open 10mm").replace(
        "furring spruce 38mm x 64mm, marks (400mm, 800mm), vertical",
        "furring spruce 19mm x 64mm, every 400mm, vertical, counter spruce 19mm x 64mm\n        \
         furring spruce 19mm x 64mm, marks (800mm, 1700mm), horizontal",
    );
    let bays = bays(&text, &STILL);
    assert_eq!(bays.len(), 3, "{bays:?}");
    let flow = bays[0].clean.unwrap().flow;
    assert!(flow > 0.0);
    for bay in &bays {
        assert!((bay.clean.unwrap().flow - flow).abs() < 1e-9 * flow && bay.dead.is_none(), "{bay:?}");
    }
    assert_eq!(bays[1].passes.len(), 2);
    let shut = text.replace("gap_end open 10mm\n    gives outlet", "gap_end closed\n    gives outlet");
    for bay in self::bays(&shut, &STILL) {
        assert_eq!(bay.dead, Some("only one opening: air has no second way"), "{bay:?}");
    }
}
