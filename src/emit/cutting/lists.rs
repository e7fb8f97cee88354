//! The plans of lists that come from no wall: as tables and as boards.

use super::board::{self, Batch, Heading, Setting};
use super::stock::{both, left_over, what_to_buy};
use crate::emit::drawing::Sheet;
use crate::emit::table::{Cell, Kind, Table, column};
use crate::layout::cutting::Bar;
use crate::layout::list_plans::ListPlan;
use crate::model::CutList;
use crate::session::Checked;
use crate::units::display::mm_figure;

/// Every list with its plan.
pub(super) fn plans(checked: &Checked) -> Vec<(&CutList, &ListPlan)> {
    checked.list_plans().filter(|(list, _)| !list.pieces.is_empty()).collect()
}

fn title(list: &CutList) -> String {
    format!("Cut plan, list {}", list.name.replace('_', " "))
}

/// The pieces of one bar from the left end: place in the list, once for each.
fn each(bar: &Bar) -> impl Iterator<Item = usize> {
    bar.pieces.iter().flat_map(|&(at, count)| std::iter::repeat_n(at, count as usize))
}

/// One row a kind of bar.
pub(super) fn table(list: &CutList, plan: &ListPlan) -> Table {
    let columns = vec![
        column("boards", "lengths", Kind::Count),
        column("stock", "stock", Kind::Length),
        column("from", "from", Kind::Text),
        column("pieces", "pieces, from the left end", Kind::Text),
        column("kerf", "saw takes", Kind::Length),
        column("offcut", "left over", Kind::Length),
        column("keep", "keep it", Kind::Text),
    ];
    let mut table = Table::new(format!("cut_plan_list_{}", list.name), title(list), columns);
    table.notes = words(list, plan);
    for bar in &plan.plan.bars {
        let piece = |at: usize| {
            let piece = list.pieces.get(at)?;
            let mark = piece.mark.as_ref().map_or_else(String::new, |mark| format!("{mark} "));
            Some(format!("{mark}{}", mm_figure(piece.length)))
        };
        table.row([
            bar.count.into(),
            plan.order.stocks[bar.stock].length.into(),
            if bar.stock < plan.new_stocks { "new" } else { "offcut" }.into(),
            each(bar).filter_map(piece).collect::<Vec<_>>().join(", ").into(),
            bar.kerf.into(),
            bar.offcut.into(),
            Cell::from(if bar.offcut >= plan.keep { "yes" } else { "" }),
        ]);
    }
    table
}

fn words(list: &CutList, plan: &ListPlan) -> Vec<String> {
    let mut words = what_to_buy(&plan.buy, (plan.cost, plan.bound), plan.priced, "of cutting this list");
    words.extend(left_over(&plan.offcuts, plan.keep));
    for (at, count) in &plan.plan.left {
        if let Some(piece) = list.pieces.get(*at) {
            words.push(format!("no stock for {count} of {}", both(piece.length)));
        }
    }
    words
}

/// Sheets of boards.
pub(super) fn sheets(checked: &Checked, list: &CutList, plan: &ListPlan) -> Vec<Sheet> {
    let setting = |bar: &Bar| {
        let pieces = || each(bar).filter_map(|at| list.pieces.get(at));
        let marks: Vec<String> =
            pieces().map(|piece| piece.mark.as_ref().map_or_else(String::new, ToString::to_string)).collect();
        Setting {
            stock: plan.order.stocks[bar.stock].length,
            new: bar.stock < plan.new_stocks,
            cuts: pieces().map(|piece| piece.length).collect(),
            kerf: plan.order.kerf,
            offcut: bar.offcut,
            boards: vec![marks; bar.count as usize],
        }
    };
    let settings = board::together(plan.plan.bars.iter().map(setting), checked.model.project.units);
    let heading = Heading {
        id: format!("cut-plan-list-{}", list.name),
        title: title(list),
        words: &words(list, plan),
        keep: plan.keep,
    };
    board::sheets(checked, &heading, &[Batch { name: list.name.replace('_', " "), settings }])
}
