//! The kits of Heron Lane are its cut lists, each piece once; what is used by the metre and the box adds up to the take-off.

use std::collections::BTreeSet;

use super::*;
use crate::continuity::Phase;
use crate::layout::{folds, furring_map};
use crate::quantities::Amount;
use crate::session::heron_lane;

#[test]
fn kits_are_the_cut_lists_each_piece_once() {
    let checked = heron_lane();
    let (model, plan) = (&checked.model, &checked.plan);
    let order = Order::find(model, plan);
    let kits = Kits::find(model, plan, &order);
    let all: Vec<Source> =
        kits.list.iter().flat_map(|kit| &kit.pieces).chain(&kits.before).map(|piece| piece.source).collect();
    let unique: BTreeSet<Source> = all.iter().copied().collect();
    assert_eq!(all.len(), unique.len());
    let boards = checked.pieces().list.len();
    let trims = checked.trims().list.len();
    let strips: usize = (0..model.faces.len())
        .flat_map(|face| furring_map::of_face(model, plan, FaceId(face as u32)))
        .map(|strip| strip.spliced.len().max(1))
        .sum();
    let flashings = folds::find(model, plan).blanks.len();
    assert_eq!(all.len(), boards + trims + strips + flashings);
    // Boards and strips are never on the wall before the barrier is tested.
    assert!(kits.before.iter().all(|piece| matches!(piece.what, What::Trim | What::Flashing)));
    let named: BTreeSet<usize> = kits.list.iter().filter_map(|kit| kit.section).collect();
    assert_eq!(named.len(), model.sections.len());
}

#[test]
fn what_goes_up_by_the_box_adds_up_to_the_take_off() {
    let checked = heron_lane();
    let (model, plan) = (&checked.model, &checked.plan);
    let kits = Kits::find(model, plan, &Order::find(model, plan));
    let rows = crate::quantities::take_off(model, plan);
    let whole = |item: &str| rows.iter().filter(|row| row.item == item).filter_map(|row| row.net).map(Amount::si).sum();
    let goods = || kits.list.iter().flat_map(|kit| &kit.goods);
    let carried = |item: &str| goods().filter(|good| good.item == item).map(|good| good.amount.si()).sum::<f64>();
    // Screws that hold strips and boards only, all of them in sections.
    let of_areas = |item: &str| {
        let mut own = rows.iter().filter(|row| row.item == item);
        own.all(|row| matches!(row.what.as_str(), "for furring" | "for boards"))
    };
    let items: BTreeSet<&str> = goods().map(|good| good.item.as_str()).filter(|item| of_areas(item)).collect();
    assert!(!items.is_empty());
    for item in items {
        let whole: f64 = whole(item);
        assert_eq!(carried(item), whole, "{item}");
    }
}

#[test]
fn the_order_of_sections_keeps_every_tie_of_the_order_of_work() {
    let checked = heron_lane();
    let order = Order::find(&checked.model, &checked.plan);
    let kits = Kits::find(&checked.model, &checked.plan, &order);
    let place = |section: usize| kits.route.proposed.iter().position(|at| *at == section).unwrap();
    for (first, then) in tied(&order) {
        assert!(place(first) < place(then), "{first} {then}");
    }
    assert_eq!(kits.route.fewest, kits.route.bound);
    assert!(kits.route.fewest <= kits.route.as_written);
}

#[test]
fn shares_add_up_to_the_whole() {
    let whole =
        |amount: Amount, shares: &[i128]| -> f64 { goods::share_out(amount, shares).into_iter().map(Amount::si).sum() };
    assert_eq!(whole(Amount::Count(100), &[1, 1, 1]), 100.0);
    assert_eq!(whole(Amount::Count(2), &[1 << 90, 1 << 91, 0]), 2.0);
    assert_eq!(
        goods::share_out(Amount::Length(Length(10)), &[3, 3, 3]).iter().filter(|part| part.si() > 0.0).count(),
        3
    );
    assert!(goods::share_out(Amount::Count(5), &[0, 0]).is_empty());
}

/// Pairs of sections that the order of work ties to each other: first, then.
fn tied(order: &Order) -> Vec<(usize, usize)> {
    let lane = |id| {
        let task = order.task(id).filter(|task| task.phase == Phase::Sections)?;
        order.lanes.get(task.lane?)?.section
    };
    let mut found: Vec<(usize, usize)> = order
        .ties
        .iter()
        .filter_map(|tie| lane(tie.first).zip(lane(tie.then)))
        .filter(|(one, two)| one != two)
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}
