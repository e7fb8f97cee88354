//! Folds against the worked numbers of the trade.

use super::legs::*;
use super::*;
use crate::physics::movement;

fn head() -> Vec<Leg> {
    let theta = libm::atan(0.06).to_degrees();
    vec![
        Leg { what: "upstand", length: Length::mm(75), turn: 0.0 },
        Leg { what: "ledge", length: sloping(Length::mm(39), 0.06), turn: 90.0 - theta },
        Leg { what: "drip", length: Length::mm(15), turn: theta - 90.0 },
        Leg { what: "hem", length: Length::mm(10), turn: -180.0 },
    ]
}

#[test]
fn a_head_flashing_by_hand() {
    // Gap 19, cladding 10, overhang 10: ledge 39 at 6 % is 39.07, girth 139.07; 610 gives 4 with 54 left, 5 need 695.
    let total: Length = head().iter().map(|leg| leg.length).sum();
    assert_eq!(total, girth(Length::mm(75), Length::mm(39), 0.06, Length::mm(15), Length::mm(10)));
    assert!((total.as_mm() - 139.07).abs() < 0.005);
    let (count, left) = strips(Length::mm(610), total).unwrap();
    assert_eq!((count, left.as_mm().round()), (4, 54.0));
    assert_eq!((total.as_mm() * 5.0).round(), 695.0);
    assert!((39.0_f64 * 0.06 - 2.3).abs() < 0.05);
    assert_eq!(head_length(Length::mm(1200), Length::mm(89), Length::mm(25)), Length::mm(1448));
}

#[test]
fn bends_are_counted_from_the_upper_edge_with_their_side() {
    let found = bends(&head());
    let at: Vec<f64> = found.iter().map(|bend| (bend.at.as_mm() * 100.0).round() / 100.0).collect();
    assert_eq!(at, [75.0, 114.07, 129.07]);
    assert!(found[0].turn > 86.0 && found[1].turn < -86.0 && found[2].turn == -180.0);
    // Down the wall, out over the ledge, down the drip: turned by nothing in all before the hem.
    assert!((found[0].turn + found[1].turn).abs() < 1e-9);
}

#[test]
fn a_thin_bend_takes_up_half_a_millimetre_to_one() {
    // Coil of 0.6 at 90°: 2(0.6 + 0.6) − (π/2)(0.6 + 0.44 × 0.6) = 2.4 − 1.357 = 1.04; practice says ½ to 1 mm for each.
    let legs = [
        Leg { what: "upstand", length: Length::mm(75), turn: 0.0 },
        Leg { what: "ledge", length: Length::mm(39), turn: 90.0 },
    ];
    let taken = taken_by_bends(&legs, Length::snap_mm(0.6), 0.44).as_mm();
    assert!((taken - 1.043).abs() < 0.001, "{taken}");
    // The first leg is not bent, and hems are left out.
    assert_eq!(taken_by_bends(&legs[..1], Length::snap_mm(0.6), 0.44), Length::ZERO);
    assert!(taken_by_bends(&head(), Length::snap_mm(0.6), 0.44).as_mm() < 2.1);
}

#[test]
fn long_runs_are_lapped_in_equal_pieces() {
    let of = |length| splices(Length::mm(length), Length::mm(3050), Length::mm(100));
    assert_eq!(of(3050), (1, Length::mm(3050)));
    assert_eq!(of(3051).0, 2);
    // Two of 3050 with one lap cover 6000; a millimetre more takes three.
    assert_eq!(of(6000), (2, Length::mm(3050)));
    assert_eq!(of(6001).0, 3);
    for length in [3051, 6001, 7200, 9144] {
        let (count, each) = of(length);
        assert!(each <= Length::mm(3050));
        assert!((each * count - Length::mm(100) * (count - 1) - Length::mm(length)).abs() < Length(10));
    }
    assert_eq!(strips(Length::mm(610), Length::ZERO), None);
}

#[test]
fn a_frame_that_shrinks_takes_a_fifth_of_the_slope() {
    // 349 mm of wood from 19 to 8 %: 7.7 mm over a ledge of 39: 20 % of slope, so at least 26 % to start with.
    let drop = movement::frame_shrinkage(0.349, 0.19, 0.08, 0.002);
    assert!((drop * 1000.0 - 7.7).abs() < 0.05);
    assert!((movement::frame_shrinkage(0.349, 0.12, 0.08, 0.002) * 1000.0 - 2.8).abs() < 0.05);
    assert!((drop / 0.039 - 0.20).abs() < 0.005);
    assert!((movement::slope_to_start_with(0.06, 0.039, drop).unwrap() - 0.26).abs() < 0.005);
}

#[test]
fn step_flashings_are_counted_by_the_courses_of_the_roof() {
    // The garden roof of the demo house: 4800 along, 1200 up (3 in 12): √(4800² + 1200²) = 4947.7; courses of 143: 34.6, so 35 pieces,
    // each a course and 75 of head lap (218); legs of 100: 200 wide. A coil of 610 gives 3 widths with 10 left.
    let checked = crate::session::heron_lane();
    let found = find(&checked.model, &checked.plan);
    let at = found.profiles.iter().position(|profile| profile.called == "step flashing").unwrap();
    let profile = &found.profiles[at];
    let steps: Vec<&Blank> = found.blanks.iter().filter(|blank| blank.profile == at).collect();
    assert_eq!((steps.len(), steps[0].length, profile.girth), (35, Length::mm(218), Length::mm(200)));
    assert_eq!(profile.strips, Some((3, Length::mm(10))));
    // One kick-out at its low end, though roof, point and stretch all name one: 120 high, 100 on the roof.
    let kick_outs: Vec<&Profile> = found.profiles.iter().filter(|profile| profile.called == "kick out").collect();
    let of: Vec<&Blank> =
        found.blanks.iter().filter(|blank| found.profiles[blank.profile].called == "kick out").collect();
    assert_eq!((kick_outs.len(), of.len(), kick_outs[0].girth), (1, 1, Length::mm(220)));
}

#[test]
fn without_courses_of_the_roof_steps_cannot_be_told() {
    let shop = Shop { model: &crate::session::heron_lane().model };
    assert!(shop.steps(None, Length::mm(4948)).unwrap_err().contains("`course`"));
    assert_eq!(shop.steps(Some(Length::mm(143)), Length::mm(143 * 4)), Ok((4, Length::mm(218))));
    assert_eq!(shop.steps(Some(Length::mm(143)), Length::mm(143 * 4 + 1)), Ok((5, Length::mm(218))));
}

#[test]
fn what_is_bought_with_its_shape_is_not_folded() {
    let checked = crate::session::heron_lane();
    for profile in &find(&checked.model, &checked.plan).profiles {
        let product = checked.model.product(profile.product).unwrap();
        assert!(product.stock.is_empty(), "{} is sold in lengths", product.name);
        assert_eq!(product.kind, "flashing");
    }
}

#[test]
fn a_parapet_has_its_coping_its_saddle_and_two_gussets() {
    let world = crate::source::MapWorld::new()
        .with("kit.wythe", include_str!("../../../tests/cases/kit.wythe"))
        .with("wall.wythe", include_str!("../../../tests/cases/details/c12_parapet.clear.wythe"));
    let files = ["wall.wythe".to_owned(), "kit.wythe".to_owned()];
    let checked = crate::session::check(&world, &files, &crate::session::Settings::default());
    let found = find(&checked.model, &checked.plan);
    let called: Vec<&str> = found.profiles.iter().map(|profile| profile.called.as_str()).collect();
    assert_eq!(called, ["flashing", "coping", "saddle", "gusset of the saddle"], "{:?}", found.missing);
    // 20 + 19 + 50 + 12.5 + 140 = 241.5 and 10 off each face: 261.5 level, 261.97 at 6 %; hems 10, legs 75 over the cladding.
    let coping: Vec<f64> =
        found.profiles[1].legs.iter().map(|leg| (leg.length.as_mm() * 100.0).round() / 100.0).collect();
    assert_eq!(coping, [10.0, 75.0, 261.97, 75.0, 10.0]);
    // Round once: up the roof side, over, down the wall: 180° − the hems.
    let turned: f64 = found.profiles[1].legs[2..4].iter().map(|leg| leg.turn).sum();
    assert!((turned + 180.0).abs() < 1e-9, "{turned}");
    assert_eq!(found.blanks.len(), 5);
    // What lies on the side of the roof covers roofing that nobody declared.
    assert!(found.missing.iter().any(|(place, fact)| place.contains("counter_flashing") && fact.contains("`width`")));
}
