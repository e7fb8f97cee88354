//! Cut plans against published optima, and against optima that `cutting_milp.py` works out in whole numbers.

use serde_json::Value;
use wythe::layout::cutting::{CutPlan, Order, Stock, Want, plan};
use wythe::units::Length;

/// The order of a case: `kerf`, `stocks` as length and cost, `wants` as length and count; lengths in millimetres.
pub fn order(case: &Value) -> Order {
    let pairs = |key: &str| -> Vec<(i64, i64)> {
        let list = case[key].as_array().unwrap_or_else(|| panic!("no `{key}` in {case}"));
        list.iter().map(|pair| (pair[0].as_i64().unwrap(), pair[1].as_i64().unwrap())).collect()
    };
    let stock = |(length, cost)| Stock { length: Length::mm(length), cost, available: None };
    let want = |(length, count)| Want { length: Length::mm(length), count: u64::try_from(count).unwrap() };
    Order {
        wants: pairs("wants").into_iter().map(want).collect(),
        stocks: pairs("stocks").into_iter().map(stock).collect(),
        kerf: Length::mm(case["kerf"].as_i64().unwrap()),
    }
}

/// What the random orders show.
pub struct Solved {
    /// Orders.
    pub cases: usize,
    /// Those whose plan costs the optimum.
    pub best: usize,
    /// Those of them whose bound says so.
    pub proven: usize,
    /// Those whose bound lies above the optimum, or whose plan costs less: mistakes.
    pub wrong: Vec<String>,
    /// Those that cost more than the optimum by more than one of the longest length.
    pub far: Vec<String>,
}

/// Every random order, planned.
pub fn solved(data: &Value) -> Solved {
    let mut solved = Solved { cases: 0, best: 0, proven: 0, wrong: Vec::new(), far: Vec::new() };
    for case in data["cases"].as_array().unwrap() {
        let order = order(case);
        let optimum = case["optimum"].as_i64().unwrap();
        let CutPlan { cost, bound, proven, left, .. } = plan(&order);
        solved.cases += 1;
        solved.best += usize::from(cost == optimum);
        solved.proven += usize::from(proven);
        let told = || format!("{case}: cost {cost}, bound {bound}, proven {proven}, left {left:?}");
        if bound > optimum || optimum > cost || !left.is_empty() {
            solved.wrong.push(told());
        }
        let longest = order.stocks.iter().max_by_key(|stock| stock.length).unwrap();
        if cost > optimum + longest.cost {
            solved.far.push(told());
        }
    }
    solved
}

#[test]
fn random_orders_lie_between_our_bound_and_our_cost() {
    let found = solved(&super::read("cutting_milp.json"));
    assert_eq!(found.cases, 80);
    assert!(found.wrong.is_empty(), "{}", found.wrong.join("\n"));
    assert!(found.far.is_empty(), "{}", found.far.join("\n"));
    assert!(found.best * 100 >= found.cases * 95, "{} of {} are the best there are", found.best, found.cases);
}
