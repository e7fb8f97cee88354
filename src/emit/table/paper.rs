//! A table on paper, to be read at arm's length and struck off with a pencil: figures at least 5 mm high, thick lines, one
//! row a thing, both units, a box to tick.

use super::{Cell, Column, Kind, Table};
use crate::emit::drawing::{Anchor, Fill, Item, Paper, Rect, Sheet, Stroke, Text, TitleBlock, at, text};
use crate::units::display::{Tape, cut_down, feet_inches, gap_up, inches, mm_figure};
use crate::units::{Length, System};

/// Height of capitals and digits of the leading figure.
const LARGE: f64 = 5.0;
/// Of words and of the second unit.
const SMALL: f64 = 3.2;
/// Of headings.
const HEAD: f64 = 2.8;
/// From one row to the next: a thumb in a glove.
const ROW: f64 = 12.5;
/// Between columns.
const GUTTER: f64 = 4.0;
/// Of a box to tick.
const BOX: f64 = 6.5;

/// As many sheets as the rows need, `title` with "1 of 3" where there are several. `id` stands before ids in the drawings.
pub fn sheets(table: &Table, id: &str, paper: Paper, title: &TitleBlock) -> Vec<Sheet> {
    let title = TitleBlock { title: table.title.clone(), ..title.clone() };
    let blank = Sheet::new(id, paper, title.clone());
    let area = blank.area();
    let notes: Vec<String> = table.notes.iter().flat_map(|note| text::wrap(note, area.width, SMALL, false)).collect();
    let top = area.y + notes.len() as f64 * 5.0 + 2.0;
    let shown: Vec<Vec<(String, String)>> = table
        .rows
        .iter()
        .map(|row| row.iter().zip(&table.columns).map(|(cell, column)| words(column, cell, title.lead)).collect())
        .collect();
    let widths = widths(&table.columns, &shown, area.width);
    // Words that do not fit their column take further lines, and their row grows.
    let wrapped: Vec<Wrapped> = shown.iter().map(|row| wrap(row, &table.columns, &widths)).collect();
    let mut pages: Vec<Vec<Item>> = vec![Vec::new()];
    let mut y = top + HEAD + 6.0;
    for row in &wrapped {
        if y + row.height > area.bottom() && pages.last().is_some_and(|page| !page.is_empty()) {
            pages.push(Vec::new());
            y = top + HEAD + 6.0;
        }
        if let Some(page) = pages.last_mut() {
            page.extend(draw(row, &table.columns, &widths, area.x, y));
        }
        y += row.height;
    }
    let count = pages.len();
    let numbered = pages.into_iter().enumerate().map(|(at_page, items)| {
        let mut sheet = blank.clone();
        if count > 1 {
            sheet.title.title = format!("{} ({} of {count})", table.title, at_page + 1);
            sheet.id = format!("{id}-{}", at_page + 1);
        }
        sheet.description = format!("{}: a table of {} rows", table.title, table.rows.len());
        for (line, note) in notes.iter().enumerate() {
            sheet.push(Text::new(at(area.x, area.y + SMALL + line as f64 * 5.0), note.clone()).size(SMALL));
        }
        sheet.layer("headings", heads(&table.columns, &widths, &area, top, title.lead));
        sheet.layer("rows", items);
        sheet
    });
    numbered.collect()
}

/// A row with its words broken into lines.
struct Wrapped {
    cells: Vec<(Vec<String>, String)>,
    height: f64,
}

fn size(kind: Kind) -> (f64, bool) {
    match kind {
        Kind::Text => (SMALL, false),
        Kind::Mark => (LARGE, true),
        _ => (LARGE, true),
    }
}

fn wrap(row: &[(String, String)], columns: &[Column], widths: &[f64]) -> Wrapped {
    let mut height = ROW;
    let cells = row.iter().zip(columns).zip(widths).map(|(((lead, second), column), width)| {
        let (size, bold) = size(column.kind);
        let lines = if column.kind == Kind::Text { text::wrap(lead, *width, size, bold) } else { vec![lead.clone()] };
        height = height.max(lines.len() as f64 * (SMALL + 1.6) + 4.0);
        (lines, second.clone())
    });
    let cells = cells.collect();
    Wrapped { cells, height }
}

fn draw(row: &Wrapped, columns: &[Column], widths: &[f64], left: f64, y: f64) -> Vec<Item> {
    let mut items = Vec::new();
    let mut x = left;
    for ((column, width), (lines, second)) in columns.iter().zip(widths).zip(&row.cells) {
        let (size, bold) = size(column.kind);
        let right = matches!(column.kind, Kind::Count | Kind::Number(_));
        for (line, words) in lines.iter().enumerate() {
            let baseline = y + 1.6 + size + line as f64 * (SMALL + 1.6);
            let place = at(if right { x + width } else { x }, baseline);
            let text =
                Text::new(place, words.clone()).size(size).anchor(if right { Anchor::End } else { Anchor::Start });
            items.push(if bold { text.bold() } else { text }.into());
        }
        if !second.is_empty() {
            items.push(Text::new(at(x, y + 1.6 + LARGE + SMALL + 0.8), second.clone()).size(HEAD).into());
        }
        if column.kind == Kind::Tick {
            let corner = at(x, y + (ROW - BOX) / 2.0);
            items.push(Item::rect(
                Rect::edges(corner.x, corner.y, corner.x + BOX, corner.y + BOX),
                Some(Stroke::MEDIUM),
                Fill::None,
            ));
        }
        x += width + GUTTER;
    }
    items.push(Item::line(at(left, y + row.height), at(x - GUTTER, y + row.height), Stroke::LIGHT));
    items
}

fn heads(columns: &[Column], widths: &[f64], area: &Rect, top: f64, lead: System) -> Vec<Item> {
    let mut items = Vec::new();
    let mut x = area.x;
    for (column, width) in columns.iter().zip(widths) {
        let right = matches!(column.kind, Kind::Count | Kind::Number(_));
        let place = at(if right { x + width } else { x }, top + HEAD);
        let words = heading(column, lead);
        items.push(
            Text::new(place, words).size(HEAD).anchor(if right { Anchor::End } else { Anchor::Start }).bold().into(),
        );
        x += width + GUTTER;
    }
    items.push(Item::line(at(area.x, top + HEAD + 3.0), at(x - GUTTER, top + HEAD + 3.0), Stroke::HEAVY));
    items
}

fn heading(column: &Column, lead: System) -> String {
    let units = |metric: &str, imperial: &str| match lead {
        System::Metric => format!("{} {metric} / {imperial}", column.heading),
        System::Imperial => format!("{} {imperial} / {metric}", column.heading),
    };
    match column.kind {
        Kind::Length | Kind::Cut | Kind::Gap => units("mm", "in"),
        Kind::LongLength => units("m", "ft in"),
        Kind::Area => units("m²", "ft²"),
        Kind::Mass => units("kg", "lb"),
        _ => column.heading.to_owned(),
    }
}

/// The leading words, and those of the second unit below them.
fn words(column: &Column, cell: &Cell, lead: System) -> (String, String) {
    let pair = |metric: String, imperial: String| match lead {
        System::Metric => (metric, imperial),
        System::Imperial => (imperial, metric),
    };
    match (column.kind, cell) {
        (Kind::Length, Cell::Length(length)) => {
            let (metric, imperial) = both(*length);
            pair(metric, imperial)
        }
        (Kind::Cut, Cell::Length(length)) => {
            let [metric, imperial] = [System::Metric, System::Imperial].map(|unit| both(cut_down(*length, unit)));
            pair(metric.0, imperial.1)
        }
        (Kind::Gap, Cell::Length(length)) => {
            let [metric, imperial] = [System::Metric, System::Imperial].map(|unit| both(gap_up(*length, unit)));
            pair(metric.0, imperial.1)
        }
        (Kind::LongLength, Cell::Length(length)) => {
            pair(format!("{:.2}", length.as_m()), feet_inches(*length, Tape::Sixteenth))
        }
        (Kind::Area, Cell::Area(area)) => {
            pair(format!("{:.2}", area.as_m2()), format!("{:.1}", area.as_m2() * super::SQUARE_FEET))
        }
        (Kind::Mass, Cell::Number(mass)) => pair(format!("{mass:.1}"), format!("{:.0}", mass * super::POUNDS)),
        (Kind::Number(places), Cell::Number(number)) => (super::figure(*number, places), String::new()),
        (_, Cell::Text(text)) => (text.clone(), String::new()),
        (_, Cell::Count(count)) => (count.to_string(), String::new()),
        (_, Cell::Number(number)) => (super::figure(*number, 2), String::new()),
        (_, Cell::Length(length)) => (mm_figure(*length), String::new()),
        (_, Cell::Area(area)) => (format!("{:.2}", area.as_m2()), String::new()),
        (_, Cell::Nothing) => (String::new(), String::new()),
    }
}

fn both(length: Length) -> (String, String) {
    (mm_figure(length), inches(length, Tape::Sixteenth).trim_end_matches(" in").to_owned())
}

/// Each column as wide as its widest word; columns of words give way first.
fn widths(columns: &[Column], rows: &[Vec<(String, String)>], room: f64) -> Vec<f64> {
    let natural = columns.iter().enumerate().map(|(at, column)| {
        let (size, bold) = size(column.kind);
        let head = text::width(&heading(column, System::Metric), HEAD, true);
        let widest = rows
            .iter()
            .filter_map(|row| row.get(at))
            .map(|(lead, second)| text::width(lead, size, bold).max(text::width(second, HEAD, false)));
        let least = if column.kind == Kind::Tick { BOX } else { 0.0 };
        widest.fold(head.max(least), f64::max) + 0.5
    });
    let natural: Vec<f64> = natural.collect();
    let room = room - GUTTER * columns.len().saturating_sub(1) as f64;
    let total: f64 = natural.iter().sum();
    let words: f64 =
        columns.iter().zip(&natural).filter(|(column, _)| column.kind == Kind::Text).map(|(_, width)| width).sum();
    if total <= room || words == 0.0 {
        return natural;
    }
    let share = ((room - (total - words)) / words).max(0.15);
    columns
        .iter()
        .zip(natural)
        .map(|(column, width)| if column.kind == Kind::Text { width * share } else { width })
        .collect()
}
