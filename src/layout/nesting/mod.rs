//! Cutting sheets: blocks, panels and flashing blanks out of sheets with straight cuts from edge to edge, in saw order.
//!
//! Every way of a small family of simple ways is tried (order of parts × which piece is taken × which cut comes first), and
//! the plan with the least cost is kept; of equals, the one that leaves the largest piece.

mod pack;
#[cfg(test)]
mod tests;

use crate::units::Length;

/// Equal parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// Along the sheet's length, which is the way of its grain.
    pub length: Length,
    /// Across it.
    pub width: Length,
    /// How many.
    pub count: u64,
    /// May lie the other way: it has no grain to follow.
    pub turns: bool,
}

/// A sheet that can be bought, or what is left of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Along its grain.
    pub length: Length,
    /// Across it.
    pub width: Length,
    /// What one costs, in whole units of anything. Above zero.
    pub cost: i64,
    /// How many there are; no end if absent.
    pub available: Option<u64>,
}

/// What is to be cut, from what, with which saw.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Order {
    /// Parts; plans name them by their place in this list.
    pub parts: Vec<Part>,
    /// Sheets; plans name them by their place in this list.
    pub sheets: Vec<Sheet>,
    /// Width of the cut.
    pub kerf: Length,
    /// Trimmed off each edge of a sheet before anything is cut.
    pub trim: Length,
}

/// A rectangle on a sheet: lower left corner, along and across its length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Piece {
    /// From the left end.
    pub x: Length,
    /// From the lower edge.
    pub y: Length,
    /// Along the sheet.
    pub length: Length,
    /// Across it.
    pub width: Length,
}

/// A part on its sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Placed {
    /// Place in [`Order::parts`].
    pub part: usize,
    /// Where it lies, as it lies.
    pub piece: Piece,
    /// It lies across the grain.
    pub turned: bool,
}

/// A cut of one piece from edge to edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cut {
    /// The piece that is cut.
    pub piece: Piece,
    /// Runs along the sheet's length (a rip); else across it.
    pub along: bool,
    /// What stays on the near side: a width for a rip, a length for a cut across.
    pub keep: Length,
}

/// Equal sheets, cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPlan {
    /// Place in [`Order::sheets`].
    pub sheet: usize,
    /// How many.
    pub count: u64,
    /// The parts.
    pub placed: Vec<Placed>,
    /// The cuts, in the order in which they can be made.
    pub cuts: Vec<Cut>,
    /// What is left, largest first.
    pub offcuts: Vec<Piece>,
}

/// A plan and how good it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NestPlan {
    /// Fullest sheets first.
    pub sheets: Vec<SheetPlan>,
    /// Parts that fit no sheet, or for which sheets ran out, with how many.
    pub left: Vec<(usize, u64)>,
    /// What the sheets cost.
    pub cost: i64,
    /// By area alone, and by parts of which no two fit one sheet, no plan costs less.
    pub bound: i64,
    /// `cost` equals `bound`: nothing better exists.
    pub proven: bool,
}

impl Piece {
    /// In square nanometres.
    pub fn area(self) -> i128 {
        i128::from(self.length.0) * i128::from(self.width.0)
    }
}

impl NestPlan {
    /// How many sheets in all.
    pub fn count(&self) -> u64 {
        self.sheets.iter().map(|sheet| sheet.count).sum()
    }
}

/// The cheapest plan found. Parts and sheets of no size, and sheets of no cost, are passed over.
pub fn nest(order: &Order) -> NestPlan {
    let job = pack::Job::new(order);
    let (sheets, left) = job.best();
    let sheets = pack::alike(sheets);
    let cost = sheets.iter().map(|plan| order.sheets[plan.sheet].cost.saturating_mul(plan.count as i64)).sum();
    let bound = if left.is_empty() { job.bound().min(cost) } else { 0 };
    NestPlan { proven: left.is_empty() && bound == cost, sheets, left, cost, bound }
}
