//! The sheet of holes: each piece drawn as a strip with its marks counted from its left (or lower) end.

use super::tables::{cut, mark, marked};
use crate::emit::drawing::{Fill, Item, Paper, Point, Rect, Sheet, Stroke, Text, at, text};
use crate::emit::titles;
use crate::layout::trims::{PieceRow, TrimPiece, Trims};
use crate::model::FaceId;
use crate::session::Checked;
use crate::units::display::{self, Tape, inches, mm_figure};
use crate::units::{Length, System};

/// Figures to mark by, the second unit, and words.
const LARGE: f64 = 5.0;
const SMALL: f64 = 3.2;
/// Height of a drawn strip.
const STRIP: f64 = 9.0;
/// Room for the figures of one row of holes.
const FIGURES: f64 = 25.0;
/// Between two figures: both units side by side.
const PITCH: f64 = 10.6;
/// Words above a strip.
const HEAD: f64 = 21.0;

/// Sheets of a face, two or three pieces each.
pub(super) fn sheets(checked: &Checked, made: &Trims, face: FaceId) -> Vec<Sheet> {
    let name = checked.model.face(face).map_or("", |face| face.name.as_str()).replace('_', " ");
    let title = format!("Holes, {name} wall");
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut y = f64::INFINITY;
    for piece in made.list.iter().filter(|piece| piece.face == face && piece.hole_count() > 0) {
        for pair in piece.rows.chunks(2) {
            let high = HEAD + FIGURES * pair.len() as f64 + STRIP + 10.0 * pair.len() as f64 + 5.0;
            if y + high > sheets.last().map_or(0.0, |sheet| sheet.area().bottom()) {
                let id = format!("holes-{name}-{}", sheets.len() + 1);
                let mut sheet = Sheet::new(&id, Paper::A4, titles::block(checked, &title));
                sheet.description = format!("{title}: pieces with the marks of their holes");
                y = sheet.area().y;
                sheets.push(sheet);
            }
            let Some(sheet) = sheets.last_mut() else { continue };
            let items = draw(piece, pair, sheet.area(), y, checked.model.project.units);
            sheet.layer("piece", items);
            y += high;
        }
    }
    let count = sheets.len();
    for (at_sheet, sheet) in sheets.iter_mut().enumerate().filter(|_| count > 1) {
        sheet.title.title = format!("{title} ({} of {count})", at_sheet + 1);
    }
    sheets
}

fn draw(piece: &TrimPiece, rows: &[PieceRow], area: Rect, y: f64, lead: System) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let left = area.x;
    items.push(Item::rect(Rect { x: left, y: y + 0.5, width: 6.5, height: 6.5 }, Some(Stroke::MEDIUM), Fill::White));
    let length = display::both(marked(piece.length), lead);
    items.push(Text::new(at(left + 9.0, y + 6.2), format!("{}   {length}", mark(piece))).size(LARGE).bold().into());
    let hand = piece.hand.map_or_else(String::new, |hand| format!(", hand {}", hand.letter()));
    let what = format!("{}, {}, on {}{hand}", piece.role.words(), piece.item, piece.run);
    items.push(Text::new(at(left + 9.0, y + 11.4), what).size(SMALL).into());
    let end = |end: usize| format!("{} ({})", piece.ends[end].goes_to, cut(piece.ends[end].cut));
    items.push(Text::new(at(left, y + 16.6), format!("0 → at {}", end(0))).size(SMALL).into());
    let right = Text::new(at(area.right(), y + 16.6), format!("{} at this end", end(1))).size(SMALL);
    items.push(right.anchor(crate::emit::drawing::Anchor::End).into());
    let top = y + HEAD + FIGURES;
    let scale = area.width / piece.length.as_mm().max(1.0);
    let x = |at: Length| left + at.as_mm() * scale;
    items.push(Item::rect(
        Rect { x: left, y: top, width: area.width, height: STRIP },
        Some(Stroke::HEAVY),
        Fill::White,
    ));
    let mut foot = top + STRIP + if rows.len() > 1 { 1.5 } else { 0.0 };
    for (number, row) in rows.iter().enumerate() {
        let above = number == 0;
        let line = if rows.len() == 1 { top + STRIP / 2.0 } else { top + STRIP * if above { 0.3 } else { 0.7 } };
        let places: Vec<f64> = row.marks.iter().map(|mark| x(mark.at)).collect();
        let spread = spread(&places, left, area.right());
        for ((hole, place), label) in row.marks.iter().zip(&places).zip(&spread) {
            items.push(Item::Circle {
                centre: at(*place, line),
                radius: if hole.slot.or(row.slot).is_some() { 0.8 } else { 1.2 },
                stroke: Some(Stroke::MEDIUM),
                fill: if hole.fixed { Fill::Solid(Default::default()) } else { Fill::White },
            });
            if hole.slot.or(row.slot).is_some() {
                items.push(Item::line(at(place - 1.8, line), at(place + 1.8, line), Stroke::MEDIUM));
            }
            items.extend(figure(
                hole.at,
                at(*place, line),
                *label,
                if above { top - 3.5 } else { top + STRIP + 3.5 },
                above,
                lead,
            ));
        }
        if !above {
            foot += FIGURES;
        }
    }
    for row in rows {
        for words in text::wrap(&row_words(row), area.width, SMALL, false).into_iter().take(2) {
            foot += 5.0;
            items.push(Text::new(at(left, foot), words).size(SMALL).into());
        }
    }
    items
}

/// `fix: 9 holes ⌀ 4.5 mm in the back leg, on studs; slots to 12 mm, ● fixed point`.
fn row_words(row: &PieceRow) -> String {
    let leg = row.leg.map_or_else(String::new, |leg| format!(" in the {leg} leg"));
    let longest = row.marks.iter().filter_map(|mark| mark.slot).max();
    let slots = longest.map_or_else(String::new, |slot| format!("; slots up to {} long", display::mm(slot)));
    let fixed = if row.marks.iter().any(|mark| mark.fixed) { "; black is the fixed point" } else { "" };
    let paired = if row.marks.iter().any(|mark| mark.paired) { "; in the lap drill both lengths" } else { "" };
    let out = match row.left_out.len() {
        0 => String::new(),
        count => format!("; {count} left out: {}", row.left_out.first().map_or("", |out| out.1)),
    };
    let lacks = row.lacks.as_ref().map_or_else(String::new, |fact| format!("; can't tell: {fact}"));
    let (count, size) = (row.marks.len(), display::both(row.size, System::Metric));
    format!("{}: {count} holes {size}{leg}, {}{slots}{fixed}{paired}{out}{lacks}", row.purpose, row.rule)
}

/// Figures of a mark, turned to read from the right, tied to the hole.
fn figure(length: Length, hole: Point, label: f64, from: f64, above: bool, lead: System) -> Vec<Item> {
    let length = marked(length);
    let (metric, imperial) = (mm_figure(length), inches(length, Tape::ThirtySecond).trim_end_matches(" in").to_owned());
    let (first, second) = if lead == System::Metric { (metric, imperial) } else { (imperial, metric) };
    let width = |words: &str, size: f64, bold: bool| text::width(words, size, bold);
    // Turned by −90° a text runs upwards from its place: below the strip it starts so much lower.
    let start = |words: &str, size: f64, bold: bool| if above { from } else { from + width(words, size, bold) };
    let line = Item::polyline(
        vec![
            hole,
            at(hole.x, if above { from + 2.6 } else { from - 2.6 }),
            at(label, from + if above { 0.6 } else { -0.6 }),
        ],
        Stroke::LIGHT,
    );
    let one = Text::new(at(label + 1.0, start(&first, LARGE, true)), first).size(LARGE).bold().turned(-90.0);
    let two = Text::new(at(label + 5.6, start(&second, SMALL, false)), second).size(SMALL).turned(-90.0);
    vec![line, one.into(), two.into()]
}

/// Places of labels, apart enough to be read, as near to their marks as that leaves.
fn spread(places: &[f64], left: f64, right: f64) -> Vec<f64> {
    let pitch = PITCH.min((right - left - 6.0) / places.len().max(1) as f64);
    let mut out: Vec<f64> = Vec::new();
    for &place in places {
        let least = out.last().map_or(left + 4.0, |last| last + pitch);
        out.push(place.max(least));
    }
    let mut most = right - 6.0;
    for place in out.iter_mut().rev() {
        *place = place.min(most);
        most = *place - pitch;
    }
    out
}
