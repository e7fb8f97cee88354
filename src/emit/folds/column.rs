//! A column of words on a card: large figures first, boxes to tick, lines to write on.

use crate::emit::drawing::{Fill, Item, Point, Rect, Stroke, Text, at, text};
use crate::units::display::{Tape, inches, mm_figure};
use crate::units::{Length, System};

/// Figures to be read at arm's length.
pub(in crate::emit) const LARGE: f64 = 5.0;
/// Words.
pub(in crate::emit) const WORDS: f64 = 3.5;

/// Words from the top down.
pub(in crate::emit) struct Column {
    x: f64,
    /// Where the next line starts.
    pub y: f64,
    width: f64,
    /// What was said so far.
    pub items: Vec<Item>,
}

impl Column {
    pub fn new(x: f64, y: f64, width: f64) -> Self {
        Self { x, y, width, items: Vec::new() }
    }

    /// Words so large, as many lines as they take.
    pub fn say(&mut self, words: &str, size: f64, bold: bool) {
        for line in text::wrap(words, self.width, size, bold) {
            self.y += size;
            let text = Text::new(at(self.x, self.y), line).size(size);
            self.items.push(if bold { text.bold() } else { text }.into());
            self.y += size * 0.45;
        }
    }

    /// A large figure with the words that belong to it below.
    pub fn figure(&mut self, figure: &str, words: &str) {
        self.say(figure, LARGE, true);
        self.say(words, WORDS, false);
        self.y += 1.5;
    }

    /// Room.
    pub fn skip(&mut self, mm: f64) {
        self.y += mm;
    }

    /// A box to tick, and what was done.
    pub fn tick(&mut self, words: &str) {
        self.items.push(tick_box(at(self.x, self.y)));
        self.items.push(Text::new(at(self.x + TICK + 2.0, self.y + TICK - 1.5), words).size(WORDS).into());
        self.y += TICK + 2.0;
    }

    /// A line to write on.
    pub fn line(&mut self, words: &str) {
        self.y += 7.0;
        let text = Text::new(at(self.x, self.y), words).size(WORDS);
        let from = self.x + text.width() + 2.0;
        self.items.push(text.into());
        self.items.push(Item::line(at(from, self.y + 0.8), at(self.x + self.width, self.y + 0.8), Stroke::LIGHT));
        self.y += 2.0;
    }
}

/// Side of a box to tick.
const TICK: f64 = 6.5;

fn tick_box(corner: Point) -> Item {
    Item::rect(Rect::edges(corner.x, corner.y, corner.x + TICK, corner.y + TICK), Some(Stroke::MEDIUM), Fill::None)
}

/// A mark on a piece in both units: to 0.5 mm and to 1/32 in, each rounded by itself.
pub(in crate::emit) fn both(length: Length, lead: System) -> String {
    let (metric, imperial) = (format!("{} mm", half(length)), inches(length, Tape::ThirtySecond));
    match lead {
        System::Metric => format!("{metric} ({imperial})"),
        System::Imperial => format!("{imperial} ({metric})"),
    }
}

/// Millimetres to the half.
pub(in crate::emit) fn half(length: Length) -> String {
    let halves = length.scale(2, Length::MM.0).0;
    mm_figure(Length(halves.saturating_mul(Length::MM.0 / 2)))
}
