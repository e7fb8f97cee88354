//! The order of work as a page with boxes to tick, and as a table: numbered steps by section, hold point and trade, stop lines
//! with tonight's rain, and how each service comes out again.

mod page;
mod steps;

use super::table::{Cell, Kind, Table, column, csv};
use super::{Emitter, Output, footer_line};
use crate::continuity::Order;
use crate::session::Checked;
pub(super) use steps::stop_words;
use steps::{Group, groups};

/// Writes `order-of-work.html` and `order-of-work.csv`.
pub struct OrderOfWork;

impl Emitter for OrderOfWork {
    fn id(&self) -> &'static str {
        "order_of_work"
    }

    fn title(&self) -> &'static str {
        "Order of work"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let order = Order::find(&checked.model, &checked.plan);
        if order.tasks.is_empty() {
            return Vec::new();
        }
        let groups = groups(checked, &order);
        vec![
            Output::text("order-of-work.html", "order of work, to tick off", page::page(checked, &order, &groups)),
            Output::text(
                "order-of-work.csv",
                "order of work, as a table",
                csv(&table(&order, &groups), &footer_line(checked)),
            ),
        ]
    }

    fn schema(&self) -> Option<serde_json::Value> {
        None
    }
}

/// One row for each task, with the number of its step.
fn table(order: &Order, groups: &[Group]) -> Table {
    let columns = vec![
        column("step", "step", Kind::Count),
        column("group", "group", Kind::Text),
        column("place", "place", Kind::Text),
        column("task", "task", Kind::Text),
        column("trade", "trade", Kind::Text),
        column("hold", "hold point", Kind::Text),
        column("left", "from the datum line", Kind::Length),
        column("height", "above the datum", Kind::Length),
    ];
    let mut table = Table::new("order_of_work", "order of work", columns);
    table
        .notes
        .extend(order.loops.iter().map(|circle| format!("no order builds this: {}", order.reasons(circle).join("; "))));
    for group in groups {
        for step in &group.steps {
            for (at, what) in &step.tasks {
                let Some(task) = order.task(*at) else { continue };
                let here = task.segment.lower_end();
                let placed = !step.is_everywhere;
                table.row([
                    Cell::Count(step.number),
                    group.title.clone().into(),
                    step.place.clone().into(),
                    what.clone().into(),
                    step.by.into(),
                    step.hold.map(str::to_owned).into(),
                    Some(here.x).filter(|_| placed).into(),
                    Some(here.y).filter(|_| placed).into(),
                ]);
            }
        }
    }
    table
}
