//! Chains of dimensions: both units on every length, the leading one larger; what is too narrow is moved outwards.

use super::item::{Anchor, FIGURE, Item, SMALL, Stroke, Text};
use super::place::{Candidate, Labels};
use super::shape::{Point, at};
use super::sheet::View;
use super::text;
use crate::units::{Length, System};

/// Which way a chain runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Along {
    /// From left to right; marks are places along the wall.
    Across,
    /// From below to above; marks are heights. Texts read from the right.
    Up,
}

/// A chain of dimensions between marks on the wall.
#[derive(Clone, Copy, Debug)]
pub struct Chain<'a> {
    /// Which way it runs.
    pub along: Along,
    /// The marks, in any order; equal marks count once.
    pub marks: &'a [Length],
    /// Where the dimension line lies on paper: its y for `Across`, its x for `Up`, mm.
    pub line_mm: f64,
    /// Where its witness lines start, on the same axis of paper, mm.
    pub witness_mm: f64,
    /// Which unit leads.
    pub lead: System,
    /// Height of the leading figures, mm.
    pub figure_mm: f64,
}

impl<'a> Chain<'a> {
    /// A chain with metric leading, in figures of 3.5 mm.
    pub fn new(along: Along, marks: &'a [Length], line_mm: f64, witness_mm: f64) -> Chain<'a> {
        Chain { along, marks, line_mm, witness_mm, lead: System::Metric, figure_mm: FIGURE }
    }

    /// With this unit leading.
    pub fn lead(self, lead: System) -> Chain<'a> {
        Chain { lead, ..self }
    }

    /// Draws the chain and takes its room on the sheet. The next chain out starts beyond this item's bounds.
    pub fn draw(&self, view: &View, labels: &mut Labels) -> Item {
        let mut marks = self.marks.to_vec();
        marks.sort();
        marks.dedup();
        let places: Vec<f64> = marks.iter().map(|mark| self.along_paper(view, *mark)).collect();
        let mut items = self.lines(&places);
        let stretches: Vec<Stretch> = marks
            .windows(2)
            .zip(places.windows(2))
            .filter_map(|pair| match pair {
                ([low, high], [from, to]) => Some(self.stretch(Length(high.0.saturating_sub(low.0)), *from, *to)),
                _ => None,
            })
            .collect();
        for stretch in stretches.iter().filter(|stretch| !stretch.narrow) {
            push(&mut items, labels.place(vec![self.beside(stretch)]));
        }
        if let (Some(first), Some(last)) = (places.first(), places.last()) {
            labels.keep_line_clear(&[self.place(*first, 0.0), self.place(*last, 0.0)], 1.0);
        }
        for crowd in stretches.chunk_by(|one, next| one.narrow && next.narrow) {
            self.crowd(crowd, labels, &mut items);
        }
        Item::group("dimensions", items)
    }

    fn along_paper(&self, view: &View, mark: Length) -> f64 {
        match self.along {
            Along::Across => view.x(mark),
            Along::Up => view.y(mark),
        }
    }

    /// A place by its distance along the chain and off its line; negative is above the line as its texts read.
    fn place(&self, along: f64, off: f64) -> Point {
        match self.along {
            Along::Across => at(along, self.line_mm + off),
            Along::Up => at(self.line_mm + off, along),
        }
    }

    /// Away from the wall.
    fn outwards(&self) -> f64 {
        if self.line_mm < self.witness_mm { -1.0 } else { 1.0 }
    }

    fn text(&self, at: Point, content: &str, size: f64) -> Text {
        let turn = if self.along == Along::Up { -90.0 } else { 0.0 };
        Text::new(at, content).size(size).turned(turn)
    }

    fn lines(&self, places: &[f64]) -> Vec<Item> {
        let mut items = Vec::new();
        let out = self.outwards();
        let reach = self.witness_mm - self.line_mm;
        for place in places {
            if reach.abs() > 1.5 {
                let (from, to) = (self.place(*place, reach + out * 1.2), self.place(*place, out * 1.5));
                items.push(Item::line(from, to, Stroke::LIGHT));
            }
            let tick = [self.place(place - 0.9, 0.9), self.place(place + 0.9, -0.9)];
            items.push(Item::polyline(tick.to_vec(), Stroke::HEAVY));
        }
        if let (Some(first), Some(last)) = (places.first(), places.last()) {
            let over = if last < first { -1.5 } else { 1.5 };
            items.push(Item::line(self.place(first - over, 0.0), self.place(last + over, 0.0), Stroke::LIGHT));
        }
        items
    }

    fn stretch(&self, length: Length, from: f64, to: f64) -> Stretch {
        let (leading, following) = text::pair(length, self.lead);
        let wide = text::width(&leading, self.figure_mm, true).max(text::width(&following, SMALL, false));
        Stretch { leading, following, middle: (from + to) / 2.0, narrow: wide + 2.0 > (to - from).abs() }
    }

    /// The figures of neighbouring narrow stretches. The upper half reads away from its leaders to the high end, set
    /// from that end inwards, and the lower half the other way: so no leader crosses a figure.
    fn crowd(&self, crowd: &[Stretch], labels: &mut Labels, items: &mut Vec<Item>) {
        let (low, high) = crowd.split_at(crowd.len() / 2);
        for stretch in high.iter().rev().filter(|stretch| stretch.narrow) {
            push(items, labels.place(self.outside(stretch, [Side::High, Side::Low])));
        }
        for stretch in low.iter().filter(|stretch| stretch.narrow) {
            push(items, labels.place(self.outside(stretch, [Side::Low, Side::High])));
        }
    }

    /// The leading figure above the line, the other below.
    fn beside(&self, stretch: &Stretch) -> Candidate {
        let leading = self.text(self.place(stretch.middle, -1.2), &stretch.leading, self.figure_mm).bold();
        let following = self.text(self.place(stretch.middle, 1.0 + SMALL), &stretch.following, SMALL);
        let texts = vec![leading.anchor(Anchor::Middle), following.anchor(Anchor::Middle)];
        Candidate { texts, leader: Vec::new() }
    }

    /// Both figures on one line at the end of a straight leader, in rows further and further out; `sides` says on
    /// which side of the leader to try first.
    fn outside(&self, stretch: &Stretch, sides: [Side; 2]) -> Vec<Candidate> {
        let first = text::width(&stretch.leading, self.figure_mm, true);
        let second = text::width(&stretch.following, SMALL, false);
        let forward = if self.along == Along::Up { -1.0 } else { 1.0 };
        let mut ways = Vec::new();
        for side in sides {
            let start = match side {
                Side::High => 0.9,
                Side::Low => -(first + second + 2.3),
            };
            for row in 0..9 {
                let off = self.outwards() * (9.0 + f64::from(row) * (self.figure_mm * 1.3 + 0.9));
                let (start, base) = (stretch.middle + forward * start, off + self.figure_mm / 2.0);
                let leading = self.text(self.place(start, base), &stretch.leading, self.figure_mm).bold();
                let following = self.text(self.place(start + forward * (first + 1.4), base), &stretch.following, SMALL);
                let end = off + self.outwards() * self.figure_mm / 2.0;
                let leader = vec![self.place(stretch.middle, self.outwards() * 0.6), self.place(stretch.middle, end)];
                ways.push(Candidate { texts: vec![leading, following], leader });
            }
        }
        ways
    }
}

/// One length of a chain, worded.
struct Stretch {
    leading: String,
    following: String,
    /// Along the paper, mm.
    middle: f64,
    /// Too short for its figures.
    narrow: bool,
}

/// A side of a leader, by the marks of the chain.
#[derive(Clone, Copy)]
enum Side {
    Low,
    High,
}

/// Adds a placed label to a list of items.
pub(super) fn push(items: &mut Vec<Item>, label: Candidate) {
    if !label.leader.is_empty() {
        items.push(Item::polyline(label.leader, Stroke::LIGHT));
    }
    items.extend(label.texts.into_iter().map(Item::Text));
}

#[cfg(test)]
mod tests {
    use super::super::samples::texts;
    use super::super::shape::Rect;
    use super::super::sheet::Scale;
    use super::*;

    #[test]
    fn every_stretch_carries_both_units_and_no_two_texts_meet() {
        let view = View::new(Scale(50), (Length::ZERO, Length::ZERO), at(60.0, 100.0));
        let marks = [0, 1200, 1264, 1302, 1400, 3000].map(Length::mm);
        for along in [Along::Across, Along::Up] {
            let mut labels = Labels::new(Rect::edges(0.0, 0.0, 300.0, 200.0));
            let item = Chain::new(along, &marks, 110.0, 100.0).draw(&view, &mut labels);
            let texts = texts(std::slice::from_ref(&item));
            assert_eq!(texts.len(), 10);
            assert!(
                texts.iter().any(|text| text.content == "64") && texts.iter().any(|text| text.content == "2-1/2 in")
            );
            for (index, one) in texts.iter().enumerate() {
                for other in texts.iter().skip(index + 1) {
                    assert_eq!(one.bounds().overlap(&other.bounds()), 0.0, "{} over {}", one.content, other.content);
                }
            }
        }
    }

    #[test]
    fn a_chain_of_less_than_two_marks_draws_no_figure() {
        let view = View::new(Scale(50), (Length::ZERO, Length::ZERO), at(0.0, 0.0));
        let mut labels = Labels::new(Rect::edges(0.0, 0.0, 10.0, 10.0));
        for marks in [&[][..], &[Length::MM][..], &[Length::MM, Length::MM][..]] {
            assert!(texts(&[Chain::new(Along::Across, marks, 5.0, 0.0).draw(&view, &mut labels)]).is_empty());
        }
    }
}
