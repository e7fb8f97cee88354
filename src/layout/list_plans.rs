//! Plans for lists to cut that come from no wall: offcuts that lie there first, then new stock.

use std::collections::BTreeMap;

use super::cut_plans::{keep, kerf, priced_stocks};
use super::cutting::{self, Bar, CutPlan, Order, Stock, Want, Watch, gcd};
use crate::model::{CutList, Model};
use crate::units::Length;

/// How one list is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct ListPlan {
    /// What was asked: the pieces of the list, new stock, then its offcuts.
    pub order: Order,
    /// Where new stock ends and offcuts begin in `order.stocks`.
    pub new_stocks: usize,
    /// Cuts, and pieces that nothing was found for.
    pub plan: CutPlan,
    /// New lengths to buy, longest first: length and count.
    pub buy: Vec<(Length, u64)>,
    /// What they cost: millimetres of stock, or cents where every length has a price.
    pub cost: i64,
    /// No way of cutting the pieces needs new stock for less.
    pub bound: i64,
    /// Costs are prices.
    pub priced: bool,
    /// What is left and worth keeping, longest first.
    pub offcuts: Vec<Length>,
    /// Least length of those.
    pub keep: Length,
}

/// The plan of one list.
pub fn of_list(model: &Model, list: &CutList, watch: Watch<'_>) -> ListPlan {
    let keep = list.keep.unwrap_or_else(|| keep(model));
    let (mut stocks, priced) = priced_stocks(&list.stocks);
    let new_stocks = stocks.len();
    // An offcut costs next to nothing: it is used where it saves anything at all.
    let old = list.offcuts.iter();
    stocks.extend(old.map(|offcut| Stock { length: offcut.length, cost: 1, available: Some(offcut.count) }));
    let wants = list.pieces.iter().map(|piece| Want { length: piece.length, count: piece.count }).collect();
    let order = Order { wants, stocks, kerf: list.kerf.unwrap_or_else(|| kerf(model)) };
    let plan = cutting::plan_watched(&order, watch);
    let mut buy: BTreeMap<Length, u64> = BTreeMap::new();
    let mut cost = 0_i64;
    for bar in plan.bars.iter().filter(|bar| bar.stock < new_stocks) {
        *buy.entry(order.stocks[bar.stock].length).or_default() += bar.count;
        cost = cost.saturating_add(order.stocks[bar.stock].cost.saturating_mul(bar.count as i64));
    }
    let used: i64 = plan.bars.iter().filter(|bar| bar.stock >= new_stocks).map(|bar| bar.count as i64).sum();
    let held: i64 = list.offcuts.iter().map(|offcut| offcut.count as i64).sum();
    // New stock costs whole steps: what offcuts add to the bound is taken off, and the rest rounded up to such a step.
    let step = order.stocks[..new_stocks].iter().fold(0, |step, stock| gcd(step, stock.cost)).max(1);
    let least = if plan.proven { plan.bound - used } else { (plan.bound - held).max(0) };
    let bound = least.saturating_add(step - 1).div_euclid(step).saturating_mul(step).min(cost);
    let offcuts = left(&plan.bars, keep);
    ListPlan { buy: buy.into_iter().rev().collect(), cost, bound, priced, offcuts, keep, order, new_stocks, plan }
}

fn left(bars: &[Bar], keep: Length) -> Vec<Length> {
    let kept = bars.iter().filter(|bar| bar.offcut >= keep);
    let mut left: Vec<Length> = kept.flat_map(|bar| std::iter::repeat_n(bar.offcut, bar.count as usize)).collect();
    left.sort_unstable_by(|one, two| two.cmp(one));
    left
}
