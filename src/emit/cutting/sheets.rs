//! The sheets that blocks and panels are cut from: as a table, and drawn.

use super::board::Heading;
use super::stock::both;
use super::{face_name, sheet};
use crate::emit::drawing::Sheet;
use crate::emit::footer::count;
use crate::emit::table::{Kind, Table, column};
use crate::layout::sheet_plans::{SheetPlans, Use};
use crate::model::Model;
use crate::session::Checked;

fn name(model: &Model, plan: &SheetPlans) -> String {
    model.product(plan.product).map_or_else(String::new, |product| product.name.replace('_', " "))
}

/// One row a piece.
pub(super) fn table(model: &Model, plan: &SheetPlans) -> Table {
    let columns = vec![
        column("done", "cut", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("length", "along the sheet", Kind::Cut),
        column("width", "across", Kind::Cut),
        column("sheet", "sheet", Kind::Count),
        column("from_left", "from its left end", Kind::Length),
        column("from_edge", "from its lower edge", Kind::Length),
        column("wall", "wall", Kind::Text),
        column("what", "what", Kind::Text),
    ];
    let product = model.product(plan.product).map_or("", |product| product.name.as_str());
    let title = format!("Sheet layout, {}", name(model, plan));
    let mut table = Table::new(format!("sheet_layout_{product}"), title, columns);
    table.notes = words(model, plan);
    let mut number = 0;
    for sheet in &plan.plan.sheets {
        for _ in 0..sheet.count {
            number += 1;
            for placed in &sheet.placed {
                let Some(part) = plan.parts.get(placed.part) else { continue };
                let what = match part.becomes {
                    Use::Panel(_) => "panel".to_owned(),
                    Use::Block(at) => {
                        let block = model.face(part.face).and_then(|face| face.blocks.get(at));
                        block.map_or_else(String::new, |block| format!("block {}", block.name.replace('_', " ")))
                    }
                };
                table.row([
                    crate::emit::table::Cell::Nothing,
                    part.mark.clone().into(),
                    placed.piece.length.into(),
                    placed.piece.width.into(),
                    (number as u64).into(),
                    placed.piece.x.into(),
                    placed.piece.y.into(),
                    face_name(model, part.face).into(),
                    what.into(),
                ]);
            }
        }
    }
    table
}

/// What to buy, how good that is, which way pieces lie, and which face is good.
fn words(model: &Model, plan: &SheetPlans) -> Vec<String> {
    let mut bought: Vec<(usize, u64)> = Vec::new();
    for sheet in &plan.plan.sheets {
        match bought.iter_mut().find(|(at, _)| *at == sheet.sheet) {
            Some((_, known)) => *known += sheet.count,
            None => bought.push((sheet.sheet, sheet.count)),
        }
    }
    let size =
        |at: usize| plan.order.sheets.get(at).map(|sheet| format!("{} × {}", both(sheet.length), both(sheet.width)));
    let buy: Vec<String> =
        bought.into_iter().filter_map(|(at, count)| Some(format!("{count} of {}", size(at)?))).collect();
    let good = if plan.plan.proven { "no less will do: proven by area" } else { "not proven that no less will do" };
    let mut words = vec![
        format!("buy {}; {good}", if buy.is_empty() { "nothing".to_owned() } else { buy.join(", ") }),
        format!("each cut takes {}; the size of a cut is what stays on its lower or left side", both(plan.order.kerf)),
    ];
    let product = model.product(plan.product);
    words.push(match product.and_then(|product| product.grain) {
        Some(true) => "grain along the sheet: no piece is turned".to_owned(),
        Some(false) => "no grain: pieces may be turned".to_owned(),
        None => "cannot tell the grain (`grain` is not said): no piece is turned".to_owned(),
    });
    words.push(match product.and_then(|product| product.good_face) {
        Some("both") => "both faces are good".to_owned(),
        Some(_) => {
            "one good face: up on a table saw, down under a hand-held saw (common practice, no source)".to_owned()
        }
        None => "cannot tell which face is good (`good_face` is not said): look, and mark it".to_owned(),
    });
    for (at, left) in &plan.plan.left {
        if let Some(part) = plan.parts.get(*at) {
            words.push(format!(
                "{} ({} × {}) fits no sheet: {}",
                part.mark,
                both(part.size.0),
                both(part.size.1),
                count(*left as usize, "piece", "pieces")
            ));
        }
    }
    words
}

/// The layouts on paper.
pub(super) fn sheets(checked: &Checked, plan: &SheetPlans) -> Vec<Sheet> {
    let model = &checked.model;
    let product = model.product(plan.product).map_or("", |product| product.name.as_str());
    let heading = Heading {
        id: format!("sheet-layout-{product}"),
        title: format!("Sheet layout, {}", name(model, plan)),
        words: &words(model, plan),
        keep: plan.keep,
    };
    let mark = |at: usize| plan.parts.get(at).map_or_else(String::new, |part| part.mark.clone());
    sheet::sheets(checked, &heading, &sheet::layouts(&plan.order, &plan.plan, mark))
}
