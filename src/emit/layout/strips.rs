//! Strips at full size, to be laid against a short piece or one module of a long one.

use super::tables::{mark, marked};
use crate::emit::drawing::{Anchor, Fill, Item, Paper, Rect, Scale, Sheet, Stroke, Text, at, marks};
use crate::emit::titles;
use crate::layout::trims::{Template, TrimPiece, Trims};
use crate::session::Checked;
use crate::units::Length;
use crate::units::display::{self, Tape, inches, mm_figure};

/// Longest strip at full size: paper moves. Common practice, no source.
pub(super) const LONGEST: Length = Length::mm(600);
/// Length of a strip on one line of paper.
const TILE: Length = Length::mm(240);
/// From one line to the next.
const STEP: f64 = 40.0;
/// Kept at both sides of a module.
const BESIDE: Length = Length::mm(50);

/// A stretch of a piece at full size.
struct Strip<'p> {
    piece: &'p TrimPiece,
    from: Length,
    to: Length,
    words: String,
}

/// One sheet a strip: short pieces whole, else the first two holes of a template.
pub(super) fn sheets(checked: &Checked, made: &Trims, templates: &[Template]) -> Vec<Sheet> {
    let found = templates.iter().filter_map(|template| strip(made, template));
    found.map(|strip| sheet(checked, &strip)).collect()
}

fn strip<'p>(made: &'p Trims, template: &Template) -> Option<Strip<'p>> {
    let piece = made.list.get(template.base)?;
    let serves: Vec<String> = template.serves.iter().filter_map(|&(at, _)| made.list.get(at)).map(mark).collect();
    if piece.length <= LONGEST {
        let words = format!("whole piece; serves {}", serves.join(", "));
        return Some(Strip { piece, from: Length::ZERO, to: piece.length, words });
    }
    let row = piece.rows.iter().find(|row| row.marks.len() > 2)?;
    let (one, two) = (row.marks.get(1)?.at, row.marks.get(2)?.at);
    let (from, to) = (one - BESIDE, two + BESIDE);
    let alike = row
        .marks
        .windows(2)
        .skip(1)
        .filter(|pair| matches!(pair, [a, b] if ((b.at - a.at) - (two - one)).abs() <= Length::MM))
        .count();
    if to - from > LONGEST || from < Length::ZERO || alike < 2 {
        return None;
    }
    Some(Strip {
        piece,
        from,
        to,
        words: format!("one module, it repeats {alike} times; serves {}", serves.join(", ")),
    })
}

fn sheet(checked: &Checked, strip: &Strip<'_>) -> Sheet {
    let title = format!("Strip at full size, {}", mark(strip.piece));
    let id = format!("strip-{}", strip.piece.mark);
    let mut sheet = Sheet::new(&id, Paper::A4, titles::block(checked, &title));
    sheet.scale = Some(Scale(1));
    sheet.description = format!("{title}: marks at full size");
    let area = sheet.area();
    let words = crate::emit::drawing::text::wrap(&strip.words, area.width - 4.0, 3.2, false);
    for (line, words) in words.into_iter().take(2).enumerate() {
        sheet.push(Text::new(at(area.x, area.y + 4.0 + line as f64 * 4.6), words).size(3.2));
    }
    let warning = "print at 100 %: the bar must be 100 mm; paper moves: do not measure across a joint, use the figures";
    sheet.push(Text::new(at(area.x, area.y + 14.0), warning).size(3.2));
    let mut y = area.y + 18.0;
    let mut from = strip.from;
    while from < strip.to {
        let to = (from + TILE).min(strip.to);
        let items = tile(strip, (from, to), at(area.x + 4.0, y));
        sheet.layer("strip", items);
        (from, y) = (to, y + STEP);
    }
    sheet.push(marks::check_bar(at(area.x + 4.0, y + 6.0)));
    sheet
}

fn tile(strip: &Strip<'_>, (from, to): (Length, Length), corner: crate::emit::drawing::Point) -> Vec<Item> {
    let x = |place: Length| corner.x + (place - from).as_mm();
    let top = corner.y + 15.0;
    let mut items = vec![Item::rect(Rect::edges(corner.x, top, x(to), top + 12.0), Some(Stroke::MEDIUM), Fill::White)];
    for (place, edge) in [(from, from == strip.from), (to, to == strip.to)] {
        if !edge {
            // Tile marks: the lines of two tiles fall on each other.
            items.push(Item::line(at(x(place), top - 3.0), at(x(place), top + 15.0), Stroke::HEAVY));
        }
    }
    for row in &strip.piece.rows {
        for hole in row.marks.iter().filter(|hole| hole.at >= from && hole.at < to + Length::MM / 2) {
            let place = x(hole.at);
            items.push(Item::line(at(place, top - 2.0), at(place, top + 14.0), Stroke::LIGHT));
            items.push(Item::Circle {
                centre: at(place, top + 6.0),
                radius: row.size.as_mm() / 2.0,
                stroke: Some(Stroke::MEDIUM),
                fill: Fill::None,
            });
            let length = marked(hole.at);
            items.push(
                Text::new(at(place, top - 7.2), mm_figure(length)).size(5.0).bold().anchor(Anchor::Middle).into(),
            );
            let second =
                format!("{} · {} {}", inches(length, Tape::ThirtySecond), row.purpose, display::mm_figure(row.size));
            items.push(Text::new(at(place, top - 3.0), second).size(2.8).anchor(Anchor::Middle).into());
        }
    }
    items
}
