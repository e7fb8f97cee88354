//! The gable of the trade, and a whole house of which nothing is missing or double.

use super::*;
use crate::session::{Checked, Settings, check, heron_lane};
use crate::source::MapWorld;

fn wall(text: &str) -> Checked {
    check(&MapWorld::new().with("wall.wythe", text), &["wall.wythe".to_owned()], &Settings::default())
}

const GABLE: &str = "wythe 1
use std.boards
product plain board { size 10mm x 150mm, stock 20m, lap 0mm, joint_gap 0mm }
assembly bare { layer boards plain 10mm, controls rain, exposure 150mm..150mm }
face gable {
    measured to cladding
    outline from (0, 0) {
        base to (8530mm, 0)
        rake to (4265mm, 2487.9mm)
        rake to start
    }
    area all bare
}
";

#[test]
fn a_gable_of_7_in_12_has_the_courses_of_the_trade() {
    // Practice: gable 8.53 m wide, 7 in 12, exposure 150: 17 courses, bottom edges 8530, 8016, 7501, 6987 … 301;
    // sum 75.1 m. Each end is 257.1 shorter; the saw stands at 59.74° from square.
    let checked = wall(GABLE);
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    assert_eq!(pieces.list.len(), 17, "{:?}", pieces.missing);
    let bottom = |piece: &Piece| {
        let [(from, to)] = piece.seen.x_intervals_at(piece.seen.bounds().bottom)[..] else { panic!() };
        (to - from).as_mm()
    };
    for (at, edge) in [(0, 8530.0), (1, 8016.0), (2, 7501.0), (3, 6987.0), (15, 816.0), (16, 301.0)] {
        assert!((bottom(&pieces.list[at]) - edge).abs() < 1.0, "{at}: {}", bottom(&pieces.list[at]));
    }
    let sum: f64 = pieces.list.iter().map(bottom).sum();
    assert!((sum / 1000.0 - 75.1).abs() < 0.05, "{sum}");
    let [left, right] = pieces.list[3].ends;
    assert!((left.from_square - 59.74).abs() < 0.01 && (right.from_square + 59.74).abs() < 0.01, "{left:?} {right:?}");
    assert_eq!((pieces.list[3].hand, pieces.list[3].mark.as_str()), (None, "G4-1"));
}

#[test]
fn pieces_and_gaps_fill_the_field() {
    let checked = heron_lane();
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    assert!(pieces.missing.is_empty(), "{:?}", pieces.missing);
    for (face, stands_on) in checked.model.faces.iter().enumerate() {
        let id = FaceId(face as u32);
        for area in 0..stands_on.areas.len() {
            let cutting = Cutting::of(&checked.model, &checked.plan, id, area, 20.0).unwrap().unwrap();
            let own: Vec<&Piece> = pieces.list.iter().filter(|piece| piece.face == id && piece.area == area).collect();
            let seen: Region = own.iter().map(|piece| piece.seen.clone()).collect();
            // No piece lies on another: the union is as large as the sum.
            let sum: i128 = own.iter().map(|piece| piece.seen.doubled_area()).sum();
            assert_eq!(seen.doubled_area(), sum);
            assert!(cutting.field.region.covers(&seen));
            // What is not covered is joints, growth and splinters: under 1.5 % of the field.
            let (covered, field) = (seen.doubled_area() as f64, cutting.field.region.doubled_area() as f64);
            assert!(covered / field > 0.985, "{} {area}: {}", stands_on.name, covered / field);
        }
    }
    let marks: std::collections::BTreeSet<&str> = pieces.list.iter().map(|piece| piece.mark.as_str()).collect();
    assert_eq!(marks.len(), pieces.list.len(), "no two pieces share a mark");
}

#[test]
fn no_piece_is_longer_than_its_stock_and_joints_lie_on_strips() {
    let checked = heron_lane();
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    let longest =
        |piece: &Piece| checked.model.product(piece.product.unwrap()).unwrap().stock.iter().copied().max().unwrap();
    for pair in pieces.list.windows(2) {
        let (one, two) = (&pair[0], &pair[1]);
        assert!(one.length <= longest(one), "{} {:?}", one.mark, one.length);
        let gap = two.seen.bounds().left - one.seen.bounds().right;
        if (one.face, one.area, one.course) != (two.face, two.area, two.course) || gap > Length::mm(20) || gap.0 <= 0 {
            continue;
        }
        let middle = one.seen.bounds().right + Length(gap.0 / 2);
        let strips = joints::supports(&checked.plan.faces[one.face.0 as usize], one.area);
        assert!(strips.iter().any(|strip| (strip.x - middle).abs() <= Length::mm(2)), "{} | {}", one.mark, two.mark);
    }
}

#[test]
fn a_hotter_day_leaves_smaller_gaps() {
    let checked = heron_lane();
    let total =
        |surface| -> i64 { cut(&checked.model, &checked.plan, surface).list.iter().map(|piece| piece.length.0).sum() };
    assert!(total(35.0) > total(-10.0));
}
