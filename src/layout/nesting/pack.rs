//! The ways of packing that are tried, and the bound.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::{Cut, Order, Part, Piece, Placed, Sheet, SheetPlan};
use crate::layout::cutting::gcd;
use crate::units::Length;

/// Which parts come first.
#[derive(Clone, Copy)]
enum First {
    Area,
    Longest,
    Widest,
    Around,
}

/// Which free piece a part is taken from.
#[derive(Clone, Copy)]
enum From {
    /// The one with the least area left over.
    Area,
    /// The one in which it is tightest one way.
    Tightest,
}

/// Which cut is made first.
#[derive(Clone, Copy)]
enum Split {
    /// The one that leaves the larger piece whole.
    Largest,
    /// A rip, always.
    Along,
    /// A cut across, always.
    Across,
}

const FIRSTS: [First; 4] = [First::Area, First::Longest, First::Widest, First::Around];
const FROMS: [From; 2] = [From::Area, From::Tightest];
const SPLITS: [Split; 3] = [Split::Largest, Split::Along, Split::Across];

/// An order without what cannot be cut.
pub struct Job<'o> {
    order: &'o Order,
    /// Every single part, as its place.
    each: Vec<usize>,
    /// Places of sheets that can be used.
    sheets: Vec<usize>,
}

/// Sheets, and parts that found no place.
pub type Packed = (Vec<SheetPlan>, Vec<(usize, u64)>);

/// Parts left, cost, the largest piece left over; the least is best.
type Score = (u64, i64, Reverse<i128>);

struct Open {
    plan: SheetPlan,
    free: Vec<Piece>,
}

impl<'o> Job<'o> {
    pub fn new(order: &'o Order) -> Self {
        let usable = |sheet: &Sheet| sheet.length.0 > 0 && sheet.width.0 > 0 && sheet.cost > 0;
        let sheets = order.sheets.iter().enumerate().filter(|(_, sheet)| usable(sheet)).map(|(at, _)| at);
        let real = |part: &Part| part.length.0 > 0 && part.width.0 > 0;
        let parts = order.parts.iter().enumerate().filter(|(_, part)| real(part));
        let each = parts.flat_map(|(at, part)| std::iter::repeat_n(at, part.count as usize));
        Self { order, each: each.collect(), sheets: sheets.collect() }
    }

    /// The best of all ways: fewest parts left, then least cost, then the largest piece left over.
    pub fn best(&self) -> Packed {
        let mut best: Option<(Score, Packed)> = None;
        for first in FIRSTS {
            let parts = self.sorted(first);
            for from in FROMS {
                for split in SPLITS {
                    for &prefer in &self.sheets {
                        let packed = self.pack(&parts, from, split, prefer);
                        let score = self.score(&packed);
                        if best.as_ref().is_none_or(|(least, _)| score < *least) {
                            best = Some((score, packed));
                        }
                    }
                }
            }
        }
        best.map_or_else(|| (Vec::new(), counted(self.each.iter().copied())), |(_, packed)| packed)
    }

    fn score(&self, (sheets, left): &Packed) -> Score {
        let cost = sheets.iter().map(|plan| self.order.sheets[plan.sheet].cost).sum();
        let largest = sheets.iter().filter_map(|plan| plan.offcuts.first()).map(|piece| piece.area()).max();
        (left.iter().map(|(_, count)| count).sum(), cost, Reverse(largest.unwrap_or(0)))
    }

    fn sorted(&self, first: First) -> Vec<usize> {
        let key = |at: usize| {
            let Part { length, width, .. } = self.order.parts[at];
            let (long, short) = (length.max(width).0 as i128, length.min(width).0 as i128);
            match first {
                First::Area => (long * short, long),
                First::Longest => (long, short),
                First::Widest => (short, long),
                First::Around => (long + short, long),
            }
        };
        let mut parts = self.each.clone();
        parts.sort_by_key(|&at| (Reverse(key(at)), at));
        parts
    }

    fn whole(&self, sheet: usize) -> Piece {
        let (sheet, trim) = (self.order.sheets[sheet], self.order.trim.max(Length::ZERO));
        let less = Length(2 * trim.0);
        Piece { x: trim, y: trim, length: sheet.length - less, width: sheet.width - less }
    }

    fn pack(&self, parts: &[usize], from: From, split: Split, prefer: usize) -> Packed {
        let mut open: Vec<Open> = Vec::new();
        let mut used: BTreeMap<usize, u64> = BTreeMap::new();
        let mut left = Vec::new();
        for &part in parts {
            let fits =
                open.iter().enumerate().filter_map(|(at, sheet)| Some((self.choose(part, &sheet.free, from)?, at)));
            // The first sheet that holds it: the first of equals is the one opened first.
            let found = fits.reduce(|best, next| if next.0.0 < best.0.0 { next } else { best });
            let place = found.map(|((_, free, turned), sheet)| (sheet, free, turned)).or_else(|| {
                let sheet = self.fresh(part, prefer, &used)?;
                *used.entry(sheet).or_default() += 1;
                let plan = SheetPlan { sheet, count: 1, placed: Vec::new(), cuts: Vec::new(), offcuts: Vec::new() };
                open.push(Open { plan, free: vec![self.whole(sheet)] });
                let at = open.len() - 1;
                self.choose(part, &open[at].free, from).map(|(_, free, turned)| (at, free, turned))
            });
            match place {
                Some((sheet, free, turned)) => self.place(&mut open[sheet], part, free, turned, split),
                None => left.push(part),
            }
        }
        let mut plans: Vec<SheetPlan> = open.into_iter().map(finished).collect();
        for plan in &mut plans {
            self.trade(plan, &mut used, from, split);
        }
        (plans, counted(left.into_iter()))
    }

    /// A new sheet: the preferred one if it holds the part and is there, else the cheapest that does.
    fn fresh(&self, part: usize, prefer: usize, used: &BTreeMap<usize, u64>) -> Option<usize> {
        let there = |sheet: usize| {
            self.order.sheets[sheet].available.is_none_or(|most| used.get(&sheet).copied().unwrap_or(0) < most)
        };
        let holds = |sheet: usize| self.choose(part, &[self.whole(sheet)], From::Area).is_some();
        let can = |sheet: &usize| there(*sheet) && holds(*sheet);
        Some(prefer).filter(can).or_else(|| {
            self.sheets.iter().copied().filter(can).min_by_key(|&sheet| (self.order.sheets[sheet].cost, sheet))
        })
    }

    /// The parts of a sheet on the cheapest sheet that holds them all.
    fn trade(&self, plan: &mut SheetPlan, used: &mut BTreeMap<usize, u64>, from: From, split: Split) {
        let cost = |sheet: usize| self.order.sheets[sheet].cost;
        let mut cheaper: Vec<usize> =
            self.sheets.iter().copied().filter(|&sheet| cost(sheet) < cost(plan.sheet)).collect();
        cheaper.sort_by_key(|&sheet| (cost(sheet), sheet));
        for sheet in cheaper {
            if self.order.sheets[sheet].available.is_some_and(|most| used.get(&sheet).copied().unwrap_or(0) >= most) {
                continue;
            }
            let bare = SheetPlan { sheet, count: 1, placed: Vec::new(), cuts: Vec::new(), offcuts: Vec::new() };
            let mut open = Open { plan: bare, free: vec![self.whole(sheet)] };
            let all = plan.placed.iter().all(|placed| match self.choose(placed.part, &open.free, from) {
                Some((_, free, turned)) => {
                    self.place(&mut open, placed.part, free, turned, split);
                    true
                }
                None => false,
            });
            if all {
                *used.entry(plan.sheet).or_insert(1) -= 1;
                *used.entry(sheet).or_default() += 1;
                *plan = finished(open);
                return;
            }
        }
    }

    /// The free piece a part goes into, and whether turned; the lowest score is best.
    fn choose(&self, part: usize, free: &[Piece], from: From) -> Option<(i128, usize, bool)> {
        let Part { length, width, turns, .. } = self.order.parts[part];
        let mut best: Option<(i128, usize, bool)> = None;
        for (at, piece) in free.iter().enumerate() {
            for turned in [false, true] {
                let (long, wide) = if turned { (width, length) } else { (length, width) };
                if (turned && (!turns || length == width)) || long > piece.length || wide > piece.width {
                    continue;
                }
                let (spare, over) = ((piece.length - long).0 as i128, (piece.width - wide).0 as i128);
                let score = match from {
                    From::Area => piece.area() - long.0 as i128 * wide.0 as i128,
                    From::Tightest => spare.min(over),
                };
                if best.is_none_or(|(least, ..)| score < least) {
                    best = Some((score, at, turned));
                }
            }
        }
        best
    }

    /// Puts a part into the lower left of a free piece and cuts it loose.
    fn place(&self, open: &mut Open, part: usize, free: usize, turned: bool, split: Split) {
        let Part { length, width, .. } = self.order.parts[part];
        let (length, width) = if turned { (width, length) } else { (length, width) };
        let piece = open.free.remove(free);
        open.plan.placed.push(Placed { part, piece: Piece { length, width, ..piece }, turned });
        let kerf = self.order.kerf.max(Length::ZERO);
        let beside = (piece.length - length - kerf).max(Length::ZERO);
        let above = (piece.width - width - kerf).max(Length::ZERO);
        let along = match split {
            Split::Along => true,
            Split::Across => false,
            // A rip first leaves the whole length above; a cut across first leaves the whole width beside.
            Split::Largest => piece.length.0 as i128 * above.0 as i128 >= piece.width.0 as i128 * beside.0 as i128,
        };
        let (right, top) = (piece.x + length + kerf, piece.y + width + kerf);
        let rip = |of: Piece| Cut { piece: of, along: true, keep: width };
        let across = |of: Piece| Cut { piece: of, along: false, keep: length };
        let mut cut = |cut: Cut, needed: bool| {
            if needed {
                open.plan.cuts.push(cut);
            }
        };
        let (tall, wide) = (width < piece.width, length < piece.length);
        let (side, over) = if along {
            cut(rip(piece), tall);
            cut(across(Piece { width, ..piece }), wide);
            (
                Piece { x: right, y: piece.y, length: beside, width },
                Piece { x: piece.x, y: top, length: piece.length, width: above },
            )
        } else {
            cut(across(piece), wide);
            cut(rip(Piece { length, ..piece }), tall);
            (
                Piece { x: right, y: piece.y, length: beside, width: piece.width },
                Piece { x: piece.x, y: top, length, width: above },
            )
        };
        open.free.extend([side, over].into_iter().filter(|piece| piece.length.0 > 0 && piece.width.0 > 0));
    }

    /// By area at the cheapest price of area; and, if there is one size of sheet, by parts of which no two go side by side.
    pub fn bound(&self) -> i64 {
        let area: i128 = self
            .each
            .iter()
            .map(|&at| self.order.parts[at].length.0 as i128 * self.order.parts[at].width.0 as i128)
            .sum();
        let step = self.sheets.iter().fold(0, |step, &sheet| gcd(step, self.order.sheets[sheet].cost)).max(1);
        let dear = |sheet: usize| (self.order.sheets[sheet].cost as i128, self.whole(sheet).area().max(1));
        let costs = self.sheets.iter().map(|&sheet| {
            let (cost, room) = dear(sheet);
            (area * cost / room, area * cost % room != 0)
        });
        let by_area = costs.map(|(cost, more)| cost + i128::from(more)).min().unwrap_or(0);
        let big =
            self.each.iter().filter(|&&at| self.sheets.iter().all(|&sheet| self.alone(at, sheet))).count() as i128;
        let least = self.sheets.iter().map(|&sheet| self.order.sheets[sheet].cost).min().unwrap_or(0);
        let cost = by_area.max(big * least as i128);
        let whole = (cost + step as i128 - 1) / step as i128 * step as i128;
        i64::try_from(whole).unwrap_or(i64::MAX)
    }

    /// Two such parts do not fit one sheet, whichever way they lie.
    fn alone(&self, at: usize, sheet: usize) -> bool {
        let (Part { length, width, .. }, whole) = (self.order.parts[at], self.whole(sheet));
        let short = length.min(width).0;
        2 * short > whole.length.0 && 2 * short > whole.width.0
    }
}

fn finished(open: Open) -> SheetPlan {
    let mut plan = open.plan;
    plan.offcuts = open.free;
    plan.offcuts.sort_by_key(|piece| (Reverse(piece.area()), piece.x, piece.y));
    plan
}

/// Places counted.
fn counted(parts: impl Iterator<Item = usize>) -> Vec<(usize, u64)> {
    let mut counts: BTreeMap<usize, u64> = BTreeMap::new();
    parts.for_each(|part| *counts.entry(part).or_default() += 1);
    counts.into_iter().collect()
}

/// Sheets that are cut alike, together; the fullest first.
pub fn alike(sheets: Vec<SheetPlan>) -> Vec<SheetPlan> {
    let mut out: Vec<SheetPlan> = Vec::new();
    for plan in sheets {
        match out
            .iter_mut()
            .find(|have| have.sheet == plan.sheet && have.placed == plan.placed && have.cuts == plan.cuts)
        {
            Some(have) => have.count += 1,
            None => out.push(plan),
        }
    }
    let full = |plan: &SheetPlan| plan.placed.iter().map(|placed| placed.piece.area()).sum::<i128>();
    out.sort_by_key(|plan| Reverse(full(plan)));
    out
}
