//! Windows, doors and other openings with their trims, name and size.

use super::canvas::Canvas;
use crate::emit::callout;
use crate::emit::drawing::{Anchor, Candidate, Fill, Item, Rect, Stroke, Text, item, text};
use crate::geometry::Bounds;
use crate::model::Opening;
use crate::units::{Length, System, display};

/// Between the words in an opening and its edge, mm.
const CLEAR: f64 = 1.5;

/// All openings of the face; their words take their places.
pub(super) fn draw(canvas: &mut Canvas<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    let face = canvas.face;
    for (opening, shape) in face.openings.iter().zip(&canvas.plan.openings) {
        let bounds = shape.bounds();
        let frame = canvas.rect(bounds);
        if canvas.shows(frame).is_none() {
            continue;
        }
        let mut drawn = trims(canvas, opening, bounds);
        drawn.push(Item::rect(frame, Some(Stroke::MEDIUM), Fill::White));
        if frame.width > 6.0 && frame.height > 6.0 {
            drawn.push(Item::rect(frame.grow(-0.9), Some(Stroke::LIGHT), Fill::None));
        }
        canvas.labels.keep_outline_clear(&frame.corners(), 0.6);
        canvas.labels.keep_clear(frame);
        items.push(Item::named("opening", &format!("opening {}", opening.name), &spoken(opening, canvas.lead), drawn));
    }
    let mut names = Vec::new();
    for (opening, shape) in face.openings.iter().zip(&canvas.plan.openings) {
        if canvas.names(canvas.rect(shape.bounds())).is_some() {
            names.extend(words(canvas, opening, shape.bounds()));
        }
    }
    vec![Item::group("openings", items), Item::group("names", names)]
}

/// The trims about a frame: jambs on the sill, the head over them, square-cut (common practice).
fn trims(canvas: &Canvas<'_>, opening: &Opening, frame: Bounds) -> Vec<Item> {
    let Some((width, _)) = opening.trims else { return Vec::new() };
    let reveal = opening.reveal.unwrap_or(Length::ZERO);
    let part = |left: Length, bottom: Length, right: Length, top: Length| {
        Item::rect(canvas.rect(Bounds { left, bottom, right, top }), Some(Stroke::LIGHT), Fill::White)
    };
    let (inner_left, inner_right) = (frame.left - reveal, frame.right + reveal);
    let (left, right) = (inner_left - width, inner_right + width);
    let (head, top) = (frame.top + reveal, frame.top + reveal + width);
    let foot = if opening.kind == "door" { frame.bottom } else { frame.bottom - width };
    let mut parts = vec![
        part(left, frame.bottom, inner_left, head),
        part(inner_right, frame.bottom, right, head),
        part(left, head, right, top),
    ];
    if foot < frame.bottom {
        parts.push(part(left, foot, right, frame.bottom));
    }
    parts
}

/// "kitchen: window, frame 1500 mm × 1215 mm (…)".
fn spoken(opening: &Opening, lead: System) -> String {
    let measure = opening.measure.unwrap_or("size");
    let size = |length| display::both(length, lead);
    format!("{}: {}, {measure} {} wide, {} high", opening.name, opening.kind, size(opening.width), size(opening.height))
}

/// A line of words with its size.
type Line = (String, f64, bool);

/// Name and size inside where they have room, upright where that is wider; else the name inside and the size beside.
fn words(canvas: &mut Canvas<'_>, opening: &Opening, bounds: Bounds) -> Vec<Item> {
    let frame = canvas.rect(bounds);
    let room = frame.grow(-CLEAR);
    let turned = Rect { width: room.height, height: room.width, ..room };
    for (turn, room) in [(0.0, room), (-90.0, turned)] {
        for lines in versions(canvas.lead, opening, room.width) {
            if fits(&lines, room) {
                return written(stack(&lines, frame, turn));
            }
        }
    }
    let name = |size: f64| vec![(opening.name.clone(), size, true)];
    let ways = [item::FIGURE, 3.0, item::SMALL].into_iter().flat_map(|size| [(size, 0.0, room), (size, -90.0, turned)]);
    let way = ways.into_iter().find(|(size, _, room)| fits(&name(*size), room.grow(-0.2)));
    let mut lines = vec![figures(opening, canvas.lead), figures(opening, canvas.lead.other())];
    lines.push(measure(opening));
    let Some((size, turn, _)) = way else {
        lines.insert(0, opening.name.clone());
        return vec![callout::tag(&lines, trimmed(canvas, opening, bounds), &mut canvas.labels)];
    };
    let mut items = written(stack(&name(size), frame, turn));
    items.push(callout::tag(&lines, trimmed(canvas, opening, bounds), &mut canvas.labels));
    items
}

fn written(way: Candidate) -> Vec<Item> {
    way.texts.into_iter().map(Item::Text).collect()
}

/// An opening with its trims, on paper.
fn trimmed(canvas: &Canvas<'_>, opening: &Opening, bounds: Bounds) -> Rect {
    let about = opening.trims.map_or(Length::ZERO, |(width, _)| width) + opening.reveal.unwrap_or(Length::ZERO);
    canvas.rect(bounds).grow(canvas.view.scale.paper(about))
}

/// `1200 × 1215` or `47-1/4 × 47-13/16 in`.
fn figures(opening: &Opening, system: System) -> String {
    match system {
        System::Metric => format!("{} × {}", display::mm_figure(opening.width), display::mm_figure(opening.height)),
        System::Imperial => {
            format!("{} × {}", inch_figure(opening.width), display::inches(opening.height, display::Tape::default()))
        }
    }
}

fn measure(opening: &Opening) -> String {
    opening
        .measure
        .map_or_else(|| format!("{}: frame or rough?", opening.kind), |word| format!("{}, {word}", opening.kind))
}

/// The words in falling size.
fn versions(lead: System, opening: &Opening, room: f64) -> Vec<Vec<Line>> {
    let build = |name: f64, figure: f64| {
        let mut lines = vec![(opening.name.clone(), name, true)];
        lines.extend(wrapped(&figures(opening, lead), room, figure, true));
        lines.extend(wrapped(&figures(opening, lead.other()), room, item::SMALL, false));
        lines.extend(wrapped(&measure(opening), room, item::SMALL, false));
        lines
    };
    let sizes = [
        (item::LARGE, item::LARGE),
        (item::LARGE, item::FIGURE),
        (item::FIGURE, item::FIGURE),
        (item::FIGURE, item::SMALL),
    ];
    sizes.into_iter().map(|(name, figure)| build(name, figure)).collect()
}

fn inch_figure(length: Length) -> String {
    display::inches(length, display::Tape::default()).trim_end_matches(" in").to_owned()
}

fn wrapped(content: &str, room: f64, size: f64, bold: bool) -> Vec<Line> {
    text::wrap(content, room, size, bold).into_iter().map(|line| (line, size, bold)).collect()
}

fn step(size: f64) -> f64 {
    size * 1.45
}

fn fits(lines: &[Line], room: Rect) -> bool {
    let high: f64 = lines.iter().map(|(_, size, _)| step(*size)).sum();
    let wide = lines.iter().map(|(line, size, bold)| text::width(line, *size, *bold)).fold(0.0, f64::max);
    high <= room.height + 0.8 && wide <= room.width
}

/// Lines one below the other in the middle of a box, read from below or from the right.
fn stack(lines: &[Line], frame: Rect, turn: f64) -> Candidate {
    let centre = frame.centre();
    let high: f64 = lines.iter().map(|(_, size, _)| step(*size)).sum();
    let mut down = -high / 2.0;
    let mut texts = Vec::new();
    for (line, size, bold) in lines {
        let place = centre.shift(0.0, down + step(*size) / 2.0 + size / 2.0).turned(centre, turn);
        let text = Text::new(place, line.as_str()).size(*size).anchor(Anchor::Middle).turned(turn);
        texts.push(if *bold { text.bold() } else { text });
        down += step(*size);
    }
    Candidate { texts, leader: Vec::new() }
}
