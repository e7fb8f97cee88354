//! What stands on the wall besides openings: floor lines, roofs, decks, rows of slots, trims, blocks, services.

use super::canvas::Canvas;
use super::figures::both;
use crate::emit::callout::{callout, tag};
use crate::emit::drawing::{Dash, Fill, Hatch, Item, Point, Rect, Stroke, at};
use crate::geometry::{Bounds, Segment};
use crate::model::{Service, Where};
use crate::plan::RunPlace;
use crate::units::Length;

/// All of them, with their names.
pub(super) fn draw(canvas: &mut Canvas<'_>) -> Vec<Item> {
    let mut items = vec![lines(canvas), slots(canvas), trims(canvas), blocks(canvas)];
    items.push(services(canvas));
    items
}

/// A place along the face.
fn place(canvas: &Canvas<'_>, place: Option<Where>, end: Length) -> Length {
    match place {
        None => end,
        Some(Where::Left) => canvas.bounds.left,
        Some(Where::Right) => canvas.bounds.right,
        Some(Where::Centre) => Length((canvas.bounds.left.0 + canvas.bounds.right.0) / 2),
        Some(Where::At(x)) => x,
    }
}

/// Floors, roofs and decks.
fn lines(canvas: &mut Canvas<'_>) -> Item {
    let face = canvas.face;
    let mut items = Vec::new();
    for floor in &face.floor_lines {
        for (from, to) in intervals(canvas, floor.height) {
            let ends = [canvas.view.point(from, floor.height), canvas.view.point(to, floor.height)];
            items.push(Item::polyline(ends.to_vec(), Stroke::LIGHT.dash(Dash::Centre)));
        }
    }
    for roof in &face.roofs {
        let [from, to] = canvas.segment(roof.line);
        let Some([from, to]) = canvas.names_of(from, to) else { continue };
        items.push(Item::line(from, to, Stroke::HEAVY));
        canvas.labels.keep_line_clear(&[from, to], 1.5);
        items.push(callout(&[format!("roof {}", roof.name)], from.towards(to, 0.5), &mut canvas.labels));
    }
    for deck in &face.decks {
        let (from, to) =
            (place(canvas, Some(deck.from), canvas.bounds.left), place(canvas, Some(deck.to), canvas.bounds.right));
        let [from, to] = [from, to].map(|x| canvas.view.point(x, deck.height));
        let Some([from, to]) = canvas.names_of(from, to) else { continue };
        items.push(Item::line(from, to, Stroke::HEAVY));
        items.push(callout(&[format!("deck {}", deck.name)], from.towards(to, 0.5), &mut canvas.labels));
    }
    for ledger in &face.ledgers {
        let ends =
            [place(canvas, Some(ledger.from), canvas.bounds.left), place(canvas, Some(ledger.to), canvas.bounds.right)];
        let (left, right) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        let drawn = canvas.rect(Bounds { left, bottom: ledger.top - ledger.height, right, top: ledger.top });
        let Some(seen) = canvas.names(drawn) else { continue };
        items.push(Item::rect(drawn, Some(Stroke::HEAVY), Fill::White));
        canvas.labels.keep_clear(drawn);
        items.push(callout(&[format!("ledger {}", ledger.name)], seen.centre(), &mut canvas.labels));
    }
    for run in canvas.wall.plan.runs_of(canvas.id).map(|(_, run)| run) {
        match run.place {
            // A floor whose detail parts the gap is a joint in the cladding; the floor itself stays a thin line.
            RunPlace::Floor(_) if run.detail.is_some() => {
                let [from, to] = canvas.segment(run.segment);
                items.push(Item::line(from, to, Stroke::MEDIUM));
            }
            RunPlace::Brackets(at) => {
                let Some(spacing) = face.bracket_rows.get(at).and_then(|row| row.spacing) else { continue };
                items.extend(bracket_marks(canvas, run.segment, spacing));
            }
            _ => {}
        }
    }
    Item::group("lines", items)
}

/// A tick at each bracket of a row, not more than can be told apart.
fn bracket_marks(canvas: &Canvas<'_>, row: Segment, spacing: Length) -> Vec<Item> {
    let count = (row.length().0 / spacing.0.max(1)).min(2_000);
    let tick = |at: Length| {
        let middle = canvas.view.point(at, row.from.y);
        Item::line(at_point(middle, -1.0), at_point(middle, 1.0), Stroke::MEDIUM)
    };
    (0..=count).map(|index| tick(row.from.x + spacing * index)).chain([tick(row.to.x)]).collect()
}

fn at_point(middle: Point, down: f64) -> Point {
    at(middle.x, middle.y + down)
}

/// Where the face is wall at a height.
fn intervals(canvas: &Canvas<'_>, y: Length) -> Vec<(Length, Length)> {
    canvas.plan.outline.x_intervals_at(y)
}

/// Rows of slots and fire stops.
fn slots(canvas: &mut Canvas<'_>) -> Item {
    let face = canvas.face;
    let mut items = Vec::new();
    for vent in &face.vents {
        let (from, to) = (place(canvas, vent.from, canvas.bounds.left), place(canvas, vent.to, canvas.bounds.right));
        let bounds = Bounds { left: from, bottom: vent.height, right: to, top: vent.height + vent.slot };
        let drawn = canvas.rect(bounds);
        // A slot is thinner than a pencil line at this scale: never less than 1 mm of paper.
        let drawn = Rect { y: drawn.y.min(drawn.bottom() - 1.0), height: drawn.height.max(1.0), ..drawn };
        let Some(seen) = canvas.names(drawn) else { continue };
        items.push(Item::rect(drawn, Some(Stroke::MEDIUM), Fill::White));
        items.push(Item::line(
            at(drawn.x, drawn.bottom() - 0.5),
            at(drawn.right(), drawn.bottom() - 0.5),
            Stroke::LIGHT.dash(Dash::Dotted),
        ));
        canvas.labels.keep_clear(drawn);
        let words = [vent.name.clone(), format!("slot {}", both(canvas, vent.slot))];
        items.push(callout(&words, at(seen.x + seen.width * 0.3, drawn.centre().y), &mut canvas.labels));
    }
    for stop in &face.fire_stops {
        let (from, to) = (place(canvas, stop.from, canvas.bounds.left), place(canvas, stop.to, canvas.bounds.right));
        let top = stop.at + stop.height.unwrap_or(Length::mm(38));
        let drawn = canvas.rect(Bounds { left: from, bottom: stop.at, right: to, top });
        let Some(seen) = canvas.names(drawn) else { continue };
        items.push(Item::rect(drawn, Some(Stroke::MEDIUM), Fill::Hatch(Hatch::Insulation)));
        items.push(callout(&[format!("fire stop {}", stop.name)], seen.centre(), &mut canvas.labels));
    }
    Item::group("slots", items)
}

/// Profiles along edges: a second line beside the edge, with the name of the profile.
fn trims(canvas: &mut Canvas<'_>) -> Item {
    let face = canvas.face;
    let plan = canvas.wall.plan;
    let runs: Vec<&crate::plan::Run> = plan.runs_of(canvas.id).map(|(_, run)| run).collect();
    let mut items = Vec::new();
    for trim in &face.trims {
        let Some(line) = crate::layout::holes::trim_line(face, &runs, trim) else { continue };
        let [from, to] = beside(canvas, line);
        let Some([from, to]) = canvas.names_of(from, to) else { continue };
        items.push(Item::line(from, to, Stroke::MEDIUM));
        let product = canvas.wall.model.product(trim.product);
        let mut words = vec![format!("trim {}", trim.name)];
        words.extend(product.map(|product| product.name.clone()));
        items.push(callout(&words, from.towards(to, 0.3), &mut canvas.labels));
    }
    Item::group("trims", items)
}

/// A line 1 mm of paper inside the wall.
fn beside(canvas: &Canvas<'_>, line: Segment) -> [Point; 2] {
    let [from, to] = canvas.segment(line);
    let heading = from.heading(to);
    let middle = line.midpoint();
    let up = canvas.plan.outline.place(crate::geometry::Point::new(middle.x, middle.y + Length::mm(20)));
    let side = if up == crate::geometry::Place::Inside || heading.x.abs() < 0.1 { 1.0 } else { -1.0 };
    [from, to].map(|point| point.shift(heading.y * side, -heading.x * side))
}

/// Pads with their names.
fn blocks(canvas: &mut Canvas<'_>) -> Item {
    let face = canvas.face;
    let mut items = Vec::new();
    for (block, shape) in face.blocks.iter().zip(&canvas.plan.blocks) {
        let Some(shape) = shape else { continue };
        let drawn = canvas.rect(shape.bounds());
        if canvas.names(drawn).is_none() {
            continue;
        }
        items.push(Item::rect(drawn, Some(Stroke::MEDIUM), Fill::White));
        canvas.labels.keep_clear(drawn);
        let size = shape.bounds();
        let mut words = vec![format!("block {}", block.name)];
        words.push(format!("{} wide", both(canvas, size.width())));
        words.push(format!("{} high", both(canvas, size.height())));
        items.push(tag(&words, drawn, &mut canvas.labels));
    }
    Item::group("blocks", items)
}

/// Everything that passes through, with its name and kind.
fn services(canvas: &mut Canvas<'_>) -> Item {
    let face = canvas.face;
    let mut items = Vec::new();
    let shown = |canvas: &Canvas<'_>, service: &&Service| {
        canvas.names(Rect::around([canvas.point(service.at)]).grow(0.1)).is_some()
    };
    let services: Vec<&Service> = face.services.iter().filter(|service| shown(canvas, service)).collect();
    for service in &services {
        let centre = canvas.point(service.at);
        items.extend(symbol(canvas, service, centre));
        canvas.labels.keep_clear(Rect::around([centre]).grow(1.6));
    }
    for service in services {
        let kind = service.kind.replace('_', " ");
        let mut words = vec![service.name.clone()];
        if !service.name.starts_with(service.kind) {
            words.push(kind);
        }
        match (service.width, service.height) {
            (Some(width), Some(height)) if width != height => {
                words.push(format!("{} wide", both(canvas, width)));
                words.push(format!("{} high", both(canvas, height)));
            }
            (Some(width), _) => words.push(both(canvas, width)),
            _ => {}
        }
        items.push(callout(&words, canvas.point(service.at), &mut canvas.labels));
    }
    Item::group("services", items)
}

/// The mark of a kind: round for pipes and ducts, square for boxes, a cross in what is capped, a drop line under taps.
fn symbol(canvas: &Canvas<'_>, service: &Service, centre: Point) -> Vec<Item> {
    let half = |length: Option<Length>| length.map_or(1.4, |length| canvas.view.scale.paper(length) / 2.0).max(1.4);
    let (wide, high) = (half(service.width), half(service.height));
    let body = Rect::edges(centre.x - wide, centre.y - high, centre.x + wide, centre.y + high);
    let line =
        |dx: f64, dy: f64, ex: f64, ey: f64| Item::line(centre.shift(dx, dy), centre.shift(ex, ey), Stroke::LIGHT);
    let round = Item::Circle { centre, radius: wide, stroke: Some(Stroke::MEDIUM), fill: Fill::White };
    let square = Item::rect(body, Some(Stroke::MEDIUM), Fill::White);
    let cross = [
        line(-wide * 0.7, -wide * 0.7, wide * 0.7, wide * 0.7),
        line(-wide * 0.7, wide * 0.7, wide * 0.7, -wide * 0.7),
    ];
    match service.kind {
        "box" | "meter" => vec![square],
        "lamp" | "spare" => std::iter::once(round).chain(cross).collect(),
        "hood" | "intake" | "duct" => {
            vec![square, Item::Circle { centre, radius: wide * 0.7, stroke: Some(Stroke::LIGHT), fill: Fill::None }]
        }
        "hose_bib" => vec![round, line(0.0, wide, 0.0, wide + 2.0)],
        _ => vec![round],
    }
}
