//! The boards of a product: as a table, and wall by wall as settings of the saw.

use std::collections::BTreeMap;

use super::board::{self, Batch, Heading, Setting};
use super::{face_name, mark, product_name};
use crate::emit::drawing::Sheet;
use crate::emit::table::{Cell, Kind, Table, column};
use crate::layout::cut_plans::{ProductPlan, WallPlan};
use crate::layout::cutting::Bar;
use crate::layout::pieces::{Piece, Pieces};
use crate::model::Model;
use crate::session::Checked;
use crate::units::Length;
use crate::units::display::{Tape, inches, mm_figure};

/// One row a bar: the marks in the order of the cuts.
pub(super) fn table(model: &Model, pieces: &Pieces, plan: &ProductPlan) -> Table {
    let columns = vec![
        column("wall", "wall", Kind::Text),
        column("boards", "boards", Kind::Count),
        column("stock", "stock", Kind::Length),
        column("from", "from", Kind::Text),
        column("pieces", "pieces, from the left end", Kind::Text),
        column("kerf", "saw takes", Kind::Length),
        column("offcut", "left over", Kind::Length),
        column("keep", "keep it", Kind::Text),
    ];
    let name = model.product(plan.product).map_or("", |product| product.name.as_str());
    let mut table = Table::new(format!("cut_plan_{name}"), format!("Cut plan, {}", product_name(model, plan)), columns);
    table.notes = words(plan);
    for wall in &plan.walls {
        for bar in &wall.plan.bars {
            let cut = each(wall, bar, &pieces.list).map(|piece| format!("{} {}", mark(piece), mm_figure(piece.length)));
            table.row([
                face_name(model, wall.face).into(),
                bar.count.into(),
                wall.order.stocks[bar.stock].length.into(),
                if bar.stock < wall.new_stocks { "new" } else { "offcut" }.into(),
                cut.collect::<Vec<_>>().join(", ").into(),
                bar.kerf.into(),
                bar.offcut.into(),
                Cell::from(if bar.offcut >= plan.keep { "yes" } else { "" }),
            ]);
        }
    }
    table
}

/// What was bought, how good that is, and what is left.
pub(super) fn words(plan: &ProductPlan) -> Vec<String> {
    let mut words = what_to_buy(&plan.buy, (plan.cost, plan.bound), plan.priced, "of cutting these walls together");
    words.extend(left_over(&plan.offcuts, plan.keep));
    words
}

/// What to buy, and how good that is: `(cost, bound)` in millimetres or cents.
pub(super) fn what_to_buy(
    buy: &[(Length, u64)],
    (cost, bound): (i64, i64),
    priced: bool,
    of_cutting: &str,
) -> Vec<String> {
    let buy: Vec<String> = buy.iter().map(|(length, count)| format!("{count} × {}", both(*length))).collect();
    let hundredths = |cost: i64| cost as f64 / if priced { 100.0 } else { 1000.0 };
    let unit = |cost: i64| format!("{:.2}{}", hundredths(cost), if priced { "" } else { " m" });
    let good = if cost == bound {
        format!("no way {of_cutting} takes less: proven")
    } else {
        format!(
            "{} is bought; no way {of_cutting} takes less than {} (not proven that one takes so little)",
            unit(cost),
            unit(bound)
        )
    };
    vec![format!("buy {}", if buy.is_empty() { "nothing".to_owned() } else { buy.join(", ") }), good]
}

/// What is left at the end and worth keeping.
pub(super) fn left_over(offcuts: &[Length], keep: Length) -> Option<String> {
    let mut kept: BTreeMap<Length, usize> = BTreeMap::new();
    offcuts.iter().for_each(|length| *kept.entry(*length).or_default() += 1);
    let longest: Vec<String> =
        kept.iter().rev().take(6).map(|(length, count)| format!("{count} × {}", mm_figure(*length))).collect();
    (!kept.is_empty()).then(|| {
        let (total, longest) = (offcuts.len(), longest.join(", "));
        format!("{total} offcuts of {} and more are left at the end; the longest in mm: {longest}", both(keep))
    })
}

pub(super) fn both(length: Length) -> String {
    format!("{} mm ({})", mm_figure(length), inches(length, Tape::Sixteenth))
}

/// The pieces of a bar, the longest first.
fn each<'p>(wall: &'p WallPlan, bar: &'p Bar, list: &'p [Piece]) -> impl Iterator<Item = &'p Piece> {
    let repeated = bar.pieces.iter().flat_map(|&(at, count)| std::iter::repeat_n(at, count as usize));
    repeated.filter_map(|at| list.get(*wall.pieces.get(at)?))
}

/// Sheets of boards, wall by wall; boards that are cut alike are drawn once.
pub(super) fn sheets(checked: &Checked, pieces: &Pieces, plan: &ProductPlan) -> Vec<Sheet> {
    let model = &checked.model;
    let name = model.product(plan.product).map_or("", |product| product.name.as_str());
    let batches: Vec<Batch> = plan.walls.iter().map(|wall| batch(checked, pieces, wall)).collect();
    let heading = Heading {
        id: format!("cut-plan-{name}"),
        title: format!("Cut plan, {}", product_name(model, plan)),
        words: &words(plan),
        keep: plan.keep,
    };
    board::sheets(checked, &heading, &batches)
}

fn batch(checked: &Checked, pieces: &Pieces, wall: &WallPlan) -> Batch {
    let setting = |bar: &Bar| {
        let cut: Vec<&Piece> = each(wall, bar, &pieces.list).collect();
        let marks: Vec<String> = cut.iter().map(|piece| mark(piece)).collect();
        Setting {
            stock: wall.order.stocks[bar.stock].length,
            new: bar.stock < wall.new_stocks,
            cuts: cut.iter().map(|piece| piece.length).collect(),
            kerf: wall.order.kerf,
            offcut: bar.offcut,
            boards: vec![marks; bar.count as usize],
        }
    };
    Batch {
        name: format!("{} wall", face_name(&checked.model, wall.face).replace('_', " ")),
        settings: board::together(wall.plan.bars.iter().map(setting), checked.model.project.units),
    }
}
