//! The frame of a sheet: a thin border, a strip along the bottom, and the line every output carries.

use super::item::{Anchor, FIGURE, Item, LARGE, SMALL, Stroke, Text};
use super::marks;
use super::shape::{Rect, at};
use super::sheet::Sheet;
use super::text;
use crate::units::System;

/// From the edge of the paper to the frame, mm.
const MARGIN: f64 = 10.0;
/// Between the frame and the drawing, mm.
const INSET: f64 = 3.0;
/// The strip without the footer, mm.
const STRIP: f64 = 22.0;
/// From one footer line to the next, mm.
const FOOTER_STEP: f64 = SMALL * 1.5;

/// The texts of the frame. Nothing is made up: what is absent is left out, or said to be absent.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TitleBlock {
    /// What the sheet is: `North wall, elevation`.
    pub title: String,
    /// Whose it is and where: `Heron Lane`.
    pub subtitle: String,
    /// The line every output carries; always printed whole.
    pub footer: String,
    /// Revision letter.
    pub revision: Option<String>,
    /// Date as given by the caller; the library has no clock.
    pub date: Option<String>,
    /// Short code to see whether a print is current.
    pub code: Option<String>,
    /// The sheet that takes this one's place; printed large across the top.
    pub superseded_by: Option<String>,
    /// Which unit leads on this sheet.
    pub lead: System,
}

/// The frame's own box.
fn border(sheet: &Sheet) -> Rect {
    Rect::edges(MARGIN, MARGIN, sheet.width_mm - MARGIN, sheet.height_mm - MARGIN)
}

fn footer(sheet: &Sheet) -> Vec<String> {
    text::wrap(&sheet.title.footer, border(sheet).width - 2.0 * INSET, SMALL, false)
}

fn strip_height(sheet: &Sheet) -> f64 {
    STRIP + FOOTER_STEP * footer(sheet).len() as f64 + 1.8
}

/// The room for the drawing.
pub fn area(sheet: &Sheet) -> Rect {
    let border = border(sheet);
    Rect::edges(border.x, border.y, border.right(), border.bottom() - strip_height(sheet)).grow(-INSET)
}

/// The frame of a sheet as one layer.
pub fn draw(sheet: &Sheet) -> Item {
    let border = border(sheet);
    let top = border.bottom() - strip_height(sheet);
    let mut items = vec![
        Item::rect(border, Some(Stroke::MEDIUM), super::item::Fill::None),
        Item::line(at(border.x, top), at(border.right(), top), Stroke::HEAVY),
    ];
    let (second, third) = (border.x + border.width * 0.40, border.right() - 58.0);
    items.extend(title_cell(sheet, Rect::edges(border.x, top, second, top + STRIP)));
    items.extend(scale_cell(sheet, Rect::edges(second, top, third, top + STRIP)));
    items.extend(issue_cell(sheet, Rect::edges(third, top, border.right(), top + STRIP)));
    for x in [second, third] {
        items.push(Item::line(at(x, top), at(x, top + STRIP), Stroke::LIGHT));
    }
    items.push(Item::line(at(border.x, top + STRIP), at(border.right(), top + STRIP), Stroke::LIGHT));
    for (index, line) in footer(sheet).into_iter().enumerate() {
        let y = top + STRIP + SMALL + 1.2 + FOOTER_STEP * index as f64;
        items.push(Text::new(at(border.x + INSET, y), line).into());
    }
    items.extend(corners(sheet, &border));
    Item::group("frame", items)
}

fn title_cell(sheet: &Sheet, cell: Rect) -> Vec<Item> {
    let room = cell.width - 2.0 * INSET;
    let left = cell.x + INSET;
    let fits = |size| text::width(&sheet.title.title, size, true) <= room;
    let size = if fits(LARGE) { LARGE } else { FIGURE };
    let line = |y: f64, content: &str, size: f64, bold: bool| {
        Text::new(at(left, cell.y + y), text::cut(content, room, size, bold)).size(size)
    };
    vec![
        line(8.0, &sheet.title.title, size, true).bold().into(),
        line(13.8, &sheet.title.subtitle, SMALL, false).into(),
        line(19.0, text::note(sheet.title.lead), SMALL, false).into(),
    ]
}

fn scale_cell(sheet: &Sheet, cell: Rect) -> Vec<Item> {
    let left = cell.x + INSET;
    match sheet.scale {
        Some(scale) => {
            let words = Text::new(at(left, cell.y + 8.0), scale.to_string()).size(LARGE).bold();
            let paper = Text::new(at(left, cell.y + 13.8), format!("on {}", paper_name(sheet)));
            let bar = at(left + 22.0, cell.y + 4.6);
            vec![words.into(), paper.into(), marks::scale_bar(scale, bar, cell.width - 2.0 * INSET - 30.0)]
        }
        None => vec![Text::new(at(left, cell.y + 8.0), "not to scale").size(FIGURE).bold().into()],
    }
}

fn paper_name(sheet: &Sheet) -> String {
    match (sheet.width_mm, sheet.height_mm) {
        (297.0, 210.0) => "A4".to_owned(),
        (420.0, 297.0) => "A3".to_owned(),
        (width, height) => format!("{width:.0} × {height:.0} mm"),
    }
}

fn issue_cell(sheet: &Sheet, cell: Rect) -> Vec<Item> {
    let room = cell.width - 2.0 * INSET;
    let title = &sheet.title;
    let revision =
        title.revision.as_deref().map_or_else(|| "no revision".to_owned(), |letter| format!("revision {letter}"));
    let date = title.date.clone().unwrap_or_else(|| "not dated".to_owned());
    let code = title.code.as_deref().map(|code| format!("print code {code}"));
    let rows = [(7.4, Some(revision), FIGURE), (13.4, Some(date), SMALL), (18.6, code, SMALL)];
    rows.into_iter()
        .filter_map(|(y, words, size)| {
            let text = text::cut(&words?, room, size, size > SMALL);
            let text = Text::new(at(cell.x + INSET, cell.y + y), text).size(size);
            Some(if size > SMALL { text.bold() } else { text }.into())
        })
        .collect()
}

/// Revision and date in the upper corners, and the word of a newer sheet where there is one.
fn corners(sheet: &Sheet, border: &Rect) -> Vec<Item> {
    let title = &sheet.title;
    let words: Vec<&str> = [title.revision.as_deref(), title.date.as_deref()].into_iter().flatten().collect();
    let words = text::cut(&words.join(" · "), border.width / 4.0, SMALL, false);
    let y = border.y - 1.4;
    let mut items: Vec<Item> = Vec::new();
    if !words.is_empty() {
        items.push(Text::new(at(border.x, y), words.clone()).into());
        items.push(Text::new(at(border.right(), y), words).anchor(Anchor::End).into());
    }
    if let Some(newer) = &title.superseded_by {
        let words = text::cut(&format!("SUPERSEDED BY {newer}"), border.width / 2.2, FIGURE, true);
        items.push(Text::new(at(border.centre().x, y), words).size(FIGURE).bold().anchor(Anchor::Middle).into());
    }
    items
}

#[cfg(test)]
mod tests {
    use super::super::sheet::{Extent, Paper, Scale};
    use super::*;
    use crate::units::Length;

    fn words(item: &Item) -> Vec<String> {
        match item {
            Item::Text(text) => vec![text.content.clone()],
            Item::Group(group) => group.items.iter().flat_map(words).collect(),
            _ => Vec::new(),
        }
    }

    #[test]
    fn the_footer_is_printed_whole_and_takes_its_room_from_the_drawing() {
        let footer = "no fault found in what was declared; this is not approval; ".repeat(6);
        let title = TitleBlock { title: "t".repeat(300), footer: footer.clone(), ..TitleBlock::default() };
        let (long, short) = (Sheet::new("a", Paper::A4, title), Sheet::new("b", Paper::A4, TitleBlock::default()));
        let printed = words(&draw(&long)).join(" ");
        assert!(printed.contains(footer.trim()), "{printed}");
        assert!(long.area().height < short.area().height - 5.0);
        assert!(printed.contains("no revision") && printed.contains("not dated") && printed.contains("not to scale"));
    }

    #[test]
    fn the_smaller_paper_is_taken_where_it_gives_the_same_scale() {
        let paper = |width, height| {
            let extent = Extent { right: Length::mm(width), top: Length::mm(height), ..Extent::default() };
            Paper::for_extent(&extent, &TitleBlock::default(), 20.0)
        };
        assert_eq!(paper(1500, 900), Paper::A4);
        assert_eq!(paper(9600, 5400), Paper::A4, "1:50 on both");
        assert_eq!(paper(12_000, 5400), Paper::A3, "1:50 against 1:75");
        assert_eq!(Scale(20).to_string(), "1:20");
    }
}
