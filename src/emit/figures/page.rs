//! The page of a wall type, a face or a plane cut: few numbers, large, in both units, in two columns; below them what each is by
//! and how sure it is, said once.

use super::rows::{self, Depth, Notes, Row, Shown, Told};
use super::words::{self, Group};
use crate::emit::drawing::{Item, Paper, Rect, Sheet, Stroke, Text, at, item, text};
use crate::emit::elevation::capital;
use crate::emit::titles;
use crate::session::Checked;

/// Of the notes, mm.
const NOTE: f64 = 2.8;
/// From one line of the notes to the next.
const NOTE_LINE: f64 = 4.1;
/// Between the two columns.
const GUTTER: f64 = 10.0;
/// Above the heading of a study.
const ABOVE: f64 = 1.6;

/// As many sheets as it takes, mostly one.
pub(super) fn sheets(checked: &Checked, group: &Group<'_>) -> Vec<Sheet> {
    let lead = checked.model.project.units;
    let name = format!("Numbers, {}", group.title);
    let blank = Sheet::new(
        &format!("figures-{}", super::file_name(&group.id)),
        Paper::A4,
        titles::block(checked, &capital(&name)),
    );
    let area = blank.area();
    let half = (area.width - GUTTER) / 2.0;
    let mut notes = Notes::default();
    let mut blocks: Vec<Block> = Vec::new();
    for studied in group.studies {
        let rows = rows::rows(studied, lead, Depth::Few, &mut notes);
        let start = blocks.len();
        for (at_row, row) in rows.iter().enumerate() {
            let heading = (at_row == 0).then(|| words::study(studied.study));
            blocks.push(Block::of(row, heading, half));
        }
        let together = blocks.iter().skip(start).map(|block| block.height).sum();
        if let Some(first) = blocks.get_mut(start) {
            first.together = together;
        }
    }
    let notes = written(&notes, half);
    let foot = area.bottom() - notes.len().div_ceil(2) as f64 * NOTE_LINE - 4.0;
    let place = (!group.is_face && !group.place.is_empty()).then(|| format!("stands on: {}", group.place));
    let top = area.y + if place.is_some() { item::FIGURE * 1.9 } else { 0.0 };
    let room = Rect::edges(area.x, top, area.right(), foot);
    // A study stays together, unless that takes another sheet.
    let (whole, split) = (flow(&blocks, room, true), flow(&blocks, room, false));
    let pages = if whole.len() > split.len() { split } else { whole };
    let count = pages.len();
    let sheet = |(at_page, items): (usize, Vec<Item>)| {
        let mut sheet = blank.clone();
        if count > 1 {
            sheet.title.title = format!("{} ({} of {count})", blank.title.title, at_page + 1);
            sheet.id = format!("{}-{}", blank.id, at_page + 1);
        }
        sheet.description = format!("{}: {} numbers with their sources", blank.title.title, blocks.len());
        if let Some(place) = &place {
            sheet.push(Text::new(at(area.x, area.y + item::FIGURE), place.as_str()).size(item::FIGURE));
        }
        sheet.layer("numbers", items);
        sheet.layer("notes", noted(&notes, Rect::edges(area.x, foot, area.right(), area.bottom()), half));
        sheet
    };
    pages.into_iter().enumerate().map(sheet).collect()
}

/// The rows down two columns of as many pages as it takes; with `together`, a study begins where a column holds all of it.
fn flow(blocks: &[Block], room: Rect, together: bool) -> Vec<Vec<Item>> {
    let half = (room.width - GUTTER) / 2.0;
    let mut pages: Vec<Vec<Item>> = vec![Vec::new()];
    let (mut column, mut y) = (0, room.y);
    for block in blocks {
        let whole = together && block.together <= room.height;
        let wanted = if whole { block.together.max(block.height) } else { block.height };
        if y + wanted > room.bottom() && y > room.y {
            (column, y) = (column + 1, room.y);
            if column == 2 {
                column = 0;
                pages.push(Vec::new());
            }
        }
        if let Some(page) = pages.last_mut() {
            page.extend(block.draw(room.x + (half + GUTTER) * f64::from(column), y));
        }
        y += block.height;
    }
    pages
}

/// A row with its lines broken.
struct Block {
    heading: Option<&'static str>,
    title: Vec<String>,
    value: Vec<String>,
    other: String,
    /// Whether the other unit has no room behind the value.
    is_below: bool,
    height: f64,
    /// Of all rows of its study, if it is the first.
    together: f64,
}

impl Block {
    fn of(row: &Row, heading: Option<&'static str>, width: f64) -> Block {
        let (value, other, size) = match &row.told {
            Told::Value(Shown { value, other, word, note }) => {
                let parts = [other.as_str(), word].into_iter().filter(|part| !part.is_empty());
                let behind = format!("{}  [{note}]", parts.collect::<Vec<_>>().join(", "));
                (value.clone(), behind, item::LARGE)
            }
            Told::Missing(fact) => {
                (format!("can't tell; missing: {}", fact.replace('`', "")), String::new(), item::FIGURE)
            }
        };
        let title = text::wrap(&row.name().replace('_', " "), width, item::FIGURE, false);
        let value = text::wrap(&value, width, size, size == item::LARGE);
        let last = value.last().map_or(0.0, |line| text::width(line, item::LARGE, true));
        let is_below = !other.is_empty() && last + 3.0 + text::width(&other, item::FIGURE, false) > width;
        let below = if is_below { item::FIGURE * 1.6 } else { 0.0 };
        let head = if heading.is_some() { ABOVE + item::FIGURE * 1.5 } else { 0.0 };
        let height = head + title.len() as f64 * item::FIGURE * 1.3 + value.len() as f64 * size * 1.4 + below + 1.8;
        Block { heading, title, value, other, is_below, height, together: height }
    }

    fn draw(&self, x: f64, top: f64) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        let mut y = top;
        if let Some(heading) = self.heading {
            y += ABOVE + item::FIGURE;
            items.push(Text::new(at(x, y), capital(heading)).size(item::FIGURE).bold().into());
            y += item::FIGURE * 0.5;
        }
        for line in &self.title {
            y += item::FIGURE * 1.3;
            items.push(Text::new(at(x, y), line.as_str()).size(item::FIGURE).into());
        }
        let missing = self.other.is_empty();
        let size = if missing { item::FIGURE } else { item::LARGE };
        let mut right = x;
        for line in &self.value {
            y += size * 1.4;
            let text = Text::new(at(x, y), line.as_str()).size(size);
            let text = if missing { text } else { text.bold() };
            right = x + text.width();
            items.push(text.into());
        }
        let other = if self.is_below { at(x, y + item::FIGURE * 1.6) } else { at(right + 3.0, y) };
        if !missing {
            items.push(Text::new(other, self.other.as_str()).size(item::FIGURE).into());
        }
        items
    }
}

/// The notes, numbered, each line no wider than a column.
fn written(notes: &Notes, width: f64) -> Vec<String> {
    let numbered = notes.lines.iter().enumerate().map(|(at, note)| format!("[{}] {note}", at + 1));
    numbered.flat_map(|note| text::wrap(&note, width, NOTE, false)).collect()
}

fn noted(lines: &[String], room: Rect, half: f64) -> Vec<Item> {
    let rows = lines.len().div_ceil(2).max(1);
    let mut items = vec![Item::line(at(room.x, room.y + 1.0), at(room.right(), room.y + 1.0), Stroke::LIGHT)];
    for (index, line) in lines.iter().enumerate() {
        let (column, row) = (index / rows, index % rows);
        let place = at(room.x + (half + GUTTER) * column as f64, room.y + 1.0 + NOTE_LINE * (row + 1) as f64);
        items.push(Text::new(place, line.as_str()).size(NOTE).into());
    }
    items
}
