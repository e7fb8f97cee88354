//! Air in the gap on the elevation of its face: every bay with how much passes it, every opening with an arrow as wide as what
//! passes there, where air stands still, and what it adds up to.

use super::canvas::Canvas;
use super::{furring, wall};
use crate::continuity::{AirFlow, BayAir};
use crate::emit::drawing::{
    Anchor, Candidate, Fill, Hatch, Ink, Item, Point, Rect, Sheet, Stroke, Text, at, item, shape::inside, text,
};
use crate::emit::gap_air::{self as words, AirSum};
use crate::geometry::{Polygon, Region};
use crate::model::FaceId;
use crate::session::Wall;
use crate::units::Length;

/// An arrow is so wide for each litre a second, mm of paper; made here, the same on every sheet so that walls can be compared.
const WIDE: f64 = 0.8;
/// The thinnest arrow, mm: a line of middling weight.
const THINNEST: f64 = 0.35;
/// The widest, mm: it leaves room for the strips at both sides.
const WIDEST: f64 = 3.0;
/// How long one is, mm.
const LONG: f64 = 8.0;
/// From one to the next along an opening, mm.
const APART: f64 = 7.0;
/// An arrow for less than this, L/s, is not drawn.
const LEAST: f64 = 0.002;
/// Beyond the last opening of a bay no air passes; less of it than this is not worth a mark. Made here.
const POCKET: Length = Length::mm(300);

/// The sheet; `None` for a face without outline, or without bays.
pub fn air<'w>(wall: impl Into<Wall<'w>>, face: FaceId, air: &AirFlow) -> Option<Sheet> {
    let mut canvas = Canvas::new(wall.into(), face, "air in the gap")?;
    canvas.sheet.id = format!("{}-air", canvas.face.name);
    let bays: Vec<&BayAir> = air.bays.iter().filter(|bay| bay.id.face == face).collect();
    if bays.is_empty() {
        return None;
    }
    canvas.reserve();
    let openings = furring::openings(&mut canvas);
    for opening in &canvas.plan.openings {
        let opening = canvas.rect(opening.bounds());
        canvas.labels.keep_clear(opening);
    }
    let still: Vec<Item> = bays.iter().flat_map(|bay| still(&canvas, bay)).collect();
    let arrows: Vec<Item> = bays.iter().flat_map(|bay| arrows(&canvas, bay)).collect();
    for drawn in arrows.iter().filter_map(Item::bounds) {
        canvas.labels.keep_clear(drawn);
    }
    let (mut figures, mut small): (Vec<Item>, Vec<&BayAir>) = (Vec::new(), Vec::new());
    for bay in &bays {
        let figure = figure(&mut canvas, bay);
        if figure.is_empty() && bay.dead.is_none() {
            small.push(bay);
        }
        figures.extend(figure);
    }
    let list = list(&canvas, air, &bays, &small);
    let strips = canvas.plan.areas.iter().flat_map(|area| &area.strips);
    let strips = strips.map(|strip| Item::Outline {
        rings: canvas.rings(&strip.shape),
        stroke: Some(Stroke::LIGHT),
        fill: Fill::None,
    });
    let strips: Vec<Item> = strips.collect();
    let cells = bays.iter().filter_map(|bay| shape(&canvas, bay)).map(|shape| Item::Outline {
        rings: canvas.rings(shape),
        stroke: Some(Stroke::MEDIUM),
        fill: Fill::None,
    });
    let cells: Vec<Item> = cells.collect();
    for item in wall::ground(&mut canvas) {
        canvas.sheet.push(item);
    }
    let outline = wall::outline(&canvas);
    canvas.layer("still", still);
    canvas.layer("strips", strips);
    canvas.layer("bays", cells);
    canvas.layer("openings", openings);
    canvas.sheet.push(outline);
    canvas.layer("air", arrows);
    canvas.layer("flows", figures);
    canvas.layer("list", list);
    Some(canvas.sheet)
}

/// The shape of a bay.
fn shape<'c>(canvas: &Canvas<'c>, bay: &BayAir) -> Option<&'c Polygon> {
    Some(&canvas.plan.areas.get(bay.id.area)?.bays.get(bay.id.bay)?.shape)
}

/// What of a bay no air passes: all of it where nothing moves, else what lies beyond its last openings.
fn still(canvas: &Canvas<'_>, bay: &BayAir) -> Vec<Item> {
    let Some(shape) = shape(canvas, bay) else { return Vec::new() };
    let whole = Region::from(shape.clone());
    let parts = match (words::flow_of(bay), bay.dead) {
        (_, Some(_)) => vec![whole],
        (None, _) => Vec::new(),
        _ => {
            let stretches =
                bay.openings.iter().map(|one| one.opening.segment).chain(bay.passes.iter().map(|pass| pass.segment));
            let heights: Vec<Length> = stretches.flat_map(|stretch| [stretch.from.y, stretch.to.y]).collect();
            let bounds = shape.bounds();
            let low = heights.iter().min().filter(|low| **low - bounds.bottom > POCKET);
            let high = heights.iter().max().filter(|high| bounds.top - **high > POCKET);
            let below = low.map(|low| whole.clip_y(bounds.bottom, *low));
            below.into_iter().chain(high.map(|high| whole.clip_y(*high, bounds.top))).collect()
        }
    };
    let hatched = |polygon: &Polygon| Item::Outline {
        rings: canvas.rings(polygon),
        stroke: None,
        fill: Fill::Over(Hatch::Scrapped),
    };
    parts.iter().flat_map(Region::polygons).map(hatched).collect()
}

/// Arrows along every opening of a bay, together as wide as what passes there: from it into the bay, or out of the bay to it.
fn arrows(canvas: &Canvas<'_>, bay: &BayAir) -> Vec<Item> {
    let Some(shape) = shape(canvas, bay).filter(|_| words::flow_of(bay).is_some() && bay.dead.is_none()) else {
        return Vec::new();
    };
    let rings = canvas.rings(shape);
    let long = LONG.min(canvas.rect(shape.bounds()).height * 0.3);
    let openings = bay.openings.iter().map(|one| (one.opening.segment, one.aged.flow));
    let all = openings.chain(bay.passes.iter().map(|pass| (pass.segment, pass.aged.flow)));
    let drawn = all.flat_map(|(segment, flow)| {
        let ends = canvas.segment(segment);
        let places = places(&rings, ends, long);
        let litres = flow.abs() * 1000.0 / places.len().max(1) as f64;
        let shown = if litres < LEAST { Vec::new() } else { places };
        let wide = (litres * WIDE).clamp(THINNEST, WIDEST);
        shown.into_iter().map(move |[edge, inward]| {
            let [tail, tip] = if flow < 0.0 { [inward, edge] } else { [edge, inward] };
            arrow(tail, tip, wide)
        })
    });
    drawn.collect()
}

/// Places along an opening, each with the one `long` mm inwards: as many as stand apart where the bay lies behind it, and one at
/// least.
fn places(rings: &[Vec<Point>], [from, to]: [Point; 2], long: f64) -> Vec<[Point; 2]> {
    let along = from.heading(to);
    let off = |place: Point, by: f64| place.shift(along.y * by, -along.x * by);
    // The side of the bay: strips may stand behind any one place.
    let behind =
        |side: f64| (1..20).filter(|step| inside(rings, off(from.towards(to, f64::from(*step) / 20.0), side))).count();
    let side = if behind(0.5) >= behind(-0.5) { 1.0 } else { -1.0 };
    let count = libm::floor(from.distance(to) / APART).max(1.0) as u32;
    let all = (0..count).map(|step| from.towards(to, (f64::from(step) + 0.5) / f64::from(count)));
    let all: Vec<[Point; 2]> = all.map(|place| [place, off(place, side * long)]).collect();
    let free = |[edge, inward]: &[Point; 2]| inside(rings, edge.towards(*inward, 0.1)) && inside(rings, *inward);
    let free: Vec<[Point; 2]> = all.iter().copied().filter(free).collect();
    let one = all.get(all.len() / 2).copied();
    if free.is_empty() { one.into_iter().collect() } else { free }
}

/// Solid black, with its head.
fn arrow(tail: Point, tip: Point, wide: f64) -> Item {
    let (long, heading, half) = (tail.distance(tip), tail.heading(tip), wide / 2.0);
    let place = |along: f64, across: f64| {
        tail.shift(heading.x * along - heading.y * across, heading.y * along + heading.x * across)
    };
    let (neck, wing) = ((long - (2.0 + half)).max(long * 0.3), half + 0.8);
    let sides = |side: f64| [place(0.0, half * side), place(neck, half * side), place(neck, wing * side)];
    let [start, middle, end] = sides(1.0);
    let ring = sides(-1.0).into_iter().chain([place(long, 0.0), end, middle, start]).collect();
    Item::polygon(ring, None, Fill::Solid(Ink::Black))
}

/// How much passes a bay, in the middle of it: the leading unit large, the other and how often its air changes below; upright
/// where it is narrow.
fn figure(canvas: &mut Canvas<'_>, bay: &BayAir) -> Vec<Item> {
    let Some(shape) = shape(canvas, bay) else { return Vec::new() };
    let (place, middle) = (canvas.rect(shape.bounds()), canvas.point(shape.label_point()));
    let lines: Vec<(String, f64)> = match (words::flow_of(bay), bay.dead) {
        // Crossing says it.
        (_, Some(_)) => return Vec::new(),
        (Some(rate), None) => {
            let [lead, other] = words::flow(rate.flow, canvas.lead);
            vec![(lead, item::LARGE), (other, item::FIGURE), (words::changes(&rate), item::FIGURE)]
        }
        (None, None) if bay.missing.is_some() => vec![("can't tell".to_owned(), item::LARGE)],
        (None, None) => return Vec::new(),
    };
    let several = canvas.plan.areas.iter().map(|area| area.bays.len()).sum::<usize>() > 1;
    let name = several.then(|| (words::name(canvas.wall, bay), item::FIGURE));
    let lines: Vec<(String, f64)> = name.into_iter().chain(lines).collect();
    let block = |spot: Point| {
        let high: f64 = lines.iter().map(|(_, size)| size * 1.4).sum();
        let mut y = spot.y - high / 2.0;
        let texts = lines.iter().map(|(words, size)| {
            y += size * 1.4;
            written(at(spot.x, y), words, *size)
        });
        Candidate { texts: texts.collect(), leader: Vec::new() }
    };
    let upright = |spot: Point| {
        let (large, small): (Vec<_>, Vec<_>) = lines.iter().partition(|(_, size)| *size == item::LARGE);
        let small: Vec<&str> = small.iter().rev().map(|(words, _)| words.as_str()).collect();
        let turned = |spot: Point, words: &str, size: f64| written(spot, words, size).turned(-90.0).centred();
        let mut texts: Vec<Text> = large.iter().map(|(words, size)| turned(spot, words, *size)).collect();
        texts.push(turned(spot.shift(item::LARGE + 0.9, 0.0), &small.join(", "), item::FIGURE));
        Candidate { texts, leader: Vec::new() }
    };
    let rings = canvas.rings(shape);
    let spots: Vec<Point> = wall::places(middle, place).into_iter().filter(|spot| inside(&rings, *spot)).collect();
    let outline = [canvas.outline()];
    let fits = |way: &Candidate| {
        let own = way.bounds();
        let on_wall = way.texts.iter().flat_map(Text::corners).all(|corner| inside(&outline, corner));
        on_wall && (place.overlap(&own) - own.width * own.height).abs() < 1e-6
    };
    let single = |spot: Point| {
        let mut way = upright(spot);
        way.texts.truncate(1);
        way
    };
    let blocks = spots.iter().map(|spot| block(*spot));
    let ways = blocks.chain(spots.iter().map(|spot| upright(*spot))).chain(spots.iter().map(|spot| single(*spot)));
    let ways: Vec<Candidate> = ways.filter(fits).collect();
    // In its own bay or nowhere: beside it, it would be read as that of another.
    let free = ways.iter().find(|way| canvas.labels.is_free(&way.bounds())).or(ways.last()).cloned();
    let placed = free.map(|way| canvas.labels.place(vec![way]).texts).unwrap_or_default();
    placed.into_iter().map(Item::Text).collect()
}

/// In the middle over a place, on a white plate.
fn written(place: Point, words: &str, size: f64) -> Text {
    let text = Text::new(place, words).size(size).anchor(Anchor::Middle).plate();
    if size == item::LARGE { text.bold() } else { text }
}

/// What the wall comes to, in the column, and the bays in which there was no room to write.
fn list(canvas: &Canvas<'_>, air: &AirFlow, bays: &[&BayAir], small: &[&BayAir]) -> Vec<Item> {
    let column = canvas.column;
    let left = column.x + 3.0;
    let room = Rect::edges(left, column.y, column.right() - 2.0, column.bottom());
    let mut items = vec![Item::line(at(column.x, column.y), at(column.x, column.bottom()), Stroke::LIGHT)];
    items.push(Text::new(at(left, column.y + 6.0), "air in the gap").size(item::LARGE).bold().into());
    let mut y = column.y + 12.0;
    let sum = AirSum::of(bays);
    for (title, value, other) in sum.lines(canvas.wall) {
        items.push(Text::new(at(left, y + item::FIGURE), title).size(item::FIGURE).into());
        y += item::FIGURE + 2.0;
        for line in text::wrap(&value, room.width, item::LARGE, true) {
            items.push(Text::new(at(left, y + item::LARGE), line).size(item::LARGE).bold().into());
            y += item::LARGE * 1.35;
        }
        for line in text::wrap(&other, room.width, item::FIGURE, false) {
            items.push(Text::new(at(left, y + item::FIGURE), line).size(item::FIGURE).into());
            y += item::FIGURE * 1.35;
        }
        y += 3.0;
    }
    for paragraph in words::each(canvas.wall, small).into_iter().chain(words::about(canvas.wall, air)) {
        for line in text::wrap(&paragraph, room.width, item::FIGURE, false) {
            if y + item::FIGURE > room.bottom() {
                return items;
            }
            items.push(Text::new(at(left, y + item::FIGURE), line).size(item::FIGURE).anchor(Anchor::Start).into());
            y += item::FIGURE * 1.4;
        }
        y += 1.6;
    }
    items
}
