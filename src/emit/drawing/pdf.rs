//! The PDF writer: sheets of the display list as pages true to scale, with the typeface in the file.
//!
//! The same sheets give the same bytes: no clock, no font of the machine.

use std::sync::OnceLock;

use krilla::Document;
use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point as At, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill as Paint, FillRule, LineCap, LineJoin, Stroke as Pen, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};

use super::item::{Anchor, Backing, Fill, Ink, Item, Stroke, Text};
use super::shape::{Point, at};
use super::sheet::Sheet;
use super::text::CAPITAL;

/// Points of a page in one millimetre.
const POINTS: f64 = 72.0 / 25.4;
/// Liberation Sans has Helvetica's widths, on which all texts are placed. Under the SIL Open Font License 1.1.
static REGULAR: &[u8] = include_bytes!("fonts/LiberationSans-Regular.ttf");
static BOLD: &[u8] = include_bytes!("fonts/LiberationSans-Bold.ttf");

/// One page a sheet, in order. `None` only if a sheet has no size or the file cannot be made.
pub fn write(title: &str, sheets: &[Sheet]) -> Option<Vec<u8>> {
    let mut document = Document::new();
    document.set_metadata(Metadata::new().title(title.to_owned()).language("en".to_owned()));
    for sheet in sheets {
        let (width, height) = ((sheet.width_mm * POINTS) as f32, (sheet.height_mm * POINTS) as f32);
        let mut page = document.start_page_with(PageSettings::from_wh(width, height)?);
        let mut surface = page.surface();
        surface.push_transform(&Transform::from_scale(POINTS as f32, POINTS as f32));
        items(&mut surface, &sheet.all_items());
        surface.pop();
        surface.finish();
        page.finish();
    }
    document.finish().ok()
}

fn items(surface: &mut Surface<'_>, all: &[Item]) {
    for item in all {
        match item {
            Item::Line { points, stroke } => draw(surface, path(&[points], false), Some(*stroke), Fill::None),
            Item::Outline { rings, stroke, fill } => outline(surface, rings, *stroke, *fill),
            Item::Circle { centre, radius, stroke, fill } => {
                draw(surface, arc(*centre, *radius, 0.0, 360.0, true), *stroke, *fill);
            }
            Item::Arc { centre, radius, from, sweep, stroke } => {
                draw(surface, arc(*centre, *radius, *from, *sweep, false), Some(*stroke), Fill::None);
            }
            Item::Text(content) => text(surface, content),
            Item::Group(group) => items(surface, &group.items),
        }
    }
}

fn outline(surface: &mut Surface<'_>, rings: &[Vec<Point>], stroke: Option<Stroke>, fill: Fill) {
    let borrowed: Vec<&Vec<Point>> = rings.iter().collect();
    draw(surface, path(&borrowed, true), stroke, fill);
    let (Fill::Hatch(hatch) | Fill::Over(hatch)) = fill else { return };
    let width = hatch.weight().mm();
    for [from, to] in hatch.lines(rings) {
        // A point of a hatch is a line of no length with a round end.
        let pen = Pen {
            width: (if from == to { width * 2.0 } else { width }) as f32,
            line_cap: if from == to { LineCap::Round } else { LineCap::Butt },
            ..pen(Stroke::LIGHT)
        };
        let to = if from == to { at(from.x + 0.001, from.y) } else { to };
        if let Some(line) = path(&[&vec![from, to]], false) {
            surface.set_fill(None);
            surface.set_stroke(Some(pen));
            surface.draw_path(&line);
        }
    }
}

fn draw(surface: &mut Surface<'_>, shape: Option<Path>, stroke: Option<Stroke>, fill: Fill) {
    let Some(shape) = shape else { return };
    let ink = match fill {
        Fill::None | Fill::Over(_) => None,
        Fill::White | Fill::Hatch(_) => Some(Ink::White),
        Fill::Solid(ink) => Some(ink),
    };
    if ink.is_none() && stroke.is_none() {
        return;
    }
    surface.set_fill(ink.map(paint));
    surface.set_stroke(stroke.map(pen));
    surface.draw_path(&shape);
}

fn text(surface: &mut Surface<'_>, text: &Text) {
    if text.backing == Backing::Plate {
        draw(surface, path(&[&text.corners().to_vec()], true), None, Fill::White);
    }
    let Some(font) = font(text.bold) else { return };
    let back = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    };
    let start = text.at.x - back * super::text::width(&text.content, text.size, text.bold);
    let (x, y) = (text.at.x as f32, text.at.y as f32);
    surface.push_transform(&Transform::from_rotate_at(text.turn as f32, x, y));
    let from = At::from_xy(start as f32, y);
    let size = (text.size / CAPITAL) as f32;
    let mut put = |fill: Option<Ink>, stroke: Option<Pen>| {
        surface.set_fill(fill.map(paint));
        surface.set_stroke(stroke);
        surface.draw_text(from, font.clone(), size, &text.content, false, TextDirection::LeftToRight);
    };
    if text.backing == Backing::Rim {
        put(None, Some(Pen { width: 0.9, ..pen(Stroke::LIGHT.ink(Ink::White)) }));
    }
    put(Some(Ink::Black), None);
    surface.pop();
}

/// The typeface, read once.
fn font(bold: bool) -> Option<Font> {
    static FONTS: OnceLock<[Option<Font>; 2]> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| [REGULAR, BOLD].map(|data| Font::new(data.into(), 0)));
    fonts[usize::from(bold)].clone()
}

fn paint(ink: Ink) -> Paint {
    Paint { paint: colour(ink).into(), opacity: NormalizedF32::ONE, rule: FillRule::EvenOdd }
}

fn pen(stroke: Stroke) -> Pen {
    let dashes: Vec<f32> = stroke.dash.pattern().iter().map(|length| *length as f32).collect();
    Pen {
        paint: colour(stroke.ink).into(),
        width: stroke.weight.mm() as f32,
        miter_limit: 4.0,
        line_cap: LineCap::Butt,
        line_join: LineJoin::Round,
        opacity: NormalizedF32::ONE,
        dash: (!dashes.is_empty()).then_some(StrokeDash { array: dashes, offset: 0.0 }),
    }
}

/// From `#rgb` or `#rrggbb`, as the inks are written.
fn colour(ink: Ink) -> rgb::Color {
    let digits: Vec<u8> =
        ink.colour().chars().filter_map(|digit| digit.to_digit(16)).map(|digit| digit as u8).collect();
    match digits[..] {
        [r, g, b] => rgb::Color::new(r * 17, g * 17, b * 17),
        [r, s, g, h, b, c] => rgb::Color::new(r * 16 + s, g * 16 + h, b * 16 + c),
        _ => rgb::Color::new(0, 0, 0),
    }
}

fn path(lines: &[&Vec<Point>], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for line in lines {
        for (index, point) in line.iter().enumerate() {
            let (x, y) = (point.x as f32, point.y as f32);
            if index == 0 { builder.move_to(x, y) } else { builder.line_to(x, y) }
        }
        if closed && !line.is_empty() {
            builder.close();
        }
    }
    builder.finish()
}

/// Part of a circle in pieces of at most a quarter turn, each one cubic curve (off by less than 0.03 % of the radius).
fn arc(centre: Point, radius: f64, from: f64, sweep: f64, closed: bool) -> Option<Path> {
    let count = (sweep.abs() / 90.0).ceil().max(1.0);
    let step = sweep / count;
    let handle = 4.0 / 3.0 * libm::tan(step.to_radians() / 4.0) * radius;
    let place = |degrees: f64| at(centre.x + radius, centre.y).turned(centre, degrees);
    // The tangent at an angle, in the direction of the sweep.
    let along = |degrees: f64, by: f64| {
        let radians = degrees.to_radians();
        place(degrees).shift(-libm::sin(radians) * by, libm::cos(radians) * by)
    };
    let mut builder = PathBuilder::new();
    let start = place(from);
    builder.move_to(start.x as f32, start.y as f32);
    for piece in 0..count as usize {
        let (one, two) = (from + step * piece as f64, from + step * (piece + 1) as f64);
        let (a, b, end) = (along(one, handle), along(two, -handle), place(two));
        builder.cubic_to(a.x as f32, a.y as f32, b.x as f32, b.y as f32, end.x as f32, end.y as f32);
    }
    if closed {
        builder.close();
    }
    builder.finish()
}

#[cfg(test)]
mod tests {
    use super::super::{Paper, TitleBlock};
    use super::*;

    fn sheet() -> Sheet {
        let mut sheet = Sheet::new("s", Paper::A4, TitleBlock::default());
        sheet.push(super::super::marks::check_bar(at(30.0, 100.0)));
        sheet
    }

    #[test]
    fn the_same_sheets_give_the_same_bytes() {
        let sheets = [sheet(), sheet()];
        let one = write("bars", &sheets).unwrap();
        assert_eq!(one, write("bars", &sheets).unwrap());
        assert!(one.starts_with(b"%PDF-"));
    }

    #[test]
    fn a_quarter_turn_ends_where_it_should() {
        assert!(arc(at(0.0, 0.0), 10.0, 0.0, 360.0, true).is_some());
        assert_eq!(colour(Ink::White), rgb::Color::new(255, 255, 255));
    }
}
