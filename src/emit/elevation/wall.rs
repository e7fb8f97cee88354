//! The ground, the face of the cladding with its courses and furring, the outline, and the names of the areas.

use super::canvas::{Canvas, GROUND_MARGIN};
use crate::emit::drawing::{Anchor, Candidate, Dash, Fill, Hatch, Item, Point, Stroke, Text, at, item};
use crate::geometry::{self as wall, Region};
use crate::layout;
use crate::model::{Layer, LayerKind, Planned, Where};
use crate::plan::AreaPlan;
use crate::units::{Length, display};

/// Most course lines drawn on one area; more would be a slip of the pen.
const MOST_LINES: usize = 2000;

/// Earth below the ground line, and what will raise it.
pub(super) fn ground(canvas: &mut Canvas<'_>) -> Vec<Item> {
    let face = canvas.face;
    let measured = layout::ground::ground_line(face);
    let line = ground_line(canvas, &measured);
    let (Some(first), Some(last)) = (line.first().copied(), line.last().copied()) else { return Vec::new() };
    let mut earth = line.clone();
    earth.extend([at(last.x, canvas.foot), at(first.x, canvas.foot)]);
    let mut items = vec![Item::polygon(earth, None, Fill::Hatch(Hatch::Earth)), Item::polyline(line, Stroke::MEDIUM)];
    for planned in face.ground.iter().flat_map(|ground| &ground.planned) {
        items.push(planned_line(canvas, &measured, planned));
    }
    if let Some(surface) = face.ground.iter().find_map(|ground| ground.surface) {
        items.push(Text::new(at(first.x + 1.5, canvas.foot - 1.5), surface).plate().into());
    }
    vec![Item::group("ground", items)]
}

/// The line of the ground on paper from a little left of the wall to a little right of it.
fn ground_line(canvas: &Canvas<'_>, measured: &[wall::Point]) -> Vec<Point> {
    let (left, right) = (canvas.view.x(canvas.bounds.left), canvas.view.x(canvas.bounds.right));
    let mut points: Vec<Point> = measured.iter().map(|point| canvas.point(*point)).collect();
    points.retain(|point| (left..=right).contains(&point.x));
    let end =
        |x: Length, by: f64| layout::ground::height(measured, x).map(|y| at(canvas.view.x(x) + by, canvas.view.y(y)));
    points.extend(end(canvas.bounds.left, -GROUND_MARGIN));
    points.extend(end(canvas.bounds.right, GROUND_MARGIN));
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    points
}

/// What will raise the ground: a broken line at its future height.
fn planned_line(canvas: &mut Canvas<'_>, measured: &[wall::Point], planned: &Planned) -> Item {
    let bounds = canvas.bounds;
    let place = |place: Option<Where>, end: Length| match place {
        None => end,
        Some(Where::Left) => bounds.left,
        Some(Where::Right) => bounds.right,
        Some(Where::Centre) => Length((bounds.left.0 + bounds.right.0) / 2),
        Some(Where::At(x)) => x,
    };
    let (from, to) = (place(planned.from, bounds.left), place(planned.to, bounds.right));
    let inner = measured.iter().map(|point| point.x).filter(|x| (from..to).contains(x));
    let mut places: Vec<Length> = [from, to].into_iter().chain(inner).collect();
    places.sort();
    let raised = |x: &Length| layout::ground::height(measured, *x).map(|y| canvas.view.point(*x, y + planned.depth));
    let line: Vec<Point> = places.iter().filter_map(raised).collect();
    let words = format!("planned {} {}", planned.what, display::both(planned.depth, canvas.lead));
    let (start, end) = (line.first().copied().unwrap_or_default(), line.last().copied().unwrap_or_default());
    let below = canvas.foot - 1.5;
    let ways = [0.5, 0.3, 0.7, 0.2, 0.8].map(|share| {
        let place = at(start.towards(end, share).x, below);
        Candidate::text(Text::new(place, words.as_str()).anchor(Anchor::Middle).plate())
    });
    let mut items = vec![Item::polyline(line, Stroke::MEDIUM.dash(Dash::Dashed))];
    items.extend(canvas.labels.place(ways.to_vec()).texts.into_iter().map(Item::Text));
    Item::group("planned", items)
}

/// Courses and furring of every area, and the lines between areas.
pub(super) fn surface(canvas: &Canvas<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    let areas = canvas.face.areas.iter().zip(&canvas.plan.areas);
    for (area, plan) in areas {
        let layers = canvas.wall.model.assembly(area.assembly).map(|assembly| assembly.layers.as_slice());
        let cladding = layers.and_then(|layers| layers.first()).filter(|layer| is_cladding(layer));
        if let Some(cladding) = cladding {
            items.push(Item::group("courses", courses(canvas, cladding, plan)));
        }
        items.push(Item::group("furring", furring(canvas, plan)));
    }
    let edges = canvas.plan.areas.iter().flat_map(|area| area.whole.polygons());
    let edges = edges.map(|polygon| Item::Outline {
        rings: canvas.rings(polygon),
        stroke: Some(Stroke::MEDIUM),
        fill: Fill::None,
    });
    items.push(Item::group("areas", edges.collect()));
    let bare = canvas.plan.bare.polygons().iter();
    let bare = bare.map(|polygon| Item::Outline {
        rings: canvas.rings(polygon),
        stroke: Some(Stroke::LIGHT),
        fill: Fill::Over(Hatch::Scrapped),
    });
    items.push(Item::group("bare", bare.collect()));
    items
}

fn is_cladding(layer: &Layer) -> bool {
    matches!(layer.kind, LayerKind::Solid)
}

/// Axes of the strips.
fn furring(canvas: &Canvas<'_>, plan: &AreaPlan) -> Vec<Item> {
    plan.strips
        .iter()
        .map(|strip| Item::polyline(canvas.segment(strip.axis).to_vec(), Stroke::LIGHT.dash(Dash::Dashed)))
        .collect()
}

/// The lower edges of the courses where they can be told; nothing else is made up.
fn courses(canvas: &Canvas<'_>, cladding: &Layer, plan: &AreaPlan) -> Vec<Item> {
    let Some(bounds) = plan.net.bounds() else { return Vec::new() };
    let product = canvas.wall.model.product_of(&cladding.stuff);
    let same = |(least, most): (Length, Length)| (least == most).then_some(least);
    let exposure = canvas.plan.exposure.or_else(|| cladding.exposure.and_then(same));
    let step =
        if cladding.runs_vertical { exposure.or_else(|| product.and_then(|product| product.width)) } else { exposure };
    let Some(step) = step.filter(|step| *step >= Length::MM) else { return Vec::new() };
    if cladding.runs_vertical {
        let lines = steps(bounds.left, bounds.left, bounds.right, step);
        lines.flat_map(|x| upright(canvas, &plan.net, x)).collect()
    } else {
        let start = canvas.plan.course_start.unwrap_or(bounds.bottom);
        steps(start, bounds.bottom, bounds.top, step).flat_map(|y| level(canvas, &plan.net, y)).collect()
    }
}

/// `start`, and every `step` from it, that lie strictly between two ends.
pub(super) fn steps(start: Length, low: Length, high: Length, step: Length) -> impl Iterator<Item = Length> {
    let first = (low.0.saturating_sub(start.0)).div_euclid(step.0.max(1)).saturating_add(1);
    (0..MOST_LINES as i64)
        .map(move |index| Length(start.0.saturating_add(first.saturating_add(index).saturating_mul(step.0.max(1)))))
        .take_while(move |place| *place < high)
}

fn level(canvas: &Canvas<'_>, net: &Region, y: Length) -> Vec<Item> {
    let line = |(from, to)| Item::line(canvas.view.point(from, y), canvas.view.point(to, y), Stroke::LIGHT);
    net.x_intervals_above(y).into_iter().map(line).collect()
}

fn upright(canvas: &Canvas<'_>, net: &Region, x: Length) -> Vec<Item> {
    let line = |(from, to)| Item::line(canvas.view.point(x, from), canvas.view.point(x, to), Stroke::LIGHT);
    net.y_intervals_right_of(x).into_iter().map(line).collect()
}

/// The edge of the wall.
pub(super) fn outline(canvas: &Canvas<'_>) -> Item {
    let edge = Item::Outline { rings: vec![canvas.outline()], stroke: Some(Stroke::HEAVY), fill: Fill::None };
    Item::group("outline", vec![edge])
}

/// The name of every area with how it is built, and of every floor line.
pub(super) fn names(canvas: &mut Canvas<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    for (area, plan) in canvas.face.areas.iter().zip(&canvas.plan.areas) {
        let label =
            canvas.wall.model.assembly(area.assembly).map(|assembly| assembly.label.clone()).unwrap_or_default();
        let largest = plan.net.polygons().iter().max_by_key(|polygon| polygon.doubled_area());
        let Some(polygon) = largest else { continue };
        let centre = canvas.point(polygon.label_point());
        let box_of = canvas.rect(polygon.bounds());
        let ways = places(centre, box_of).into_iter().map(|place| {
            let name = Text::new(place, area.name.as_str()).size(item::FIGURE).bold().plate().anchor(Anchor::Middle);
            let built = Text::new(place.shift(0.0, item::SMALL + 2.0), label.as_str()).plate().anchor(Anchor::Middle);
            Candidate { texts: vec![name, built], leader: Vec::new() }
        });
        let placed = canvas.labels.place(ways.collect());
        items.extend(placed.texts.into_iter().map(|text| Item::Text(text.plate())));
    }
    vec![Item::group("names", items)]
}

/// Places to try within a box: a first choice, then a grid from the middle outwards.
pub(super) fn places(first: Point, within: crate::emit::drawing::Rect) -> Vec<Point> {
    let mut places = vec![first];
    let centre = within.centre();
    let mut grid: Vec<Point> = (1..12)
        .flat_map(|row| (1..12).map(move |column| (row, column)))
        .map(|(row, column)| {
            at(within.x + within.width * f64::from(column) / 12.0, within.y + within.height * f64::from(row) / 12.0)
        })
        .collect();
    grid.sort_by(|a, b| a.distance(centre).total_cmp(&b.distance(centre)));
    places.extend(grid);
    places
}
