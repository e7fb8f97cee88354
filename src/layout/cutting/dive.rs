//! Whole cuts from the patterns of the bound: take what the linear program takes in whole lengths, then again for the rest.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

use super::prices::{Bound, unit};
use super::{Cuts, Go, Job, Pattern, Watch, fill};

/// The most rounds of one dive.
const MOST_ROUNDS: usize = 60;

/// Dives, and keeps what is cheaper than the best.
pub fn improve(job: &Job, bound: &mut Bound, best: &mut Cuts, watch: Watch<'_>) {
    for share in [0.999, 0.6, 0.75, 0.5] {
        dive(job, &bound.pool, bound.least, share, best, watch);
        if job.cost(best) <= bound.least || watch(job.cost(best), bound.least) == Go::Stop {
            return;
        }
    }
    whole(job, &bound.pool, best);
}

/// The most patterns, and the most branches, for which whole numbers are searched for.
const MOST_WHOLE: (usize, u64) = (1_500, 400);

/// The cheapest whole cuts of the pool's patterns, if the pool is small enough to search.
fn whole(job: &Job, pool: &[Pattern], best: &mut Cuts) {
    if pool.len() > MOST_WHOLE.0 {
        return;
    }
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let most = job.wants.iter().map(|(_, count)| *count).max().unwrap_or(1).min(100_000) as i32;
    let taken: Vec<_> =
        pool.iter().map(|pattern| problem.add_integer_var(unit(job, pattern.stock), (0, most))).collect();
    let mut rows = vec![Vec::new(); job.wants.len()];
    for (pattern, &times) in pool.iter().zip(&taken) {
        pattern.counts.iter().for_each(|(at, count)| rows[*at].push((times, *count as f64)));
    }
    for (row, (_, count)) in rows.iter().zip(&job.wants) {
        problem.add_constraint(&row[..], ComparisonOp::Ge, *count as f64);
    }
    supply(job, &mut problem, pool, &taken, &vec![0; job.stocks.len()]);
    let mut options = SolveOptions::default();
    options.node_limit = Some(MOST_WHOLE.1);
    let Some(solution) = problem.solve_with(options).ok().and_then(|solved| solved.into_solution().ok()) else {
        return;
    };
    let times =
        pool.iter().zip(&taken).map(|(pattern, &times)| (pattern.clone(), solution.var_value(times).round() as u64));
    let cuts = trimmed(job, times.filter(|(_, times)| *times > 0).collect());
    if job.left_by(&cuts).iter().all(|&count| count == 0) && job.cost(&cuts) < job.cost(best) {
        *best = cuts;
    }
}

/// Cuts that may hold more pieces than are wanted, without those.
fn trimmed(job: &Job, cuts: Cuts) -> Cuts {
    let mut left: Vec<u64> = job.wants.iter().map(|(_, count)| *count).collect();
    let each = cuts.into_iter().flat_map(|(pattern, times)| std::iter::repeat_n(pattern, times as usize));
    let cut = each.map(|pattern| {
        let counts = pattern.counts.iter().map(|(at, count)| (*at, (*count).min(left[*at])));
        let counts: Vec<(usize, u64)> = counts.filter(|(_, count)| *count > 0).collect();
        counts.iter().for_each(|(at, count)| left[*at] -= count);
        (Pattern { stock: pattern.stock, counts }, 1)
    });
    fill::merged(cut.filter(|(pattern, _)| !pattern.counts.is_empty()).collect())
}

/// Stock that is short is not taken more often than there is.
fn supply(job: &Job, problem: &mut Problem, pool: &[Pattern], taken: &[Variable], used: &[u64]) {
    for (stock, (_, _, most)) in job.stocks.iter().enumerate() {
        if let Some(most) = most {
            let of =
                pool.iter().zip(taken).filter(|(pattern, _)| pattern.stock == stock).map(|(_, &times)| (times, 1.0));
            let of: Vec<_> = of.collect();
            problem.add_constraint(&of[..], ComparisonOp::Le, (most - used[stock]) as f64);
        }
    }
}

/// One dive: shares of at least `share` of a length are rounded up.
fn dive(job: &Job, pool: &[Pattern], least: i64, share: f64, best: &mut Cuts, watch: Watch<'_>) {
    let mut fixed = Cuts::new();
    for _ in 0..MOST_ROUNDS {
        let left = job.left_by(&fixed);
        let mut used = vec![0u64; job.stocks.len()];
        fixed.iter().for_each(|(pattern, times)| used[pattern.stock] += times);
        let mut tried = fixed.clone();
        tried.extend(fill::fullest(job, left.clone(), &used));
        let tried = fill::merged(tried);
        let complete = job.left_by(&tried).iter().all(|&count| count == 0);
        if complete && job.cost(&tried) < job.cost(best) {
            *best = tried;
        }
        let rest = left.iter().sum::<u64>();
        if rest == 0 || job.cost(best) <= least || watch(job.cost(best), least) == Go::Stop {
            return;
        }
        let Some(taken) = relaxed(job, pool, &left, &used) else { return };
        let there = |(stock, used): (&(i64, i64, Option<u64>), &u64)| stock.2.map_or(u64::MAX, |most| most - used);
        let there = job.stocks.iter().zip(&used).map(there).collect();
        if !fix(taken, share, left, there, &mut fixed) {
            return;
        }
    }
}

/// Takes whole lengths, and those that are nearly whole; at least one, but no more of a stock than is there.
fn fix(mut taken: Vec<(Pattern, f64)>, share: f64, mut left: Vec<u64>, mut there: Vec<u64>, fixed: &mut Cuts) -> bool {
    taken.sort_by(|one, two| part(two.1).total_cmp(&part(one.1)).then_with(|| one.0.cmp(&two.0)));
    let whole: u64 = taken.iter().map(|(_, times)| (times + 1e-6).floor() as u64).sum();
    let mut any = false;
    for (at, (pattern, times)) in taken.iter().enumerate() {
        let floor = (times + 1e-6).floor() as u64;
        let up = part(*times) >= share || (whole == 0 && at == 0);
        let wanted = floor + u64::from(up);
        // Rounded up, a cut may have more pieces than are left; then it is taken as often as they last.
        let lasts = pattern.counts.iter().map(|(at, count)| left[*at] / count).min().unwrap_or(0);
        let times = wanted.min(lasts).min(there[pattern.stock]);
        if times > 0 {
            any = true;
            there[pattern.stock] -= times;
            pattern.counts.iter().for_each(|(at, count)| left[*at] -= count * times);
            fixed.push((pattern.clone(), times));
        }
    }
    any
}

fn part(times: f64) -> f64 {
    let part = times - (times + 1e-6).floor();
    part.max(0.0)
}

/// The linear program over the pool for what is left: how often each pattern, in shares.
fn relaxed(job: &Job, pool: &[Pattern], left: &[u64], used: &[u64]) -> Option<Vec<(Pattern, f64)>> {
    let fits = pool.iter().filter_map(|pattern| {
        let counts =
            pattern.counts.iter().map(|(at, count)| (*at, (*count).min(left[*at]))).filter(|(_, count)| *count > 0);
        let counts: Vec<(usize, u64)> = counts.collect();
        (!counts.is_empty()).then_some(Pattern { stock: pattern.stock, counts })
    });
    let mut fits: Vec<Pattern> = fits.collect();
    fits.sort();
    fits.dedup();
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let taken: Vec<_> =
        fits.iter().map(|pattern| problem.add_var(unit(job, pattern.stock), (0.0, f64::INFINITY))).collect();
    let mut rows = vec![Vec::new(); left.len()];
    for (pattern, &times) in fits.iter().zip(&taken) {
        pattern.counts.iter().for_each(|(at, count)| rows[*at].push((times, *count as f64)));
    }
    for (row, &count) in rows.iter().zip(left).filter(|(_, count)| **count > 0) {
        problem.add_constraint(&row[..], ComparisonOp::Ge, count as f64);
    }
    supply(job, &mut problem, &fits, &taken, used);
    let solution = problem.solve().ok()?.into_solution().ok()?;
    let shares = fits.into_iter().zip(taken).map(|(pattern, times)| (pattern, solution.var_value(times)));
    Some(shares.filter(|(_, times)| *times > 1e-9).collect())
}
