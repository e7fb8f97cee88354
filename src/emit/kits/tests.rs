//! The sheets of Heron Lane: every piece one row, every section one card, nothing outside its sheet.

use super::*;
use crate::session::heron_lane;

#[test]
fn every_piece_is_one_row_of_one_sheet() {
    let checked = heron_lane();
    let outputs = KitSheets.emit(&checked);
    let order = Order::find(&checked.model, &checked.plan);
    let kits = Kits::find(&checked.model, &checked.plan, &order);
    for (number, kit) in kits.list.iter().enumerate() {
        let table = tables::pieces(&checked, kit, number);
        assert_eq!(table.rows.len(), kit.pieces.len());
        for end in ["csv", "pdf"] {
            let path = format!("kits/{}.{end}", file_name(&checked, kit));
            assert_eq!(outputs.iter().filter(|output| output.path == path).count(), 1, "{path}");
        }
        // What is fixed first lies on top: it is the last row of its load.
        let first = kit.pieces.first().map(|piece| piece.mark.clone());
        let last = table.rows.iter().rev().find(|row| kit.load.loads == 1 || row[1] == 1u64.into());
        let mark = last.map(|row| row[usize::from(kit.load.loads > 1) + 1].clone());
        assert_eq!(mark, first.map(Into::into));
    }
    assert_eq!(outputs, KitSheets.emit(&checked));
}

#[test]
fn nothing_is_drawn_outside_its_card() {
    let checked = heron_lane();
    let order = Order::find(&checked.model, &checked.plan);
    let kits = Kits::find(&checked.model, &checked.plan, &order);
    for (number, kit) in kits.list.iter().enumerate() {
        let sheet = card::sheet(&checked, &order, &kits, kit, number);
        let area = sheet.area();
        for item in &sheet.items {
            let bounds = item.bounds().unwrap();
            assert!(bounds.x >= area.x - 1.0 && bounds.right() <= area.right() + 1.0, "{}: {bounds:?}", sheet.id);
            assert!(bounds.bottom() <= area.bottom() + 1.0, "{}: {bounds:?} {area:?}", sheet.id);
        }
    }
}

#[test]
fn the_summary_compares_the_leads_order_with_the_fewest_moves() {
    let checked = heron_lane();
    let order = Order::find(&checked.model, &checked.plan);
    let kits = Kits::find(&checked.model, &checked.plan, &order);
    assert!(kits.route.is_leads && kits.route.wrong.is_empty());
    let table = summary::table(&checked, &kits);
    let words = format!("yours {} moves, fewest {} (proven)", kits.route.moves, kits.route.fewest);
    assert!(table.notes[0].contains(&words), "{}", table.notes[0]);
    assert_eq!(table.rows.len(), kits.list.len());
    assert!(table.notes.iter().any(|note| note.contains("the rose bed stays")));
}
