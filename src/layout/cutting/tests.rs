//! Every length adds up; the worked answers are in `tests/outside`.

use proptest::prelude::*;

use super::*;

fn order(stock: i64, wants: &[(i64, u64)], kerf: i64) -> Order {
    Order {
        wants: wants.iter().map(|&(length, count)| Want { length: Length::mm(length), count }).collect(),
        stocks: vec![Stock { length: Length::mm(stock), cost: 1, available: None }],
        kerf: Length::mm(kerf),
    }
}

/// Every length adds up, every piece is cut once, no stock is used that is not there.
fn adds_up(order: &Order, plan: &CutPlan) {
    let mut cut = vec![0u64; order.wants.len()];
    for bar in &plan.bars {
        let pieces: i64 = bar.pieces.iter().map(|&(at, count)| order.wants[at].length.0 * count as i64).sum();
        assert_eq!(pieces + bar.kerf.0 + bar.offcut.0, order.stocks[bar.stock].length.0);
        assert!(bar.offcut.0 >= 0 && bar.kerf.0 >= 0 && bar.count > 0);
        let cuts: u64 = bar.pieces.iter().map(|(_, count)| count).sum();
        // Between n pieces lie at least n − 1 whole cuts.
        assert!(bar.kerf.0 >= order.kerf.0 * (cuts as i64 - 1));
        bar.pieces.iter().for_each(|&(at, count)| cut[at] += count * bar.count);
    }
    plan.left.iter().for_each(|&(at, count)| cut[at] += count);
    let wanted: Vec<u64> = order.wants.iter().map(|want| want.count).collect();
    assert_eq!(cut, wanted);
    for (at, stock) in order.stocks.iter().enumerate() {
        assert!(stock.available.is_none_or(|most| plan.count_of(at) <= most));
    }
    assert!(plan.bound <= plan.cost);
}

#[test]
fn a_cut_takes_its_kerf() {
    // 30 × 1220 from 3660: three to a length without a kerf, two with one.
    for (kerf, lengths) in [(0, 10), (3, 15)] {
        let order = order(3660, &[(1220, 30)], kerf);
        let plan = plan(&order);
        adds_up(&order, &plan);
        assert_eq!((plan.count(), plan.proven), (lengths, true));
    }
}

#[test]
fn what_is_too_long_or_runs_out_is_left_and_said() {
    let mut order = order(3000, &[(3001, 2), (1500, 5)], 0);
    order.stocks[0].available = Some(2);
    let plan = plan(&order);
    adds_up(&order, &plan);
    assert_eq!(plan.left, vec![(0, 2), (1, 1)]);
    assert!(!plan.proven);
}

#[test]
fn offcuts_are_used_first_when_they_cost_less() {
    let mut order = order(3660, &[(1000, 4)], 3);
    order.stocks[0].cost = 3660;
    order.stocks.push(Stock { length: Length::mm(1010), cost: 1, available: Some(1) });
    let plan = plan(&order);
    adds_up(&order, &plan);
    assert_eq!((plan.count_of(0), plan.count_of(1), plan.proven), (1, 1, true));
}

#[test]
fn shares_of_a_stock_that_is_short_are_not_rounded_up_past_it() {
    let mut order = order(3037, &[(589, 3), (1037, 8), (813, 4)], 0);
    order.stocks[0].available = Some(2);
    order.stocks.push(Stock { length: Length::mm(1405), cost: 2, available: None });
    let plan = plan(&order);
    adds_up(&order, &plan);
    assert!(plan.left.is_empty());
}

#[test]
fn a_search_that_is_stopped_still_gives_a_whole_plan() {
    let wants: Vec<(i64, u64)> = (0..40).map(|at| (417 + at * 53, 3)).collect();
    let mut order = order(6000, &wants, 3);
    order.stocks[0].cost = 6_000;
    order.stocks.push(Stock { length: Length::mm(4_100), cost: 4_150, available: None });
    let mut asked = 0;
    let plan = plan_watched(&order, &mut |_, _| {
        asked += 1;
        Go::Stop
    });
    adds_up(&order, &plan);
    assert_eq!(asked, 1);
    assert!(plan.left.is_empty());
}

#[test]
fn nothing_is_cut_from_nothing() {
    assert_eq!(plan(&Order::default()), CutPlan { proven: true, ..CutPlan::default() });
    let none = Order { stocks: Vec::new(), ..order(1, &[(5, 1)], 0) };
    assert_eq!(plan(&none).left, vec![(0, 1)]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_plan_adds_up_and_is_repeated(
        wants in prop::collection::vec((1i64..6_000, 0u64..12), 0..14),
        stocks in prop::collection::vec((200i64..6_000, 1i64..90, prop::option::of(0u64..6)), 1..4),
        kerf in 0i64..6,
    ) {
        let order = Order {
            wants: wants.iter().map(|&(length, count)| Want { length: Length::mm(length), count }).collect(),
            stocks: stocks.iter().map(|&(length, cost, available)| Stock { length: Length::mm(length), cost, available }).collect(),
            kerf: Length::mm(kerf),
        };
        let one = plan(&order);
        adds_up(&order, &one);
        prop_assert_eq!(one, plan(&order));
    }
}
