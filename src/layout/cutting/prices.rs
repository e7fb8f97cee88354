//! A bound that no plan can beat: prices of pieces at which no cut of a length is worth more than the length costs.
//!
//! The linear program of cutting stock (Gilmore and Gomory, 1961) is solved from its dual side: one variable a width (its
//! price), one row a pattern, and rows are added while some cut is worth more than it costs. Any prices give a bound once
//! they are scaled until no cut is (Farley, 1990), so a search that is stopped early is still honest.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use super::knapsack::{Item, most_valuable};
use super::{Cuts, Go, Job, Pattern, Watch, fill};

/// The most rounds of pricing.
const MOST_ROUNDS: usize = 4_000;
/// A cut must be worth this much more than it costs to count.
const NOISE: f64 = 1e-9;

/// The bound and the patterns that made it.
pub struct Bound {
    /// No plan costs less.
    pub least: i64,
    /// Patterns that were priced, in the order found.
    pub pool: Vec<Pattern>,
    /// What each piece is worth at the last prices.
    pub prices: Vec<f64>,
}

impl Bound {
    /// From lengths alone: what the pieces take, at the price of the cheapest stock by length.
    pub fn start(job: &Job) -> Self {
        let cheapest =
            job.stocks.iter().map(|(room, cost, _)| *cost as f64 / *room as f64).fold(f64::INFINITY, f64::min);
        let need: f64 = job.wants.iter().map(|(width, count)| *width as f64 * *count as f64).sum();
        let least = if need > 0.0 && cheapest.is_finite() { job.whole(need * cheapest) } else { 0 };
        Self { least, pool: Vec::new(), prices: Vec::new() }
    }

    /// Raises the bound as far as it goes, or until it meets the best plan.
    pub fn raise(&mut self, job: &Job, best: &mut Cuts, watch: Watch<'_>) -> Go {
        if self.least >= job.cost(best) {
            return Go::On;
        }
        self.pool.extend(best.iter().map(|(pattern, _)| pattern.clone()));
        self.pool.extend(fill::first_fit(job).into_iter().map(|(pattern, _)| pattern));
        self.pool.extend(singles(job));
        self.pool.sort();
        self.pool.dedup();
        let left: Vec<u64> = job.wants.iter().map(|(_, count)| *count).collect();
        let Some(mut dual) = Dual::new(job, &left, &self.pool) else { return Go::On };
        for _ in 0..MOST_ROUNDS {
            let found = dual.round(job, &left);
            self.least = self.least.max(job.whole(found.bound));
            self.prices = found.prices;
            let done = found.patterns.is_empty() || self.least >= job.cost(best);
            if done || !dual.add(job, &found.patterns) {
                break;
            }
            self.pool.extend(found.patterns);
            if watch(job.cost(best), self.least) == Go::Stop {
                return Go::Stop;
            }
        }
        Go::On
    }
}

/// Each piece alone, as often as its length holds, from every stock that holds it.
fn singles(job: &Job) -> Vec<Pattern> {
    let each = job.wants.iter().enumerate().flat_map(|(at, &(width, count))| {
        let fits = job.stocks.iter().enumerate().filter(move |(_, (room, _, _))| *room >= width);
        fits.map(move |(stock, (room, _, _))| Pattern { stock, counts: vec![(at, count.min((room / width) as u64))] })
    });
    each.collect()
}

/// What one round of pricing gives.
struct Round {
    bound: f64,
    prices: Vec<f64>,
    patterns: Vec<Pattern>,
}

/// The dual program, kept warm while rows are added.
pub struct Dual {
    solution: Option<Solution>,
    /// Prices of widths.
    prices: Vec<Variable>,
    /// Rents of stock that is short.
    rents: Vec<Option<Variable>>,
}

impl Dual {
    /// `None` if the solver gives no answer.
    pub fn new(job: &Job, left: &[u64], pool: &[Pattern]) -> Option<Self> {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let prices: Vec<Variable> =
            left.iter().map(|&count| problem.add_var(count as f64, (0.0, f64::INFINITY))).collect();
        let rents = job.stocks.iter();
        let rents = rents.map(|(_, _, most)| most.map(|most| problem.add_var(-(most as f64), (0.0, f64::INFINITY))));
        let rents: Vec<Option<Variable>> = rents.collect();
        for pattern in pool {
            let row = row(pattern, &prices, &rents);
            problem.add_constraint(&row[..], ComparisonOp::Le, unit(job, pattern.stock));
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        Some(Self { solution: Some(solution), prices, rents })
    }

    fn add(&mut self, job: &Job, patterns: &[Pattern]) -> bool {
        for pattern in patterns {
            let Some(solution) = self.solution.take() else { return false };
            let row = row(pattern, &self.prices, &self.rents);
            let solved = solution.add_constraint(&row[..], ComparisonOp::Le, unit(job, pattern.stock));
            self.solution = solved.ok().and_then(|solved| solved.into_solution().ok());
        }
        self.solution.is_some()
    }

    /// The cuts worth most at today's prices, and the bound they leave.
    fn round(&self, job: &Job, left: &[u64]) -> Round {
        let Some(solution) = &self.solution else {
            return Round { bound: 0.0, prices: Vec::new(), patterns: Vec::new() };
        };
        let prices: Vec<f64> = self.prices.iter().map(|&price| solution.var_value(price).max(0.0)).collect();
        let scale = job.stocks.iter().map(|(_, cost, _)| *cost).max().unwrap_or(1) as f64;
        let mut patterns = Vec::new();
        let (mut worst, mut rent_due) = (1.0f64, 0.0f64);
        for (stock, &(room, _, supply)) in job.stocks.iter().enumerate() {
            let rent = self.rents.get(stock).copied().flatten().map_or(0.0, |rent| solution.var_value(rent).max(0.0));
            rent_due += supply.map_or(0.0, |supply| supply as f64 * rent);
            let items = job.wants.iter().zip(&prices).zip(left).enumerate();
            let mut items: Vec<Item> =
                items.map(|(at, ((want, &value), &most))| Item { at, width: want.0, value, most }).collect();
            let cut = most_valuable(&mut items, room);
            let cost = unit(job, stock);
            worst = worst.max((cut.bound - rent) / cost);
            if cut.value - rent > cost + NOISE {
                patterns.push(Pattern { stock, counts: cut.counts });
            }
        }
        let worth: f64 = prices.iter().zip(left).map(|(price, &count)| price * count as f64).sum();
        Round { bound: (worth - rent_due) / worst * scale, prices, patterns }
    }
}

fn row(pattern: &Pattern, prices: &[Variable], rents: &[Option<Variable>]) -> Vec<(Variable, f64)> {
    let mut row: Vec<(Variable, f64)> = pattern.counts.iter().map(|(at, count)| (prices[*at], *count as f64)).collect();
    row.extend(rents[pattern.stock].map(|rent| (rent, -1.0)));
    row
}

/// Costs as shares of the dearest, so that the solver sees numbers near one.
pub fn unit(job: &Job, stock: usize) -> f64 {
    let most = job.stocks.iter().map(|(_, cost, _)| *cost).max().unwrap_or(1);
    job.stocks[stock].1 as f64 / most as f64
}
