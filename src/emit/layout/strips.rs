//! Strips at full size, to be laid against a short piece or one module of a long one.

use super::tables::{mark, marked};
use crate::emit::drawing::{Anchor, Fill, Item, Paper, Rect, Scale, Sheet, Stroke, Text, at, marks, text};
use crate::emit::titles;
use crate::layout::trims::{Template, TrimPiece, Trims};
use crate::session::Checked;
use crate::units::display::{self, Tape, inches, mm_figure};
use crate::units::{Length, System};

/// Longest strip at full size: paper moves. Common practice, no source.
pub(super) const LONGEST: Length = Length::mm(600);
/// Length of a strip on one line of paper.
const TILE: Length = Length::mm(240);
/// From one line to the next.
const STEP: f64 = 42.0;
/// Words and the second unit.
const WORDS: f64 = 3.2;
/// From one line of words to the next, and how many may stand above the strip.
const LINE: f64 = 4.6;
const MOST: usize = 3;
/// Kept at both sides of a module.
const BESIDE: Length = Length::mm(50);

/// A stretch of a piece at full size.
struct Strip<'p> {
    piece: &'p TrimPiece,
    from: Length,
    to: Length,
    words: String,
    /// The two ends of the piece, as they are named.
    ends: [String; 2],
}

/// One sheet a strip: short pieces whole, else the first two holes of a template.
pub(super) fn sheets(checked: &Checked, made: &Trims, templates: &[Template]) -> Vec<Sheet> {
    let found = templates.iter().filter_map(|template| strip(made, template));
    found.map(|strip| sheet(checked, &strip)).collect()
}

fn strip<'p>(made: &'p Trims, template: &Template) -> Option<Strip<'p>> {
    let piece = made.list.get(template.base)?;
    let upright = piece.line.is_vertical();
    let ends = if upright { ["lower", "upper"] } else { ["left", "right"] };
    let ends = [0, 1].map(|end: usize| format!("{} end of {}", ends[end], mark(piece)));
    let serves: Vec<String> = template.serves.iter().filter_map(|&(at, _)| made.list.get(at)).map(mark).collect();
    if piece.length <= LONGEST {
        let words = format!("whole piece; serves {}", serves.join(", "));
        return Some(Strip { piece, from: Length::ZERO, to: piece.length, words, ends });
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
        words: format!(
            "one module, it repeats {alike} times: hold its first hole on the last one drilled, the next is {} on; serves {}",
            display::both(marked(two - one), System::Metric),
            serves.join(", ")
        ),
        ends,
    })
}

fn sheet(checked: &Checked, strip: &Strip<'_>) -> Sheet {
    let title = format!("Strip at full size, {}", mark(strip.piece));
    let id = format!("strip-{}", strip.piece.mark);
    let mut sheet = Sheet::new(&id, Paper::A4, titles::block(checked, &title));
    sheet.scale = Some(Scale(1));
    sheet.description = format!("{title}: marks at full size");
    let area = sheet.area();
    let mut words = text::wrap(&strip.words, area.width - 30.0, WORDS, false);
    if words.len() > MOST {
        words.truncate(MOST);
        words.iter_mut().skip(MOST - 1).for_each(|last| last.push_str(" … see the table"));
    }
    let lines = words.len() as f64;
    for (line, words) in words.into_iter().enumerate() {
        sheet.push(Text::new(at(area.x, area.y + 4.0 + line as f64 * LINE), words).size(WORDS));
    }
    let warning = "print at 100 %: the bar must be 100 mm; paper moves: do not measure across a joint, use the figures";
    sheet.push(Text::new(at(area.x, area.y + 4.0 + lines * LINE), warning).size(WORDS).bold());
    let mut y = area.y + 8.0 + lines * LINE;
    let mut from = strip.from;
    while from < strip.to {
        let to = (from + TILE).min(strip.to);
        let items = tile(strip, (from, to), at(area.x + 4.0, y));
        sheet.layer("strip", items);
        sheet.layer("ends", ends(strip, (from, to), at(area.x + 4.0, y)));
        (from, y) = (to, y + STEP);
    }
    sheet.push(marks::check_bar(at(area.x + 4.0, y + 6.0)));
    sheet
}

/// Below a tile: which end of the piece lies which way, or the letter of the joint with the next tile.
fn ends(strip: &Strip<'_>, (from, to): (Length, Length), corner: crate::emit::drawing::Point) -> Vec<Item> {
    let y = corner.y + 34.0;
    let letter = |place: Length| {
        let number = (place - strip.from).0 / TILE.0;
        char::from_u32('A' as u32 + u32::try_from(number - 1).unwrap_or(0)).unwrap_or('?')
    };
    let left = match (from == strip.from, from == Length::ZERO) {
        (true, true) => format!("0 = {}", strip.ends[0]),
        (true, false) => format!("← to the {}", strip.ends[0]),
        (false, _) => format!("joint {}", letter(from)),
    };
    let right = match (to == strip.to, to == strip.piece.length) {
        (true, true) => strip.ends[1].clone(),
        (true, false) => format!("to the {} →", strip.ends[1]),
        (false, _) => format!("joint {}", letter(to)),
    };
    // On a short tile the two names do not fit beside one another.
    let wide = (to - from).as_mm();
    let end = at(corner.x + wide, if wide < 90.0 { y + LINE } else { y });
    vec![
        Text::new(at(corner.x, y), left).size(WORDS).bold().into(),
        Text::new(end, right).size(WORDS).bold().anchor(if wide < 60.0 { Anchor::Start } else { Anchor::End }).into(),
    ]
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
            let second =
                format!("{} · {} {}", inches(length, Tape::ThirtySecond), row.purpose, display::mm_figure(row.size));
            for text in [
                Text::new(at(place, top - 7.2), mm_figure(length)).size(5.0).bold(),
                Text::new(at(place, top - 3.0), second).size(WORDS),
            ] {
                // The words of a hole near the left end begin at the end of the tile, so that they stay on the paper.
                let beyond = (corner.x - (place - text.width() / 2.0)).max(0.0);
                let text = text.anchor(Anchor::Middle);
                items.push(Text { at: at(text.at.x + beyond, text.at.y), ..text }.into());
            }
        }
    }
    items
}
