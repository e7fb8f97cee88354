//! The furring of a face on its own sheet: every strip true to scale with its length, running marks from the left end,
//! and the list of lengths.

use std::collections::BTreeMap;

use super::canvas::Canvas;
use super::{figures, wall};
use crate::emit::drawing::{Anchor, Candidate, Fill, Item, Rect, Sheet, Stroke, Text, at, item, text};
use crate::plan::Strip;
use crate::units::{Length, display};

/// `None` where the face has no strips.
pub(super) fn sheet(mut canvas: Canvas<'_>) -> Option<Sheet> {
    let plan = canvas.plan;
    let strips: Vec<&Strip> = plan.areas.iter().flat_map(|area| &area.strips).collect();
    if strips.is_empty() {
        return None;
    }
    canvas.reserve();
    let shapes = strips.iter().map(|strip| Item::Outline {
        rings: canvas.rings(&strip.shape),
        stroke: Some(Stroke::MEDIUM),
        fill: Fill::White,
    });
    let shapes: Vec<Item> = shapes.collect();
    let openings = openings(&mut canvas);
    for strip in &strips {
        let shape = canvas.rect(strip.shape.bounds());
        canvas.labels.keep_clear(shape);
    }
    let lengths: Vec<Item> = strips.iter().filter_map(|strip| length_of(&mut canvas, strip)).collect();
    let marks = marks(&mut canvas, &strips);
    let list = list(&canvas, &strips);
    let ground = wall::ground(&mut canvas);
    for item in ground {
        canvas.sheet.push(item);
    }
    let outline = wall::outline(&canvas);
    canvas.layer("strips", shapes);
    canvas.layer("openings", openings);
    canvas.sheet.push(outline);
    canvas.layer("lengths", lengths);
    marks.into_iter().for_each(|item| canvas.sheet.push(item));
    canvas.layer("list", list);
    Some(canvas.sheet)
}

/// Openings by outline and name only.
pub(super) fn openings(canvas: &mut Canvas<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    for (opening, shape) in canvas.face.openings.iter().zip(&canvas.plan.openings) {
        let frame = canvas.rect(shape.bounds());
        items.push(Item::rect(frame, Some(Stroke::MEDIUM), Fill::White));
        let wide = text::width(&opening.name, item::FIGURE, true);
        let turn = if wide + 2.0 > frame.width && frame.height > frame.width { -90.0 } else { 0.0 };
        let name = Text::new(frame.centre(), opening.name.as_str())
            .size(item::FIGURE)
            .bold()
            .anchor(Anchor::Middle)
            .turned(turn);
        let placed = canvas.labels.place(vec![Candidate::text(name.centred())]);
        items.extend(placed.texts.into_iter().map(Item::Text));
    }
    items
}

/// The length of a strip beside it where there is room; the list has all of them.
fn length_of(canvas: &mut Canvas<'_>, strip: &Strip) -> Option<Item> {
    let [from, to] = canvas.segment(strip.axis);
    let words = text::pair(rounded(strip), canvas.lead).0;
    let long = text::width(&words, item::SMALL, true);
    if long + 1.0 > from.distance(to) {
        return None;
    }
    let (turn, off) = if strip.horizontal { (0.0, at(0.0, -2.4)) } else { (-90.0, at(2.4, 0.0)) };
    let half = canvas.rect(strip.shape.bounds());
    let half = if strip.horizontal { half.height } else { half.width } / 2.0;
    let grown =
        at(off.x + off.x.signum() * half * off.x.abs().min(1.0), off.y + off.y.signum() * half * off.y.abs().min(1.0));
    let ways = [0.5, 0.3, 0.7, 0.2, 0.8].into_iter().flat_map(|share| [1.0, -1.0].map(|side| (share, side)));
    let ways: Vec<Candidate> = ways
        .map(|(share, side)| {
            let place = from.towards(to, share).shift(grown.x * side, grown.y * side);
            Candidate::text(Text::new(place, words.as_str()).bold().anchor(Anchor::Middle).turned(turn).centred())
        })
        .collect();
    let free = ways.into_iter().find(|way| way.texts.iter().all(|text| canvas.labels.is_free(&text.bounds())))?;
    let placed = canvas.labels.place(vec![free]);
    Some(Item::group("length", placed.texts.into_iter().map(Item::Text).collect()))
}

/// Centres of upright strips from the left end, heights of lying ones above the datum.
fn marks(canvas: &mut Canvas<'_>, strips: &[&Strip]) -> Vec<Item> {
    let upright: Vec<Length> = strips.iter().filter(|strip| !strip.horizontal).map(|strip| strip.centre).collect();
    let mut items = Vec::new();
    if !upright.is_empty() {
        items.push(run(canvas, &upright));
    }
    let mut lying: Vec<Length> = strips.iter().filter(|strip| strip.horizontal).map(|strip| strip.centre).collect();
    lying.sort();
    lying.dedup();
    if !lying.is_empty() {
        items.push(ladder(canvas, &lying));
    }
    items
}

/// One line of running figures, both units on it, read from the right.
fn run(canvas: &mut Canvas<'_>, marks: &[Length]) -> Item {
    let mut marks = marks.to_vec();
    marks.sort();
    marks.dedup();
    let line = canvas.foot + 2.0;
    let wanted: Vec<f64> = marks.iter().map(|mark| canvas.view.x(*mark)).collect();
    let places = figures::spread(&wanted, item::FIGURE * 1.3);
    let zero = canvas.bounds.left;
    let mut items = Vec::new();
    for ((mark, place), wanted) in marks.iter().zip(&places).zip(&wanted) {
        let (first, second) = text::pair(Length(mark.0.saturating_sub(zero.0)), canvas.lead);
        let tie = vec![at(*wanted, line - 4.0), at(*wanted, line), at(*place, line + 4.0), at(*place, line + 5.0)];
        items.push(Item::polyline(tie, Stroke::LIGHT));
        let big = Text::new(at(place + item::FIGURE / 2.0, line + 5.6), first).size(item::FIGURE).bold();
        let small = Text::new(at(place + item::FIGURE / 2.0 - 0.3, line + 5.6 + 17.5), second);
        items.extend([big, small].map(|text| text.anchor(Anchor::End).turned(-90.0).into()));
    }
    let words = Text::new(at(canvas.view.x(zero) - 6.0, line + 12.0), "centres,").anchor(Anchor::End);
    let more = Text::new(at(canvas.view.x(zero) - 6.0, line + 16.0), "from the left end").anchor(Anchor::End);
    items.extend([words.into(), more.into()]);
    Item::group("running", items)
}

/// Heights of lying strips at the left.
fn ladder(canvas: &mut Canvas<'_>, heights: &[Length]) -> Item {
    let wanted: Vec<f64> = heights.iter().rev().map(|height| canvas.view.y(*height)).collect();
    let places = figures::spread(&wanted, item::FIGURE * 1.3);
    let left = canvas.view.x(canvas.bounds.left);
    let mut items = Vec::new();
    for ((height, place), wanted) in heights.iter().rev().zip(&places).zip(&wanted) {
        let (first, second) = text::pair(*height, canvas.lead);
        items.push(Item::polyline(
            vec![at(left - 1.0, *wanted), at(left - 2.0, *wanted), at(left - 5.0, *place)],
            Stroke::LIGHT,
        ));
        let big = Text::new(at(left - 6.0, place + item::FIGURE / 2.0), first).size(item::FIGURE).bold();
        let small = Text::new(at(left - 6.0 - big.width() - 1.5, place + item::FIGURE / 2.0), second);
        items.extend([big, small].map(|text| text.anchor(Anchor::End).into()));
    }
    Item::group("running", items)
}

/// A strip is cut to the nearest millimetre; the marks on the wall stay exact.
fn rounded(strip: &Strip) -> Length {
    Length::mm(strip.axis.length().scale(1, Length::MM.0).0)
}

/// How many of which length, longest first, and all together.
fn list(canvas: &Canvas<'_>, strips: &[&Strip]) -> Vec<Item> {
    let mut counts: BTreeMap<std::cmp::Reverse<Length>, usize> = BTreeMap::new();
    for strip in strips {
        *counts.entry(std::cmp::Reverse(rounded(strip))).or_default() += 1;
    }
    let column = canvas.column;
    let left = column.x + 3.0;
    let mut items = vec![Item::line(at(column.x, column.y), at(column.x, column.bottom()), Stroke::LIGHT)];
    items.push(Text::new(at(left, column.y + 6.0), "strips to cut, centre line").size(item::LARGE).bold().into());
    let room = Rect::edges(left, column.y + 11.0, column.right(), column.bottom() - 14.0);
    let rows = (room.height / 6.2).floor() as usize;
    let columns = counts.len().div_ceil(rows.max(1)).clamp(1, 2);
    for (index, (length, count)) in counts.iter().enumerate().take(rows * columns) {
        let (column, row) = (index / rows.max(1), index % rows.max(1));
        let x = room.x + room.width / 2.0 * column as f64;
        let y = room.y + 6.2 * row as f64 + item::FIGURE;
        let (first, second) = text::pair(length.0, canvas.lead);
        items.push(Text::new(at(x + 9.0, y), format!("{count} ×")).size(item::FIGURE).anchor(Anchor::End).into());
        items.push(Text::new(at(x + 10.0, y), first).size(item::FIGURE).bold().into());
        items.push(Text::new(at(x + 23.0, y), second).into());
    }
    if counts.len() > rows * columns {
        let words = format!("and {} more lengths", counts.len() - rows * columns);
        items.push(Text::new(at(left, room.bottom() + 4.0), words).into());
    }
    let total: Length = strips.iter().map(|strip| strip.axis.length()).sum();
    let feet = display::feet_inches(total, display::Tape::default());
    let words = format!("{} strips, {} ({feet})", strips.len(), display::metres(total));
    items.push(Text::new(at(left, column.bottom() - 6.0), words).size(item::FIGURE).bold().into());
    items.push(Text::new(at(left, column.bottom() - 1.0), "net, without waste or splices").into());
    items
}
