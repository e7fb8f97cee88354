//! The way of a drop on the elevation of its face: openings, the walls of its bays, a heavy line down to daylight, and the
//! numbered steps in words beside it.

use std::collections::BTreeSet;

use super::canvas::Canvas;
use super::{furring, wall};
use crate::continuity::{BayId, Ending, Trace};
use crate::emit::drawing::{Anchor, Candidate, Fill, Item, Point, Rect, Sheet, Stroke, Text, at, item, marks, text};
use crate::emit::trace as words;
use crate::geometry;
use crate::session::Wall;

/// Beyond the last step, the drop leaves the wall by so much, mm of paper.
const OUT: f64 = 4.0;

/// The sheet; `None` for a face without outline.
pub fn traced<'w>(wall: impl Into<Wall<'w>>, trace: &Trace) -> Option<Sheet> {
    let mut canvas = Canvas::new(wall.into(), trace.face, "way of the water")?;
    canvas.sheet.id = format!("{}-trace", canvas.face.name);
    canvas.reserve();
    let path = path(&canvas, trace);
    let water = marks::water(&path, &mut canvas.labels);
    let end = end(&canvas, trace);
    let numbers = numbers(&mut canvas, trace);
    let openings = furring::openings(&mut canvas);
    let strips = strips(&canvas, trace);
    let bays = bays(&canvas, trace);
    let notes = notes(&canvas, trace);
    for item in wall::ground(&mut canvas) {
        canvas.sheet.push(item);
    }
    let outline = wall::outline(&canvas);
    canvas.layer("strips", strips);
    canvas.layer("bays", bays);
    canvas.layer("openings", openings);
    canvas.sheet.push(outline);
    canvas.sheet.push(water);
    canvas.layer("end", end);
    canvas.layer("steps", numbers);
    canvas.layer("list", notes);
    Some(canvas.sheet)
}

/// Every place the drop comes through, once; beyond the last one it leaves downward.
fn path(canvas: &Canvas<'_>, trace: &Trace) -> Vec<Point> {
    let mut places = vec![trace.start];
    places.extend(trace.steps.iter().flat_map(|step| [step.place.from, step.place.to]));
    places.dedup();
    let mut points: Vec<Point> = places.into_iter().map(|place| canvas.point(place)).collect();
    if let (Some(last), Ending::Daylight) = (points.last().copied(), &trace.ending) {
        points.push(last.shift(0.0, OUT));
    }
    points
}

/// A cross where the drop stops; an open ring where nothing is known of its way on.
fn end(canvas: &Canvas<'_>, trace: &Trace) -> Vec<Item> {
    let place = canvas.point(trace.steps.last().map_or(trace.start, |step| step.place.to));
    let arm = |right: f64| Item::line(place.shift(-2.2 * right, -2.2), place.shift(2.2 * right, 2.2), Stroke::HEAVY);
    match trace.ending {
        Ending::Daylight => Vec::new(),
        Ending::Stops { .. } => vec![arm(1.0), arm(-1.0)],
        Ending::CannotTell(_) => {
            vec![Item::Circle { centre: place, radius: 2.4, stroke: Some(Stroke::HEAVY), fill: Fill::None }]
        }
    }
}

/// The number of each step beside the middle of its way.
fn numbers(canvas: &mut Canvas<'_>, trace: &Trace) -> Vec<Item> {
    let mut items = Vec::new();
    for (index, step) in trace.steps.iter().enumerate() {
        let middle = canvas.point(step.place.midpoint());
        let number = (index + 1).to_string();
        let mut ways = Vec::new();
        for reach in [4.0, 6.5, 9.0, 12.0, 16.0] {
            let around = [(1.0, 0.0), (-1.0, 0.0), (0.8, -0.8), (-0.8, -0.8), (0.8, 0.8), (-0.8, 0.8)];
            for (right, down) in around {
                let spot = middle.shift(right * reach, down * reach);
                let text = Text::new(spot, number.as_str()).size(item::FIGURE).bold().halo().anchor(Anchor::Middle);
                let leader = if reach > 4.0 { vec![middle, spot.shift(-right * 1.8, -down * 1.8)] } else { Vec::new() };
                ways.push(Candidate { texts: vec![text.centred()], leader });
            }
        }
        let placed = canvas.labels.place(ways);
        if placed.leader.len() > 1 {
            items.push(Item::polyline(placed.leader, Stroke::LIGHT));
        }
        items.extend(placed.texts.into_iter().map(Item::Text));
    }
    items
}

/// The bays the drop comes through.
fn way(trace: &Trace) -> BTreeSet<BayId> {
    trace.steps.iter().map(|step| step.bay).chain([trace.bay]).collect()
}

/// Their walls.
fn bays(canvas: &Canvas<'_>, trace: &Trace) -> Vec<Item> {
    let shapes = way(trace).into_iter().filter_map(|id| canvas.plan.areas.get(id.area)?.bays.get(id.bay));
    let outline = |shape: &geometry::Polygon| Item::Outline {
        rings: canvas.rings(shape),
        stroke: Some(Stroke::MEDIUM),
        fill: Fill::None,
    };
    shapes.map(|bay| outline(&bay.shape)).collect()
}

/// The furring, light.
fn strips(canvas: &Canvas<'_>, trace: &Trace) -> Vec<Item> {
    let areas: BTreeSet<usize> = way(trace).into_iter().map(|id| id.area).collect();
    let strips = areas.into_iter().filter_map(|area| canvas.plan.areas.get(area)).flat_map(|area| &area.strips);
    let light = Some(Stroke::LIGHT);
    strips.map(|strip| Item::Outline { rings: canvas.rings(&strip.shape), stroke: light, fill: Fill::None }).collect()
}

/// The steps in words, in the column.
fn notes(canvas: &Canvas<'_>, trace: &Trace) -> Vec<Item> {
    let column = canvas.column;
    let left = column.x + 3.0;
    let mut items = vec![Item::line(at(column.x, column.y), at(column.x, column.bottom()), Stroke::LIGHT)];
    let mut y = column.y + 6.0;
    items.push(Text::new(at(left, y), "the way of the water").size(item::LARGE).bold().into());
    y += 6.0;
    let room = Rect::edges(left, y, column.right() - 2.0, column.bottom() - 16.0);
    let mut paragraph = |mark: Option<String>, content: &str, bold: bool| {
        let indent = if mark.is_some() { 7.0 } else { 0.0 };
        if y > room.bottom() {
            return;
        }
        if let Some(mark) = mark {
            items.push(
                Text::new(at(left + 5.0, y + item::FIGURE), mark).size(item::FIGURE).bold().anchor(Anchor::End).into(),
            );
        }
        for line in text::wrap(&held(content), room.width - indent, item::FIGURE, bold) {
            y += item::FIGURE;
            let line = Text::new(at(left + indent, y), line).size(item::FIGURE);
            items.push(if bold { line.bold() } else { line }.into());
            y += item::FIGURE * 0.45;
        }
        y += 2.2;
    };
    paragraph(None, &words::heading(canvas.wall, trace), false);
    if let Some(note) = words::note(canvas.wall, trace) {
        paragraph(None, &format!("note: {note}"), false);
    }
    let lines = words::lines(canvas.wall, trace);
    for (index, line) in lines.iter().enumerate() {
        let mark = if trace.steps.get(index).is_some() { (index + 1).to_string() } else { "×".to_owned() };
        paragraph(Some(mark), line, false);
    }
    paragraph(None, &words::ending(canvas.wall, trace), true);
    items
}

/// Figures and their units are not parted at the end of a line.
fn held(content: &str) -> String {
    let mut out = String::new();
    for word in content.split(' ') {
        let unit = matches!(word.trim_end_matches([',', ')', ':', ';', '.']), "mm" | "m" | "ft" | "in");
        if !out.is_empty() {
            out.push(if unit && out.ends_with(|last: char| last.is_ascii_digit()) { '\u{a0}' } else { ' ' });
        }
        out.push_str(word);
    }
    out
}
