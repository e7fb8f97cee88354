//! Boards on sheets, batch by batch; boards that are cut at the same places are drawn once, with the marks of all of them below.

use super::drawn::{self, LEFT, WORDS};
use crate::emit::drawing::{Paper, Sheet, Text, at, text};
use crate::emit::titles;
use crate::session::Checked;
use crate::units::display::cut_down;
use crate::units::{Length, System};

/// Above the first board of a batch, for its name.
const NAME: f64 = 8.0;

/// Boards cut at the same places: one setting of the saw.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Setting {
    /// Length of the board.
    pub stock: Length,
    /// New, not an offcut.
    pub new: bool,
    /// Lengths of the pieces from the left end.
    pub cuts: Vec<Length>,
    /// Width of the saw cut.
    pub kerf: Length,
    /// What is left of a board.
    pub offcut: Length,
    /// For each board the marks of its pieces, in the order of the cuts.
    pub boards: Vec<Vec<String>>,
}

/// The settings for one wall or one list.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Batch {
    /// What is written at its first board.
    pub name: String,
    /// In the order in which they are cut.
    pub settings: Vec<Setting>,
}

/// What stands on a set of sheets besides the boards.
pub(in crate::emit) struct Heading<'h> {
    /// Id of the sheets, without the number.
    pub id: String,
    /// Title of every sheet.
    pub title: String,
    /// Words at the head of the first.
    pub words: &'h [String],
    /// Least offcut that is kept.
    pub keep: Length,
}

/// Puts boards together that show the same figures on paper, in the order of the first of each.
pub(super) fn together(boards: impl IntoIterator<Item = Setting>, lead: System) -> Vec<Setting> {
    let mut settings: Vec<Setting> = Vec::new();
    let shown = |setting: &Setting| -> Vec<Length> { setting.cuts.iter().map(|cut| cut_down(*cut, lead)).collect() };
    for board in boards {
        let alike = |one: &&mut Setting| {
            one.stock == board.stock && one.new == board.new && one.kerf == board.kerf && shown(one) == shown(&board)
        };
        match settings.iter_mut().find(alike) {
            Some(known) => {
                known.offcut = known.offcut.min(board.offcut);
                // The other unit is read from the shortest, so that no piece comes too long by it either.
                known.cuts.iter_mut().zip(&board.cuts).for_each(|(cut, other)| *cut = (*cut).min(*other));
                known.boards.extend(board.boards);
            }
            None => settings.push(board),
        }
    }
    settings
}

/// All boards on sheets, batch by batch.
pub(super) fn sheets(checked: &Checked, heading: &Heading<'_>, batches: &[Batch]) -> Vec<Sheet> {
    let lead = checked.model.project.units;
    let stocks = batches.iter().flat_map(|batch| &batch.settings).map(|setting| setting.stock);
    let longest = stocks.max().unwrap_or_default();
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut y = f64::INFINITY;
    let area = blank(checked, heading, 0).area();
    let scale = (area.width - LEFT) / longest.as_mm().max(1.0);
    for batch in batches {
        let parts = batch.settings.iter().flat_map(|setting| drawn::parts(setting, area.width));
        for (at_part, part) in parts.enumerate() {
            let mut place = drawn::Place { left: area.x, width: area.width, y: 0.0, scale, lead, keep: heading.keep };
            let named = if at_part == 0 { NAME } else { 0.0 };
            let height = named + drawn::height(&part, place);
            if sheets.last().is_none_or(|sheet| y + height > sheet.area().bottom()) {
                let mut sheet = blank(checked, heading, sheets.len() + 1);
                sheet.description = format!("{}: boards with their cuts, {}", heading.title, batch.name);
                y = sheet.area().y;
                if sheets.is_empty() {
                    y = head(&mut sheet, heading.words, y);
                }
                sheets.push(sheet);
            }
            let Some(sheet) = sheets.last_mut() else { continue };
            if at_part == 0 {
                sheet.push(Text::new(at(area.x, y + WORDS), batch.name.as_str()).size(WORDS).bold());
            }
            place.y = y + named;
            sheet.layer("board", drawn::draw(&part, place));
            y += height;
        }
    }
    let count = sheets.len();
    for (at_sheet, sheet) in sheets.iter_mut().enumerate().filter(|_| count > 1) {
        sheet.title.title = format!("{} ({} of {count})", heading.title, at_sheet + 1);
    }
    sheets
}

pub(super) fn blank(checked: &Checked, heading: &Heading<'_>, number: usize) -> Sheet {
    Sheet::new(&format!("{}-{number}", heading.id), Paper::A4, titles::block(checked, &heading.title))
}

pub(super) fn head(sheet: &mut Sheet, words: &[String], mut y: f64) -> f64 {
    let area = sheet.area();
    for line in words.iter().flat_map(|words| text::wrap(words, area.width, WORDS, false)) {
        y += WORDS + 2.0;
        sheet.push(Text::new(at(area.x, y), line).size(WORDS));
    }
    y + 4.0
}
