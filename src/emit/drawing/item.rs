//! The display list: what stands on a sheet, in paper millimetres, before any writer sees it.
//!
//! Five kinds of item only, so that a second writer is a small thing; dimension lines, arrows and the rest are built
//! from them in `marks`, `dimension` and `notes`. Colour is a bonus: every ink prints as black and still reads.

use super::hatch::Hatch;
use super::shape::{Point, Rect, at};
use super::text;

/// How thick a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// 0.7 mm: what is cut, outlines, the air barrier.
    Heavy,
    /// 0.35 mm: edges seen.
    Medium,
    /// 0.18 mm: courses, dimension lines, hatches.
    Light,
}

impl Weight {
    /// On paper. The row 0.18, 0.35, 0.7 is the usual one of technical drawing, each twice the last.
    pub const fn mm(self) -> f64 {
        match self {
            Weight::Heavy => 0.7,
            Weight::Medium => 0.35,
            Weight::Light => 0.18,
        }
    }
}

/// How a line is broken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    #[default]
    Solid,
    /// 3 on, 1.5 off: hidden edges, air paths.
    Dashed,
    /// Points: limits, clearances.
    Dotted,
    /// Long, short, long: centre lines and levels.
    Centre,
    /// Long with a gap: stop lines between sections of work.
    Stop,
}

impl Dash {
    /// On and off lengths in mm of paper; empty when unbroken.
    pub const fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Dashed => &[3.0, 1.5],
            Dash::Dotted => &[0.4, 1.2],
            Dash::Centre => &[7.0, 1.2, 1.2, 1.2],
            Dash::Stop => &[10.0, 2.5],
        }
    }
}

/// The colour of a line; dark enough to read when copied in black.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ink {
    /// Black.
    #[default]
    Black,
    /// White, to cut into black.
    White,
    /// Deep blue: the way of water.
    Water,
    /// Dark green: the way of air.
    Air,
    /// Dark red: the one continuous air barrier.
    Barrier,
}

impl Ink {
    /// As SVG writes it.
    pub const fn colour(self) -> &'static str {
        match self {
            Ink::Black => "#000",
            Ink::White => "#fff",
            Ink::Water => "#003a8c",
            Ink::Air => "#0a4f1f",
            Ink::Barrier => "#8c0f14",
        }
    }
}

/// A line's look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stroke {
    /// Thickness.
    pub weight: Weight,
    /// Broken or not.
    pub dash: Dash,
    /// Colour.
    pub ink: Ink,
}

impl Stroke {
    /// 0.7 mm black.
    pub const HEAVY: Stroke = Stroke::of(Weight::Heavy);
    /// 0.35 mm black.
    pub const MEDIUM: Stroke = Stroke::of(Weight::Medium);
    /// 0.18 mm black.
    pub const LIGHT: Stroke = Stroke::of(Weight::Light);

    const fn of(weight: Weight) -> Stroke {
        Stroke { weight, dash: Dash::Solid, ink: Ink::Black }
    }

    /// Broken so.
    pub const fn dash(self, dash: Dash) -> Stroke {
        Stroke { dash, ..self }
    }

    /// In this ink.
    pub const fn ink(self, ink: Ink) -> Stroke {
        Stroke { ink, ..self }
    }
}

/// What fills a closed outline.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: what lies behind shows.
    #[default]
    None,
    /// White: covers what lies behind.
    White,
    /// Solid, in an ink.
    Solid(Ink),
    /// White with a hatch.
    Hatch(Hatch),
    /// A hatch alone: what lies behind shows.
    Over(Hatch),
}

/// Which end of a text stands at its place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// The text runs to the right of its place.
    #[default]
    Start,
    /// Centred on it.
    Middle,
    /// Ends at it.
    End,
}

/// What lies behind the letters of a text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Backing {
    /// Whatever is drawn there.
    #[default]
    Nothing,
    /// A white rim about each letter (a halo).
    Rim,
    /// A white plate under the whole line, so that hatches and courses stop short of it.
    Plate,
}

/// The smallest text on any sheet: 2.5 mm capitals.
pub const SMALL: f64 = 2.5;
/// Figures that are cut or marked by: 3.5 mm.
pub const FIGURE: f64 = 3.5;
/// Figures to be read at arm's length, letters of findings, titles: 5 mm.
pub const LARGE: f64 = 5.0;

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// The base line at the anchored end.
    pub at: Point,
    /// What it says, unescaped.
    pub content: String,
    /// Height of capitals and digits in mm, as drawing standards count it; never below [`SMALL`].
    pub size: f64,
    /// Which end stands at `at`.
    pub anchor: Anchor,
    /// Degrees clockwise; −90 reads from the right of the sheet.
    pub turn: f64,
    /// Heavy letters.
    pub bold: bool,
    /// What keeps it legible over lines.
    pub backing: Backing,
}

impl Text {
    /// Small plain text that starts at a place.
    pub fn new(at: Point, content: impl Into<String>) -> Text {
        Text {
            at,
            content: content.into(),
            size: SMALL,
            anchor: Anchor::Start,
            turn: 0.0,
            bold: false,
            backing: Backing::Nothing,
        }
    }

    /// Height of capitals in mm; anything below [`SMALL`], or not a number, becomes [`SMALL`].
    pub fn size(self, mm: f64) -> Text {
        Text { size: mm.max(SMALL), ..self }
    }

    /// Anchored so.
    pub fn anchor(self, anchor: Anchor) -> Text {
        Text { anchor, ..self }
    }

    /// Turned clockwise by degrees about its place.
    pub fn turned(self, degrees: f64) -> Text {
        Text { turn: degrees, ..self }
    }

    /// In heavy letters.
    pub fn bold(self) -> Text {
        Text { bold: true, ..self }
    }

    /// With a white rim about its letters.
    pub fn halo(self) -> Text {
        Text { backing: Backing::Rim, ..self }
    }

    /// On a white plate.
    pub fn plate(self) -> Text {
        Text { backing: Backing::Plate, ..self }
    }

    /// Moved so that the middle of its height stands at its place.
    pub fn centred(self) -> Text {
        let below = at(self.at.x, self.at.y + self.size / 2.0).turned(self.at, self.turn);
        Text { at: below, ..self }
    }

    /// Its width in mm, from the font's published advance widths.
    pub fn width(&self) -> f64 {
        text::width(&self.content, self.size, self.bold)
    }

    /// The box it covers, with room for descenders.
    pub fn bounds(&self) -> Rect {
        Rect::around(self.corners())
    }

    /// The corners of the line of text as it stands, turned or not.
    pub fn corners(&self) -> [Point; 4] {
        let left = match self.anchor {
            Anchor::Start => self.at.x,
            Anchor::Middle => self.at.x - self.width() / 2.0,
            Anchor::End => self.at.x - self.width(),
        };
        let upright = Rect { x: left, y: self.at.y - self.size, width: self.width(), height: self.size * 1.3 };
        upright.corners().map(|corner| corner.turned(self.at, self.turn))
    }
}

/// Items that belong together: a layer a browser can switch, or one thing with a name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// `outline`, `areas`, `courses`, `dimensions`, `findings`…
    pub class: String,
    /// A name that stays the same from run to run; the writer makes it fit for an id, and unique.
    pub id: Option<String>,
    /// A few words for a screen reader and a pointer that rests on it.
    pub title: Option<String>,
    /// What is in it, from back to front.
    pub items: Vec<Item>,
}

/// One thing on paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// An open line through points.
    Line {
        /// Its corners.
        points: Vec<Point>,
        /// Its look.
        stroke: Stroke,
    },
    /// A closed outline; rings within rings are holes.
    Outline {
        /// The rings, not closed by repetition.
        rings: Vec<Vec<Point>>,
        /// The look of its edge, if it has one.
        stroke: Option<Stroke>,
        /// Its inside.
        fill: Fill,
    },
    /// A circle.
    Circle {
        /// Its middle.
        centre: Point,
        /// In mm of paper.
        radius: f64,
        /// The look of its edge, if it has one.
        stroke: Option<Stroke>,
        /// Its inside; a hatch is left white.
        fill: Fill,
    },
    /// Part of a circle.
    Arc {
        /// Its middle.
        centre: Point,
        /// In mm of paper.
        radius: f64,
        /// Where it starts, degrees clockwise from the right.
        from: f64,
        /// How far it goes, degrees clockwise; negative goes the other way.
        sweep: f64,
        /// Its look.
        stroke: Stroke,
    },
    /// One line of text.
    Text(Text),
    /// Several items.
    Group(Group),
}

impl From<Text> for Item {
    fn from(text: Text) -> Item {
        Item::Text(text)
    }
}

impl Item {
    /// A straight line.
    pub fn line(from: Point, to: Point, stroke: Stroke) -> Item {
        Item::Line { points: vec![from, to], stroke }
    }

    /// A line through points.
    pub fn polyline(points: Vec<Point>, stroke: Stroke) -> Item {
        Item::Line { points, stroke }
    }

    /// A closed outline of one ring.
    pub fn polygon(points: Vec<Point>, stroke: Option<Stroke>, fill: Fill) -> Item {
        Item::Outline { rings: vec![points], stroke, fill }
    }

    /// An upright rectangle.
    pub fn rect(rect: Rect, stroke: Option<Stroke>, fill: Fill) -> Item {
        Item::polygon(rect.corners().to_vec(), stroke, fill)
    }

    /// The box it covers, without the thickness of its lines; `None` for an empty group. An arc counts as its circle.
    pub fn bounds(&self) -> Option<Rect> {
        let around = |points: &[Point]| (!points.is_empty()).then(|| Rect::around(points.iter().copied()));
        match self {
            Item::Line { points, .. } => around(points),
            Item::Outline { rings, .. } => around(&rings.concat()),
            Item::Circle { centre, radius, .. } | Item::Arc { centre, radius, .. } => {
                Some(Rect::around([*centre]).grow(*radius))
            }
            Item::Text(text) => Some(text.bounds()),
            Item::Group(group) => group.items.iter().filter_map(Item::bounds).reduce(|all, one| all.join(&one)),
        }
    }

    /// What of it shows in a window, whole: what lies beside it is left out, and lettering that its edge would cut.
    pub fn within(&self, window: &Rect) -> Option<Item> {
        let overlaps = |own: &Rect| {
            own.x <= window.right() && own.right() >= window.x && own.y <= window.bottom() && own.bottom() >= window.y
        };
        match self {
            Item::Text(text) => text.corners().iter().all(|corner| window.contains(*corner)).then(|| self.clone()),
            Item::Group(group) => {
                let items: Vec<Item> = group.items.iter().filter_map(|item| item.within(window)).collect();
                (!items.is_empty()).then(|| Item::Group(Group { items, ..group.clone() }))
            }
            _ => self.bounds().filter(overlaps).map(|_| self.clone()),
        }
    }

    /// A layer.
    pub fn group(class: &str, items: Vec<Item>) -> Item {
        Item::Group(Group { class: class.to_owned(), items, ..Group::default() })
    }

    /// A named thing, with words for a screen reader.
    pub fn named(class: &str, id: &str, title: &str, items: Vec<Item>) -> Item {
        Item::Group(Group { class: class.to_owned(), id: Some(id.to_owned()), title: Some(title.to_owned()), items })
    }
}
