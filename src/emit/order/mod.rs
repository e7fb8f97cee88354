//! The order: what to buy, supplier by supplier, with what it costs where prices are known.

mod lines;
#[cfg(test)]
mod tests;
mod text;

pub use lines::{Line, lines};
pub use text::{json, json_schema, text};

use super::drawing::{Paper, Sheet};
use super::table::{self, Cell, Kind, Table, column};
use super::{Emitter, Output, footer_line, papers, titles};
use crate::quantities::{Amount, qualified};
use crate::session::Checked;
use crate::units::display::{Tape, inches, mm_figure};

/// Writes `order/`.
pub struct Order;

impl Emitter for Order {
    fn id(&self) -> &'static str {
        "order"
    }

    fn title(&self) -> &'static str {
        "Order: what to buy, supplier by supplier"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let lines = lines(checked);
        if lines.is_empty() {
            return Vec::new();
        }
        let table = table_of(&lines, notes(checked, &lines));
        let line = footer_line(checked);
        let sheets = sheets(checked, &lines);
        let tables = std::slice::from_ref(&table);
        let mut outputs = vec![Output::text("order/order.csv", "order", table::csv(&table, &line))];
        outputs.push(papers::for_programs("order/order.json", "order for programs", tables, &line));
        outputs.extend(papers::workbook("order/order.xlsx", "order as a workbook", "Order", tables, &line));
        outputs.extend(papers::printed("order/order", "order", &sheets));
        outputs
    }
}

/// Sheets for each supplier, who is to see no other's.
fn sheets(checked: &Checked, lines: &[Line]) -> Vec<Sheet> {
    let groups = lines.chunk_by(|one, two| one.supplier == two.supplier).enumerate();
    let sheets = groups.flat_map(|(at, lines)| {
        let supplier = lines.first().map(|line| line.supplier.as_str()).filter(|name| !name.is_empty());
        let mut table = table_of(lines, vec![HOW.to_owned(), SPARES.to_owned(), cost(lines)]);
        table.title = format!("Order, {}", supplier.unwrap_or("no supplier said"));
        // The name of the supplier stands in the title.
        table.columns.remove(SUPPLIER);
        table.rows.iter_mut().for_each(|row| drop(row.remove(SUPPLIER)));
        table::sheets(&table, &format!("order-{}", at + 1), Paper::A4, &titles::block(checked, &table.title))
    });
    sheets.collect()
}

/// Which column names the supplier.
const SUPPLIER: usize = 1;

fn table_of(lines: &[Line], notes: Vec<String>) -> Table {
    let columns = vec![
        column("done", "got", Kind::Tick),
        column("supplier", "supplier", Kind::Text),
        column("group", "group", Kind::Text),
        column("item", "item", Kind::Text),
        column("amount", "how much", Kind::Mark),
        column("imperial", "or", Kind::Mark),
        column("cost", "cost", Kind::Number(2)),
        column("note", "note", Kind::Text),
    ];
    let mut table = Table::new("order", "Order", columns);
    table.notes = notes;
    for line in lines {
        table.row([
            Cell::Nothing,
            line.supplier.as_str().into(),
            line.group.word().into(),
            line.item.replace('_', " ").into(),
            metric(line).into(),
            imperial(line).into(),
            line.cost.into(),
            note(line).into(),
        ]);
    }
    table
}

const HOW: &str = "boards, trims and furring are counted from the cut plans, all else by measure with its usual waste";
const SPARES: &str = "spares: 2.5 % of boards and trims, at least one full length of each, kept for repairs";

/// How it was counted, what it costs, and how good the cut plans are.
fn notes(checked: &Checked, lines: &[Line]) -> Vec<String> {
    let notes = [HOW.to_owned(), SPARES.to_owned(), cost(lines)];
    notes.into_iter().chain(how_good(checked)).collect()
}

/// What is priced and what is not.
fn cost(lines: &[Line]) -> String {
    let priced: Vec<f64> = lines.iter().filter_map(|line| line.cost).collect();
    let sum: f64 = priced.iter().sum();
    match (priced.len(), lines.len() - priced.len()) {
        (0, _) => "no line has a price".to_owned(),
        (_, 0) => format!("cost {sum:.2}, every line is priced"),
        (1, without) => format!("cost {sum:.2} for the one line that has a price; {without} have none and come on top"),
        (with, 1) => format!("cost {sum:.2} for the {with} lines that have a price; one has none and comes on top"),
        (with, without) => {
            format!("cost {sum:.2} for the {with} lines that have a price; {without} have none and come on top")
        }
    }
}

/// Whether less stock would do: proven, or by how much at most it is too much.
fn how_good(checked: &Checked) -> Option<String> {
    let walls = checked.cut_plans().products.iter().map(|plan| {
        let name = checked.model.product(plan.product).map(qualified).unwrap_or_default();
        (name, plan.cost, plan.bound)
    });
    let lists = checked.list_plans().map(|(list, plan)| (list.name.clone(), plan.cost, plan.bound));
    let all: Vec<(String, i64, i64)> = walls.chain(lists).filter(|(_, cost, _)| *cost > 0).collect();
    let open: Vec<String> = all
        .iter()
        .filter(|(_, cost, bound)| cost > bound)
        .map(|(name, cost, bound)| {
            let over = (cost - bound) as f64 / (*bound).max(1) as f64 * 100.0;
            format!("{} at most {over:.1} %", name.replace('_', " "))
        })
        .collect();
    let proven = all.len() - open.len();
    match (all.len(), open.len()) {
        (0, _) => None,
        (count, 0) => Some(format!("{count} cut plans, each proven: no way of cutting takes less")),
        _ => Some(format!("cut plans proven least: {proven}; not proven, and over the least: {}", open.join(", "))),
    }
}

fn metric(line: &Line) -> String {
    match (line.stock, line.amount) {
        (Some(length), Amount::Count(count)) => format!("{count} × {} mm", mm_figure(length)),
        (_, Amount::Count(1)) => "1 piece".to_owned(),
        (_, Amount::Count(count)) => format!("{count} pieces"),
        (_, Amount::Area(_)) => format!("{:.2} m²", line.amount.si()),
        (_, Amount::Length(_)) => format!("{:.2} m", line.amount.si()),
    }
}

fn imperial(line: &Line) -> String {
    match (line.stock, line.amount) {
        (Some(length), Amount::Count(count)) => format!("{count} × {}", inches(length, Tape::Sixteenth)),
        (_, Amount::Count(_)) => String::new(),
        (_, Amount::Area(_)) => format!("{:.1} ft²", line.amount.imperial()),
        (_, Amount::Length(_)) => format!("{:.1} ft", line.amount.imperial()),
    }
}

/// Packs that make it up, that it is a spare, and what is missing.
fn note(line: &Line) -> String {
    let packs = line.packs.as_ref().map(|packs| format!("{} {}", packs.count, packs.words));
    let spare = line.spare.then(|| "spare".to_owned());
    let missing = match line.uncounted {
        0 => None,
        1 => Some("1 place of it could not be counted".to_owned()),
        places => Some(format!("{places} places of it could not be counted")),
    };
    [packs, spare, missing].into_iter().flatten().collect::<Vec<_>>().join("; ")
}
