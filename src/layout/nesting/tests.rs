//! Every plan can be cut, cut by cut, and nothing is lost.

use proptest::prelude::*;

use super::*;

/// Makes every cut in its order: each cuts a piece that is there, and in the end lie the parts and the offcuts.
fn can_be_cut(order: &Order, plan: &NestPlan) {
    let mut cut = vec![0u64; order.parts.len()];
    for sheet in &plan.sheets {
        let (whole, trim) = (order.sheets[sheet.sheet], order.trim);
        let inside = |side: Length| side - Length(2 * trim.0);
        let first = Piece { x: trim, y: trim, length: inside(whole.length), width: inside(whole.width) };
        let mut pieces = vec![first];
        for cut in &sheet.cuts {
            let at = pieces.iter().position(|piece| *piece == cut.piece).expect("the piece is there");
            let piece = pieces.remove(at);
            let (near, far) = if cut.along {
                let rest = piece.width - cut.keep - order.kerf;
                (Piece { width: cut.keep, ..piece }, Piece { y: piece.y + cut.keep + order.kerf, width: rest, ..piece })
            } else {
                let rest = piece.length - cut.keep - order.kerf;
                (
                    Piece { length: cut.keep, ..piece },
                    Piece { x: piece.x + cut.keep + order.kerf, length: rest, ..piece },
                )
            };
            pieces.push(near);
            pieces.extend(Some(far).filter(|piece| piece.length.0 > 0 && piece.width.0 > 0));
        }
        for placed in &sheet.placed {
            let part = order.parts[placed.part];
            let (length, width) = if placed.turned { (part.width, part.length) } else { (part.length, part.width) };
            assert_eq!((placed.piece.length, placed.piece.width), (length, width));
            assert!(part.turns || !placed.turned);
            let at = pieces.iter().position(|piece| *piece == placed.piece).expect("the part is cut loose");
            pieces.remove(at);
            cut[placed.part] += sheet.count;
        }
        let mut offcuts = sheet.offcuts.clone();
        offcuts.sort();
        pieces.sort();
        assert_eq!(offcuts, pieces);
    }
    plan.left.iter().for_each(|&(at, count)| cut[at] += count);
    let real = |part: &Part| if part.length.0 > 0 && part.width.0 > 0 { part.count } else { 0 };
    assert_eq!(cut, order.parts.iter().map(real).collect::<Vec<_>>());
    assert!(plan.bound <= plan.cost);
}

fn sheet(length: i64, width: i64) -> Sheet {
    Sheet { length: Length::mm(length), width: Length::mm(width), cost: 1, available: None }
}

fn part(length: i64, width: i64, count: u64, turns: bool) -> Part {
    Part { length: Length::mm(length), width: Length::mm(width), count, turns }
}

#[test]
fn parts_that_follow_the_grain_are_not_turned() {
    let order =
        |turns| Order { parts: vec![part(400, 1200, 1, turns)], sheets: vec![sheet(1220, 610)], ..Order::default() };
    assert_eq!(nest(&order(false)).left, vec![(0, 1)]);
    assert_eq!(nest(&order(true)).count(), 1);
}

#[test]
fn the_kerf_and_the_trimmed_edge_are_taken_off() {
    let order = |kerf, trim| Order {
        parts: vec![part(600, 600, 8, false)],
        sheets: vec![sheet(2400, 1200)],
        kerf: Length::mm(kerf),
        trim: Length::mm(trim),
    };
    for (kerf, trim, sheets) in [(0, 0, 1), (4, 0, 3), (0, 1, 3)] {
        let order = order(kerf, trim);
        let plan = nest(&order);
        can_be_cut(&order, &plan);
        assert_eq!(plan.count(), sheets, "kerf {kerf} trim {trim}");
    }
}

#[test]
fn two_hundred_parts_need_at_most_one_sheet_more_than_their_area() {
    let mut seed = 5u64;
    let mut random = |below: i64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as i64 % below
    };
    for _ in 0..3 {
        let parts = (0..200).map(|at| part(100 + random(900), 80 + random(500), 1, at % 3 != 0)).collect();
        let order = Order { parts, sheets: vec![sheet(2440, 1220)], kerf: Length::mm(4), trim: Length::ZERO };
        let plan = nest(&order);
        can_be_cut(&order, &plan);
        assert!(plan.cost <= plan.bound + 1, "{} sheets, area needs {}", plan.cost, plan.bound);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_plan_can_be_cut(
        parts in prop::collection::vec((1i64..1500, 1i64..1500, 0u64..4, any::<bool>()), 0..12),
        sheets in prop::collection::vec((100i64..2500, 100i64..1300, 1i64..9, prop::option::of(0u64..4)), 1..3),
        kerf in 0i64..6,
        trim in 0i64..15,
    ) {
        let order = Order {
            parts: parts.iter().map(|&(length, width, count, turns)| part(length, width, count, turns)).collect(),
            sheets: sheets
                .iter()
                .map(|&(length, width, cost, available)| Sheet { cost, available, ..sheet(length, width) })
                .collect(),
            kerf: Length::mm(kerf),
            trim: Length::mm(trim),
        };
        let plan = nest(&order);
        can_be_cut(&order, &plan);
        for (at, sheet) in order.sheets.iter().enumerate() {
            let used: u64 = plan.sheets.iter().filter(|plan| plan.sheet == at).map(|plan| plan.count).sum();
            prop_assert!(sheet.available.is_none_or(|most| used <= most));
        }
    }
}
