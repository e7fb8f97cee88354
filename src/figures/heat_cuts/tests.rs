//! Cuts written as text: psi by hand and where it counts, and what must hold of any cut.

use proptest::prelude::*;

use super::{COUPLING, CutFigures, FACTOR, PSI};
use crate::figures::{Found, Value, heat};
use crate::session::{Checked, Settings, check};
use crate::source::MapWorld;
use crate::units::Range;

fn checked(text: &str) -> Checked {
    let checked = check(&MapWorld::new().with("wall.wythe", text), &["wall.wythe".to_owned()], &Settings::default());
    assert!(checked.problems.is_empty(), "{:#?}\n{text}", checked.problems);
    checked
}

/// A wall of 190 mm of wool behind an open gap, 4 m by 2.5 m, U 1/5.01; its corners have psi 0.1, its foot none.
const WALL: &str = "material soft {
    kind fibre
    conductivity 0.04W/(m.K)
}
material skin {
    kind fibre_cement
    conductivity 0.4W/(m.K)
}
detail foot {
    at base
    gives inlet
    gap_end open 10mm
}
detail side {
    at corner
    gap_end closed
    psi 0.1W/(m.K)
}
detail head {
    at top
    gap_end closed
    psi 0W/(m.K)
}
assembly wall {
    layer skin skin 8mm, controls rain
    gap cavity 20mm ventilated
    layer wool soft 190mm, controls heat
}
face north {
    measured to sheathing
    outline from (0, 0) {
        base to (4000mm, 0), detail foot
        right to (4000mm, 2500mm), detail side
        top to (0, 2500mm), detail head
        left to start, detail side
    }
    area all wall
}
";

/// Half a metre of that wall.
const PLANE: &str = "heat_cut plane {
    region from (0mm, 0mm) to (190mm, 500mm) of soft
    inside from (190mm, 0mm) to (190mm, 500mm)
    outside from (0mm, 0mm) to (0mm, 500mm), temperature -5degC, resistance 0.13m2.K/W
    flank 500mm along wall
    measured to sheathing
    detail foot
}
";

fn with(wall: &str, cut: &str) -> Checked {
    checked(&format!("wythe 1\n\n{wall}{cut}"))
}

fn found(cut: &CutFigures) -> &Found {
    &cut.studies[0].found
}

/// Psi of the foot from the only cut.
fn psi_of_foot(checked: &Checked) -> Option<Range> {
    let figures = &found(&checked.figures().cuts[0]).figures;
    let told = figures.iter().find(|figure| figure.what.key == PSI.key && figure.of == "foot")?;
    if let Value::Number(range) = told.value { Some(range) } else { None }
}

fn face(checked: &Checked) -> &Found {
    checked.figures().faces[0].study("heat").unwrap()
}

fn near(range: Option<Range>, low: f64, high: f64) {
    let range = range.unwrap();
    assert!((range.low - low).abs() < 1e-9 && (range.high - high).abs() < 1e-9, "{range:?} {low} {high}");
}

/// Worked by hand: 0.5 m of a wall of U 1/5.01 less 0.5 m of it is nothing, less 0.3 m of it is 0.2/5.01 along 4 m of base.
#[test]
fn psi_is_what_goes_beyond_the_flanks_and_counts_where_the_detail_says_none() {
    let plain = with(WALL, PLANE);
    near(psi_of_foot(&plain), 0.0, 0.0);
    near(face(&plain).number(heat::EDGE_LOSS.key), 0.5, 0.5);
    let short = with(WALL, &PLANE.replace("flank 500mm", "flank 300mm"));
    let psi = 0.2 / 5.01;
    near(psi_of_foot(&short), psi, psi);
    near(face(&short).number(heat::EDGE_LOSS.key), 4.0 * psi + 0.5, 4.0 * psi + 0.5);
    let told = face(&short).figures.iter().find(|figure| figure.what.key == heat::EDGE_PSI.key && figure.of == "foot");
    assert!(told.is_some_and(|told| told.doubt == "heat cut plane"), "{told:#?}");
    // The detail's own stands before it.
    let own = WALL.replace("gap_end open 10mm", "gap_end open 10mm\n    psi 0.05W/(m.K)");
    near(face(&with(&own, &PLANE.replace("flank 500mm", "flank 300mm"))).number(heat::EDGE_LOSS.key), 0.7, 0.7);
}

/// Worked by hand: the flank of a wall of 180 to 200 mm of wool loses 0.5/4.76 to 0.5/5.26, the cut of 190 mm 0.5/5.01.
#[test]
fn a_range_of_the_wall_comes_through() {
    let wall = WALL.replace("soft 190mm", "soft 180mm..200mm");
    let text = format!("wythe 1\n\n{wall}{PLANE}");
    let checked = check(&MapWorld::new().with("wall.wythe", &text), &["wall.wythe".to_owned()], &Settings::default());
    let (cut, low, high) = (0.5 / 5.01, 0.5 / 5.26, 0.5 / 4.76);
    near(psi_of_foot(&checked), cut - high, cut - low);
}

#[test]
fn what_psi_of_an_edge_lacks_is_named() {
    let lacks = |wall: &str, cut: &str| {
        let checked = with(wall, cut);
        face(&checked).missing(heat::EDGE_LOSS.key).unwrap().fact.clone()
    };
    assert!(lacks(WALL, "").contains("psi of `foot` (`psi`)"));
    assert!(lacks(WALL, &PLANE.replace("    measured to sheathing\n", "")).contains("the flanks of `plane`"));
    assert!(lacks(WALL, &PLANE.replace("to sheathing", "to frame")).contains("`plane` is measured to frame"));
    assert!(lacks(WALL, &PLANE.replace("    flank 500mm along wall\n", "")).contains("`flank`"));
    let cold = PLANE.replace("temperature -5degC, ", "");
    assert!(lacks(WALL, &cold).contains("outside temperature"));
    let garage = "    space from (0mm, 0mm) to (190mm, 0mm), temperature 5degC\n    flank";
    assert!(lacks(WALL, &PLANE.replace("    flank", garage)).contains("a `space` has a third"));
}

/// Lengths in sixteenths of an inch.
type Cut = (Vec<([i64; 4], f64)>, Vec<(&'static str, [i64; 4])>, i64);

fn in_mm(sixteenths: i64) -> String {
    // 1/16 in is 1.5875 mm.
    let tenths = sixteenths * 15875;
    format!("{}.{:04}mm", tenths / 10_000, tenths % 10_000)
}

fn in_inches(sixteenths: i64) -> String {
    format!("{}.{:04}in", sixteenths / 16, sixteenths % 16 * 625)
}

fn text((regions, airs, flank): &Cut, length: fn(i64) -> String) -> String {
    let place = |[left, low, right, high]: [i64; 4]| {
        format!("from ({}, {}) to ({}, {})", length(left), length(low), length(right), length(high))
    };
    let mut text = "wythe 1\n\nheat_cut corner {\n".to_owned();
    for (at, conductivity) in regions {
        text += &format!("    region {} conductivity {conductivity}W/(m.K)\n", place(*at));
    }
    for (side, at) in airs {
        let temperature = if *side == "inside" { "20degC" } else { "-10degC" };
        text += &format!("    {side} {}, temperature {temperature}\n", place(*at));
    }
    text + &format!("    flank {0} of 0.2W/(m2.K)\n    flank {0} of 0.2W/(m2.K)\n}}\n", length(*flank))
}

const SIZE: i64 = 256;

/// An outer corner with wool outside, wool between studs, a stud beside the corner and a board.
fn corner(wool: i64, studs: i64, stud: i64, conductivities: [f64; 4]) -> Cut {
    let [outer, inner, wood, board] = conductivities;
    let (frame, room) = (wool + studs, wool + studs + 8);
    let regions = vec![
        ([0, 0, SIZE, SIZE], outer),
        ([wool, wool, SIZE, SIZE], inner),
        ([wool + stud, wool, wool + stud + 24, frame], wood),
        ([frame, frame, SIZE, SIZE], board),
    ];
    let airs = vec![("inside", [room, room, SIZE, SIZE]), ("outside", [0, 0, SIZE, 0]), ("outside", [0, 0, 0, SIZE])];
    (regions, airs, SIZE - wool)
}

/// The same seen from above and from below: x and y change places, or x runs the other way.
fn turned((regions, airs, flank): &Cut, turn: fn([i64; 4]) -> [i64; 4]) -> Cut {
    let regions = regions.iter().map(|(at, conductivity)| (turn(*at), *conductivity)).collect();
    (regions, airs.iter().map(|(side, at)| (*side, turn(*at))).collect(), *flank)
}

fn swapped([left, low, right, high]: [i64; 4]) -> [i64; 4] {
    [low, left, high, right]
}

fn flipped([left, low, right, high]: [i64; 4]) -> [i64; 4] {
    [SIZE - right, low, SIZE - left, high]
}

fn numbers(cut: &Cut) -> [f64; 3] {
    let checked = checked(&text(cut, in_mm));
    let told = found(&checked.figures().cuts[0]);
    [&COUPLING, &PSI, &FACTOR].map(|what| told.number(what.key).unwrap().low)
}

fn any_corner() -> impl Strategy<Value = Cut> {
    let stuffs = (25..60_i64, 30..60_i64, 80..200_i64, 150..400_i64);
    let of = |thousandths: i64| thousandths as f64 / 1000.0;
    (16..64_i64, 40..96_i64, 0..60_i64, stuffs)
        .prop_map(move |(wool, studs, stud, (a, b, c, d))| corner(wool, studs, stud, [of(a), of(b), of(c), of(d)]))
}

proptest! {
    // Few: each is solved several times, and finely.
    #![proptest_config(ProptestConfig { cases: 2, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_the_room_gives_goes_out(cut in any_corner()) {
        let checked = checked(&text(&cut, in_mm));
        let solved = checked.figures().cuts[0].solved.as_ref().unwrap();
        for settled in [&solved.flow, &solved.cold] {
            prop_assert!(settled.settled && settled.field.imbalance() < 1e-6, "{}", settled.field.imbalance());
        }
        prop_assert!((solved.given - solved.flow.field.through()).abs() < 1e-6 * solved.given);
    }

    #[test]
    fn a_mirrored_cut_comes_to_the_same(cut in any_corner()) {
        let plain = numbers(&cut);
        for turn in [swapped as fn([i64; 4]) -> [i64; 4], flipped] {
            for (one, other) in plain.iter().zip(numbers(&turned(&cut, turn))) {
                prop_assert!((one - other).abs() < 1e-6, "{plain:?} {other}");
            }
        }
    }

    #[test]
    fn a_rough_sum_judges_as_the_full_one(cut in any_corner(), wanted in 0.5..1.0_f64) {
        let checked = checked(&text(&cut, in_mm));
        let full = found(&checked.figures().cuts[0]).number(FACTOR.key).unwrap().low;
        let asked = super::coldest_factor(&checked.model, &checked.model.heat_cuts[0], wanted).unwrap();
        prop_assert_eq!(asked >= wanted, full >= wanted, "{} {} {}", asked, full, wanted);
    }

    #[test]
    fn the_same_in_inches_gives_the_same_bytes(cut in any_corner()) {
        let told = |length: fn(i64) -> String| crate::emit::figures::json(&checked(&text(&cut, length)));
        prop_assert_eq!(told(in_mm), told(in_inches));
    }

    /// Wool 10 mm and more thicker, outboard of the same frame and room: what is asked is more than what a finer grid moves.
    #[test]
    fn more_wool_never_passes_more(wool in 0..64_i64, more in 7..64_i64, share in 1..12_i64) {
        let plane = |wool: i64| -> Cut {
            let (frame, room) = (wool + 88, wool + 96);
            let regions = vec![
                ([0, 0, room, 256], 0.3),
                ([0, 0, frame, 256], 0.04),
                ([wool, 0, frame, 16 * share], 0.13),
            ];
            (regions, vec![("inside", [room, 0, room, 256]), ("outside", [0, 0, 0, 256])], 128)
        };
        let (thin, thick) = (numbers(&plane(wool)), numbers(&plane(wool + more)));
        prop_assert!(thick[0] < thin[0] && thick[1] < thin[1] && thick[2] > thin[2], "{thin:?} {thick:?}");
    }
}
