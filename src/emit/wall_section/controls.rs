//! The control layers as unbroken heavy lines, told apart by a letter and by the marks that ride on each.

use super::Frame;
use super::build::Slab;
use crate::emit::drawing::{Anchor, Fill, Ink, Item, Labels, Point, Rect, Stroke, Text, at, item, marks};

/// What a wall must control.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Control {
    Rain,
    Water,
    Air,
    Vapour,
    Heat,
}

impl Control {
    pub const ALL: [Control; 5] = [Control::Rain, Control::Water, Control::Air, Control::Vapour, Control::Heat];

    pub fn letter(self) -> &'static str {
        match self {
            Control::Rain => "R",
            Control::Water => "W",
            Control::Air => "A",
            Control::Vapour => "V",
            Control::Heat => "H",
        }
    }

    pub fn words(self) -> &'static str {
        match self {
            Control::Rain => "rain: sheds it",
            Control::Water => "water: drainage plane",
            Control::Air => "air: barrier",
            Control::Vapour => "vapour: control",
            Control::Heat => "heat: insulation",
        }
    }

    fn is_of(self, slab: &Slab<'_>) -> bool {
        let controls = slab.layer.controls;
        match self {
            Control::Rain => controls.rain,
            Control::Water => controls.water,
            Control::Air => controls.air,
            Control::Vapour => controls.vapour,
            Control::Heat => controls.heat,
        }
    }

    fn ink(self) -> Ink {
        match self {
            Control::Water => Ink::Water,
            Control::Air => Ink::Barrier,
            Control::Rain | Control::Vapour | Control::Heat => Ink::Black,
        }
    }
}

/// Between two lines that lie on one sheet, mm.
const APART: f64 = 1.7;
/// From one mark on a line to the next, mm.
const RIDE: f64 = 9.0;
/// Of the letters, mm.
const RADIUS: f64 = 2.7;

/// The lines of one cut, in front of its layers.
pub(super) fn lines(frame: &Frame<'_>, cut: Rect) -> Vec<Item> {
    let mut items = Vec::new();
    for slab in &frame.slabs {
        let own: Vec<Control> = Control::ALL.into_iter().filter(|control| control.is_of(slab)).collect();
        for (index, control) in own.iter().enumerate() {
            let x = place(frame, cut, slab, *control, index, own.len());
            items.extend(line(*control, x, cut, if index + 1 == own.len() && own.len() > 1 { 1.0 } else { -1.0 }));
        }
    }
    items
}

/// Where a line lies: rain and water at the outer face, vapour at the inner one, heat in the middle; on a thin layer all
/// side by side about its middle.
fn place(frame: &Frame<'_>, cut: Rect, slab: &Slab<'_>, control: Control, index: usize, count: usize) -> f64 {
    let (from, to) = (frame.x(cut.x, slab.from), frame.x(cut.x, slab.to));
    if to - from < 2.0 * APART * count as f64 {
        return (from + to) / 2.0 + APART * (index as f64 - (count as f64 - 1.0) / 2.0);
    }
    match control {
        Control::Rain | Control::Water => from + if index > 0 { APART } else { 0.0 },
        Control::Air => from + APART * index as f64,
        Control::Vapour => to,
        Control::Heat => (from + to) / 2.0,
    }
}

/// A line from top to bottom of a cut with its marks and letters; `side` says on which side the letters stand.
fn line(control: Control, x: f64, cut: Rect, side: f64) -> Vec<Item> {
    let stroke = Stroke::HEAVY.ink(control.ink());
    let mut items = vec![Item::line(at(x, cut.y - 2.0), at(x, cut.bottom() + 2.0), stroke)];
    let count = (cut.height / RIDE).floor() as u32;
    items.extend((0..count).flat_map(|step| mark(control, at(x, cut.y + RIDE * (f64::from(step) + 0.5)))));
    let shares = match control {
        Control::Rain => [0.08, 0.92],
        Control::Water => [0.18, 0.63],
        Control::Air => [0.26, 0.71],
        Control::Vapour => [0.34, 0.79],
        Control::Heat => [0.42, 0.87],
    };
    for share in shares {
        items.extend(letter(control, at(x + side * (RADIUS + 0.6), cut.y + cut.height * share)));
    }
    vec![Item::named("control", &format!("control {}", control.letter()), control.words(), items)]
}

/// The mark that rides on a line: so the lines are told apart without colour.
fn mark(control: Control, place: Point) -> Vec<Item> {
    let ink = control.ink();
    let stroke = Stroke::MEDIUM.ink(ink);
    match control {
        Control::Rain => vec![Item::line(place.shift(-1.4, -1.4), place.shift(1.4, 1.4), stroke)],
        Control::Water => {
            let drop = vec![place.shift(0.0, -1.6), place.shift(1.0, 0.8), place.shift(-1.0, 0.8)];
            vec![Item::polygon(drop, None, Fill::Solid(ink))]
        }
        Control::Air => vec![Item::Circle { centre: place, radius: 0.9, stroke: Some(stroke), fill: Fill::White }],
        Control::Vapour => vec![Item::line(place.shift(-1.4, 0.0), place.shift(1.4, 0.0), stroke)],
        Control::Heat => {
            let wave = [(-1.4, 1.2), (0.0, 0.4), (1.4, 1.2), (0.0, -0.4), (-1.4, -1.2)];
            vec![Item::polyline(wave.map(|(x, y)| place.shift(x, y)).to_vec(), stroke)]
        }
    }
}

fn letter(control: Control, centre: Point) -> Vec<Item> {
    let text = Text::new(centre, control.letter()).size(item::FIGURE).bold().anchor(Anchor::Middle).centred();
    let ring = Item::Circle { centre, radius: RADIUS, stroke: Some(Stroke::LIGHT), fill: Fill::White };
    vec![ring, text.into()]
}

/// What the letters stand for, and what no layer is said to control.
pub(super) fn key(frame: &Frame<'_>, corner: Point) -> Vec<Item> {
    let mut items = Vec::new();
    for (row, control) in Control::ALL.into_iter().enumerate() {
        let place = corner.shift(RADIUS, RADIUS + 7.4 * row as f64);
        let said = frame.slabs.iter().any(|slab| control.is_of(slab));
        items.extend(letter(control, place));
        if said {
            let sample = [place.shift(4.0, 0.0), place.shift(16.0, 0.0)];
            items.push(Item::polyline(sample.to_vec(), Stroke::HEAVY.ink(control.ink())));
            items.extend(mark(control, place.shift(10.0, 0.0)));
        }
        let words = if said {
            control.words().to_owned()
        } else {
            format!("{}: no layer", control.words().split(':').next().unwrap_or_default())
        };
        items.push(Text::new(place.shift(18.0, 0.0), words).centred().into());
    }
    let mut own = Labels::new(frame.area);
    let row = |row: f64| corner.shift(RADIUS + 4.0, RADIUS + 7.4 * row);
    items.push(marks::water(&[row(5.0), row(5.0).shift(12.0, 0.0)], &mut own));
    items.push(marks::air(&[row(6.0), row(6.0).shift(12.0, 0.0)], &mut own));
    for (at, words) in [(5.0, "way of water in the gap"), (6.0, "way of air in the gap")] {
        items.push(Text::new(row(at).shift(14.0, 0.0), words).centred().into());
    }
    items
}
