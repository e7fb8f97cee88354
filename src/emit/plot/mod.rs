//! Plots on paper: black lines told apart by dash and by a name at their end, hatched bands, ticks at round numbers in both
//! units, and small multiples. No box of names, no colour.
//!
//! A [`Plot`] holds numbers; [`Plot::draw`] lays it in a box of paper and gives items of the display list. What a plot stands
//! on, such as a wall section, is drawn first: a plot fills nothing but its bands. [`Plot::room`] tells where it will lie.

mod axis;
mod curve;
mod multiples;
mod names;
#[cfg(test)]
mod tests;

pub use axis::{Axis, Tick, Unit, figure};
pub use multiples::Multiples;

use super::drawing::{Anchor, Dash, Fill, Hatch, Item, Point, Rect, Stroke, Text, Weight, at, item, text};

/// How far a tick reaches into the plot, mm.
const TICK: f64 = 1.6;
/// Between figures and the plot, mm.
const CLEAR: f64 = 2.4;

/// A line through points, with its name at its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Stands at its end; empty for none.
    pub name: String,
    /// In plotted numbers. A number that is not finite breaks the line.
    pub points: Vec<(f64, f64)>,
    /// What tells it apart in black.
    pub dash: Dash,
    /// Thickness.
    pub weight: Weight,
}

/// A hatched range between two lines: a value that is only known within bounds, or where nobody wants to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Stands at its end; empty for none.
    pub name: String,
    /// Its places with the lower and the upper bound there.
    pub bounds: Vec<(f64, f64, f64)>,
    /// [`Hatch::Today`] for a range, [`Hatch::Gap`] for a lighter one.
    pub hatch: Hatch,
}

/// A small ring at one place with words beside it: a peak and its date.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// In plotted numbers.
    pub at: (f64, f64),
    /// Beside it; empty for none.
    pub words: String,
}

/// Numbers to be drawn against two axes.
#[derive(Clone, Debug, PartialEq)]
pub struct Plot {
    /// Above it, in heavy letters; empty for none.
    pub title: String,
    /// Level axis.
    pub x: Axis,
    /// Upright axis.
    pub y: Axis,
    /// From back to front.
    pub lines: Vec<Line>,
    /// Behind the lines.
    pub bands: Vec<Band>,
    /// In front of the lines.
    pub marks: Vec<Mark>,
    /// Height of figures and names on paper, mm: [`item::LARGE`] on sheets for the wall.
    pub size: f64,
}

impl Plot {
    /// An empty plot with large figures.
    pub fn new(title: &str, x: Axis, y: Axis) -> Plot {
        let (lines, bands, marks) = (Vec::new(), Vec::new(), Vec::new());
        Plot { title: title.to_owned(), x, y, lines, bands, marks, size: item::LARGE }
    }

    /// Adds a line; its dash and thickness are the next that no line of the plot has yet.
    pub fn line(mut self, name: &str, points: Vec<(f64, f64)>) -> Plot {
        const LOOKS: [(Dash, Weight); 5] = [
            (Dash::Solid, Weight::Heavy),
            (Dash::Dashed, Weight::Medium),
            (Dash::Solid, Weight::Light),
            (Dash::Centre, Weight::Medium),
            (Dash::Stop, Weight::Heavy),
        ];
        let used = |look: &(Dash, Weight)| self.lines.iter().any(|line| (line.dash, line.weight) == *look);
        let (dash, weight) = LOOKS.into_iter().find(|look| !used(look)).unwrap_or((Dash::Dashed, Weight::Light));
        self.lines.push(Line { name: name.to_owned(), points, dash, weight });
        self
    }

    /// Adds a limit: a level row of points over the whole width.
    pub fn limit(mut self, name: &str, level: f64) -> Plot {
        let points = vec![(self.x.from, level), (self.x.to, level)];
        self.lines.push(Line { name: name.to_owned(), points, dash: Dash::Dotted, weight: Weight::Medium });
        self
    }

    /// Adds a hatched range.
    pub fn band(mut self, name: &str, bounds: Vec<(f64, f64, f64)>) -> Plot {
        self.bands.push(Band { name: name.to_owned(), bounds, hatch: Hatch::Today });
        self
    }

    /// Adds a ring with words.
    pub fn mark(mut self, at: (f64, f64), words: &str) -> Plot {
        self.marks.push(Mark { at, words: words.to_owned() });
        self
    }

    /// Adds an upright bar for each month, January first, as steps from zero; needs [`Axis::months`].
    pub fn monthly(self, name: &str, values: &[f64]) -> Plot {
        let steps = values.iter().enumerate();
        let steps = steps.flat_map(|(month, value)| [(month as f64, *value), (month as f64 + 1.0, *value)]);
        self.line(name, steps.collect())
    }

    /// Where the plot itself will lie when it is drawn in `area`: what is left beside figures, names and title.
    pub fn room(&self, area: Rect) -> Rect {
        let unit = |unit: &Unit| self.size * 2.4 + text::width(&unit.name, self.size, false);
        let beside = self.x.units.iter().map(unit).fold(self.size, f64::max);
        let named = names::width(self, area.width * 0.4);
        let right = if named > 0.0 { (named + 2.0 * CLEAR).max(beside) } else { beside };
        Rect::edges(
            area.x + self.left(area.height).max(self.size),
            area.y + self.above(),
            area.right() - right,
            area.bottom() - self.below(),
        )
    }

    /// The plot with its axes within `area`.
    pub fn draw(&self, area: Rect) -> Item {
        let room = self.room(area);
        let mut items = self.inside(room);
        items.extend(self.figures_below(room, true));
        items.extend(self.name_below(room));
        items.extend(self.figures_left(room, area.height, true));
        items.extend(self.name_above(room));
        items.extend(self.heading(room));
        items.extend(names::draw(self, room, area.right()));
        Item::group("plot", items)
    }

    /// The plot in its place on something that is drawn already: `room` is the plot itself, figures stand at its left and below,
    /// names at its right up to `right`.
    pub fn draw_at(&self, room: Rect, right: f64) -> Item {
        let mut items = self.inside(room);
        items.extend(self.figures_left(room, room.height, true));
        items.extend(self.figures_below(room, true));
        items.extend(names::draw(self, room, right));
        Item::group("plot", items)
    }

    /// Where two plotted numbers stand on paper.
    pub fn place(&self, room: Rect, (x, y): (f64, f64)) -> Point {
        at(room.x + self.x.share(x) * room.width, room.bottom() - self.y.share(y) * room.height)
    }

    /// Bands, lines, marks and the frame, without any figures outside it.
    fn inside(&self, room: Rect) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        for band in &self.bands {
            items.extend(curve::band(self, room, band));
        }
        let zero = self.place(room, (self.x.from, 0.0)).y;
        if self.y.from < 0.0 && self.y.to > 0.0 {
            items.push(Item::line(at(room.x, zero), at(room.right(), zero), Stroke::LIGHT));
        }
        for line in &self.lines {
            let stroke = Stroke { weight: line.weight, dash: line.dash, ..Stroke::MEDIUM };
            let parts = curve::on_paper(self, room, &line.points);
            items.extend(parts.into_iter().map(|points| Item::polyline(points, stroke)));
        }
        items.extend(names::marks(self, room));
        items.push(Item::rect(room, Some(Stroke::MEDIUM), Fill::None));
        items
    }

    fn above(&self) -> f64 {
        let title = if self.title.is_empty() { 0.0 } else { self.size * 1.8 };
        let head = if self.y.units.is_empty() && self.y.name.is_empty() { 0.0 } else { self.size * 1.8 };
        title + head + self.size * 0.5
    }

    fn below(&self) -> f64 {
        let rows = self.x.units.len() + usize::from(!self.x.words.is_empty());
        let name = if self.x.name.is_empty() { 0.0 } else { self.size * 1.5 };
        rows as f64 * self.size * 1.5 + name + CLEAR + self.size * 0.3
    }

    /// The width of the columns of figures left of a plot of about this height.
    fn left(&self, height: f64) -> f64 {
        self.columns(height).iter().map(|(_, _, width)| width + CLEAR * 1.5).sum()
    }

    /// Columns of figures from the plot outwards: unit, ticks and width.
    fn columns(&self, height: f64) -> Vec<(&str, Vec<Tick>, f64)> {
        let most = (height / (self.size * 2.4)).clamp(2.0, 12.0) as usize;
        let wide = |words: &str| text::width(words, self.size, false);
        let words = self.y.words.iter().map(|(at, words)| Tick { at: *at, figure: words.clone() });
        let words: Vec<Tick> = words.collect();
        let figures = self.y.units.iter().map(|unit| (unit.name.as_str(), self.y.ticks(unit, most)));
        let all = (!words.is_empty()).then_some(("", words)).into_iter().chain(figures);
        all.map(|(head, ticks)| {
            let width = ticks.iter().map(|tick| wide(&tick.figure)).fold(wide(head), f64::max);
            (head, ticks, width)
        })
        .collect()
    }

    /// Figures left of the plot; `height` is what it was laid out for, so that columns keep their width. Without units it stands
    /// below another: a figure at its upper edge would meet the last of that one.
    fn figures_left(&self, room: Rect, height: f64, with_units: bool) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        let mut right = room.x - CLEAR;
        for (index, (head, ticks, width)) in self.columns(height).iter().enumerate() {
            let written = |y: f64, words: &str| -> Item {
                Text::new(at(right, y), words).size(self.size).anchor(Anchor::End).centred().into()
            };
            for tick in ticks {
                let y = self.place(room, (self.x.from, tick.at)).y;
                if with_units || y > room.y + self.size {
                    items.push(written(y, &tick.figure));
                }
                if index == 0 && y > room.y + 0.1 && y < room.bottom() - 0.1 {
                    items.push(Item::line(at(room.x, y), at(room.x + TICK, y), Stroke::LIGHT));
                    items.push(Item::line(at(room.right() - TICK, y), at(room.right(), y), Stroke::LIGHT));
                }
            }
            if with_units && !head.is_empty() {
                items.push(written(room.y - self.size * 1.5, head));
            }
            right -= width + CLEAR * 1.5;
        }
        items
    }

    /// Figures below the plot. Without units it is one of several side by side: a figure at its right edge would meet the next.
    fn figures_below(&self, room: Rect, with_units: bool) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        let mut line = room.bottom() + CLEAR + self.size;
        if !self.x.words.is_empty() {
            for (place, words) in &self.x.words {
                let x = self.place(room, (*place, self.y.from)).x;
                items.push(Text::new(at(x, line), words.as_str()).size(self.size).anchor(Anchor::Middle).into());
            }
            line += self.size * 1.5;
        }
        for (index, unit) in self.x.units.iter().enumerate() {
            for tick in self.x.ticks_across(unit, room.width, self.size) {
                let x = self.place(room, (tick.at, self.y.from)).x;
                if with_units || x < room.right() - self.size {
                    items.push(Text::new(at(x, line), tick.figure).size(self.size).anchor(Anchor::Middle).into());
                }
                if index == 0 && x > room.x + 0.1 && x < room.right() - 0.1 {
                    items.push(Item::line(at(x, room.bottom()), at(x, room.bottom() - TICK), Stroke::LIGHT));
                    items.push(Item::line(at(x, room.y), at(x, room.y + TICK), Stroke::LIGHT));
                }
            }
            if with_units {
                let head = Text::new(at(room.right() + self.size * 2.4, line), unit.name.as_str());
                items.push(head.size(self.size).into());
            }
            line += self.size * 1.5;
        }
        items
    }

    /// The name of the level axis, in the middle below its figures.
    fn name_below(&self, room: Rect) -> Option<Item> {
        let line = room.bottom() + self.below() - self.size * 0.3;
        let name = Text::new(at(room.centre().x, line), self.x.name.as_str()).size(self.size).anchor(Anchor::Middle);
        (!self.x.name.is_empty()).then(|| name.into())
    }

    /// The name of the upright axis, level, above the plot.
    fn name_above(&self, room: Rect) -> Option<Item> {
        let name = Text::new(at(room.x + CLEAR, room.y - self.size), self.y.name.as_str()).size(self.size);
        (!self.y.name.is_empty()).then(|| name.into())
    }

    /// The title above all.
    fn heading(&self, room: Rect) -> Option<Item> {
        let up = if self.y.name.is_empty() && self.y.units.is_empty() { 1.0 } else { 2.8 };
        let title = Text::new(at(room.x, room.y - self.size * up), self.title.as_str()).size(self.size).bold();
        (!self.title.is_empty()).then(|| title.into())
    }
}
