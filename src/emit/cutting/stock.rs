//! The boards of a product: as a table, and wall by wall as settings of the saw.

use std::collections::BTreeMap;

use super::board::{self, Batch, Heading, Setting};
use super::{face_name, product_name};
use crate::emit::drawing::Sheet;
use crate::emit::table::{Cell, Kind, Table, column};
use crate::layout::cut_plans::{Part, ProductPlan, WallPlan};
use crate::layout::cutting::Bar;
use crate::model::Model;
use crate::session::Checked;
use crate::units::Length;
use crate::units::display::{Tape, inches, mm_figure};

/// One row a bar: the marks in the order of the cuts.
pub(super) fn table(model: &Model, parts: &[Part], plan: &ProductPlan) -> Table {
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
    table.notes = words(parts, plan);
    for wall in &plan.walls {
        for bar in &wall.plan.bars {
            let cut = each(wall, bar, parts).map(|part| format!("{} {}", part.mark, mm_figure(part.length)));
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
pub(super) fn words(parts: &[Part], plan: &ProductPlan) -> Vec<String> {
    let mut words = what_to_buy(&plan.buy, (plan.cost, plan.bound), plan.priced, "of cutting these walls together");
    words.extend(
        plan.too_long()
            .filter_map(|at| parts.get(at))
            .map(|part| format!("no stock is long enough for {}, {}", part.mark, both(part.length))),
    );
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
fn each<'p>(wall: &'p WallPlan, bar: &'p Bar, list: &'p [Part]) -> impl Iterator<Item = &'p Part> {
    let repeated = bar.pieces.iter().flat_map(|&(at, count)| std::iter::repeat_n(at, count as usize));
    repeated.filter_map(|at| list.get(*wall.parts.get(at)?))
}

/// Sheets of boards, wall by wall; boards that are cut alike are drawn once.
pub(super) fn sheets(checked: &Checked, parts: &[Part], plan: &ProductPlan) -> Vec<Sheet> {
    let model = &checked.model;
    let name = model.product(plan.product).map_or("", |product| product.name.as_str());
    let batches: Vec<Batch> = plan.walls.iter().map(|wall| batch(checked, parts, wall)).collect();
    let heading = Heading {
        id: format!("cut-plan-{name}"),
        title: format!("Cut plan, {}", product_name(model, plan)),
        words: &words(parts, plan),
        keep: plan.keep,
    };
    board::sheets(checked, &heading, &batches)
}

fn batch(checked: &Checked, parts: &[Part], wall: &WallPlan) -> Batch {
    let setting = |bar: &Bar| {
        let cut: Vec<&Part> = each(wall, bar, parts).collect();
        let marks: Vec<String> = cut.iter().map(|part| part.mark.clone()).collect();
        Setting {
            stock: wall.order.stocks[bar.stock].length,
            new: bar.stock < wall.new_stocks,
            cuts: cut.iter().map(|part| part.length).collect(),
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
