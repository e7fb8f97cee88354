//! Where texts go: the first candidate place that is free wins, so the same drawing always gets the same labels.

use super::item::{Backing, Text};
use super::shape::{Point, Rect};

/// How far two texts stay apart, mm.
const GAP: f64 = 0.6;
/// A text off the sheet is this much worse than one over another text.
const OFF_SHEET: f64 = 20.0;
/// A leader over something costs as much as this many mm² per mm.
const LEADER: f64 = 3.0;

/// One way to place a label: its lines of text and the leader that ties it to what it names.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Candidate {
    /// The lines of the label.
    pub texts: Vec<Text>,
    /// From the thing named to the label; empty when it stands beside it.
    pub leader: Vec<Point>,
}

impl Candidate {
    /// One line of text without a leader.
    pub fn text(text: Text) -> Candidate {
        Candidate { texts: vec![text], leader: Vec::new() }
    }

    /// The box around its texts.
    pub fn bounds(&self) -> Rect {
        let mut boxes = self.texts.iter().map(Text::bounds);
        let first = boxes.next().unwrap_or_default();
        boxes.fold(first, |all, one| all.join(&one))
    }
}

/// What is already taken on a sheet. One for the whole sheet; the order of calls is the order of importance.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Labels {
    within: Rect,
    taken: Vec<Rect>,
}

impl Labels {
    /// Nothing taken yet; labels stay within this box.
    pub fn new(within: Rect) -> Labels {
        Labels { within, taken: Vec::new() }
    }

    /// Keeps a box free of labels.
    pub fn keep_clear(&mut self, area: Rect) {
        self.taken.push(area);
    }

    /// Keeps a line free of labels, `width` mm wide.
    pub fn keep_line_clear(&mut self, points: &[Point], width: f64) {
        for piece in pieces(points) {
            self.taken.push(piece.grow(width / 2.0));
        }
    }

    /// Keeps the edge of a closed outline free of labels, `width` mm wide; its inside stays open to them.
    pub fn keep_outline_clear(&mut self, ring: &[Point], width: f64) {
        self.keep_line_clear(ring, width);
        if let [first, .., last] = ring {
            self.keep_line_clear(&[*last, *first], width);
        }
    }

    /// The first candidate that meets nothing; failing that, the one that meets least, its texts on white plates.
    /// Its place is taken from then on.
    pub fn place(&mut self, candidates: Vec<Candidate>) -> Candidate {
        let mut best: Option<(f64, Candidate)> = None;
        for candidate in candidates {
            let cost = self.cost(&candidate);
            if best.as_ref().is_none_or(|(least, _)| cost < *least - 1e-9) {
                best = Some((cost, candidate));
            }
            if cost <= 0.0 {
                break;
            }
        }
        let Some((cost, mut chosen)) = best else { return Candidate::default() };
        if cost > 0.0 {
            chosen.texts.iter_mut().for_each(|text| text.backing = Backing::Plate);
        }
        self.taken.extend(chosen.texts.iter().map(Text::bounds));
        self.keep_line_clear(&chosen.leader, 0.4);
        chosen
    }

    /// Whether a box is free.
    pub fn is_free(&self, area: &Rect) -> bool {
        self.box_cost(area) <= 0.0
    }

    fn cost(&self, candidate: &Candidate) -> f64 {
        let texts: f64 = candidate.texts.iter().map(|text| self.box_cost(&text.bounds())).sum();
        let leader: f64 = pieces(&candidate.leader)
            .map(|piece| {
                let (middle, long) = (piece.centre(), piece.width.hypot(piece.height));
                if self.taken.iter().any(|taken| taken.contains(middle)) { long * LEADER } else { 0.0 }
            })
            .sum();
        texts + leader
    }

    fn box_cost(&self, area: &Rect) -> f64 {
        let wide = area.grow(GAP);
        let met: f64 = self.taken.iter().map(|taken| taken.overlap(&wide)).sum();
        met + (area.width * area.height - self.within.overlap(area)).max(0.0) * OFF_SHEET
    }
}

/// A line in boxes: one for a level or upright stretch, short ones along a slanted one.
fn pieces(points: &[Point]) -> impl Iterator<Item = Rect> + '_ {
    points.windows(2).flat_map(|pair| {
        let (from, to) = match pair {
            [from, to] => (*from, *to),
            _ => (Point::default(), Point::default()),
        };
        let straight = (from.x - to.x).abs() < 0.1 || (from.y - to.y).abs() < 0.1;
        let count = if straight { (from.distance(to) / 8.0).ceil() } else { (from.distance(to) / 1.5).ceil() };
        let count = count.clamp(1.0, 1000.0) as u32;
        (0..count).map(move |index| {
            let share = |step: u32| from.towards(to, f64::from(step) / f64::from(count));
            Rect::around([share(index), share(index + 1)])
        })
    })
}

#[cfg(test)]
mod tests {
    use super::super::shape::at;
    use super::*;

    #[test]
    fn labels_take_the_first_free_place_and_never_share_it() {
        let mut labels = Labels::new(Rect::edges(0.0, 0.0, 100.0, 100.0));
        let ways =
            || (0..5).map(|row| Candidate::text(Text::new(at(10.0, 10.0 + 5.0 * f64::from(row)), "label"))).collect();
        let first = labels.place(ways());
        let second = labels.place(ways());
        assert_eq!(first.texts[0].at, at(10.0, 10.0));
        assert_eq!(second.texts[0].at, at(10.0, 15.0));
        assert_eq!(first.bounds().overlap(&second.bounds()), 0.0);
    }

    #[test]
    fn a_label_stays_on_the_sheet_and_off_a_kept_line() {
        let mut labels = Labels::new(Rect::edges(0.0, 0.0, 60.0, 60.0));
        labels.keep_line_clear(&[at(0.0, 0.0), at(60.0, 60.0)], 2.0);
        let ways =
            [at(30.0, 31.0), at(55.0, 10.0), at(5.0, 40.0)].map(|at| Candidate::text(Text::new(at, "window sill")));
        assert_eq!(labels.place(ways.to_vec()).texts[0].at, at(5.0, 40.0));
    }

    #[test]
    fn where_all_is_taken_the_text_gets_a_plate() {
        let mut labels = Labels::new(Rect::edges(0.0, 0.0, 60.0, 60.0));
        labels.keep_clear(Rect::edges(0.0, 0.0, 60.0, 60.0));
        assert!(labels.place(vec![Candidate::text(Text::new(at(5.0, 5.0), "x"))]).texts[0].backing == Backing::Plate);
        assert_eq!(labels.place(Vec::new()), Candidate::default());
    }
}
