//! Faces and what stands on them: sizes, places from both ends, details, findings.

use super::{Desk, gap, list, made_by};
use crate::figures::{Scene, heat};
use crate::geometry::{Bounds, Point, Segment};
use crate::model::{Detail, DetailId, Edge, Face, FaceId, Opening};
use crate::source::Span;
use crate::syntax::Statement;
use crate::units::{Length, display};

/// A face: size, area, what stands on it, findings.
pub(super) fn face(desk: &Desk<'_>, name: &str) -> Vec<String> {
    let Some(face) = desk.glance.model.face_named(name).and_then(|id| desk.glance.model.face(id)) else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    if let Some((outline, bounds)) = face.outline.as_ref().and_then(|outline| Some((outline, outline.bounds()?))) {
        lines.push(format!(
            "{} long, {} high, {} with its openings",
            display::both(bounds.width(), desk.units),
            display::both(bounds.height(), desk.units),
            display::area_both(outline.area(), desk.units)
        ));
    }
    let count = |many: usize, what: &str| (many > 0).then(|| format!("{many} {what}"));
    let stands: Vec<String> = [
        count(face.openings.len(), "openings"),
        count(face.services.len(), "penetrations"),
        count(face.blocks.len(), "blocks"),
    ]
    .into_iter()
    .flatten()
    .collect();
    lines.push(stands.join(", "));
    lines.extend(desk.findings(name));
    lines
}

/// What stands on a face, by its statement.
pub(super) fn on_face(desk: &Desk<'_>, statement: &Statement) -> Vec<String> {
    let outer = desk.spot.round.first().map(|(outer, _)| desk.name_of(outer)).unwrap_or_default();
    let model = &desk.glance.model;
    let Some((id, face)) = model.face_named(&outer).and_then(|id| Some((id, model.face(id)?))) else {
        return Vec::new();
    };
    let here = |origin: Span| made_by(origin, statement.keyword.span);
    if let Some(edge) = face.edges.iter().find(|edge| here(edge.origin)) {
        return of_edge(desk, face, edge);
    }
    if let Some(opening) = face.openings.iter().find(|one| here(one.origin)) {
        return of_opening(desk, face, opening);
    }
    if let Some(at) = face.areas.iter().position(|one| here(one.origin)) {
        return of_area(desk, id, face, at);
    }
    if let Some((at, block)) = face.blocks.iter().enumerate().find(|(_, one)| here(one.origin)) {
        let shape = desk.glance.house(id).and_then(|(house, own)| {
            house.plan.face(own)?.blocks.get(at)?.as_ref().map(crate::geometry::Polygon::bounds)
        });
        let mut lines = vec![shape.map_or("size: cannot tell".to_owned(), |shape| size(desk, shape))];
        lines.extend(shape.and_then(|shape| place(desk, face, shape)));
        lines.extend(detail_of(desk, block.detail));
        lines.extend(desk.findings(&format!("{}.{}", face.name, block.name)));
        return lines;
    }
    if let Some(service) = face.services.iter().find(|one| here(one.origin)) {
        let mut lines = Vec::new();
        if let (Some(width), Some(height)) = (service.width, service.height) {
            let across =
                if width == height { String::new() } else { format!(" x {}", display::both(height, desk.units)) };
            lines.push(format!("{}{across}", display::both(width, desk.units)));
        }
        lines.extend(place(
            desk,
            face,
            Bounds { left: service.at.x, right: service.at.x, bottom: service.at.y, top: service.at.y },
        ));
        lines.extend(detail_of(desk, service.detail));
        lines.extend(desk.findings(&face.dotted(service)));
        return lines;
    }
    Vec::new()
}

fn size(desk: &Desk<'_>, shape: Bounds) -> String {
    format!("{} wide, {} high", display::both(shape.width(), desk.units), display::both(shape.height(), desk.units))
}

/// How far a thing is from both ends of its face and how high above the datum.
fn place(desk: &Desk<'_>, face: &Face, shape: Bounds) -> Option<String> {
    let wall = face.outline.as_ref()?.bounds()?;
    let up = if shape.bottom == shape.top {
        format!("{} above the datum", display::both(shape.bottom, desk.units))
    } else {
        format!(
            "{} to {} above the datum",
            display::both(shape.bottom, desk.units),
            display::both(shape.top, desk.units)
        )
    };
    Some(format!(
        "{} from the left end, {} from the right end; {up}",
        display::both(shape.left - wall.left, desk.units),
        display::both(wall.right - shape.right, desk.units)
    ))
}

fn of_opening(desk: &Desk<'_>, face: &Face, opening: &Opening) -> Vec<String> {
    let corner = Point::new(opening.at.x + opening.width, opening.at.y + opening.height);
    let shape = Bounds { left: opening.at.x, right: corner.x, bottom: opening.at.y, top: corner.y };
    let measured = opening
        .measure
        .map_or("not said whether frame or rough".to_owned(), |word| format!("measured to {}", word_of(word)));
    let mut lines = vec![format!("{}; {measured}", size(desk, shape))];
    lines.extend(place(desk, face, shape));
    lines.extend(detail_of(desk, opening.detail));
    lines.extend(desk.findings(&format!("{}.{}", face.name, opening.name)));
    lines
}

fn word_of(measure: &str) -> &str {
    if measure == "rough" { "the rough opening" } else { "the frame" }
}

fn of_edge(desk: &Desk<'_>, face: &Face, edge: &Edge) -> Vec<String> {
    let mut lines = vec![format!("{} long{}", display::both(edge.segment.length(), desk.units), slope(edge.segment))];
    let (low, high) = (edge.segment.from.y.min(edge.segment.to.y), edge.segment.from.y.max(edge.segment.to.y));
    lines.push(if low == high {
        format!("{} above the datum", display::both(low, desk.units))
    } else {
        format!("from {} to {} above the datum", display::both(low, desk.units), display::both(high, desk.units))
    });
    for stretch in &edge.details {
        lines.extend(detail_of(desk, Some(stretch.detail)));
    }
    lines.extend(desk.findings(&format!("{}.{}", face.name, edge.name)));
    lines
}

/// `, 8:12, 33.7°` for an edge that is neither level nor upright.
pub fn slope(segment: Segment) -> String {
    if !segment.is_oblique() {
        return String::new();
    }
    let across = (segment.to.x - segment.from.x).abs().as_m();
    let rise = (segment.to.y - segment.from.y).abs().as_m() / across;
    format!(", {} ({})", display::slope_in_12(rise), display::slope_degrees(rise))
}

fn of_area(desk: &Desk<'_>, id: FaceId, face: &Face, at: usize) -> Vec<String> {
    let Some(area) = face.areas.get(at) else { return Vec::new() };
    let mut lines = Vec::new();
    if let Some((house, own)) = desk.glance.house(id)
        && let Some(placed) = house.plan.face(own).and_then(|plan| plan.areas.get(at))
    {
        lines.push(format!(
            "{} clad, {} with openings",
            display::area_both(placed.net.area(), desk.units),
            display::area_both(placed.whole.area(), desk.units)
        ));
        if !placed.strips.is_empty() {
            let long: Length = placed.strips.iter().map(|strip| strip.axis.length()).sum();
            lines.push(format!(
                "{} pieces of furring, {} together",
                placed.strips.len(),
                display::both(long, desk.units)
            ));
        }
    }
    lines.extend(gap::area_air(desk, id, at, "gap"));
    if let Some(wall) = desk.glance.model.assembly(area.assembly) {
        lines.push(super::wall::heat_line(&super::sums(&desk.glance.model, wall), desk.units));
    }
    if let Some((house, own)) = desk.glance.house(id) {
        let scene = Scene::new(&house.model, &house.plan);
        let wall = scene.walls().into_iter().find(|wall| wall.areas.contains(&(own, at)));
        lines.extend(wall.map(|wall| super::wall::standing_line(&heat::sums(&scene, &wall), desk.units)));
    }
    lines.extend(desk.findings(&format!("{}.{}", face.name, area.name)));
    lines
}

fn detail_of(desk: &Desk<'_>, detail: Option<DetailId>) -> Option<String> {
    let detail = detail.and_then(|id| desk.glance.model.detail(id));
    Some(match detail {
        Some(detail) => format!("built as `{}`", detail.label),
        None => "no detail is said".to_owned(),
    })
}

/// A detail: what it is for, its parts from inside to outside, what it promises, where it is used.
pub(super) fn detail(desk: &Desk<'_>, keyword: Span) -> Vec<String> {
    let model = &desk.glance.model;
    let all: Vec<(usize, &Detail)> =
        model.details.iter().enumerate().filter(|(_, one)| made_by(one.origin, keyword)).collect();
    let Some((_, detail)) = all.first() else { return Vec::new() };
    let mut lines = vec![format!("for: {}", detail.places.join(", ").replace('_', " "))];
    for (name, place) in places(detail) {
        let parts: Vec<String> = place.parts.iter().map(|part| part_line(desk, part)).collect();
        if !parts.is_empty() {
            lines.push(format!("{name}from inside to outside:\n{}", list(&parts)));
        }
        let gives: Vec<&str> = place.gives.iter().map(|gives| gives.promise).collect();
        if !gives.is_empty() {
            lines.push(format!("{name}gives {}", gives.join(", ")));
        }
    }
    lines.extend(detail.why.iter().map(|why| why.to_string()));
    lines
}

fn places(detail: &Detail) -> Vec<(&'static str, &crate::model::Place)> {
    let mut all = vec![("", &detail.edge)];
    let named = [
        ("head, ", &detail.head),
        ("jamb, ", &detail.jamb),
        ("sill, ", &detail.sill),
        ("roof side, ", &detail.roof_side),
    ];
    all.extend(named.into_iter().filter_map(|(name, place)| Some((name, place.as_ref()?))));
    all
}

fn part_line(desk: &Desk<'_>, part: &crate::model::PartSpec) -> String {
    let of = if part.stuff.name.is_empty() { String::new() } else { format!(" of {}", part.stuff.name) };
    let mut facts = Vec::new();
    let mut fact = |name: &str, length: Option<Length>| {
        facts.extend(length.map(|length| format!("{name} {}", display::both(length, desk.units))));
    };
    fact("thickness", part.thickness);
    fact("width", part.width);
    fact("upstand", part.upstand);
    fact("drip", part.drip.map(|(down, _)| down));
    fact("end dams", part.end_dams);
    fact("back dam", part.back_dam);
    facts.extend(part.slope.map(|slope| format!("slope {}", display::slope_percent(slope))));
    let name = part.name.as_ref().map_or(String::new(), |name| format!(" `{name}`"));
    let facts = if facts.is_empty() { String::new() } else { format!(": {}", facts.join(", ")) };
    format!("{}{name}{of}{facts}", part.kind.replace('_', " "))
}
