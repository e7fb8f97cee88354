//! Cuts by hand's rules: the longest piece first, then whatever fills the length best.

use super::{Cuts, Job, Pattern};

/// How many branches are looked at to fill one length.
const MOST_BRANCHES: u32 = 4_000;

/// The cheaper of first-fit and fullest-first.
pub fn cheapest(job: &Job) -> Cuts {
    let left: Vec<u64> = job.wants.iter().map(|(_, count)| *count).collect();
    let first = first_fit(job);
    let full = fullest(job, left, &vec![0; job.stocks.len()]);
    let missing = |cuts: &Cuts| job.left_by(cuts).iter().sum::<u64>();
    if (missing(&full), job.cost(&full)) <= (missing(&first), job.cost(&first)) { full } else { first }
}

/// First-fit decreasing: each piece, longest first, goes into the first length that still holds it. New lengths are of the
/// longest stock; each is traded for the cheapest that holds its pieces at the end.
pub fn first_fit(job: &Job) -> Cuts {
    let mut open: Vec<(i64, Pattern)> = Vec::new();
    let mut used = vec![0u64; job.stocks.len()];
    for (at, &(width, count)) in job.wants.iter().enumerate() {
        let mut from = 0;
        for _ in 0..count {
            let fits = open.iter().skip(from).position(|(room, _)| *room >= width).map(|place| place + from);
            let place = match fits {
                Some(place) => place,
                None => {
                    let free = |stock: usize| job.stocks[stock].2.is_none_or(|most| used[stock] < most);
                    let Some(stock) = (0..job.stocks.len()).find(|&stock| job.stocks[stock].0 >= width && free(stock))
                    else {
                        break;
                    };
                    used[stock] += 1;
                    open.push((job.stocks[stock].0, Pattern { stock, counts: Vec::new() }));
                    open.len() - 1
                }
            };
            // Equal pieces never fit earlier than the one before them.
            from = place;
            let (room, pattern) = &mut open[place];
            *room -= width;
            add(&mut pattern.counts, at, 1);
        }
    }
    let cuts = open.into_iter().map(|(_, pattern)| (trade(job, pattern, &mut used), 1));
    merged(cuts.collect())
}

fn trade(job: &Job, mut pattern: Pattern, used: &mut [u64]) -> Pattern {
    let need: i64 = pattern.counts.iter().map(|(at, count)| job.wants[*at].0 * *count as i64).sum();
    let free = |stock: usize, used: &[u64]| job.stocks[stock].2.is_none_or(|most| used[stock] < most);
    let fits = (0..job.stocks.len()).filter(|&stock| job.stocks[stock].0 >= need && free(stock, used));
    if let Some(stock) = fits.min_by_key(|&stock| (job.stocks[stock].1, stock))
        && job.stocks[stock].1 < job.stocks[pattern.stock].1
    {
        used[pattern.stock] -= 1;
        used[stock] += 1;
        pattern.stock = stock;
    }
    pattern
}

/// One length after another: the longest piece that is left, and the fullest filling with it, from the stock that wastes
/// least money; cut as often as the pieces last. `used` counts the stock that is gone already.
pub fn fullest(job: &Job, mut left: Vec<u64>, used: &[u64]) -> Cuts {
    let mut used = used.to_vec();
    let mut cuts = Cuts::new();
    while let Some(longest) = left.iter().position(|count| *count > 0) {
        let free = |stock: usize| job.stocks[stock].2.is_none_or(|most| used[stock] < most);
        let fits = (0..job.stocks.len()).filter(|&stock| job.stocks[stock].0 >= job.wants[longest].0 && free(stock));
        let tried = fits.map(|stock| {
            let (counts, full) = filled(job, &left, longest, job.stocks[stock].0);
            let price = job.stocks[stock].1 as f64 / full as f64;
            (price, Pattern { stock, counts })
        });
        let Some((_, pattern)) = tried.reduce(|best, next| if next.0 < best.0 - 1e-15 { next } else { best }) else {
            left[longest] = 0;
            continue;
        };
        let last = pattern.counts.iter().map(|(at, count)| left[*at] / count).min().unwrap_or(1);
        let supply = job.stocks[pattern.stock].2.map_or(u64::MAX, |most| most - used[pattern.stock]);
        let times = last.min(supply).max(1);
        for (at, count) in &pattern.counts {
            left[*at] -= count * times;
        }
        used[pattern.stock] += times;
        cuts.push((pattern, times));
    }
    merged(cuts)
}

/// The fullest cut that has the piece `first` in it, and what it takes.
fn filled(job: &Job, left: &[u64], first: usize, room: i64) -> (Vec<(usize, u64)>, i64) {
    let mut narrowest = vec![i64::MAX; left.len() + 1];
    for at in (0..left.len()).rev() {
        narrowest[at] = if left[at] > 0 { narrowest[at + 1].min(job.wants[at].0) } else { narrowest[at + 1] };
    }
    let mut left = left.to_vec();
    left[first] -= 1;
    let width = job.wants[first].0;
    let mut search = Filling { job, left: &left, narrowest, take: Vec::new(), best: Vec::new(), most: -1, branches: 0 };
    search.from(first, room - width, 0);
    let most = search.most + width;
    let mut counts = vec![(first, 1)];
    for (at, count) in search.best {
        add(&mut counts, at, count);
    }
    counts.sort_unstable();
    (counts, most)
}

struct Filling<'j> {
    job: &'j Job,
    left: &'j [u64],
    narrowest: Vec<i64>,
    take: Vec<(usize, u64)>,
    best: Vec<(usize, u64)>,
    most: i64,
    branches: u32,
}

impl Filling<'_> {
    /// Whether the length is quite full.
    fn from(&mut self, mut at: usize, room: i64, used: i64) -> bool {
        if used > self.most {
            self.most = used;
            self.best.clone_from(&self.take);
        }
        loop {
            if room == 0 {
                return true;
            }
            if room < self.narrowest[at] || self.branches >= MOST_BRANCHES || used + room <= self.most {
                return false;
            }
            let width = self.job.wants[at].0;
            let most = self.left[at].min((room / width) as u64);
            if most > 0 {
                self.branches += 1;
            }
            for count in (1..=most).rev() {
                self.take.push((at, count));
                let full = self.from(at + 1, room - width * count as i64, used + width * count as i64);
                self.take.pop();
                if full {
                    return true;
                }
            }
            at += 1;
        }
    }
}

fn add(counts: &mut Vec<(usize, u64)>, at: usize, count: u64) {
    match counts.iter_mut().find(|(place, _)| *place == at) {
        Some((_, have)) => *have += count,
        None => counts.push((at, count)),
    }
}

/// Equal patterns counted together.
pub fn merged(cuts: Cuts) -> Cuts {
    let mut times = std::collections::BTreeMap::new();
    for (mut pattern, count) in cuts {
        pattern.counts.sort_unstable();
        *times.entry(pattern).or_insert(0u64) += count;
    }
    times.into_iter().collect()
}
