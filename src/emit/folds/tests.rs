//! Cards hold what they should, stay on their sheets, and come out the same twice.

use super::*;
use crate::emit::Emitter;
use crate::session::heron_lane;

fn stays_inside(sheets: &[Sheet]) {
    for sheet in sheets {
        let area = sheet.area();
        for item in &sheet.items {
            let bounds = item.bounds().unwrap();
            assert!(
                bounds.x >= area.x - 0.5
                    && bounds.y >= area.y - 0.5
                    && bounds.right() <= area.right() + 0.5
                    && bounds.bottom() <= area.bottom() + 0.5,
                "{}: {bounds:?} in {area:?}",
                sheet.id
            );
        }
    }
}

#[test]
fn jig_cards_stay_on_their_sheets() {
    let checked = heron_lane();
    let found = crate::layout::jigs::find(&checked.model, &checked.plan, &checked.made);
    stays_inside(&jigs::sheets(&checked, &found));
    let outputs = Jigs.emit(&checked);
    assert_eq!(outputs, Jigs.emit(&checked));
    let csv = outputs.iter().find(|output| output.path == "jigs/angles.csv").unwrap();
    let text = String::from_utf8(csv.bytes.clone()).unwrap();
    assert!(text.contains("56.31") && text.contains("8.000") && text.contains("666.7"), "{text}");
}

#[test]
fn fold_sheets_stay_on_their_sheets_and_hold_every_piece() {
    let checked = heron_lane();
    let found = crate::layout::folds::find(&checked.model, &checked.plan);
    assert!(found.profiles.len() > 3 && found.blanks.len() > 20);
    stays_inside(&folding::sheets(&checked, &found));
    let marks: std::collections::BTreeSet<&str> = found.blanks.iter().map(|blank| blank.mark.as_str()).collect();
    assert_eq!(marks.len(), found.blanks.len());
    // Every blank is cut once from a coil, whole and no wider than it.
    for (_, places, plan) in &found.plans {
        assert!(plan.left.is_empty());
        let cut: u64 = plan.sheets.iter().map(|sheet| sheet.count * sheet.placed.len() as u64).sum();
        assert_eq!(cut, places.len() as u64);
    }
    let outputs = Folding.emit(&checked);
    assert_eq!(outputs, Folding.emit(&checked));
}

#[test]
fn the_cap_of_a_block_reaches_over_the_block() {
    let checked = heron_lane();
    let found = crate::layout::folds::find(&checked.model, &checked.plan);
    let cap = found.blanks.iter().find(|blank| blank.place.starts_with("west.services.")).unwrap();
    let profile = &found.profiles[cap.profile];
    // Insulation 50, gap 19, block 25, out 6: 100 level, at 15°; upstand 50, drip 12; 500 wide, 10 beyond and a dam of 25 at each side.
    let ledge = profile.legs[1].length.as_mm();
    assert!((ledge - 100.0 / 15.0_f64.to_radians().cos()).abs() < 0.01, "{ledge}");
    assert_eq!(cap.length, crate::units::Length::mm(570));
}

#[test]
fn the_card_of_gaps_stays_on_its_sheet() {
    let checked = heron_lane();
    let tables = gaps::tables(&checked);
    assert!(tables.iter().all(|table| table.rows.len() > 3));
    stays_inside(&gaps::sheets(&checked, &tables));
    assert_eq!(Gaps.emit(&checked), Gaps.emit(&checked));
}
