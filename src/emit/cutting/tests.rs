//! The list and the boards hold the same pieces, and nothing leaves its sheet.

use super::*;
use crate::emit::drawing;
use crate::session::heron_lane;

#[test]
fn every_piece_of_the_wall_is_in_the_list_and_on_a_board() {
    let checked = heron_lane();
    let pieces = checked.pieces();
    let outputs = Cutting.emit(&checked);
    let csv: String = outputs
        .iter()
        .filter(|output| output.path.ends_with(".csv"))
        .map(|output| String::from_utf8(output.bytes.clone()).unwrap())
        .collect();
    for piece in &pieces.list {
        let written =
            csv.matches(&format!("{},", mark(piece))).count() + csv.matches(&format!("{} ", mark(piece))).count();
        // One that is too small to fix is listed, and cut from nothing.
        assert!(written >= if piece.too_small { 1 } else { 2 }, "{} is written {written} times", piece.mark);
    }
    assert_eq!(outputs, Cutting.emit(&checked));
}

#[test]
fn nothing_is_drawn_outside_its_sheet() {
    let checked = heron_lane();
    let plans = checked.cut_plans();
    for plan in &plans.products {
        for sheet in stock::sheets(&checked, &plans.parts, plan) {
            let area = sheet.area();
            for item in &sheet.items {
                let bounds = item.bounds().unwrap();
                if let crate::emit::drawing::Item::Text(text) = item {
                    assert!(text.size >= 5.0, "{:?}", text.content);
                }
                assert!(bounds.right() <= area.right() + 0.5 && bounds.bottom() <= area.bottom() + 0.5, "{bounds:?}");
            }
        }
    }
}

#[test]
fn a_list_without_a_wall_has_a_plan_that_uses_offcuts_first() {
    let text = "wythe 1\n\ncutlist angle {\n    stock 3660mm price 18.40\n    kerf 3mm\n    offcut 1400mm, count 2\n    \
                piece 1380mm {\n        count 5\n        mark \"A\"\n    }\n}\n";
    let world = crate::source::MapWorld::new().with("list.wythe", text);
    let checked = crate::session::check(&world, &["list.wythe".to_owned()], &crate::session::Settings::default());
    assert!(checked.problems.is_empty(), "{:?}", checked.problems);
    let (_, plan) = &lists::plans(&checked)[0];
    assert_eq!(plan.buy, vec![(crate::units::Length::mm(3660), 2)]);
    assert_eq!((plan.cost, plan.bound, plan.priced), (3680, 3680, true));
    let outputs = Cutting.emit(&checked);
    let csv = outputs.iter().find(|output| output.path == "cutting/cut_plan_list_angle.csv").unwrap();
    let csv = String::from_utf8(csv.bytes.clone()).unwrap();
    assert_eq!(csv.matches("A 1380").count(), 3, "{csv}");
    assert!(outputs.iter().any(|output| output.path == "cutting/cut-plan-1.svg"));
}

#[test]
fn holes_are_drawn_on_their_pieces_and_stay_on_their_sheets() {
    let checked = heron_lane();
    let pieces = checked.pieces();
    let sheets = bored::sheets(&checked, pieces);
    assert!(!sheets.is_empty());
    for sheet in &sheets {
        let area = sheet.area().grow(0.5);
        assert!(sheet.items.iter().filter_map(crate::emit::drawing::Item::bounds).all(|bounds| bounds.y >= area.y
            && bounds.bottom() <= area.bottom()
            && bounds.x >= area.x
            && bounds.right() <= area.right()));
    }
    let svg: String = sheets.iter().map(|sheet| sheet.to_svg()).collect();
    for piece in pieces.list.iter().filter(|piece| !piece.cutouts.is_empty() && !piece.too_small) {
        assert!(svg.contains(&format!(">{}<", mark(piece))), "{}", piece.mark);
    }
}

#[test]
fn a_sheet_shows_each_cut_and_each_mark_and_a_coil_goes_on_in_bands() {
    use crate::layout::nesting::{Order, Part, Sheet as Stock, nest};
    use crate::units::Length;
    let checked = heron_lane();
    let part =
        |length: i64, width: i64| Part { length: Length::mm(length), width: Length::mm(width), count: 1, turns: false };
    for (stock, parts) in [
        ((2440, 1220), vec![part(500, 405), part(300, 152), part(180, 405), part(900, 610)]),
        ((15_000, 610), (0..24).map(|more| part(1448 + more, 139)).collect()),
    ] {
        let sheets = vec![Stock { length: Length::mm(stock.0), width: Length::mm(stock.1), cost: 1, available: None }];
        let order = Order { parts, sheets, kerf: Length::mm(3), trim: Length::ZERO };
        let plan = nest(&order);
        let layouts = sheet::layouts(&order, &plan, |at| format!("M{at}"));
        let heading =
            board::Heading { id: "test".to_owned(), title: "Sheet".to_owned(), words: &[], keep: Length::mm(300) };
        let drawn = sheet::sheets(&checked, &heading, &layouts);
        let text: String = drawn.iter().map(Sheet::to_svg).collect();
        for at in 0..order.parts.len() {
            assert!(text.matches(&format!(">M{at}")).count() >= 2, "M{at} is drawn and listed");
        }
        let rings = drawn.iter().flat_map(|sheet| sheet.all_items()).map(|item| rings(&item)).sum::<usize>();
        let cuts: usize = layouts.iter().map(|layout| layout.cuts.len()).sum();
        assert!(rings >= cuts && cuts > 0, "{rings} of {cuts}");
        for sheet in &drawn {
            let area = sheet.area();
            let inside = |item: &drawing::Item| {
                let bounds = item.bounds().unwrap();
                bounds.right() <= area.right() + 0.5 && bounds.bottom() <= area.bottom() + 0.5
            };
            assert!(sheet.items.iter().all(inside), "{}", sheet.id);
        }
    }
}

/// Numbers of cuts in a drawing.
fn rings(item: &drawing::Item) -> usize {
    match item {
        drawing::Item::Group(group) if group.class == "cut" => 1,
        drawing::Item::Group(group) => group.items.iter().map(rings).sum(),
        _ => 0,
    }
}
