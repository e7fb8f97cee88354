//! Names at the ends of lines, set apart so that none lies on another, and the words of marks.

use super::{CLEAR, Plot, curve};
use crate::emit::drawing::{Anchor, Candidate, Fill, Item, Labels, Point, Rect, Stroke, Text, at, text};

/// From one line of a name to the next, as a share of its height.
const STEP: f64 = 1.35;

/// A name and the height of the end it belongs to.
struct Named {
    lines: Vec<String>,
    end: Point,
}

impl Named {
    fn height(&self, size: f64) -> f64 {
        self.lines.len() as f64 * size * STEP
    }
}

/// How wide the names are, none wider than `most` unless a single word is.
pub(super) fn width(plot: &Plot, most: f64) -> f64 {
    let names = plot.lines.iter().map(|line| &line.name).chain(plot.bands.iter().map(|band| &band.name));
    let lines = names.flat_map(|name| text::wrap(name, most, plot.size, false));
    lines.map(|line| text::width(&line, plot.size, false)).fold(0.0, f64::max)
}

/// The names right of the plot, each tied to the end of its line where it had to move.
pub(super) fn draw(plot: &Plot, room: Rect, right: f64) -> Vec<Item> {
    let left = room.right() + 2.0 * CLEAR;
    let wrapped = |name: &str| text::wrap(name, right - left + 0.1, plot.size, false);
    let mut named: Vec<Named> = Vec::new();
    for line in plot.lines.iter().filter(|line| !line.name.is_empty()) {
        let end = curve::on_paper(plot, room, &line.points).last().and_then(|part| part.last().copied());
        named.extend(end.map(|end| Named { lines: wrapped(&line.name), end }));
    }
    for band in plot.bands.iter().filter(|band| !band.name.is_empty()) {
        let last = band.bounds.iter().rev().find(|(x, low, high)| x.is_finite() && low.is_finite() && high.is_finite());
        let end = last.map(|(x, low, high)| plot.place(room, (*x, (low + high) / 2.0)));
        let held = |end: Point| at(end.x.clamp(room.x, room.right()), end.y.clamp(room.y, room.bottom()));
        named.extend(end.map(|end| Named { lines: wrapped(&band.name), end: held(end) }));
    }
    named.sort_by(|a, b| a.end.y.total_cmp(&b.end.y));
    let heights: Vec<f64> = named.iter().map(|name| name.height(plot.size)).collect();
    let wanted: Vec<f64> = named.iter().map(|name| name.end.y).collect();
    let middles = apart(&wanted, &heights, room.y - plot.size, room.bottom() + plot.size);
    named.iter().zip(middles).flat_map(|(name, middle)| written(plot, name, at(left, middle))).collect()
}

fn written(plot: &Plot, name: &Named, place: Point) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    if name.end.distance(at(place.x, place.y)) > 3.0 * CLEAR {
        items.push(Item::line(name.end, place.shift(-0.6, 0.0), Stroke::LIGHT));
    }
    let top = place.y - name.height(plot.size) / 2.0;
    for (row, words) in name.lines.iter().enumerate() {
        let middle = top + (row as f64 + 0.5) * plot.size * STEP;
        items.push(Text::new(at(place.x, middle), words.as_str()).size(plot.size).centred().into());
    }
    items
}

/// Middles as near to those wanted (sorted) as they can be without touching, between `top` and `bottom` where all fit.
fn apart(wanted: &[f64], heights: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let mut middles: Vec<f64> = wanted.to_vec();
    let mut low = top;
    for (middle, height) in middles.iter_mut().zip(heights) {
        *middle = middle.max(low + height / 2.0);
        low = *middle + height / 2.0;
    }
    let mut high = bottom;
    for (middle, height) in middles.iter_mut().zip(heights).rev() {
        *middle = middle.min(high - height / 2.0);
        high = *middle - height / 2.0;
    }
    middles
}

/// Rings with their words, each where it meets no line, ring or other words.
pub(super) fn marks(plot: &Plot, room: Rect) -> Vec<Item> {
    const RING: f64 = 1.2;
    let mut labels = Labels::new(room);
    for line in &plot.lines {
        curve::on_paper(plot, room, &line.points).iter().for_each(|part| labels.keep_line_clear(part, 0.8));
    }
    let inside: Vec<(Point, &str)> = plot
        .marks
        .iter()
        .map(|mark| (plot.place(room, mark.at), mark.words.as_str()))
        .filter(|(place, _)| room.contains(*place))
        .collect();
    inside.iter().for_each(|(place, _)| labels.keep_clear(Rect::around([*place]).grow(RING)));
    let mut items: Vec<Item> = Vec::new();
    for (place, words) in inside {
        items.push(Item::Circle { centre: place, radius: RING, stroke: Some(Stroke::MEDIUM), fill: Fill::White });
        if words.is_empty() {
            continue;
        }
        let ways = [1.0, -1.0]
            .into_iter()
            .flat_map(|side| [0.0, -6.0, 6.0, -12.0, 12.0, -20.0, 20.0].map(|down| (side, down)));
        let ways = ways.map(|(side, down)| {
            let anchor = if side > 0.0 { Anchor::Start } else { Anchor::End };
            let start = place.shift(side * (RING + 1.2 + f64::abs(down) / 4.0), down);
            let text = Text::new(start, words).size(plot.size).anchor(anchor).centred().halo();
            let leader =
                if down == 0.0 { Vec::new() } else { vec![place.towards(start, 0.2), start.shift(-side * 0.6, 0.0)] };
            Candidate { texts: vec![text], leader }
        });
        let chosen = labels.place(ways.collect());
        if !chosen.leader.is_empty() {
            items.push(Item::polyline(chosen.leader, Stroke::LIGHT));
        }
        items.extend(chosen.texts.into_iter().map(Item::from));
    }
    items
}

#[cfg(test)]
mod tests {
    use super::apart;

    #[test]
    fn names_are_set_apart_and_stay_between_the_edges() {
        assert_eq!(apart(&[10.0, 11.0, 30.0], &[6.0, 6.0, 6.0], 0.0, 40.0), [10.0, 16.0, 30.0]);
        assert_eq!(apart(&[39.0, 39.0], &[6.0, 6.0], 0.0, 40.0), [31.0, 37.0]);
        assert_eq!(apart(&[1.0], &[6.0], 0.0, 40.0), [3.0]);
    }
}
