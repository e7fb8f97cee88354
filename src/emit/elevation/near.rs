//! What lies about one thing of a face, larger than on the elevation: on a sheet of its own with what was found there, or
//! small, to be shown beside a text.

use super::canvas::{Canvas, capital};
use super::faults::Fault;
use super::{chalk, faults, figures, openings, things, wall};
use crate::emit::drawing::{Fill, Item, Paper, Rect, Sheet, Stroke, notes, svg};
use crate::emit::titles;
use crate::geometry::{Bounds, Segment};
use crate::model::FaceId;
use crate::session::Wall;

/// Width of the column of words at the right of the sheet, mm.
const COLUMN: f64 = 84.0;
/// Kept free right of the window for level marks, mm.
const RIGHT: f64 = 44.0;
/// Kept free below the window for running dimensions, mm.
const BELOW: f64 = 30.0;
/// The small drawing, mm.
const SMALL: (f64, f64) = (104.0, 78.0);
/// Of the small drawing; it is sent with a text.
const MOST_BYTES: usize = 20_000;

/// Something that stands on a face, or one of its edges.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// For a title: `window hall`.
    pub words: String,
    /// As findings name it: `north.hall`.
    pub subject: String,
    /// What it covers.
    pub bounds: Bounds,
    /// The line it is, for an edge, a trim or a roof.
    pub line: Option<Segment>,
}

/// The sheet of a thing; `None` for a face without outline.
pub fn near<'w>(wall: impl Into<Wall<'w>>, face: FaceId, thing: &Thing) -> Option<Sheet> {
    let wall = wall.into();
    let name = wall.model.face(face)?.name.replace('_', " ");
    let title = titles::block(wall.account, &capital(&format!("{name} wall, {}", thing.words)));
    let sheet = Sheet::new(&thing.subject, Paper::A4, title);
    let area = sheet.area();
    let column = Rect::edges(area.right() - COLUMN, area.y, area.right(), area.bottom());
    let window = Rect::edges(area.x, area.y, column.x - RIGHT, area.bottom() - BELOW);
    let mut canvas = Canvas::about(wall, face, sheet, (column, window), thing.bounds)?;
    if thing.line.is_some() {
        // Along a whole edge there is no room for the names of all that stands there.
        canvas.named = Some(Rect::default());
    }
    let faults = found(wall, face, thing);
    let scene = scene(&mut canvas, thing, &faults, window);
    let figures = figures::of_thing(&mut canvas, thing.bounds, window);
    let list = faults::list(&mut canvas, &faults, "here");
    let page = Rect::edges(0.0, 0.0, canvas.sheet.width_mm, canvas.sheet.height_mm);
    canvas.layer("wall", scene);
    canvas.sheet.push(mat(page, window));
    canvas.layer("figures", figures);
    canvas.layer("list", list.items);
    Some(canvas.sheet)
}

/// The same without figures and words beside it, as a small SVG document; what it is too large for is left out.
pub fn small<'w>(wall: impl Into<Wall<'w>>, face: FaceId, thing: &Thing) -> Option<String> {
    let wall = wall.into();
    let drawn = small_with(wall, face, thing, true)?;
    if drawn.len() <= MOST_BYTES { Some(drawn) } else { small_with(wall, face, thing, false) }
}

fn small_with(wall: Wall<'_>, face: FaceId, thing: &Thing, courses: bool) -> Option<String> {
    let sheet = Sheet::new(&thing.subject, Paper::A4, titles::block(wall.account, &thing.words));
    let page = Rect::edges(0.0, 0.0, SMALL.0, SMALL.1);
    let window = page.grow(-1.0);
    let mut canvas = Canvas::about(wall, face, sheet, (Rect::default(), window), thing.bounds)?;
    canvas.named = Some(canvas.rect(thing.bounds));
    let mut items = scene(&mut canvas, thing, &found(wall, face, thing), window);
    if !courses {
        items.retain(
            |item| !matches!(item, Item::Group(group) if ["courses", "furring"].contains(&group.class.as_str())),
        );
    }
    items.push(mat(page, window));
    let (id, title) = (&thing.subject, &thing.words);
    let page = svg::Page { id, width_mm: page.width, height_mm: page.height, title, description: "" };
    Some(svg::write(&page, &items))
}

/// What was found on a thing or where it is.
fn found<'w>(wall: Wall<'w>, face: FaceId, thing: &Thing) -> Vec<Fault<'w>> {
    let Bounds { left, bottom, right, top } = thing.bounds;
    let mut faults = faults::of_face(wall, face);
    faults.retain(|fault| {
        let finding = &fault.settled.finding;
        let named = finding.subject.strip_prefix(&thing.subject);
        let named = named.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
        let lies_here = finding.stretch.as_ref().is_some_and(|stretch| {
            let (low, high) = (stretch.from.y.min(stretch.to.y), stretch.from.y.max(stretch.to.y));
            let (from, to) = (stretch.from.x.min(stretch.to.x), stretch.from.x.max(stretch.to.x));
            from >= left && to <= right && low >= bottom && high <= top
        });
        named || lies_here
    });
    faults
}

/// The wall from back to front, as far as it shows in the window.
fn scene(canvas: &mut Canvas<'_>, thing: &Thing, faults: &[Fault<'_>], window: Rect) -> Vec<Item> {
    let outline = canvas.outline();
    canvas.labels.keep_outline_clear(&outline, 1.2);
    chalk::reserve(canvas, faults);
    let measured = thing.line.and_then(|line| measured(canvas, line));
    let openings = openings::draw(canvas);
    let chalk = chalk::draw(canvas, faults);
    let things = things::draw(canvas);
    let ground = wall::ground(canvas);
    let edge = vec![wall::outline(canvas)];
    let measured = measured.into_iter().collect();
    let items = [ground, wall::surface(canvas), openings, edge, things, measured, chalk].concat();
    items.iter().filter_map(|item| item.within(&window)).collect()
}

/// A line drawn heavy, and a bracket with its length along what shows of it: outside of the wall, but above a base, below
/// which the ground is.
fn measured(canvas: &mut Canvas<'_>, line: Segment) -> Option<Item> {
    let words = figures::both(canvas, line.length());
    let [from, to] = canvas.segment(line);
    let [from, to] = canvas.seen(from, to)?;
    let off = if line.is_horizontal() && line.from.x < line.to.x { 6.0 } else { -5.0 };
    let bracket = notes::bracket(from, to, off, &words, &mut canvas.labels);
    Some(Item::group("measured", vec![Item::line(from, to, Stroke::HEAVY), bracket]))
}

/// White paper with a window in it, over what would show beside the window.
fn mat(page: Rect, window: Rect) -> Item {
    let sheet = Item::Outline {
        rings: vec![page.grow(2.0).corners().to_vec(), window.corners().to_vec()],
        stroke: None,
        fill: Fill::White,
    };
    Item::group("mat", vec![sheet, Item::rect(window, Some(Stroke::LIGHT), Fill::None)])
}
