//! The flat pattern of what is folded one by one: corners by letter, bends in their order, cuts, and what to do step by step.

use super::column::{LARGE, both};
use crate::emit::drawing::{Anchor, Dash, Fill, Item, Point, Rect, Stroke, Text, at};
use crate::geometry;
use crate::layout::folds::Pattern;
use crate::units::System;

/// Height of a line of the list of corners.
const LINE: f64 = 8.0;

/// Corners to measure to: those of the outline by letter, then where bends and cuts meet, by K.
fn corners(pattern: &Pattern) -> Vec<(String, geometry::Point)> {
    let letters = ('A'..='J').map(String::from);
    let mut found: Vec<(String, geometry::Point)> = letters.zip(pattern.outline.iter().copied()).collect();
    let ends = || pattern.folds.iter().flat_map(|fold| [fold.from, fold.to]);
    let meets =
        |point: &geometry::Point| ends().filter(|end| end == point).count() > 1 && !pattern.outline.contains(point);
    let mut inner: Vec<geometry::Point> = ends().filter(meets).collect();
    inner.sort_by_key(|point| (point.x, point.y));
    inner.dedup();
    let many = inner.len() > 1;
    found.extend(
        inner
            .into_iter()
            .enumerate()
            .map(|(at, point)| (if many { format!("K{}", at + 1) } else { "K".to_owned() }, point)),
    );
    found
}

/// Bends in the order of the work, as many in a line as are bent alike.
pub(super) fn bends(pattern: &Pattern) -> Vec<String> {
    let mut alike: Vec<(f64, Vec<String>)> = Vec::new();
    for (number, fold) in pattern.folds.iter().enumerate() {
        let number = (number + 1).to_string();
        match alike.last_mut() {
            Some((turn, numbers)) if (*turn - fold.turn).abs() < 0.05 => numbers.push(number),
            _ => alike.push((fold.turn, vec![number])),
        }
    }
    let words = |(turn, numbers): (f64, Vec<String>)| {
        let side = if turn < 0.0 { "O, to the opposite side" } else { "to the face" };
        format!("bend {}: {:.1}° {side}", numbers.join(", "), turn.abs())
    };
    alike.into_iter().map(words).collect()
}

/// The pattern over its list of corners.
pub(super) fn draw(pattern: &Pattern, room: Rect, lead: System) -> Vec<Item> {
    let corners = corners(pattern);
    let listed = LINE * (corners.len() as f64 + 1.0);
    let (length, width) = pattern.blank();
    let top = room.y + 9.0;
    let (wide, high) = (room.width - 24.0, room.height - listed - 22.0);
    let scale = (wide / length.as_mm().max(1.0)).min(high / width.as_mm().max(1.0)).min(1.0);
    let (left, foot) = (room.x + 12.0, top + 4.0 + width.as_mm() * scale);
    let place = |point: geometry::Point| at(left + point.x.as_mm() * scale, foot - point.y.as_mm() * scale);
    let mut items = vec![
        Text::new(at(room.x, room.y + 3.0), "flat, weather face up; measure from the left end and from the lower edge")
            .into(),
    ];
    let blank = Rect::edges(left, foot - width.as_mm() * scale, left + length.as_mm() * scale, foot);
    items.push(Item::rect(blank, Some(Stroke::LIGHT.dash(Dash::Dotted)), Fill::None));
    let outline: Vec<Point> = pattern.outline.iter().map(|point| place(*point)).collect();
    items.push(Item::polygon(outline, Some(Stroke::HEAVY), Fill::White));
    for cut in &pattern.cuts {
        let [from, to] = cut.map(place);
        items.push(Item::line(from, to, Stroke::HEAVY));
        items.push(word(from.towards(to, 0.5).shift(0.0, 1.4), "X"));
    }
    for (number, fold) in pattern.folds.iter().enumerate() {
        let (from, to) = (place(fold.from), place(fold.to));
        items.push(Item::line(from, to, Stroke::MEDIUM.dash(Dash::Dashed)));
        items.push(word(from.towards(to, 0.62).shift(0.0, 1.2), &(number + 1).to_string()));
    }
    let middle = blank.centre();
    for (letter, point) in &corners {
        let spot = place(*point);
        // Away from the middle, so that letters lie outside the metal; K stands beside its point.
        let (dx, dy) = match letter.starts_with('K') {
            true => (-4.0, 4.6),
            false => (if spot.x < middle.x { -4.0 } else { 4.0 }, if spot.y < middle.y { -1.2 } else { 4.2 }),
        };
        items.push(Text::new(spot.shift(dx, dy), letter.clone()).size(4.0).bold().anchor(Anchor::Middle).into());
    }
    let mut y = foot + 12.0;
    for (x, words) in [(room.x + 14.0, "from the left end"), (room.x + 84.0, "from the lower edge")] {
        items.push(Text::new(at(x, y), words).size(3.5).into());
    }
    for (letter, point) in &corners {
        y += LINE;
        items.push(Text::new(at(room.x, y), letter.clone()).size(LARGE).bold().into());
        items.push(Text::new(at(room.x + 14.0, y), both(point.x, lead)).size(LARGE).bold().into());
        items.push(Text::new(at(room.x + 84.0, y), both(point.y, lead)).size(LARGE).bold().into());
    }
    items
}

fn word(spot: Point, words: &str) -> Item {
    Text::new(spot, words).size(3.2).bold().anchor(Anchor::Middle).plate().into()
}
