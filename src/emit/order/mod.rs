//! The order: what to buy, supplier by supplier, with what it costs where prices are known.

mod lines;
#[cfg(test)]
mod tests;
mod text;

pub use lines::{Line, lines};
pub use text::{json, json_schema, text};

use super::drawing::Paper;
use super::table::{self, Cell, Kind, Table, column};
use super::{Emitter, Output, footer_line, papers, titles};
use crate::quantities::Amount;
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
        let table = table_of(&lines(checked));
        if table.rows.is_empty() {
            return Vec::new();
        }
        let line = footer_line(checked);
        let sheets = table::sheets(&table, "order", Paper::A4, &titles::block(checked, &table.title));
        let tables = std::slice::from_ref(&table);
        let mut outputs = vec![Output::text("order/order.csv", "order", table::csv(&table, &line))];
        outputs.push(papers::for_programs("order/order.json", "order for programs", tables, &line));
        outputs.extend(papers::workbook("order/order.xlsx", "order as a workbook", "Order", tables, &line));
        outputs.extend(papers::printed("order/order", "order", &sheets));
        outputs
    }
}

fn table_of(lines: &[Line]) -> Table {
    let columns = vec![
        column("done", "got", Kind::Tick),
        column("supplier", "supplier", Kind::Text),
        column("group", "group", Kind::Text),
        column("item", "item", Kind::Text),
        column("amount", "how much", Kind::Text),
        column("imperial", "or", Kind::Text),
        column("cost", "cost", Kind::Number(2)),
        column("note", "note", Kind::Text),
    ];
    let mut table = Table::new("order", "Order", columns);
    table.notes = notes(lines);
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

/// What is priced and what is not, and what spares are for.
fn notes(lines: &[Line]) -> Vec<String> {
    let priced: Vec<f64> = lines.iter().filter_map(|line| line.cost).collect();
    let without = lines.len() - priced.len();
    let cost = match (priced.len(), without) {
        (0, _) => "no line has a price".to_owned(),
        (_, 0) => format!("cost {:.2}, every line is priced", priced.iter().sum::<f64>()),
        (with, without) => {
            let sum: f64 = priced.iter().sum();
            format!("cost {sum:.2} for the {with} lines that have a price; {without} have none and come on top")
        }
    };
    let boards = "boards are counted from the cut plans, all else by measure with its usual waste".to_owned();
    let spares = "spares: 2.5 % of the boards and one full length of each trim, kept for repairs".to_owned();
    vec![boards, spares, cost]
}

fn metric(line: &Line) -> String {
    match (line.stock, line.amount) {
        (Some(length), Amount::Count(count)) => format!("{count} × {} mm", mm_figure(length)),
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

fn note(line: &Line) -> String {
    match (line.spare, line.uncounted) {
        (true, _) => "spare".to_owned(),
        (false, 0) => String::new(),
        (false, 1) => "1 place of it could not be counted".to_owned(),
        (false, places) => format!("{places} places of it could not be counted"),
    }
}
