//! Kits of the sections of work: one set of sheets a section, with its picture, its load and its pieces to tick off; and one sheet
//! with the order of sections, moves of the machine, hours and weights.

mod card;
mod summary;
mod tables;
#[cfg(test)]
mod tests;

use super::drawing::{Paper, Sheet};
use super::papers::{self, printed};
use super::table::{self, Table};
use super::{Emitter, Output, footer_line, titles};
use crate::continuity::Order;
use crate::kits::{Kit, Kits};
use crate::session::Checked;

/// Writes `kits/`.
pub struct KitSheets;

impl Emitter for KitSheets {
    fn id(&self) -> &'static str {
        "kits"
    }

    fn title(&self) -> &'static str {
        "Kits: what goes up to each section of work"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        if checked.model.sections.is_empty() {
            return Vec::new();
        }
        let order = Order::find(&checked.model, &checked.plan);
        let kits = Kits::of(&checked.model, &checked.plan, &order, &checked.made);
        let line = footer_line(checked);
        let summary = summary::table(checked, &kits);
        let before = tables::before(checked, &kits);
        let mut outputs = Vec::new();
        let mut all: Vec<Table> = vec![summary];
        all.extend(before.filter(|table| !table.rows.is_empty()));
        for table in &all {
            let sheets = paged(checked, table, Paper::A3);
            outputs.extend(printed(&format!("kits/{}", table.id), &table.title, &sheets));
        }
        for (number, kit) in kits.list.iter().enumerate() {
            let (pieces, goods) = (tables::pieces(checked, kit, number), tables::goods(checked, kit));
            let mut sheets: Vec<Sheet> = vec![card::sheet(checked, &order, &kits, kit, number)];
            sheets.extend(paged(checked, &pieces, Paper::A4));
            sheets.extend(paged(checked, &goods, Paper::A4));
            let path = format!("kits/{}", file_name(checked, kit));
            outputs.extend(printed(&path, &format!("kit, {}", words(kit)), &sheets));
            all.extend([pieces, goods].into_iter().filter(|table| !table.rows.is_empty()));
        }
        outputs.extend(papers::listed("kits", &all, &line));
        outputs.push(papers::for_programs("kits/kits.json", "kits for programs", &all, &line));
        outputs.extend(papers::workbook("kits/kits.xlsx", "kits as a workbook", "Kits", &all, &line));
        outputs
    }
}

fn paged(checked: &Checked, table: &Table, paper: Paper) -> Vec<Sheet> {
    if table.rows.is_empty() {
        return Vec::new();
    }
    table::sheets(table, &table.id, paper, &titles::block(checked, &table.title))
}

/// `kit_north_left`; with its wall where the kit is of no section.
fn file_name(checked: &Checked, kit: &Kit) -> String {
    let wall = checked.model.face(kit.face).map_or("", |face| face.name.as_str());
    match kit.section {
        Some(_) => format!("kit_{}", kit.name),
        None => format!("kit_rest_of_{wall}"),
    }
}

/// A kit as it is spoken of: `north left`, `the rest of the north wall`.
fn words(kit: &Kit) -> String {
    let name = kit.name.replace('_', " ");
    if kit.section.is_some() { name } else { format!("{name} wall, in no section") }
}

/// `264 kg (582 lb)`.
fn masses(kg: f64) -> String {
    format!("{kg:.0} kg ({:.0} lb)", kg / 0.453_592_37)
}

/// `5 h 35 min`.
fn hours(seconds: f64) -> String {
    let minutes = (seconds / 60.0).round() as i64;
    format!("{} h {:02} min", minutes / 60, minutes % 60)
}
