//! The furring map of a face: every strip true to scale with its number, and running marks of their middles from a named end.

use super::tables::{figures, studs_and_screws};
use crate::emit::drawing::{
    Anchor, Dash, Extent, Fill, Item, Paper, Rect, Scale, Sheet, Stroke, Text, View, at, item, text,
};
use crate::emit::elevation::spread;
use crate::emit::titles;
use crate::geometry::Bounds;
use crate::layout::furring_map::{self, FurringPiece};
use crate::model::{Face, FaceId};
use crate::plan::StripPurpose;
use crate::session::Checked;
use crate::units::{Length, System};

/// Kept below the wall for the running marks, and left of it for those of strips that lie, mm.
const BELOW: f64 = 66.0;
/// See [`BELOW`].
const LEFT: f64 = 38.0;
/// Above the wall, for the words, mm.
const ABOVE: f64 = 26.0;
/// Between two running marks, mm.
const PITCH: f64 = item::LARGE + 2.2;
/// From the first row of running marks to the second, mm.
const NUMBER: f64 = 3.0;

/// `None` where the face has no strips.
pub(super) fn sheet(checked: &Checked, id: FaceId) -> Option<Sheet> {
    let (face, placed) = (checked.model.face(id)?, checked.plan.face(id)?);
    let wall = placed.outline.bounds()?;
    let pieces = furring_map::of_face(&checked.model, &checked.plan, id);
    if pieces.is_empty() {
        return None;
    }
    let name = face.name.replace('_', " ");
    let block = titles::block(checked, &format!("Furring map, {name} wall"));
    let mut sheet = Sheet::new(&format!("furring-{}", face.name), Paper::A3, block);
    sheet.description = format!("{name} wall: every strip of furring with its number and its middle from the left end");
    let area = sheet.area();
    let room = Rect::edges(area.x + LEFT, area.y + ABOVE, area.right() - 6.0, area.bottom() - BELOW);
    let extent = Extent { left: wall.left, bottom: wall.bottom, right: wall.right, top: wall.top };
    let scale = Scale::largest(&super::walls::SCALES, extent.size(), (room.width, room.height));
    let scale = scale.unwrap_or_else(|| Scale::fit(extent.size(), (room.width, room.height)));
    let view = View::centred(scale, &extent, &room);
    sheet.scale = Some(scale);
    let lead = checked.model.project.units;
    words(checked, id, face, &pieces, &mut sheet);
    let ring = |ring: &crate::geometry::Ring| ring.points().iter().map(|p| view.point(p.x, p.y)).collect::<Vec<_>>();
    let rings = |polygon: &crate::geometry::Polygon| polygon.rings().map(ring).collect::<Vec<_>>();
    let outlines = placed.outline.polygons().iter();
    let outlines =
        outlines.map(|shape| Item::Outline { rings: rings(shape), stroke: Some(Stroke::HEAVY), fill: Fill::None });
    let strips = placed.areas.iter().flat_map(|area| &area.strips);
    let strips = strips.map(|strip| Item::Outline {
        rings: rings(&strip.shape),
        stroke: Some(Stroke::MEDIUM),
        fill: Fill::White,
    });
    let strips: Vec<Item> = strips.collect();
    let openings = face.openings.iter().zip(&placed.openings);
    let openings = openings.flat_map(|(opening, shape)| open(&view, &opening.name, shape.bounds())).collect();
    let outlines = outlines.collect();
    let line = view.y(wall.bottom) + 4.0;
    let layers = [
        ("strips", strips),
        ("openings", openings),
        ("outline", outlines),
        ("numbers", numbers(&view, &pieces, wall)),
        ("running", running(&view, &pieces, wall, (line, area), lead)),
        ("heights", heights(&view, &pieces, wall, lead)),
    ];
    for (name, items) in layers.into_iter().filter(|(_, items)| !items.is_empty()) {
        sheet.layer(name, items);
    }
    Some(sheet)
}

/// The end marks are counted from, with the wall that is met there: `left end, the corner to east`.
fn end(face: &Face, left: Length) -> String {
    let there = face.edges.iter().filter(|edge| edge.segment.is_vertical() && edge.segment.from.x == left);
    let meets = there.filter_map(|edge| edge.meets.as_ref()).map(|meets| meets.face.replace('_', " ")).next();
    meets.map_or_else(|| "the left end of the wall".to_owned(), |meets| format!("the left end, the corner to {meets}"))
}

fn words(checked: &Checked, id: FaceId, face: &Face, pieces: &[FurringPiece], sheet: &mut Sheet) {
    let area = sheet.area();
    let left = checked.plan.face(id).and_then(|plan| plan.outline.bounds()).map(|bounds| bounds.left);
    let doubled = pieces.iter().filter(|piece| piece.doubled).count();
    let spliced = pieces.iter().filter(|piece| !piece.spliced.is_empty()).count();
    let mut first = format!(
        "seen from outside; middles of the strips from {}; {} strips",
        end(face, left.unwrap_or_default()),
        pieces.len()
    );
    for (count, what) in [(doubled, "beside another"), (spliced, "spliced")] {
        if count > 0 {
            first += &format!(", {count} {what}");
        }
    }
    let mut lines = vec![first + "; lengths and feet are in the list"];
    lines.extend(studs_and_screws(checked, id));
    let lines = lines.iter().flat_map(|line| text::wrap(line, area.width - 4.0, 3.2, false)).take(5);
    for (at_line, line) in lines.collect::<Vec<_>>().into_iter().enumerate() {
        sheet.push(Text::new(at(area.x, area.y + 4.0 + at_line as f64 * 4.6), line).size(3.2));
    }
}

fn open(view: &View, name: &str, bounds: Bounds) -> Vec<Item> {
    let Bounds { left, bottom, right, top } = bounds;
    let frame = view.rect(&Extent { left, bottom, right, top });
    let turn = if text::width(name, item::FIGURE, true) + 2.0 > frame.width { -90.0 } else { 0.0 };
    let word =
        Text::new(frame.centre(), name.replace('_', " ")).size(item::FIGURE).bold().anchor(Anchor::Middle).turned(turn);
    vec![Item::rect(frame, Some(Stroke::MEDIUM), Fill::White), word.centred().into()]
}

/// The number of each strip on it, by turns at three heights so that neighbours stay apart.
fn numbers(view: &View, pieces: &[FurringPiece], wall: Bounds) -> Vec<Item> {
    let number = |(at_piece, piece): (usize, &FurringPiece)| {
        let share = [0.5, 0.35, 0.65][at_piece % 3];
        let (x, y) = if piece.horizontal {
            (wall.left + piece.from + Length::snap_mm(piece.length.as_mm() * share), wall.bottom + piece.centre)
        } else {
            (wall.left + piece.centre, piece.from + Length::snap_mm(piece.length.as_mm() * share))
        };
        let words = piece.mark.trim_start_matches(|letter: char| !letter.is_ascii_digit());
        let turn = if piece.horizontal { 0.0 } else { -90.0 };
        let word = Text::new(view.point(x, y), words).size(item::FIGURE).bold().plate().anchor(Anchor::Middle);
        Item::named("strip", &piece.mark, &piece.mark, vec![word.turned(turn).centred().into()])
    };
    pieces.iter().enumerate().map(number).collect()
}

/// Middles of upright strips, each once, with the numbers of the strips that stand there.
fn running(view: &View, pieces: &[FurringPiece], wall: Bounds, (line, area): (f64, Rect), lead: System) -> Vec<Item> {
    let upright = pieces.iter().filter(|piece| !piece.horizontal);
    let mut marks: Vec<(Length, bool)> =
        upright.map(|piece| (piece.centre, piece.purpose == StripPurpose::Regular)).collect();
    marks.sort_unstable();
    marks.dedup_by_key(|mark| mark.0);
    let wanted: Vec<f64> = marks.iter().map(|(centre, _)| view.x(wall.left + *centre)).collect();
    let mut items = Vec::new();
    for (((centre, regular), wanted), place) in marks.iter().zip(&wanted).zip(beside(spread(&wanted, PITCH), &area)) {
        let (first, second) = figures(*centre, lead);
        let tie = vec![at(*wanted, line - 3.0), at(*wanted, line), at(place, line + 7.0), at(place, line + 8.0)];
        let stroke = if *regular { Stroke::LIGHT } else { Stroke::LIGHT.dash(Dash::Dashed) };
        items.push(Item::polyline(tie, stroke));
        let big = Text::new(at(place, line + 9.0), first).size(item::LARGE).bold().anchor(Anchor::End).turned(-90.0);
        let small = Text::new(at(place, line + 36.0), second).size(NUMBER).anchor(Anchor::End).turned(-90.0);
        items.extend([big.centred().into(), small.centred().into()]);
    }
    if !marks.is_empty() {
        let zero = view.x(wall.left);
        items.push(Item::line(at(zero, line - 3.0), at(zero, line + 6.0), Stroke::HEAVY));
        items.push(Text::new(at(zero - 2.0, line + 3.0), "0 →").size(item::LARGE).bold().anchor(Anchor::End).into());
    }
    items
}

/// Places that were spread past an end of the sheet, moved back onto it.
fn beside(mut places: Vec<f64>, area: &Rect) -> Vec<f64> {
    let mut most = area.right() - 3.0;
    for place in places.iter_mut().rev() {
        *place = place.min(most);
        most = *place - PITCH;
    }
    let mut least = area.x + 12.0;
    for place in &mut places {
        *place = place.max(least);
        least = *place + PITCH;
    }
    places
}

/// Middles of strips that lie, from the foot of the wall, at its left.
fn heights(view: &View, pieces: &[FurringPiece], wall: Bounds, lead: System) -> Vec<Item> {
    let mut marks: Vec<Length> = pieces.iter().filter(|piece| piece.horizontal).map(|piece| piece.centre).collect();
    marks.sort_unstable();
    marks.dedup();
    marks.reverse();
    let wanted: Vec<f64> = marks.iter().map(|mark| view.y(wall.bottom + *mark)).collect();
    let left = view.x(wall.left);
    let mut items = Vec::new();
    for ((mark, wanted), place) in marks.iter().zip(&wanted).zip(spread(&wanted, PITCH)) {
        let (first, second) = figures(*mark, lead);
        items.push(Item::polyline(vec![at(left - 1.0, *wanted), at(left - 4.0, place)], Stroke::LIGHT));
        let big = Text::new(at(left - 5.0, place), first).size(item::LARGE).bold().anchor(Anchor::End).centred();
        let small = Text::new(at(left - 29.0, place), second).size(NUMBER).anchor(Anchor::End).centred();
        items.extend([big.into(), small.into()]);
    }
    items
}
