//! Membranes in courses with their laps, the tape on their seams, and boards in whole sheets.

use super::areas::Part;
use super::row::{Amount, Group, Row};
use super::{Counting, arithmetic};
use crate::geometry::Region;
use crate::model::{Layer, Product};
use crate::units::{Area, Length, display};

/// Openings below this are not taken off a roll: what is cut out is of no use (common practice, no source).
const OPENING_TAKEN_OFF_M2: f64 = 1.0;

/// A membrane over an area: net, and as laid in courses from the lowest place with laps and ends.
pub(super) fn membrane(counting: &mut Counting<'_>, part: Part<'_>, index: usize, layer: &Layer) {
    let model = counting.model;
    let product = model.product_of(&layer.stuff);
    let large: Area = large_openings(part);
    let net = part.plan.whole.area() - large;
    let inside = part.assembly.is_inboard_of_frame(index) == Some(true);
    let whose = if inside { "; outer face stands for the inner one, measure inside before buying" } else { "" };
    let basis = format!("area less openings of 1 m² and more{whose} (common practice, no source)");
    let mut row = part.row(Group::Membranes, &layer.name, Amount::Area(net), &basis).of_stuff(model, &layer.stuff);
    let roll = product.map(|product| product.roll.as_slice()).and_then(|roll| Some((*roll.first()?, *roll.get(1)?)));
    let lap = layer.lap.or_else(|| product.and_then(|product| product.lap.as_ref()).map(|lap| lap.value));
    if let Some((width, long)) = roll {
        let said = lap.unwrap_or(Length::ZERO);
        let end = layer.end_lap.unwrap_or(said);
        let courses = courses(&part.plan.whole, width, said);
        let laid: Area = courses.iter().map(|course| arithmetic::roll_area(1, width, course.length, end)).sum();
        row.laid = Some(Amount::Area(laid));
        let words = lap.map_or_else(|| "laps not said".to_owned(), |lap| format!("laps {}", display::mm(lap)));
        row.note = format!(
            "{} pieces of {} in courses, {words}, ends {}; nothing taken off for openings",
            courses.len(),
            display::mm(width),
            display::mm(end)
        );
        let one = width * long;
        row.stock = rolls(row.wanted(), one)
            .map(|count| (count, format!("rolls of {} × {}", display::mm(width), display::metres(long))));
        counting.rows.push(row);
        seams(counting, part, layer, &courses, long);
    } else {
        counting.rows.push(row);
    }
}

fn large_openings(part: Part<'_>) -> Area {
    let openings = part.wall.plan.openings.iter();
    let inside = openings.filter(|opening| opening.area().as_m2() >= OPENING_TAKEN_OFF_M2);
    let within = inside.map(|opening| part.plan.whole.intersection(&Region::from(opening.clone())).area());
    within.sum()
}

fn rolls(wanted: Option<Amount>, one: Area) -> Option<u64> {
    let Some(Amount::Area(wanted)) = wanted else { return None };
    (one.0 > 0).then(|| (wanted.0.max(0).div_euclid(one.0) + i128::from(wanted.0.rem_euclid(one.0) > 0)) as u64)
}

/// A piece of one course of a roll: the height of its lower edge, how long it is.
pub(super) struct Course {
    pub foot: Length,
    pub length: Length,
}

/// Courses that cover a region from its lowest place, each piece as long as the region is wide there.
pub(super) fn courses(region: &Region, width: Length, lap: Length) -> Vec<Course> {
    let Some(bounds) = region.bounds() else { return Vec::new() };
    let Some(count) = arithmetic::roll_courses(bounds.height(), width, lap) else { return Vec::new() };
    let step = width - lap;
    (0..count.min(10_000))
        .flat_map(|index| {
            let foot = bounds.bottom + step * index;
            let pieces = region.clip_y(foot, foot + width).into_components();
            pieces.into_iter().map(move |piece| Course { foot, length: piece.bounds().width() })
        })
        .collect()
}

/// Tape on the seams between courses, and on the joints where a roll ends.
fn seams(counting: &mut Counting<'_>, part: Part<'_>, layer: &Layer, courses: &[Course], long: Length) {
    let Some(tape) = layer.seam else { return };
    let mut feet: Vec<Length> = courses.iter().map(|course| course.foot).collect();
    feet.dedup();
    let along: Length =
        feet.iter().skip(1).flat_map(|foot| part.plan.net.x_intervals_at(*foot)).map(|(from, to)| to - from).sum();
    let joints: i64 = courses.iter().map(|course| (course.length.0 - 1).max(0).div_euclid(long.0.max(1))).sum();
    let upright = layer_width(counting, layer) * joints;
    let basis = format!("level seams on the net area, {joints} joints where a roll ends (common practice, no source)");
    let what = format!("seams of {}", layer.name);
    let row = part.row(Group::Tapes, &what, Amount::Length(along + upright), &basis);
    counting.rows.push(row.of_id(counting.model, tape));
}

fn layer_width(counting: &Counting<'_>, layer: &Layer) -> Length {
    let product = counting.model.product_of(&layer.stuff);
    product.and_then(|product| product.roll.first().copied()).unwrap_or(Length::ZERO)
}

/// With the number of whole sheets its area makes up, where the product is sold in sheets.
pub(super) fn in_sheets(mut row: Row, product: Option<&Product>) -> Row {
    let Some([width, height]) =
        product.and_then(|product| product.sheet.get(..2)).and_then(|sheet| <[Length; 2]>::try_from(sheet).ok())
    else {
        return row;
    };
    let words = format!("sheets of {} × {}, by measure, not laid out", display::mm(width), display::mm(height));
    row.stock = rolls(row.wanted(), width * height).map(|count| (count, words));
    row
}
