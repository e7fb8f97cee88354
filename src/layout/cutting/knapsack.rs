//! The fullest, or the most valuable, cut of one length: branch and bound over pieces in order of value.

/// How many branches are looked at before the best so far is taken.
const MOST_BRANCHES: u64 = 200_000;

/// One sort of piece.
#[derive(Clone, Copy, Debug)]
pub struct Item {
    /// Place of the piece.
    pub at: usize,
    /// What it takes of the stock.
    pub width: i64,
    /// What it is worth; above zero.
    pub value: f64,
    /// How many there are.
    pub most: u64,
}

/// A cut of one length.
#[derive(Clone, Debug, Default)]
pub struct Cut {
    /// Places and counts.
    pub counts: Vec<(usize, u64)>,
    /// What they are worth.
    pub value: f64,
    /// No cut is worth more.
    pub bound: f64,
}

struct Search<'i> {
    items: &'i [Item],
    /// Narrowest width from here on.
    narrowest: Vec<i64>,
    take: Vec<u64>,
    best: Vec<u64>,
    value: f64,
    branches: u64,
}

/// The most valuable cut of a stock that holds `room`. Items may stand in any order.
pub fn most_valuable(items: &mut Vec<Item>, room: i64) -> Cut {
    items.retain(|item| item.value > 0.0 && item.most > 0 && item.width > 0 && item.width <= room);
    let worth = |item: &Item| item.value / item.width as f64;
    items.sort_by(|one, two| {
        worth(two).total_cmp(&worth(one)).then(two.width.cmp(&one.width)).then(one.at.cmp(&two.at))
    });
    let Some(first) = items.first() else { return Cut::default() };
    let root = worth(first) * room as f64;
    let mut narrowest = vec![i64::MAX; items.len() + 1];
    for (at, item) in items.iter().enumerate().rev() {
        narrowest[at] = narrowest[at + 1].min(item.width);
    }
    let mut search =
        Search { items, narrowest, take: vec![0; items.len()], best: vec![0; items.len()], value: 0.0, branches: 0 };
    search.from(0, room, 0.0);
    let bound = if search.branches < MOST_BRANCHES { search.value } else { root };
    let best = search.best.iter().zip(search.items).filter(|(count, _)| **count > 0);
    let mut counts: Vec<(usize, u64)> = best.map(|(count, item)| (item.at, *count)).collect();
    counts.sort_unstable();
    Cut { counts, value: search.value, bound: bound.max(search.value) }
}

impl Search<'_> {
    fn from(&mut self, mut at: usize, room: i64, value: f64) {
        if value > self.value + 1e-12 {
            self.value = value;
            self.best.copy_from_slice(&self.take);
        }
        loop {
            if self.branches >= MOST_BRANCHES || room < self.narrowest[at] {
                return;
            }
            let item = self.items[at];
            if value + item.value / item.width as f64 * room as f64 <= self.value + 1e-9 {
                return;
            }
            self.branches += 1;
            let most = item.most.min((room / item.width) as u64);
            for count in (1..=most).rev() {
                self.take[at] = count;
                self.from(at + 1, room - item.width * count as i64, value + item.value * count as f64);
            }
            self.take[at] = 0;
            at += 1;
        }
    }
}
