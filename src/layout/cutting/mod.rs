//! Cutting long stock: which pieces come from which length, with how few lengths, and whether fewer are possible.
//!
//! First good cuts by hand's rules (`fill`), then a bound that no plan can beat (`prices`), then, if the two do not
//! meet, cuts taken from the bound's own patterns (`dive`). What is found, the bound, and whether they meet are said.

mod dive;
mod fill;
mod knapsack;
mod prices;
#[cfg(test)]
mod tests;

use crate::units::Length;

/// Pieces of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Want {
    /// To the long point.
    pub length: Length,
    /// How many.
    pub count: u64,
}

/// A length that can be bought, or an offcut that lies there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Its length.
    pub length: Length,
    /// What one costs, in whole units of anything: pieces, nanometres, cents. Above zero.
    pub cost: i64,
    /// How many there are; no end if absent.
    pub available: Option<u64>,
}

/// What is to be cut, from what, with which saw.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Order {
    /// Pieces; plans name them by their place in this list.
    pub wants: Vec<Want>,
    /// Stock; plans name it by its place in this list.
    pub stocks: Vec<Stock>,
    /// Width of the cut.
    pub kerf: Length,
}

/// Equal lengths of stock, cut alike.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Bar {
    /// Place in [`Order::stocks`].
    pub stock: usize,
    /// Places in [`Order::wants`] and how many of each, longest first.
    pub pieces: Vec<(usize, u64)>,
    /// How many lengths are cut so.
    pub count: u64,
    /// What is left of one in one piece, after the last cut.
    pub offcut: Length,
    /// What the saw takes from one: `length = pieces + kerf + offcut`, exactly.
    pub kerf: Length,
}

/// A plan and how good it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutPlan {
    /// Longest stock first, fullest first.
    pub bars: Vec<Bar>,
    /// Pieces that no stock is long enough for, or for which stock ran out, with how many.
    pub left: Vec<(usize, u64)>,
    /// What the stock costs, in the units of [`Stock::cost`].
    pub cost: i64,
    /// No plan for the pieces that could be placed costs less.
    pub bound: i64,
    /// `cost` equals `bound`: nothing better exists.
    pub proven: bool,
}

impl CutPlan {
    /// How many lengths of one stock.
    pub fn count_of(&self, stock: usize) -> u64 {
        self.bars.iter().filter(|bar| bar.stock == stock).map(|bar| bar.count).sum()
    }

    /// How many lengths in all.
    pub fn count(&self) -> u64 {
        self.bars.iter().map(|bar| bar.count).sum()
    }
}

/// How far a long search has come: the best cost so far, and the bound so far. Asked between rounds.
pub type Watch<'w> = &'w mut dyn FnMut(i64, i64) -> Go;

/// Whether to go on searching.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// Search on.
    On,
    /// Stop with the best plan so far.
    Stop,
}

/// A cheap plan, without being watched.
pub fn plan(order: &Order) -> CutPlan {
    plan_watched(order, &mut |_, _| Go::On)
}

/// The cheapest plan found. The same order gives the same plan on every machine: rounds are counted, not timed.
///
/// Pieces of no length, and stock of no length or cost, are passed over.
pub fn plan_watched(order: &Order, watch: Watch<'_>) -> CutPlan {
    let job = Job::new(order);
    let mut best = fill::cheapest(&job);
    let mut bound = prices::Bound::start(&job);
    let short = job.left_by(&best).iter().any(|&count| count > 0);
    if !short && !job.wants.is_empty() {
        let stopped = bound.raise(&job, &mut best, watch) == Go::Stop;
        if !stopped && job.cost(&best) > bound.least {
            dive::improve(&job, &mut bound, &mut best, watch);
        }
    }
    job.finish(order, best, bound.least)
}

/// One way of cutting one stock: places in [`Job::wants`] with counts, ascending places (longest first).
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Pattern {
    stock: usize,
    counts: Vec<(usize, u64)>,
}

/// Patterns with how often each is cut.
type Cuts = Vec<(Pattern, u64)>;

/// The order with the kerf folded in: a piece takes its length and one cut, and a stock holds one cut more than its length.
#[derive(Debug, Default)]
struct Job {
    /// Width and count of each distinct width, widest first.
    wants: Vec<(i64, u64)>,
    /// Capacity, cost and supply, longest first.
    stocks: Vec<(i64, i64, Option<u64>)>,
    /// Places in the order of each of `wants`, with their counts.
    whence: Vec<Vec<(usize, u64)>>,
    /// Places in the order of `stocks`.
    stock_whence: Vec<usize>,
    /// All costs are multiples of this.
    step: i64,
}

impl Job {
    fn new(order: &Order) -> Self {
        let kerf = order.kerf.0.max(0);
        let mut stocks: Vec<(usize, Stock)> = order.stocks.iter().copied().enumerate().collect();
        stocks.retain(|(_, stock)| stock.length.0 > 0 && stock.cost > 0 && stock.available != Some(0));
        stocks.sort_by_key(|(at, stock)| (std::cmp::Reverse(stock.length), stock.cost, *at));
        let longest = stocks.first().map_or(0, |(_, stock)| stock.length.0);
        let mut widths: std::collections::BTreeMap<std::cmp::Reverse<i64>, Vec<(usize, u64)>> = Default::default();
        for (at, want) in order.wants.iter().enumerate() {
            if want.length.0 > 0 && want.length.0 <= longest && want.count > 0 {
                widths.entry(std::cmp::Reverse(want.length.0)).or_default().push((at, want.count));
            }
        }
        let wants = widths.iter().map(|(width, from)| (width.0 + kerf, from.iter().map(|(_, count)| count).sum()));
        Self {
            wants: wants.collect(),
            stocks: stocks.iter().map(|(_, stock)| (stock.length.0 + kerf, stock.cost, stock.available)).collect(),
            whence: widths.into_values().collect(),
            stock_whence: stocks.iter().map(|(at, _)| *at).collect(),
            step: stocks.iter().fold(0, |step, (_, stock)| gcd(step, stock.cost)).max(1),
        }
    }

    fn cost(&self, cuts: &Cuts) -> i64 {
        cuts.iter().map(|(pattern, times)| self.stocks[pattern.stock].1.saturating_mul(*times as i64)).sum()
    }

    /// What is not cut yet of each width.
    fn left_by(&self, cuts: &Cuts) -> Vec<u64> {
        let mut left: Vec<u64> = self.wants.iter().map(|(_, count)| *count).collect();
        for (pattern, times) in cuts {
            for (at, count) in &pattern.counts {
                left[*at] = left[*at].saturating_sub(count * times);
            }
        }
        left
    }

    /// A cost rounded up to what a whole number of lengths can cost.
    fn whole(&self, cost: f64) -> i64 {
        let step = self.step as f64;
        // Prices come from floating point; a millionth of a step is far above its noise and far below one length.
        ((cost / step - 1e-6).ceil() as i64).max(0).saturating_mul(self.step)
    }

    /// Gives widths back their pieces, those that come first in the order first.
    fn finish(&self, order: &Order, mut cuts: Cuts, bound: i64) -> CutPlan {
        cuts.sort();
        let mut whence = self.whence.clone();
        let mut bars: Vec<Bar> = Vec::new();
        for (pattern, times) in &cuts {
            for _ in 0..*times {
                let mut pieces: Vec<(usize, u64)> = Vec::new();
                for (at, count) in &pattern.counts {
                    for _ in 0..*count {
                        if let Some(piece) = take(&mut whence[*at]) {
                            match pieces.last_mut() {
                                Some(last) if last.0 == piece => last.1 += 1,
                                _ => pieces.push((piece, 1)),
                            }
                        }
                    }
                }
                if pieces.is_empty() {
                    continue;
                }
                match bars.last_mut() {
                    Some(last) if last.stock == self.stock_whence[pattern.stock] && last.pieces == pieces => {
                        last.count += 1
                    }
                    _ => bars.push(self.bar(order, pattern.stock, pieces)),
                }
            }
        }
        bars.sort_by_key(|bar| (std::cmp::Reverse(order.stocks[bar.stock].length), bar.stock, bar.offcut));
        let placed = |at: usize| -> u64 {
            let of = |bar: &Bar| {
                bar.pieces.iter().filter(|(piece, _)| *piece == at).map(|(_, count)| count * bar.count).sum::<u64>()
            };
            bars.iter().map(of).sum()
        };
        let left = order.wants.iter().enumerate().map(|(at, want)| (at, want.count.saturating_sub(placed(at))));
        let left: Vec<(usize, u64)> = left.filter(|(_, count)| *count > 0).collect();
        let cost = bars.iter().map(|bar| order.stocks[bar.stock].cost.saturating_mul(bar.count as i64)).sum();
        let ran_out = left.iter().any(|(at, _)| self.whence.iter().flatten().any(|(whence, _)| whence == at));
        // A bound above a plan that exists would be no bound, and would prove what is not so.
        debug_assert!(ran_out || bound <= cost, "bound {bound} above cost {cost}");
        let bound = if ran_out { 0 } else { bound.min(cost) };
        CutPlan { bars, left, cost, bound, proven: !ran_out && bound == cost }
    }

    fn bar(&self, order: &Order, stock: usize, pieces: Vec<(usize, u64)>) -> Bar {
        let stock = self.stock_whence[stock];
        let length = order.stocks[stock].length.0;
        let used: i64 = pieces.iter().map(|(at, count)| order.wants[*at].length.0 * *count as i64).sum();
        let cuts = pieces.iter().map(|(_, count)| *count as i64).sum::<i64>();
        // The last cut frees the offcut; with less than a kerf to spare the saw takes what is there.
        let kerf = (cuts * order.kerf.0.max(0)).min(length - used);
        Bar { stock, pieces, count: 1, offcut: Length(length - used - kerf), kerf: Length(kerf) }
    }
}

fn take(from: &mut Vec<(usize, u64)>) -> Option<usize> {
    let (piece, count) = from.first_mut()?;
    let piece = *piece;
    *count -= 1;
    if *count == 0 {
        from.remove(0);
    }
    Some(piece)
}

/// The greatest number of which both are multiples.
pub(super) fn gcd(one: i64, other: i64) -> i64 {
    if other == 0 { one } else { gcd(other, one % other) }
}
