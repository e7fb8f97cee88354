//! The lines of the order: boards by the lengths that the cut plans take, all else by measure, then spares.

use crate::layout::cut_plans::{self, ProductPlan};
use crate::layout::gaps;
use crate::layout::pieces;
use crate::layout::trims;
use crate::model::{Model, Product};
use crate::quantities::{Amount, Group, Total, qualified, take_off, totals};
use crate::session::Checked;
use crate::units::Length;

/// Share of boards that is bought over and above, so that a broken piece finds its match: 2 to 3 %, common practice, no
/// source.
const SPARE: f64 = 0.025;

/// One line of the order.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Which order it goes on; empty if not said.
    pub supplier: String,
    /// What sort of thing.
    pub group: Group,
    /// The product or material.
    pub item: String,
    /// How much.
    pub amount: Amount,
    /// Lengths of stock that `amount` counts.
    pub stock: Option<Length>,
    /// What it costs, in the project's currency; absent if it has no price that can be applied.
    pub cost: Option<f64>,
    /// Kept for repairs.
    pub spare: bool,
    /// Rows of the take-off that could not be counted and are missing here.
    pub uncounted: usize,
}

/// All lines, by supplier, then group, then item; spares after what they are spares of.
pub fn lines(checked: &Checked) -> Vec<Line> {
    let model = &checked.model;
    let cut = pieces::cut(model, &checked.plan, trims::CUT_FOR);
    let plans = cut_plans::of_pieces(model, &cut);
    let sums = totals(&take_off(model, &checked.plan));
    let planned = |item: &str| plans.iter().any(|plan| product(model, plan).is_some_and(|one| qualified(one) == item));
    let mut lines: Vec<Line> = plans.iter().flat_map(|plan| boards(model, plan, &sums)).collect();
    for total in &sums {
        // What is cut from boards is bought by the board, unless some of it is counted otherwise.
        let boards = total.group == Group::Boards && planned(&total.item);
        if !boards {
            let product = model.products.iter().find(|product| qualified(product) == total.item);
            lines.push(measured(total, product));
            lines.extend(product.and_then(|product| spare_length(total, product)));
        }
    }
    lines.sort_by(|one, two| key(one).cmp(&key(two)));
    lines
}

fn key(line: &Line) -> (bool, &str, Group, &str, bool, std::cmp::Reverse<Option<Length>>) {
    let Line { supplier, group, item, spare, stock, .. } = line;
    (supplier.is_empty(), supplier, *group, item, *spare, std::cmp::Reverse(*stock))
}

fn product<'m>(model: &'m Model, plan: &ProductPlan) -> Option<&'m Product> {
    model.product(plan.product)
}

/// The lengths of one cut plan, and spare ones of the length that is bought most.
fn boards(model: &Model, plan: &ProductPlan, sums: &[Total]) -> Vec<Line> {
    let Some(product) = product(model, plan) else { return Vec::new() };
    let item = qualified(product);
    let total = sums.iter().find(|total| total.item == item);
    let line = |length: Length, count: u64, spare: bool| Line {
        supplier: product.supplier.as_deref().unwrap_or_default().to_owned(),
        group: total.map_or(Group::Boards, |total| total.group),
        item: item.clone(),
        amount: Amount::Count(count),
        stock: Some(length),
        cost: price_of_length(product, length).map(|price| price * count as f64),
        spare,
        uncounted: total.filter(|_| !spare).map_or(0, |total| total.uncounted),
    };
    let mut lines: Vec<Line> = plan.buy.iter().map(|&(length, count)| line(length, count, false)).collect();
    let all: u64 = plan.buy.iter().map(|(_, count)| count).sum();
    if let Some((length, _)) = plan.buy.iter().max_by_key(|(length, count)| (*count, *length)) {
        lines.push(line(*length, gaps::spare(all, SPARE, false), true));
    }
    lines
}

fn price_of_length(product: &Product, length: Length) -> Option<f64> {
    match product.price? {
        (amount, Some("metre")) => Some(amount * length.as_m()),
        (amount, Some("piece")) if product.stock.len() == 1 => Some(amount),
        _ => None,
    }
}

fn measured(total: &Total, product: Option<&Product>) -> Line {
    Line {
        supplier: total.supplier.to_string(),
        group: total.group,
        item: total.item.clone(),
        amount: total.wanted,
        stock: None,
        cost: product.and_then(|product| cost(product, total.wanted)),
        spare: false,
        uncounted: total.uncounted,
    }
}

/// A price applies where it is by the measure that was counted; boxes are whole.
fn cost(product: &Product, amount: Amount) -> Option<f64> {
    match (product.price?, amount) {
        ((price, Some("square_metre")), Amount::Area(_))
        | ((price, Some("metre")), Amount::Length(_))
        | ((price, None | Some("piece")), Amount::Count(_)) => Some(price * amount.si()),
        ((price, Some("box")), Amount::Count(count)) => {
            let pack = product.pack.and_then(|pack| u64::try_from(pack).ok()).filter(|pack| *pack > 0)?;
            Some(price * count.div_ceil(pack) as f64)
        }
        _ => None,
    }
}

/// One full length of each trim.
fn spare_length(total: &Total, product: &Product) -> Option<Line> {
    let trim = matches!(total.group, Group::Trims | Group::Flashings) && matches!(total.wanted, Amount::Length(_));
    let length = product.stock.iter().max().copied().filter(|_| trim)?;
    let amount = Amount::Count(1);
    let cost = price_of_length(product, length);
    Some(Line { amount, stock: Some(length), cost, spare: true, uncounted: 0, ..measured(total, None) })
}
