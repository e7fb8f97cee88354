//! Chains of dimensions: both units on every length, the leading one larger; what is too narrow is moved outwards.

use super::item::{Anchor, FIGURE, Item, SMALL, Stroke, Text};
use super::place::{Candidate, Labels};
use super::shape::{Point, at};
use super::sheet::View;
use super::text::{self, Lead};
use crate::units::Length;

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
    pub lead: Lead,
    /// Height of the leading figures, mm.
    pub figure_mm: f64,
}

impl<'a> Chain<'a> {
    /// A chain with metric leading, in figures of 3.5 mm.
    pub fn new(along: Along, marks: &'a [Length], line_mm: f64, witness_mm: f64) -> Chain<'a> {
        Chain { along, marks, line_mm, witness_mm, lead: Lead::Metric, figure_mm: FIGURE }
    }

    /// With this unit leading.
    pub fn lead(self, lead: Lead) -> Chain<'a> {
        Chain { lead, ..self }
    }

    /// Draws the chain and takes its room on the sheet. The next chain out starts beyond this item's bounds.
    pub fn draw(&self, view: &View, labels: &mut Labels) -> Item {
        let mut marks = self.marks.to_vec();
        marks.sort();
        marks.dedup();
        let places: Vec<f64> = marks.iter().map(|mark| self.along_paper(view, *mark)).collect();
        let mut items = self.lines(&places);
        if let (Some(first), Some(last)) = (places.first(), places.last()) {
            let overshoot = if last < first { -1.5 } else { 1.5 };
            labels.keep_line_clear(&[self.place(first - overshoot, 0.0), self.place(last + overshoot, 0.0)], 1.0);
        }
        // Figures that fit stand first; the rest are set from the high end down, each further out than the ones it
        // would meet, so that no leader crosses a figure.
        for narrow in [false, true] {
            for (marks, places) in marks.windows(2).zip(places.windows(2)).rev() {
                if let ([low, high], [from, to]) = (marks, places) {
                    let figures = self.lead.pair(Length(high.0.saturating_sub(low.0)));
                    if self.is_narrow(&figures, (to - from).abs()) == narrow {
                        let middle = (from + to) / 2.0;
                        let ways =
                            if narrow { self.outside(&figures, middle) } else { vec![self.beside(&figures, middle)] };
                        push(&mut items, labels.place(ways));
                    }
                }
            }
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

    fn is_narrow(&self, figures: &(String, String), room: f64) -> bool {
        let wide = text::width(&figures.0, self.figure_mm, true).max(text::width(&figures.1, SMALL, false));
        wide + 2.0 > room
    }

    /// The leading figure above the line, the other below.
    fn beside(&self, figures: &(String, String), middle: f64) -> Candidate {
        let leading = self.text(self.place(middle, -1.0), &figures.0, self.figure_mm).bold();
        let following = self.text(self.place(middle, 1.0 + SMALL), &figures.1, SMALL);
        let texts = vec![leading.anchor(Anchor::Middle), following.anchor(Anchor::Middle)];
        Candidate { texts, leader: Vec::new() }
    }

    /// Both figures on one line at the end of a straight leader, in rows further and further out.
    fn outside(&self, figures: &(String, String), middle: f64) -> Vec<Candidate> {
        let (first, second) = (text::width(&figures.0, self.figure_mm, true), text::width(&figures.1, SMALL, false));
        let forward = if self.along == Along::Up { -1.0 } else { 1.0 };
        let mut ways = Vec::new();
        for row in 0..8 {
            for start in [0.9, -(first + second + 2.3)] {
                let off = self.outwards() * (9.0 + f64::from(row) * (self.figure_mm * 1.3 + 0.9));
                let (start, base) = (middle + forward * start, off + self.figure_mm / 2.0);
                let leading = self.text(self.place(start, base), &figures.0, self.figure_mm).bold();
                let following = self.text(self.place(start + forward * (first + 1.4), base), &figures.1, SMALL);
                let end = off + self.outwards() * self.figure_mm / 2.0;
                let leader = vec![self.place(middle, self.outwards() * 0.6), self.place(middle, end)];
                ways.push(Candidate { texts: vec![leading, following], leader });
            }
        }
        ways
    }
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
    use super::super::shape::Rect;
    use super::super::sheet::Scale;
    use super::*;

    fn texts(item: &Item) -> Vec<Text> {
        match item {
            Item::Text(text) => vec![text.clone()],
            Item::Group(group) => group.items.iter().flat_map(texts).collect(),
            _ => Vec::new(),
        }
    }

    #[test]
    fn every_stretch_carries_both_units_and_no_two_texts_meet() {
        let view = View::new(Scale(50), (Length::ZERO, Length::ZERO), at(60.0, 100.0));
        let marks = [0, 1200, 1264, 1302, 1400, 3000].map(Length::mm);
        for along in [Along::Across, Along::Up] {
            let mut labels = Labels::new(Rect::edges(0.0, 0.0, 300.0, 200.0));
            let item = Chain::new(along, &marks, 110.0, 100.0).draw(&view, &mut labels);
            let texts = texts(&item);
            assert_eq!(texts.len(), 10);
            assert!(
                texts.iter().any(|text| text.content == "64") && texts.iter().any(|text| text.content == "2 1/2\"")
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
            assert!(texts(&Chain::new(Along::Across, marks, 5.0, 0.0).draw(&view, &mut labels)).is_empty());
        }
    }
}
