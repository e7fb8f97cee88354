//! The worked numbers of the trade's arithmetic, and a whole house counted once.

use super::arithmetic::*;
use super::{Amount, Group, take_off, totals};
use crate::session::heron_lane;
use crate::units::{Area, Length};

fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

#[test]
fn d12_courses_of_rolls() {
    assert_eq!(roll_courses(mm(2900), mm(1500), mm(100)), Some(2));
    assert_eq!(roll_courses(mm(5800), mm(1500), mm(150)), Some(5));
    // A 2.74 m roll takes three: 2.74 + 2 × 2.59 = 7.92 m.
    assert_eq!(roll_courses(mm(5800), mm(2740), mm(150)), Some(3));
    assert_eq!(roll_courses(mm(7920), mm(2740), mm(150)), Some(3));
    assert_eq!(roll_courses(mm(7921), mm(2740), mm(150)), Some(4));
    assert_eq!(roll_courses(mm(1000), mm(100), mm(100)), None);
    // n·w·(L + lap): 2 × 1.5 × (9.14 + 0.15).
    assert_eq!(roll_area(2, mm(1500), mm(9140), mm(150)), Area(27_870_000_000_000_000_000));
}

#[test]
fn d13_tapes() {
    // Half of a 7.32 m perimeter over 2.98 m² is 1.23 m of seam for each m².
    let seam = sheet_seam(mm(1220), mm(2440)).unwrap();
    assert!((seam - 1.23).abs() < 0.005, "{seam}");
    assert_eq!(opening_tape(mm(1200), mm(1220)), mm(1200 + 2 * 1220 + 1200 + 600));
    // π(110 + 50) + 100 = 602.65 mm.
    assert!((pipe_tape(mm(110)).as_mm() - 602.65).abs() < 0.01);
}

#[test]
fn d14_fasteners() {
    let each = |spacing, exposure| fasteners_per_area(mm(spacing), mm(exposure)).unwrap();
    assert!((each(400, 150) - 16.7).abs() < 0.05);
    assert!((each(300, 400) - 8.3).abs() < 0.05);
    // 9.14 × 5.5 m, exposure 0.15, furring 0.4064: 825 before corner zones.
    let count = fasteners_on(mm(9140) * mm(5500), Length::snap_mm(406.4), mm(150)).unwrap();
    assert_eq!(count, 825);
    assert_eq!(fasteners_per_area(mm(0), mm(150)), None);
}

#[test]
fn d11_girth_and_length_of_a_head_flashing() {
    // Gap 19, cladding 10, overhang 10: ledge 39; up 75, 6 %, drip 15, hem 10: 139.07.
    let girth = girth(mm(75), mm(39), 0.06, mm(15), mm(10));
    assert!((girth.as_mm() - 139.07).abs() < 0.005, "{girth:?}");
    assert_eq!(head_length(mm(1200), mm(89), mm(25)), mm(1448));
}

#[test]
fn a_whole_house_is_counted_once_and_adds_up() {
    let checked = heron_lane();
    let rows = take_off(&checked.model, &checked.plan);
    let sum = |what: &str| -> f64 {
        let rows = rows.iter().filter(|row| row.group == Group::Measure && row.what == what);
        rows.filter_map(|row| row.net).map(Amount::si).sum()
    };
    assert!((sum("gross area") - sum("openings") - sum("net area")).abs() < 1e-9);
    // Strips are counted as they are laid out, in their areas.
    let strips: f64 = checked
        .plan
        .faces
        .iter()
        .flat_map(|face| &face.areas)
        .flat_map(|area| &area.strips)
        .map(|strip| strip.axis.length().as_m())
        .sum();
    let furring: f64 = rows.iter().filter(|row| row.what == "furring").filter_map(|row| row.net).map(Amount::si).sum();
    assert!(strips > 100.0 && (strips - furring).abs() < 1e-6, "{strips} against {furring}");
    // A corner has one trim: eight corners, each counted on one of its two faces.
    let mut corners: Vec<&str> =
        rows.iter().filter(|row| row.item.starts_with("corners.")).map(|row| row.place.as_str()).collect();
    assert_eq!(corners.len(), 8, "{corners:?}");
    // The same row is never there twice.
    let count = corners.len();
    corners.sort_unstable();
    corners.dedup();
    assert_eq!(corners.len(), count);
    let mut keys: Vec<_> = rows.iter().map(|row| (&row.face, &row.place, &row.what, &row.item, row.group)).collect();
    keys.sort();
    let before = keys.len();
    keys.dedup();
    assert_eq!(keys.len(), before, "a row is there twice");
}

#[test]
fn totals_add_rows_of_one_thing_and_round_pieces_once() {
    let checked = heron_lane();
    let rows = take_off(&checked.model, &checked.plan);
    let totals = totals(&rows);
    assert!(totals.windows(2).all(|pair| pair[0].group <= pair[1].group));
    for total in &totals {
        let own = rows.iter().filter(|row| row.item == total.item && row.group == total.group);
        let net: f64 = own.filter_map(|row| row.net).filter(|net| net.unit() == total.net.unit()).map(Amount::si).sum();
        assert!((net - total.net.si()).abs() < 1e-6, "{}: {net} against {}", total.item, total.net.si());
        assert!(total.wanted.si() >= total.net.si() - 1e-9);
    }
}
