//! Words tied to a thing on the wall: beside it where there is room, or at the end of a leader, never broken in a length.

use super::drawing::{Anchor, Candidate, Fill, Ink, Item, Labels, Point, Rect, Stroke, Text, at, item};

/// From one line to the next, mm.
const STEP: f64 = item::SMALL * 1.45;

/// Lines beside a box, without a leader: to the right, to the left, below, above; then as a call-out of its middle.
pub(super) fn tag(lines: &[String], about: Rect, labels: &mut Labels) -> Item {
    let high = STEP * lines.len() as f64;
    let up = |place: Point| place.shift(0.0, -high / 2.0 + item::SMALL);
    let sides = [0.5, 0.3, 0.7].into_iter().flat_map(|share| {
        let y = about.y + about.height * share;
        [(up(at(about.right() + 1.8, y)), Anchor::Start), (up(at(about.x - 1.8, y)), Anchor::End)]
    });
    let middle = about.centre().x;
    let ends = [
        (at(middle, about.bottom() + 1.6 + item::SMALL), Anchor::Middle),
        (at(middle, about.y - 1.6 - high + STEP), Anchor::Middle),
    ];
    let beside: Vec<Candidate> = sides.chain(ends).map(|(place, anchor)| column(lines, place, anchor)).collect();
    let free = beside.iter().find(|way| way.texts.iter().all(|text| labels.is_free(&text.bounds()))).cloned();
    match free {
        Some(way) => Item::group("notes", labels.place(vec![way]).texts.into_iter().map(Item::Text).collect()),
        None => callout(lines, about.centre(), labels),
    }
}

/// Lines at the end of a leader that starts in a point; the shortest leader that leads to free paper.
pub(super) fn callout(lines: &[String], target: Point, labels: &mut Labels) -> Item {
    let mut ways = Vec::new();
    for reach in [7.0, 10.0, 14.0, 19.0, 25.0, 32.0, 40.0, 50.0, 62.0, 76.0] {
        for (right, down) in [
            (0.7, -0.7),
            (-0.7, -0.7),
            (1.0, 0.0),
            (-1.0, 0.0),
            (0.7, 0.7),
            (-0.7, 0.7),
            (0.35, -0.93),
            (-0.35, -0.93),
            (0.35, 0.93),
            (-0.35, 0.93),
            (0.93, -0.35),
            (-0.93, -0.35),
            (0.93, 0.35),
            (-0.93, 0.35),
        ] {
            ways.push(led(lines, target, at(right, down), reach));
        }
        ways.extend([-1.0, 1.0].map(|down| plumb(lines, target, down, reach)));
    }
    let mut items = vec![Item::Circle { centre: target, radius: 0.6, stroke: None, fill: Fill::Solid(Ink::Black) }];
    let placed = labels.place(ways);
    items.push(Item::polyline(placed.leader, Stroke::LIGHT));
    items.extend(placed.texts.into_iter().map(Item::Text));
    Item::group("notes", items)
}

fn led(lines: &[String], target: Point, way: Point, reach: f64) -> Candidate {
    let knee = target.shift(way.x * reach, way.y * reach);
    let side = if way.x > 0.0 { 1.0 } else { -1.0 };
    let shelf = knee.shift(side * 2.0, 0.0);
    let anchor = if side > 0.0 { Anchor::Start } else { Anchor::End };
    let top = shelf.y + item::SMALL / 2.0 - STEP * (lines.len().saturating_sub(1) as f64) / 2.0;
    Candidate { leader: vec![target, knee, shelf], ..column(lines, at(shelf.x + side * 0.8, top), anchor) }
}

/// Lines right above (−1) or below (1) their target.
fn plumb(lines: &[String], target: Point, down: f64, reach: f64) -> Candidate {
    let end = target.shift(0.0, down * reach);
    let high = STEP * lines.len().saturating_sub(1) as f64;
    let top = if down > 0.0 { end.y + 0.8 + item::SMALL } else { end.y - 1.4 - high };
    Candidate { leader: vec![target, end], ..column(lines, at(target.x, top), Anchor::Middle) }
}

/// Lines one below the other on white plates, the first base line at a place.
fn column(lines: &[String], place: Point, anchor: Anchor) -> Candidate {
    let line = |(row, line): (usize, &String)| {
        let text = Text::new(place.shift(0.0, STEP * row as f64), line.as_str()).anchor(anchor).plate();
        if row == 0 { text.bold() } else { text }
    };
    Candidate { texts: lines.iter().enumerate().map(line).collect(), leader: Vec::new() }
}
