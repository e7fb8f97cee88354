//! The marks of a drawing: levels, arrows of water and air, the scale bar, which side is outside, north, the check bar.

use super::item::{Anchor, Dash, FIGURE, Fill, Ink, Item, SMALL, Stroke, Text, Weight};
use super::place::{Candidate, Labels};
use super::shape::{Point, Rect, at};
use super::sheet::{Scale, View};
use super::text;
use crate::units::{Length, System};

/// A level mark: a small black wedge whose tip touches the level at `tip`, a short level line, and the height above
/// the datum in both units with `name` before it. Runs to the right of `tip`.
pub fn level(name: &str, height: Length, tip: Point, lead: System, labels: &mut Labels) -> Item {
    let (first, second) = text::pair(height, lead);
    let sign = if height > Length::ZERO { "+" } else { "" };
    let head = if name.is_empty() { format!("{sign}{first}") } else { format!("{name} {sign}{first}") };
    let above = Text::new(tip.shift(4.5, -1.0), head).size(SMALL).bold().plate();
    let below = Text::new(tip.shift(4.5, 1.0 + SMALL), format!("{sign}{second}"));
    let long = above.width().max(below.width()) + 5.5;
    let line = [tip.shift(-1.5, 0.0), tip.shift(long, 0.0)];
    labels.keep_line_clear(&line, 0.6);
    let placed = labels.place(vec![Candidate { texts: vec![above, below], leader: Vec::new() }]);
    let wedge = vec![tip, tip.shift(-1.5, -2.6), tip.shift(1.5, -2.6)];
    let mut items =
        vec![Item::polyline(line.to_vec(), Stroke::LIGHT), Item::polygon(wedge, None, Fill::Solid(Ink::Black))];
    items.extend(placed.texts.into_iter().map(Item::Text));
    Item::group("levels", items)
}

/// The way of water: an unbroken line with a drop behind its solid head.
pub fn water(points: &[Point], labels: &mut Labels) -> Item {
    let stroke = Stroke { weight: Weight::Heavy, dash: Dash::Solid, ink: Ink::Water };
    let mut items = vec![Item::polyline(points.to_vec(), stroke)];
    if let [.., from, to] = points {
        items.push(Item::polygon(head(*from, *to, 3.6, 1.5), None, Fill::Solid(Ink::Water)));
    }
    if let Some(start) = points.first() {
        items.push(Item::Circle { centre: *start, radius: 1.1, stroke: None, fill: Fill::Solid(Ink::Water) });
    }
    labels.keep_line_clear(points, 2.0);
    Item::group("water", items)
}

/// The way of air: a broken line with an open head.
pub fn air(points: &[Point], labels: &mut Labels) -> Item {
    let stroke = Stroke { weight: Weight::Medium, dash: Dash::Dashed, ink: Ink::Air };
    let mut items = vec![Item::polyline(points.to_vec(), stroke)];
    if let [.., from, to] = points {
        let [tip, left, right] = head(*from, *to, 3.6, 1.8)[..] else { return Item::group("air", items) };
        items.push(Item::polyline(vec![left, tip, right], stroke.dash(Dash::Solid)));
    }
    labels.keep_line_clear(points, 2.0);
    Item::group("air", items)
}

/// Tip, left and right of an arrow head.
fn head(from: Point, to: Point, long: f64, half: f64) -> Vec<Point> {
    let heading = from.heading(to);
    let tip = to.shift(heading.x * 0.6, heading.y * 0.6);
    let back = tip.shift(-heading.x * long, -heading.y * long);
    vec![tip, back.shift(heading.y * half, -heading.x * half), back.shift(-heading.y * half, heading.x * half)]
}

/// Which side is outside: the word and a short arrow that points to it. `degrees` clockwise from the right.
pub fn outside(place: Point, degrees: f64, labels: &mut Labels) -> Item {
    let tip = place.shift(9.0, 0.0).turned(place, degrees);
    let word = Text::new(place, "outside").size(FIGURE).bold().halo().anchor(Anchor::Middle);
    let ways = [6.0, -6.0, 9.0, -9.0]
        .map(|down| Candidate::text(Text { at: place.shift(0.0, down), ..word.clone() }.centred()));
    labels.keep_line_clear(&[place, tip], 3.0);
    let mut items = vec![
        Item::line(place, tip, Stroke::HEAVY),
        Item::polygon(head(place, tip, 4.0, 2.0), None, Fill::Solid(Ink::Black)),
    ];
    items.extend(labels.place(ways.to_vec()).texts.into_iter().map(Item::Text));
    Item::named("outside", "outside", "which side is outside", items)
}

/// North: a needle in a ring. `degrees` clockwise from straight up.
pub fn north(centre: Point, degrees: f64, labels: &mut Labels) -> Item {
    let place = |along: f64, across: f64| centre.shift(across, -along).turned(centre, degrees);
    labels.keep_clear(Rect::around([centre]).grow(10.0));
    let letter = Text::new(place(8.6, 0.0), "N").size(FIGURE).bold().anchor(Anchor::Middle).centred();
    let items = vec![
        Item::Circle { centre, radius: 5.0, stroke: Some(Stroke::MEDIUM), fill: Fill::White },
        Item::polygon(vec![place(5.0, 0.0), place(-3.6, 1.8), place(-2.2, 0.0)], None, Fill::Solid(Ink::Black)),
        Item::polygon(vec![place(5.0, 0.0), place(-3.6, -1.8), place(-2.2, 0.0)], Some(Stroke::LIGHT), Fill::White),
        letter.into(),
    ];
    Item::named("north", "north", "north", items)
}

/// Steps of the metric half of a scale bar, mm.
const METRIC: [i64; 9] = [10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
/// Steps of the imperial half, inches.
const INCHES: [i64; 11] = [1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200];

/// A scale bar in metres (or millimetres) above and feet (or inches) below, no wider than `width` mm.
/// `corner` is its upper left; it is about 11 mm high and its last figures stand a little beyond its end.
pub fn scale_bar(scale: Scale, corner: Point, width: f64) -> Item {
    let longest = |steps: &[Length]| {
        let fits = |step: &&Length| scale.paper(**step) * 4.0 <= width;
        steps.iter().rev().find(fits).or(steps.first()).copied().unwrap_or(Length::MM)
    };
    let metric = longest(&METRIC.map(Length::mm));
    let imperial = longest(&INCHES.map(|inches| Length::INCH * inches));
    let mut items = bar(scale, metric, 0, corner.shift(0.0, 3.6), -0.8, |step| metres(metric * step));
    // At full size four inches are too wide for the frame: millimetres alone then.
    if scale.paper(imperial) * 4.0 <= width {
        items.extend(bar(scale, imperial, 1, corner.shift(0.0, 5.6), 2.0 + 0.9 + SMALL, |step| feet(imperial * step)));
    }
    Item::named("scale-bar", "scale-bar", &format!("scale bar, {scale}"), items)
}

fn metres(length: Length) -> String {
    let mm = length.0 / Length::MM.0;
    match mm % 1000 {
        0 => format!("{} m", mm / 1000),
        _ if mm < 1000 => format!("{mm}"),
        rest => format!("{}.{} m", mm / 1000, rest / 100),
    }
}

fn feet(length: Length) -> String {
    let inches = length.0 / Length::INCH.0;
    if inches % 12 == 0 { format!("{} ft", inches / 12) } else { format!("{inches} in") }
}

/// Four steps, the `first` black and then every second; figures at 0, 2 and 4 steps, their base line `base` mm below the bar's top.
fn bar(scale: Scale, step: Length, first: i32, corner: Point, base: f64, words: impl Fn(i64) -> String) -> Vec<Item> {
    let wide = scale.paper(step);
    let mut items: Vec<Item> = (0..4)
        .map(|index| {
            let fill = if index % 2 == first { Fill::Solid(Ink::Black) } else { Fill::White };
            let left = corner.x + wide * f64::from(index);
            Item::rect(Rect { x: left, y: corner.y, width: wide, height: 2.0 }, Some(Stroke::LIGHT), fill)
        })
        .collect();
    for (index, share) in [(0, 0.0), (2, 2.0), (4, 4.0)] {
        let anchor = if index == 0 { Anchor::Start } else { Anchor::Middle };
        let content = if index == 0 { "0".to_owned() } else { words(index) };
        items.push(Text::new(corner.shift(wide * share, base), content).anchor(anchor).into());
    }
    items
}

/// A bar exactly 100 mm long on paper with ticks every 10 mm, to see whether a print is true. About 6 mm high.
pub fn check_bar(left: Point) -> Item {
    let mut items = vec![Item::line(left, left.shift(100.0, 0.0), Stroke::MEDIUM)];
    for step in 0..=10 {
        let place = left.shift(10.0 * f64::from(step), 0.0);
        let long = if step % 5 == 0 { 2.4 } else { 1.4 };
        items.push(Item::line(place, place.shift(0.0, -long), Stroke::MEDIUM));
    }
    items.push(Text::new(left.shift(102.0, 0.0), "100 mm when printed true").into());
    Item::named("check-bar", "check-bar", "bar of 100 mm on paper", items)
}

/// The name of an axis mark or a stop line across the drawing: a broken line at a height of the wall.
pub fn stop_line(view: &View, height: Length, left_mm: f64, right_mm: f64) -> Item {
    let y = view.y(height);
    Item::line(at(left_mm, y), at(right_mm, y), Stroke::MEDIUM.dash(Dash::Stop))
}
