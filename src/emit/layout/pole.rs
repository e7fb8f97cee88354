//! The story pole as it is seen: the stick at scale, courses on its left edge, openings, blocks and friezes on its right.

use super::tables::{figures, pole_notes, walls};
use crate::emit::drawing::{Anchor, Fill, Item, Paper, Rect, Scale, Sheet, Stroke, Text, at, item, text};
use crate::emit::elevation::spread;
use crate::emit::titles;
use crate::layout::story_pole::{Pole, PoleMark};
use crate::session::Checked;
use crate::units::{Length, System};

/// Height of the words above the drawing, mm.
const HEAD: f64 = 20.0;
/// Kept below it, mm.
const FOOT: f64 = 5.0;
/// Width of the stick on paper, mm.
const STICK: f64 = 9.0;
/// From the left of a length to its stick: the figures of the courses, mm.
const COURSES: f64 = 84.0;
/// Height of the words beside the figures, mm.
const WORDS: f64 = 2.8;
/// Between two labels, mm.
const PITCH: f64 = 7.0;
/// At least so much paper for a course, so that its figures stand on their own marks.
const SCALES: [Scale; 4] = [Scale(20), Scale(10), Scale(5), Scale(2)];

/// Sheets of a pole, from its foot up; none for one without marks.
pub(super) fn sheets(checked: &Checked, pole: &Pole, number: usize) -> Vec<Sheet> {
    let Some(last) = pole.marks.last().map(|mark| pole.from_foot(mark.height)) else { return Vec::new() };
    let course = pole.courses.map_or(Length::mm(150), |(_, exposure)| exposure);
    let scale = SCALES.into_iter().find(|scale| scale.paper(course) >= PITCH * 1.5).unwrap_or(Scale(2));
    let blank = sheet(checked, pole, number, 0, scale);
    let room = blank.area().height - HEAD - FOOT - 3.0;
    // Whole courses on each length, so that it begins and ends on a line.
    let long = Length(course.0 * (scale.model(room).0 / course.0.max(1)).max(1));
    let count = (last.0 / long.0.max(1) + 1) as usize;
    let drawn = (0..count).map(|page| {
        let mut sheet = sheet(checked, pole, number, page, scale);
        let area = sheet.area();
        for (line, words) in pole_notes(checked, pole).into_iter().take(3).enumerate() {
            sheet.push(Text::new(at(area.x, area.y + 4.0 + line as f64 * 4.6), words).size(3.2));
        }
        let room = Rect::edges(area.x, area.y + HEAD, area.right(), area.bottom() - FOOT);
        let from = Length(long.0 * page as i64);
        let items = stretch(checked, pole, scale, (from, (from + long).min(last)), room);
        sheet.layer("pole", items);
        sheet
    });
    drawn.collect()
}

fn sheet(checked: &Checked, pole: &Pole, number: usize, page: usize, scale: Scale) -> Sheet {
    let title = format!("Story pole, {}", walls(checked, pole));
    let id = format!("pole-{}-{}", number + 1, page + 1);
    let mut sheet = Sheet::new(&id, Paper::A3, titles::block(checked, &title));
    sheet.scale = Some(scale);
    sheet.description = format!("{title}: course lines at the left, openings, blocks and friezes at the right");
    sheet
}

/// One length of the stick.
fn stretch(checked: &Checked, pole: &Pole, scale: Scale, (from, to): (Length, Length), room: Rect) -> Vec<Item> {
    let lead = checked.model.project.units;
    let y = |height: Length| room.bottom() - scale.paper(height - from);
    let stick = Rect::edges(room.x + COURSES, y(to), room.x + COURSES + STICK, room.bottom());
    let mut items = vec![Item::rect(stick, Some(Stroke::HEAVY), Fill::White)];
    let here: Vec<(&PoleMark, Length)> = pole
        .marks
        .iter()
        .map(|mark| (mark, pole.from_foot(mark.height)))
        // A mark on the joint of two lengths stands on both.
        .filter(|(_, height)| (from..=to).contains(height))
        .collect();
    for (mark, height) in here.iter().filter(|(mark, _)| mark.course.is_some()) {
        items.extend(course(mark, *height, y(*height), stick, lead));
    }
    let named: Vec<&(&PoleMark, Length)> = here.iter().rev().filter(|(mark, _)| !mark.what.is_empty()).collect();
    let wanted: Vec<f64> = named.iter().map(|(_, height)| y(*height)).collect();
    let width = room.right() - stick.right() - 10.0;
    for ((mark, height), place) in named.iter().zip(within(spread(&wanted, PITCH), &room)) {
        items.extend(label(mark, *height, (y(*height), place), stick, width, lead));
    }
    items
}

/// Labels that were spread past an end of the room, moved back into it.
fn within(places: Vec<f64>, room: &Rect) -> Vec<f64> {
    let mut places = places;
    let mut most = room.bottom() + 1.0;
    for place in places.iter_mut().rev() {
        *place = place.min(most);
        most = *place - PITCH;
    }
    let mut least = room.y;
    for place in &mut places {
        *place = place.max(least);
        least = *place + PITCH;
    }
    places
}

/// A course line: its number, and its height in both units.
fn course(mark: &PoleMark, height: Length, y: f64, stick: Rect, lead: System) -> Vec<Item> {
    let (first, second) = figures(height, lead);
    let number = mark.course.map_or_else(String::new, |course| course.to_string());
    let right = stick.x - 14.0;
    let big = Text::new(at(right, y), first).size(item::LARGE).bold().anchor(Anchor::End).centred();
    let small = Text::new(at(right - 25.0, y), second).size(item::FIGURE).anchor(Anchor::End).centred();
    let line = Item::line(at(stick.x - 3.0, y), at(stick.x + STICK * 0.6, y), Stroke::MEDIUM);
    let number = Text::new(at(stick.x - 4.0, y), number).size(item::FIGURE).anchor(Anchor::End).centred();
    vec![line, big.into(), small.into(), number.into()]
}

/// What comes at a height, with a line from its mark.
fn label(mark: &PoleMark, height: Length, (y, place): (f64, f64), stick: Rect, width: f64, lead: System) -> Vec<Item> {
    let (first, second) = figures(height, lead);
    let edge = stick.right();
    let tie = vec![at(edge - STICK * 0.6, y), at(edge + 1.0, y), at(edge + 7.0, place), at(edge + 9.0, place)];
    let big = Text::new(at(edge + 10.0, place), first).size(item::LARGE).bold().centred();
    let left = edge + 10.0 + 25.0;
    let small = Text::new(at(left, place), second).size(item::FIGURE).centred();
    let words = mark.what.join(" · ");
    let from = left + 40.0;
    let lines = text::wrap(&words, width - (from - edge - 10.0), WORDS, false);
    let mut items = vec![Item::polyline(tie, Stroke::LIGHT), big.into(), small.into()];
    let (rows, room) = (lines.len().min(2), width - (from - edge - 10.0));
    for (row, line) in lines.iter().take(2).enumerate() {
        let more = row == 1 && lines.len() > 2;
        let line =
            if more { text::cut(&format!("{line} … all in the list"), room, WORDS, false) } else { line.clone() };
        let off = if rows == 1 { 0.0 } else { (row as f64 - 0.5) * (WORDS + 0.7) };
        items.push(Text::new(at(from, place + off), line).size(WORDS).centred().into());
    }
    items
}
