//! Dimensions of an elevation: running ones from the left end, the whole along and up, heights above the datum, corners.

use std::collections::BTreeMap;

use super::canvas::{Canvas, compass};
use crate::emit::drawing::{
    Along, Anchor, Candidate, Chain, Dash, Fill, Ink, Item, Rect, Stroke, Text, at, item, text,
};
use crate::geometry::Bounds;
use crate::layout;
use crate::model::{Corner, Edge};
use crate::units::{Length, display};

/// Lines that lie behind the openings, and figures that lie in front of all.
pub(super) struct Figures {
    pub behind: Item,
    pub front: Vec<Item>,
}

/// Running dimensions, the whole, and level marks.
pub(super) fn draw(canvas: &mut Canvas<'_>) -> Figures {
    let (behind, running) = edges_of_openings(canvas);
    let whole = whole(canvas, running.as_ref().and_then(Item::bounds).map_or(canvas.foot, |drawn| drawn.bottom()));
    let up = heights(canvas);
    let (names, side) = (level_names(canvas), canvas.view.x(canvas.bounds.right));
    let levels = levels(canvas, &names, side);
    let front = running.into_iter().chain([whole, up, levels]).collect();
    Figures { behind: Item::group("witness", behind), front }
}

/// Where one thing lies: its sides from the left end of the wall below the window, its heights above the datum at the right.
pub(super) fn of_thing(canvas: &mut Canvas<'_>, thing: Bounds, window: Rect) -> Vec<Item> {
    let marks = [thing.left, thing.right];
    let running = running(canvas, &marks, canvas.bounds.left, window.bottom() + 2.0, item::LARGE);
    let mut names = level_names(canvas);
    names.retain(|height, _| [thing.bottom, thing.top].contains(&height.0));
    let ends = if thing.bottom == thing.top { ["centre", "centre"] } else { ["lower edge", "upper edge"] };
    for (height, word) in [thing.bottom, thing.top].into_iter().zip(ends) {
        names.entry(std::cmp::Reverse(height)).or_insert_with(|| vec![word.to_owned()]);
    }
    vec![running, levels(canvas, &names, window.right() - 8.0)]
}

/// Where the edges of the openings lie from the left end: witness lines down from each, and the running figures.
fn edges_of_openings(canvas: &mut Canvas<'_>) -> (Vec<Item>, Option<Item>) {
    let mut lowest: BTreeMap<Length, Length> = BTreeMap::new();
    for bounds in canvas.plan.openings.iter().map(|shape| shape.bounds()) {
        for x in [bounds.left, bounds.right] {
            let low = lowest.entry(x).or_insert(bounds.bottom);
            *low = (*low).max(bounds.bottom);
        }
    }
    if lowest.is_empty() {
        return (Vec::new(), None);
    }
    let line = canvas.foot + 2.0;
    let witness = |(x, y): (&Length, &Length)| {
        Item::line(canvas.view.point(*x, *y), at(canvas.view.x(*x), line), Stroke::LIGHT.dash(Dash::Dotted))
    };
    let behind = lowest.iter().map(witness).collect();
    let mut marks: Vec<Length> = lowest.keys().copied().collect();
    marks.push(canvas.bounds.left);
    let size = if marks.len() > 16 { item::FIGURE } else { item::LARGE };
    let left = canvas.bounds.left;
    (behind, Some(running(canvas, &marks, left, line, size)))
}

/// Figures from one end, read from the right, each at its mark or tied to it where they would crowd.
pub(super) fn running(canvas: &mut Canvas<'_>, marks: &[Length], zero: Length, line: f64, size: f64) -> Item {
    let mut marks = marks.to_vec();
    marks.sort();
    marks.dedup();
    let wanted: Vec<f64> = marks.iter().map(|mark| canvas.view.x(*mark)).collect();
    let pitch = size + item::SMALL + 3.4;
    let places = spread(&wanted, pitch);
    let (first, last) = (wanted.first().copied().unwrap_or(0.0), wanted.last().copied().unwrap_or(0.0));
    let mut items = vec![Item::line(at(first, line), at(last + 1.5, line), Stroke::LIGHT)];
    for ((mark, place), wanted) in marks.iter().zip(&places).zip(&wanted) {
        let from_end = Length(mark.0.saturating_sub(zero.0));
        let (leading, following) = text::pair(from_end, canvas.lead);
        items.push(Item::Circle {
            centre: at(*wanted, line),
            radius: 0.6,
            stroke: None,
            fill: Fill::Solid(Ink::Black),
        });
        let tie = vec![at(*wanted, line), at(*wanted, line + 1.0), at(*place, line + 3.5), at(*place, line + 4.5)];
        items.push(Item::polyline(tie, Stroke::LIGHT));
        let top = line + 5.2;
        let big = Text::new(at(*place + size / 2.0 - 1.4, top), leading).size(size).bold();
        let small = Text::new(at(*place + size / 2.0 + item::SMALL - 0.5, top), following);
        items.extend([big, small].map(|text| text.anchor(Anchor::End).turned(-90.0).into()));
    }
    let end = Text::new(at(first - 4.0, line + 1.0), "from the left end").anchor(Anchor::End);
    let fits = end.bounds().x >= 0.0;
    items.push(if fits { end } else { Text { at: at(last + 8.0, line + 1.0), anchor: Anchor::Start, ..end } }.into());
    let group = Item::group("running", items);
    if let Some(bounds) = group.bounds() {
        canvas.labels.keep_clear(bounds);
    }
    group
}

/// Places as near as can be to the wanted ones (in rising order) with `pitch` between them: neighbours that would crowd
/// are laid side by side about their common middle.
pub(in crate::emit) fn spread(wanted: &[f64], pitch: f64) -> Vec<f64> {
    let mut groups: Vec<(f64, usize)> = Vec::new();
    for (index, place) in wanted.iter().enumerate() {
        // Less its turn in the row, each wants the same place as its neighbours where they crowd.
        let mut group = (place - pitch * index as f64, 1);
        while let Some(last) = groups.last().copied().filter(|last| last.0 > group.0) {
            groups.pop();
            let count = last.1 + group.1;
            group = ((last.0 * last.1 as f64 + group.0 * group.1 as f64) / count as f64, count);
        }
        groups.push(group);
    }
    let flat = groups.into_iter().flat_map(|(place, count)| std::iter::repeat_n(place, count));
    flat.enumerate().map(|(index, place)| place + pitch * index as f64).collect()
}

/// The whole length, with the corners of the outline.
fn whole(canvas: &mut Canvas<'_>, below: f64) -> Item {
    let marks: Vec<Length> = canvas.face.outline.iter().flat_map(|ring| ring.points()).map(|point| point.x).collect();
    let chain = Chain { figure_mm: item::LARGE, ..Chain::new(Along::Across, &marks, below + 9.0, below + 2.0) };
    chain.lead(canvas.lead).draw(&canvas.view, &mut canvas.labels)
}

/// The heights of the outline at the left.
fn heights(canvas: &mut Canvas<'_>) -> Item {
    let marks: Vec<Length> = canvas.face.outline.iter().flat_map(|ring| ring.points()).map(|point| point.y).collect();
    let left = canvas.view.x(canvas.bounds.left);
    let chain = Chain { figure_mm: item::LARGE, ..Chain::new(Along::Up, &marks, left - 18.0, left - 9.0) };
    chain.lead(canvas.lead).draw(&canvas.view, &mut canvas.labels)
}

/// Names of heights, highest first.
type Levels = BTreeMap<std::cmp::Reverse<Length>, Vec<String>>;

/// What is at which height.
fn level_names(canvas: &Canvas<'_>) -> Levels {
    let mut names = Levels::new();
    let mut add = |height: Length, name: &str| {
        let list = names.entry(std::cmp::Reverse(height)).or_default();
        if !list.iter().any(|known| known == name) {
            list.push(name.to_owned());
        }
    };
    let face = canvas.face;
    add(Length::ZERO, "datum");
    for edge in &face.edges {
        for end in [edge.segment.from.y, edge.segment.to.y] {
            match edge.kind {
                "base" | "step" => add(end, "base"),
                "top" | "parapet" => add(end, "top"),
                "rake" => add(end, if end == canvas.bounds.top { "ridge" } else { "eave" }),
                "roof_line" => add(end, "roof line"),
                "deck_line" => add(end, "deck"),
                "underside" => add(end, "underside"),
                _ => {}
            }
        }
    }
    for bounds in canvas.plan.openings.iter().map(|shape| shape.bounds()) {
        add(bounds.bottom, "sill");
        add(bounds.top, "head");
    }
    face.floor_lines.iter().for_each(|line| add(line.height, &line.name));
    face.vents.iter().for_each(|vent| add(vent.height, &vent.name));
    face.decks.iter().for_each(|deck| add(deck.height, &deck.name));
    face.ledgers.iter().for_each(|ledger| add(ledger.top, &ledger.name));
    face.bracket_rows.iter().for_each(|row| add(row.height, &row.name));
    if let Some(height) = layout::ground::height(&layout::ground::ground_line(face), canvas.bounds.right) {
        add(height, "ground");
    }
    for area in &face.areas {
        if let Some(height) = area.below {
            add(height, &format!("top of {}", area.name));
        }
    }
    names
}

/// Heights above the datum at the right, spread so that none lies over another.
fn levels(canvas: &mut Canvas<'_>, names: &Levels, side: f64) -> Item {
    let wanted: Vec<f64> = names.keys().map(|height| canvas.view.y(height.0)).collect();
    let places = spread(&wanted, 8.6);
    let (start, knee, tip) = (side + 8.0, side + 10.0, side + 13.0);
    let mut items = Vec::new();
    for ((height, names), (wanted, place)) in names.iter().zip(wanted.iter().zip(&places)) {
        items.push(Item::polyline(vec![at(start, *wanted), at(knee, *wanted), at(tip, *place)], Stroke::LIGHT));
        items.extend(level(canvas, height.0, &names.join(", "), tip, *place));
    }
    let group = Item::group("levels", items);
    if let Some(bounds) = group.bounds() {
        canvas.labels.keep_clear(bounds);
    }
    group
}

fn level(canvas: &Canvas<'_>, height: Length, name: &str, x: f64, y: f64) -> Vec<Item> {
    let (first, second) = text::pair(height, canvas.lead);
    let sign = if height > Length::ZERO { "+" } else { "" };
    let tip = at(x + 1.5, y);
    let wedge = vec![tip, tip.shift(-1.5, -2.6), tip.shift(1.5, -2.6)];
    let figure = Text::new(tip.shift(2.6, -0.9), format!("{sign}{first}")).size(item::FIGURE).bold();
    let room = canvas.column.x - tip.x - 4.0;
    let name = text::cut(name, room - figure.width() - 1.5, item::SMALL, false);
    let beside = Text::new(tip.shift(4.0 + figure.width(), -0.9), name);
    let below = Text::new(tip.shift(2.6, 0.9 + item::SMALL), format!("{sign}{second}"));
    let long = (figure.width() + beside.width() + 5.0).max(below.width() + 3.0);
    vec![
        Item::polygon(wedge, None, Fill::Solid(Ink::Black)),
        Item::line(at(x, y), at(x + long, y), Stroke::LIGHT),
        figure.into(),
        beside.into(),
        below.into(),
    ]
}

/// The names of the faces round the corners, along the edges where they meet.
pub(super) fn corners(canvas: &mut Canvas<'_>) -> Vec<Item> {
    let face = canvas.face;
    let met = face.edges.iter().filter_map(|edge| edge.meets.as_ref().map(|corner| (edge, corner)));
    let items = met.map(|(edge, corner)| corner_name(canvas, edge, corner)).collect();
    let mut all = vec![Item::group("corners", items)];
    all.extend(ends(canvas));
    all
}

fn corner_name(canvas: &mut Canvas<'_>, edge: &Edge, corner: &Corner) -> Item {
    let [from, to] = canvas.segment(edge.segment);
    // The wall lies to the left of the edge: an edge that goes up has the neighbour at its right.
    let outwards = if edge.segment.to.y > edge.segment.from.y { 1.0 } else { -1.0 };
    let kind = corner.kind.map(|kind| format!(", {kind}")).unwrap_or_default();
    let words = format!("corner to {}{kind}", corner.face);
    let long = text::width(&words, item::FIGURE, true);
    let words = if long < from.distance(to) { words } else { corner.face.clone() };
    let way = |share: f64, off: f64| {
        let place = from.towards(to, share).shift(outwards * off, 0.0);
        Candidate::text(
            Text::new(place, words.as_str()).size(item::FIGURE).bold().anchor(Anchor::Middle).turned(-90.0).centred(),
        )
    };
    let ways = [4.0, 5.5, 7.5].into_iter().flat_map(|off| [0.5, 0.35, 0.65, 0.25, 0.75].map(|share| (share, off)));
    let placed = canvas.labels.place(ways.map(|(share, off)| way(share, off)).collect());
    Item::group("corner", placed.texts.into_iter().map(Item::Text).collect())
}

/// Where the two ends of the wall lie, by the compass.
fn ends(canvas: &mut Canvas<'_>) -> Vec<Item> {
    let Some(looks) = canvas.face.looks else { return Vec::new() };
    // Seen from outside, the left end lies a quarter turn clockwise of the way the wall looks.
    let words = [
        (canvas.bounds.left, compass(looks + 90.0), Anchor::Start),
        (canvas.bounds.right, compass(looks - 90.0), Anchor::End),
    ];
    let y = canvas.sheet.area().y + item::SMALL;
    let texts = words.map(|(x, side, anchor)| {
        let arrow = if anchor == Anchor::Start { format!("← {side} end") } else { format!("{side} end →") };
        Item::Text(Text::new(at(canvas.view.x(x), y), arrow).size(item::FIGURE).bold().anchor(anchor))
    });
    vec![Item::group("ends", texts.to_vec())]
}

/// The length of a stretch in both units, the leading one first.
pub(super) fn both(canvas: &Canvas<'_>, length: Length) -> String {
    display::both(length, canvas.lead)
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn crowded_marks_move_apart_about_their_middle_and_others_stay() {
        assert_eq!(spread(&[0.0, 100.0], 10.0), [0.0, 100.0]);
        assert_eq!(spread(&[50.0, 50.0, 50.0], 10.0), [40.0, 50.0, 60.0]);
        let places = spread(&[0.0, 4.0, 8.0, 40.0, 41.0], 10.0);
        assert!(places.windows(2).all(|pair| pair[1] - pair[0] >= 10.0 - 1e-9), "{places:?}");
        assert_eq!(places[1], 4.0);
    }
}
