//! Lines and bands of numbers on paper: cut at the frame, broken where a number is missing, thinned to what paper can show.

use super::{Band, Plot};
use crate::emit::drawing::{Fill, Item, Point, Rect, at};

/// Points that share a column this wide, in mm, are drawn as first, lowest, highest and last.
const COLUMN: f64 = 0.15;

/// The parts of a line that lie within the plot.
pub(super) fn on_paper(plot: &Plot, room: Rect, points: &[(f64, f64)]) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    for whole in points.split(|(x, y)| !x.is_finite() || !y.is_finite()) {
        let placed: Vec<Point> = whole.iter().map(|point| plot.place(room, *point)).collect();
        parts.extend(cut(&thin(&placed), room));
    }
    parts
}

/// Keeps of each column the points an eye could tell apart.
fn thin(points: &[Point]) -> Vec<Point> {
    let column = |point: &Point| libm::floor(point.x / COLUMN);
    let mut kept: Vec<Point> = Vec::new();
    for group in points.chunk_by(|a, b| column(a) == column(b)) {
        if group.len() <= 4 {
            kept.extend(group);
            continue;
        }
        let by_height = |a: &(usize, &Point), b: &(usize, &Point)| a.1.y.total_cmp(&b.1.y);
        let low = group.iter().enumerate().min_by(by_height).map_or(0, |(index, _)| index);
        let high = group.iter().enumerate().max_by(by_height).map_or(0, |(index, _)| index);
        let mut chosen = vec![0, low, high, group.len() - 1];
        chosen.sort_unstable();
        chosen.dedup();
        kept.extend(chosen.into_iter().filter_map(|index| group.get(index)));
    }
    kept
}

/// A line cut at the edges of a box, after Liang and Barsky.
fn cut(points: &[Point], room: Rect) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    for pair in points.windows(2) {
        let [from, to] = pair else { continue };
        let Some((start, end)) = within(*from, *to, room) else { continue };
        let (start, end) = (from.towards(*to, start), from.towards(*to, end));
        match parts.last_mut() {
            Some(part) if part.last().is_some_and(|last| last.distance(start) < 1e-9) => part.push(end),
            _ => parts.push(vec![start, end]),
        }
    }
    parts
}

/// The share of the way from `from` to `to` that lies in the box, its edge included.
fn within(from: Point, to: Point, room: Rect) -> Option<(f64, f64)> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let sides =
        [(-dx, from.x - room.x), (dx, room.right() - from.x), (-dy, from.y - room.y), (dy, room.bottom() - from.y)];
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for (towards, left) in sides {
        if towards == 0.0 {
            if left < -1e-9 {
                return None;
            }
        } else if towards < 0.0 {
            start = start.max(left / towards);
        } else {
            end = end.min(left / towards);
        }
    }
    (start <= end).then_some((start, end))
}

/// A hatched range; what reaches beyond the plot ends at its frame.
pub(super) fn band(plot: &Plot, room: Rect, band: &Band) -> Option<Item> {
    let held = |point: Point| at(point.x.clamp(room.x, room.right()), point.y.clamp(room.y, room.bottom()));
    let whole = band.bounds.iter().filter(|(x, low, high)| x.is_finite() && low.is_finite() && high.is_finite());
    let whole: Vec<&(f64, f64, f64)> = whole.collect();
    let lower = whole.iter().map(|(x, low, _)| held(plot.place(room, (*x, *low))));
    let upper = whole.iter().rev().map(|(x, _, high)| held(plot.place(room, (*x, *high))));
    let ring: Vec<Point> = lower.chain(upper).collect();
    (ring.len() >= 4).then(|| Item::polygon(ring, None, Fill::Over(band.hatch)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cut_at_the_frame_and_its_parts_stay_apart() {
        let room = Rect::edges(0.0, 0.0, 10.0, 10.0);
        let parts = cut(&[at(-5.0, 5.0), at(5.0, 5.0), at(5.0, 20.0), at(8.0, 20.0), at(8.0, 0.0)], room);
        assert_eq!(parts, [vec![at(0.0, 5.0), at(5.0, 5.0), at(5.0, 10.0)], vec![at(8.0, 10.0), at(8.0, 0.0)]]);
        assert!(cut(&[at(-1.0, -1.0), at(-1.0, 20.0)], room).is_empty());
    }

    #[test]
    fn thinning_keeps_every_peak() {
        let hours =
            (0..8760).map(|hour| at(f64::from(hour) * 0.02, if hour == 4321 { -50.0 } else { f64::from(hour % 7) }));
        let points: Vec<Point> = hours.collect();
        let kept = thin(&points);
        assert!(kept.len() < 5000);
        assert!(kept.iter().any(|point| point.y == -50.0));
        assert_eq!((kept.first(), kept.last()), (points.first(), points.last()));
    }
}
