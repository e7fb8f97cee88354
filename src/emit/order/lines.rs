//! The lines of the order: what is cut from lengths by the cut plans, all else by measure, then spares.

use std::collections::BTreeSet;

use crate::layout::cut_plans::{CutPlans, ProductPlan, Use};
use crate::layout::gaps;
use crate::layout::list_plans::ListPlan;
use crate::model::{CutList, Product};
use crate::quantities::price::{self, Packs};
use crate::quantities::{Amount, Group, Row, Total, qualified, take_off, totals};
use crate::session::Checked;
use crate::units::Length;

/// Share of boards and trims that is bought over and above, so that a broken piece finds its match: 2 to 3 %, common
/// practice, no source.
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
    /// Rolls, boxes, tubes or sheets that make it up, if how much is in one is said.
    pub packs: Option<Packs>,
    /// What it costs, in the project's currency; absent if it has no price that can be applied.
    pub cost: Option<f64>,
    /// Kept for repairs.
    pub spare: bool,
    /// Places whose amount could not be told, or whose pieces no stock is long enough for: they are missing here.
    pub uncounted: usize,
}

/// All lines, by supplier, then group, then item; spares after what they are spares of.
pub fn lines(checked: &Checked) -> Vec<Line> {
    let model = &checked.model;
    let plans = checked.cut_plans();
    let rows = take_off(model, &checked.plan);
    let of_item = |item: &str| model.products.iter().find(|product| qualified(product) == item);
    let mut lines: Vec<Line> = Vec::new();
    for plan in &plans.products {
        let Some(product) = model.product(plan.product) else { continue };
        let lacking = rows.iter().filter(|row| row.net.is_none() && row.item == qualified(product)).count();
        lines.extend(of_plan(product, plans, plan, lacking));
    }
    lines.extend(checked.list_plans().flat_map(|(list, plan)| of_list(list, plan)));
    for total in totals(&measured_rows(rows, plans, |id| model.product(id).map(qualified))) {
        let product = of_item(&total.item);
        lines.push(measured(&total, product));
        lines.extend(product.and_then(|product| spare_length(&total, product)));
    }
    lines.sort_by(|one, two| key(one).cmp(&key(two)));
    lines
}

fn key(line: &Line) -> (bool, &str, Group, &str, bool, std::cmp::Reverse<Option<Length>>) {
    let Line { supplier, group, item, spare, stock, .. } = line;
    (supplier.is_empty(), supplier, *group, item, *spare, std::cmp::Reverse(*stock))
}

/// The rows of the take-off that no cut plan counts: a row is left out where its place is cut from lengths of its item.
fn measured_rows(
    rows: Vec<Row>,
    plans: &CutPlans,
    name: impl Fn(crate::model::ProductId) -> Option<String>,
) -> Vec<Row> {
    let mut planned: BTreeSet<(String, &str)> = BTreeSet::new();
    for plan in &plans.products {
        let Some(item) = name(plan.product) else { continue };
        let own = plans.parts.iter().filter(|part| part.product == plan.product);
        planned.extend(own.map(|part| (item.clone(), part.place.as_str())));
    }
    let items: BTreeSet<&String> = planned.iter().map(|(item, _)| item).collect();
    // What lacks a fact is told on the line of the plan.
    let told = |row: &Row| {
        planned.contains(&(row.item.clone(), row.place.as_str())) || (row.net.is_none() && items.contains(&row.item))
    };
    rows.into_iter().filter(|row| !told(row)).collect()
}

/// The lengths of one cut plan, and spares: of boards the length that is bought most, of trims the longest.
fn of_plan(product: &Product, plans: &CutPlans, plan: &ProductPlan, lacking: usize) -> Vec<Line> {
    let used = |purpose: Use| plans.parts.iter().any(|part| part.product == plan.product && part.purpose == purpose);
    let too_long: BTreeSet<&str> = plan.too_long().filter_map(|at| Some(plans.parts.get(at)?.place.as_str())).collect();
    let line = |length: Length, count: u64, spare: bool| Line {
        supplier: product.supplier.as_deref().unwrap_or_default().to_owned(),
        group: Group::of(product.kind),
        item: qualified(product),
        amount: Amount::Count(count),
        stock: Some(length),
        packs: None,
        cost: price::of_length(product, length).map(|price| price * count as f64),
        spare,
        uncounted: 0,
    };
    let mut lines: Vec<Line> = plan.buy.iter().map(|&(length, count)| line(length, count, false)).collect();
    if let Some(first) = lines.first_mut() {
        first.uncounted = lacking + too_long.len();
    }
    let all: u64 = plan.buy.iter().map(|(_, count)| count).sum();
    let (cladding, trim) = (used(Use::Cladding), used(Use::Trim));
    let most = plan.buy.iter().max_by_key(|(length, count)| (if cladding { *count } else { 0 }, *length));
    if let Some((length, _)) = most.filter(|_| cladding || trim) {
        let longest = product.stock.iter().max().copied().unwrap_or(*length);
        lines.push(line(if cladding { *length } else { longest }, gaps::spare(all, SPARE, false), true));
    }
    lines
}

/// The lengths that a list needs which comes from no wall.
fn of_list(list: &CutList, plan: &ListPlan) -> Vec<Line> {
    let price = |length: Length| {
        let prices = list.stocks.iter().filter(|(one, _)| *one == length).filter_map(|(_, price)| *price);
        prices.min_by(f64::total_cmp)
    };
    let line = |&(length, count): &(Length, u64)| Line {
        supplier: String::new(),
        group: Group::Lists,
        item: list.name.clone(),
        amount: Amount::Count(count),
        stock: Some(length),
        packs: None,
        cost: price(length).map(|price| price * count as f64),
        spare: false,
        uncounted: 0,
    };
    let mut lines: Vec<Line> = plan.buy.iter().map(line).collect();
    if let Some(first) = lines.first_mut() {
        first.uncounted = plan.plan.left.len();
    }
    lines
}

fn measured(total: &Total, product: Option<&Product>) -> Line {
    Line {
        supplier: total.supplier.to_string(),
        group: total.group,
        item: total.item.clone(),
        amount: total.wanted,
        stock: None,
        packs: product.and_then(|product| price::packs(product, total.wanted)),
        cost: product.and_then(|product| price::of_amount(product, total.wanted)),
        spare: false,
        uncounted: total.uncounted,
    }
}

/// One full length of each trim that is bought by measure.
fn spare_length(total: &Total, product: &Product) -> Option<Line> {
    let trim = matches!(total.group, Group::Trims | Group::Flashings) && matches!(total.wanted, Amount::Length(_));
    let length = product.stock.iter().max().copied().filter(|_| trim)?;
    let cost = price::of_length(product, length);
    let spare = measured(total, None);
    Some(Line { amount: Amount::Count(1), stock: Some(length), cost, spare: true, uncounted: 0, ..spare })
}
