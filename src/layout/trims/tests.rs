//! Worked numbers of the trade (common practice, no source), and what must hold of every length of the example house.

use super::*;
use crate::geometry::Point;
use crate::layout::gaps::gap;
use crate::session::heron_lane;

fn mm(tenths: i64) -> Length {
    Length(tenths * 100_000)
}

#[test]
fn holes_keep_clear_of_mitres() {
    // d = 5 (c = 15), 45°: y = 12 → 33.2; 20 → 41.2; 32 → 53.2.
    let found = [12, 20, 32].map(|y| from_mitre(Length::mm(y), 45.0, Length::mm(5)).scale(1, 100_000).0);
    assert_eq!(found, [332, 412, 532]);
    // Small holes keep 12 mm; a square end asks for that alone.
    assert_eq!(from_mitre(Length::mm(30), 0.0, Length::mm(3)), Length::mm(12));
}

#[test]
fn gaps_of_the_day() {
    // Aluminium 3050: at −10 °C to 65: 5.4 + 1.5 = 7; at 25 °C: 2.9 + 1.5 = 4.4. PVC 3660 without the 1.5: 75 K 17, 40 K 9.2.
    // All upwards to half a millimetre: 6.9, 4.4, 17.02 and 9.1.
    let aluminium = |set: f64| gap(Length(1_500_000), 23.6e-6, Length::mm(3050), set, 65.0);
    assert_eq!((aluminium(-10.0), aluminium(25.0)), (mm(70), mm(45)));
    let pvc = |set: f64| gap(Length::ZERO, 62e-6, Length::mm(3660), set, 65.0);
    assert_eq!((pvc(-10.0), pvc(25.0)), (mm(175), mm(95)));
    // Contraction of 3050 of aluminium from 25 to −40 is 4.7; a slot for a 4.5 screw then 4.5 + 4.7 + 2.
    assert_eq!(slot(mm(45), 23.6e-6, Length::mm(3050), 65.0), mm(112));
}

#[test]
fn lengths_are_split_on_supports_and_fill_the_line() {
    let strips: Vec<Length> = (0..30).map(|k| Length(406_400_000) * k).collect();
    // L = k·s + 2e: with a lap of 100 each length starts 50 before a strip and is 7 × 406.4 + 100 = 2944.8 of 3048.
    let found =
        split(Length(9_144_000_000), Some(Length::mm(3048)), Join::Lap(Length::mm(100)), [Length::ZERO; 2], &strips);
    assert_eq!(found[1], (Length(406_400_000) * 7 - Length::mm(50), Length(2_944_800_000)));
    assert!(found.iter().all(|&(_, length)| length <= Length::mm(3048)));
    for pair in found.windows(2) {
        assert_eq!(pair[0].0 + pair[0].1 - pair[1].0, Length::mm(100));
    }
    let last = found.last().unwrap();
    assert_eq!(last.0 + last.1, Length(9_144_000_000));
    // Without supports the last two are alike where the rest would be short.
    let found =
        split(Length::mm(6200), Some(Length::mm(3000)), Join::Gap(Length::mm(6)), [Length::mm(5), Length::mm(5)], &[]);
    assert_eq!(found.len(), 3);
    assert_eq!((found[1].1 - found[2].1).abs(), Length::ZERO);
    assert_eq!(found[2].0 + found[2].1, Length::mm(6195));
    // Nonsense stays finite.
    assert_eq!(
        split(Length::mm(900), Some(Length::mm(30)), Join::Lap(Length::mm(40)), [Length::ZERO; 2], &[]).len(),
        1
    );
}

#[test]
fn holes_in_laps_are_drilled_together_and_weeps_stay_out_of_them() {
    let places: Vec<Place> = [40, 500, 960].map(|at| Length::mm(at).into()).to_vec();
    let clear = Clear { ends: [Length::mm(20); 2], laps: [Length::ZERO, Length::mm(50)] };
    let (fix, none) = on_piece(&Rule::Places(places.clone()), Length::ZERO, Length::mm(1000), clear, true);
    assert_eq!(fix.iter().map(|mark| mark.paired).collect::<Vec<_>>(), [false, false, true]);
    assert!(none.is_empty());
    let (weeps, left) = on_piece(&Rule::Places(places), Length::ZERO, Length::mm(1000), clear, false);
    assert_eq!((weeps.len(), left), (2, vec![(Length::mm(960), "in the lap")]));
    // L = 3048, e = 50, s = 400: a = 368.5, nine marks, the last at 2998.
    let clear = Clear { ends: [Length::mm(50); 2], laps: [Length::ZERO; 2] };
    let (marks, _) = on_piece(&Rule::BothEnds(Length::mm(400)), Length::mm(77), Length::mm(3048), clear, true);
    assert_eq!((marks.len(), marks[1].at, marks[8].at), (9, mm(4185), Length::mm(2998)));
}

fn casing(kind: &'static str, mitred: bool) -> [Length; 2] {
    let shape = Shape { kind: "trim", mitred, ..Shape::default() };
    reach(kind, shape, (Length::mm(89), Length::mm(6))).0
}

#[test]
fn heads_lie_over_jambs() {
    // 1200 × 1220, r = 6, c = 89: head 1390 long; jambs 1226 square, 1315 to the long point mitred; 6 off under each.
    assert_eq!(Length::mm(1200) + casing("head", false).into_iter().sum(), Length::mm(1390));
    assert_eq!(Length::mm(1220) + casing("jamb", false).into_iter().sum(), Length::mm(1226) - UNDER_JAMB);
    assert_eq!(Length::mm(1220) + casing("jamb", true).into_iter().sum(), Length::mm(1315) - UNDER_JAMB);
}

#[test]
fn every_length_of_the_house() {
    let checked = heron_lane();
    let trims = cut(&checked.model, &checked.plan, 10.0);
    assert!(trims.list.len() > 40, "{}", trims.list.len());
    let mut marks: Vec<&str> = trims.list.iter().map(|piece| piece.mark.as_str()).collect();
    marks.sort_unstable();
    marks.dedup();
    assert_eq!(marks.len(), trims.list.len());
    for piece in &trims.list {
        let stock =
            piece.product.and_then(|id| checked.model.product(id)).and_then(|product| product.stock.iter().max());
        assert!(piece.length > Length::ZERO && stock.is_none_or(|&stock| piece.length <= stock), "{piece:?}");
        for row in &piece.rows {
            assert!(row.marks.windows(2).all(|pair| pair[0].at < pair[1].at), "{piece:?}");
            assert!(row.marks.iter().all(|mark| mark.at >= Length::ZERO && mark.at <= piece.length), "{piece:?}");
        }
    }
    // No end hangs free for long without a word of it on the sheet; at the corner the strip carries it, past the plumb cut.
    for piece in &trims.list {
        let free = piece.free_ends().unwrap_or_default();
        for (end, free) in piece.ends.iter().zip(free) {
            assert!(free <= Length::mm(100) || end.bare && end.goes_to.ends_with("put a block there"), "{piece:?}");
        }
    }
    let rake: Vec<_> = trims.list.iter().filter(|piece| piece.mark == "NR1").collect();
    assert!(rake.len() == 1 && !rake[0].ends[0].bare && rake[0].ends[1].bare, "{rake:?}");
    // The channel of the north wall slopes, so it is in lengths with laps, fixed once, weeping between strips.
    let channel: Vec<_> = trims.list.iter().filter(|piece| piece.name.ends_with(".base_channel")).collect();
    assert!(channel.len() > 1 && channel.iter().all(|piece| piece.role == Role::Base && piece.rows.len() == 2));
    assert_eq!(channel.iter().filter(|piece| piece.low_end.is_some()).count(), 1);
    let wall: Length = channel.iter().map(|piece| piece.length).sum();
    let laps = Length::mm(50) * (channel.len() as i64 - 1);
    assert_eq!(wall - laps + Length::mm(12), channel[0].line.length());
    assert_eq!(trims, cut(&checked.model, &checked.plan, 10.0));
}

#[test]
fn one_template_serves_what_is_alike_up_to_a_shift() {
    let piece = |length: i64, start: i64, marks: &[i64]| TrimPiece {
        mark: String::new(),
        role: Role::Base,
        face: FaceId(0),
        product: None,
        item: String::new(),
        name: String::new(),
        run: String::new(),
        line: Segment::new(Point::mm(0, 0), Point::mm(9000, 0)),
        start: Length::mm(start),
        length: Length::mm(length),
        ends: [0, 1].map(|_| TrimEnd { cut: Cut::Square, goes_to: String::new(), bare: false }),
        hand: None,
        place: (1, 1),
        laps: [Length::ZERO; 2],
        basis: String::new(),
        rows: vec![PieceRow {
            purpose: "fix",
            size: Length::mm(5),
            slot: None,
            leg: None,
            rule: String::new(),
            marks: marks
                .iter()
                .map(|&at| Mark { at: Length::mm(at), paired: false, slot: None, fixed: false })
                .collect(),
            left_out: Vec::new(),
            lacks: None,
        }],
        fixed: None,
        low_end: None,
    };
    let list = [piece(1000, 0, &[100, 500, 900]), piece(600, 0, &[50, 450]), piece(600, 0, &[60, 400])];
    let found = templates(&list);
    assert_eq!(found.len(), 2);
    assert_eq!(found[0].serves, [(0, Length::ZERO), (1, Length::mm(50))]);
}

#[test]
fn a_strip_near_the_end_carries_a_hole_at_the_end_distance() {
    // A strip of 64 at the end, its middle at 32: 50 from the end it still has 14 beside the screw. One of 38 does not reach.
    let places = |half: i64| {
        Rule::Places([32, 406, 968].map(|at| Place { at: Length::mm(at), half: Length::mm(half) }).to_vec())
    };
    let clear = Clear { ends: [Length::mm(50); 2], laps: [Length::ZERO; 2] };
    let on = |half: i64, clear: Clear| {
        let (marks, left) = on_piece(&places(half), Length::ZERO, Length::mm(1000), clear, true);
        (marks.iter().map(|mark| mark.at.scale(1, 1_000_000).0).collect::<Vec<_>>(), left.len())
    };
    assert_eq!(on(32, clear), (vec![50, 406, 950], 0));
    assert_eq!(on(19, clear), (vec![406], 2));
    // In a lap two lengths share the hole, so it stays in the middle of the strip.
    let lapped = Clear { laps: [Length::ZERO, Length::mm(64)], ..clear };
    assert_eq!(on(32, lapped), (vec![50, 406], 1));
}

/// A gable of 7 in 12 between a bay that turns by 45° and a wall of which nobody said how it looks.
const BAY: &str = "wythe 1

use std.trims

face front {
    measured to sheathing
    looks 0deg
    outline from (0, 0) {
        base to (4800mm, 0), keep 200mm
        right to (4800mm, 2700mm), meets side
        rake to (2400mm, 4100mm)
        top to (1200mm, 4100mm)
        rake to (0, 2700mm)
        left to start, meets other
    }
    trim foot trims.larch_casing along base {
        on cladding
        mitred
    }
    trim falling trims.larch_casing along rake.1 {
        on cladding
        mitred
    }
    trim level trims.larch_casing along top {
        on cladding
        mitred
    }
}

face side {
    measured to sheathing
    looks 45deg
    outline from (0, 0) {
        base to (3000mm, 0), keep 200mm
        right to (3000mm, 2700mm)
        top to (0, 2700mm)
        left to start, meets front
    }
}

face other {
    measured to sheathing
    outline from (0, 0) {
        base to (3000mm, 0), keep 200mm
        right to (3000mm, 2700mm), meets front
        top to (0, 2700mm)
        left to start
    }
}
";

#[test]
fn mitres_follow_the_ways_walls_look_and_edges_turn() {
    let world = crate::source::MapWorld::new().with("bay.wythe", BAY);
    let checked = crate::session::check(&world, &["bay.wythe".to_owned()], &crate::session::Settings::default());
    let made = cut(&checked.model, &checked.plan, CUT_FOR);
    let pieces = |name: &str| -> Vec<&TrimPiece> { made.list.iter().filter(|piece| piece.name == name).collect() };
    let (foot, falling, level) = (pieces("front.foot"), pieces("front.falling"), pieces("front.level"));
    // A corner of 135° is bevelled at 22.5°; where `looks` is missing a square corner is assumed, and said.
    let right = &foot.last().unwrap().ends[1];
    assert!(matches!(right.cut, Cut::Bevel(angle) if (angle - 22.5).abs() < 1e-9), "{right:?}");
    let left = &foot[0].ends[0];
    assert!(matches!(left.cut, Cut::Bevel(angle) if (angle - 45.0).abs() < 1e-9), "{left:?}");
    assert!(left.goes_to.contains("taken for granted") && !right.goes_to.contains("taken for granted"));
    // A rake of 7 in 12 meets the level board at half its pitch, 15.13°, and dies plumb against the corner.
    let half = |end: &TrimEnd| matches!(end.cut, Cut::Mitre(angle) if (angle - 15.13).abs() < 0.01);
    assert!(half(&falling[0].ends[0]), "{falling:?}");
    assert!(matches!(falling.last().unwrap().ends[1].cut, Cut::Plumb(angle) if (angle - 30.26).abs() < 0.01));
    assert!(level.len() == 1 && half(&level[0].ends[1]), "{level:?}");
    // Their settings are on cards, each with the pieces that use it.
    let jigs = crate::layout::jigs::find(&checked.model, &checked.plan, &checked.made);
    let angles: Vec<f64> = jigs
        .iter()
        .filter(|jig| jig.what > crate::layout::jigs::What::Edge)
        .map(|jig| (jig.from_square * 100.0).round() / 100.0)
        .collect();
    assert!(angles.contains(&22.5) && angles.contains(&45.0), "{angles:?}");
}
