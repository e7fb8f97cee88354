//! The drawing of what is under the cursor: a thing on a face large, a face whole, a wall cut through; and the way of water.

use super::hover::made_by;
use super::spot::Spot;
use crate::continuity::{GapFlow, RainLoads, Trace};
use crate::emit::drawing::Sheet;
use crate::emit::elevation::{self, Thing};
use crate::emit::{trace as words, wall_section};
use crate::geometry::{Bounds, Point, Segment};
use crate::model::{AssemblyId, Face, FaceId};
use crate::session::{Glance, Wall};
use crate::source::{FileId, Span};
use crate::units::Length;

/// One sheet, or why there is none in a sentence.
pub type Drawn = Result<Drawing, String>;

/// A sheet as an editor shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// What it shows: `North wall, window hall`.
    pub title: String,
    /// The sheet.
    pub svg: String,
    /// The same in words, for the way of water.
    pub text: Option<String>,
}

/// How far below the top of its area a drop starts, where nothing else is said.
const BELOW_TOP: Length = Length::mm(300);
/// How far above an opening a drop starts.
const ABOVE_HEAD: Length = Length::mm(100);

/// The drawing of what is under a place of a text.
pub fn drawing(glance: &Glance, file: FileId, offset: u32) -> Drawn {
    let spot = Spot::at(glance, file, offset);
    let (kind, name, keyword) = declared(glance, &spot)?;
    match kind {
        "face" => {
            let (wall, id) = face(glance, name)?;
            let thing = spot.round.iter().rev().find_map(|(statement, _)| thing(wall, id, statement.keyword.span));
            let sheet = thing.and_then(|thing| elevation::near(wall, id, &thing));
            shown(sheet.or_else(|| elevation::sheet(wall, id)), name)
        }
        "assembly" => cut(glance, name, keyword),
        "detail" => used(glance, name, keyword),
        "building" => {
            let faces = glance.model.buildings.iter().find(|one| one.name == name).map(|one| &one.faces);
            let first = faces.into_iter().flatten().find(|(_, id, _)| id.is_some());
            whole(glance, first.map(|(name, ..)| name), name)
        }
        "section" => {
            let on = glance.model.sections.iter().find(|one| one.name == name).map(|one| &one.on.0);
            whole(glance, on, name)
        }
        _ => Err(format!("{} `{name}` has no drawing: put the cursor in a face, an assembly or a detail", a(kind))),
    }
}

/// The opening or edge whose keyword or name is under a place, small; `None` for anything else.
pub fn picture(glance: &Glance, file: FileId, offset: u32) -> Option<String> {
    let spot = Spot::at(glance, file, offset);
    let statement = spot.statement()?;
    let first = statement.arguments.first().is_some_and(|first| first.span.touches(offset));
    if !(first || statement.keyword.span.touches(offset)) {
        return None;
    }
    let ("face", name, _) = declared(glance, &spot).ok()? else { return None };
    let (wall, id) = face(glance, name).ok()?;
    let keyword = statement.keyword.span;
    let declared = wall.model.face(id)?;
    let wanted = opening(wall, id, declared, keyword).or_else(|| edge(declared, keyword))?;
    elevation::small(wall, id, &wanted)
}

/// The way of a drop on the face under a place: from above the opening there, else from below the top of the largest area.
pub fn traced(glance: &Glance, file: FileId, offset: u32) -> Drawn {
    let spot = Spot::at(glance, file, offset);
    let ("face", name, _) = declared(glance, &spot)? else {
        return Err("water is followed on a face: put the cursor in one".to_owned());
    };
    let (wall, id) = face(glance, name)?;
    let declared = wall.model.face(id).ok_or_else(|| unread(name))?;
    let over = |span| opening(wall, id, declared, span).map(|thing| thing.bounds);
    let over = spot.round.iter().rev().find_map(|(statement, _)| over(statement.keyword.span));
    let start = match over {
        Some(opening) => Point::new(middle(opening.left, opening.right), opening.top + ABOVE_HEAD),
        None => below_top(wall, id).ok_or_else(|| format!("no area of `{name}` could be read"))?,
    };
    let flow = GapFlow::find(wall.model, wall.plan);
    let trace = Trace::water(wall.model, wall.plan, &flow, id, start)
        .map_err(|refused| words::refusal(wall, id, start, refused).0)?;
    let sheet = elevation::traced(wall, &trace).ok_or_else(|| unread(name))?;
    let text = words::text(wall, &trace, &RainLoads::find(wall.model, wall.plan, &flow));
    Ok(Drawing { title: sheet.title.title.clone(), svg: sheet.to_svg(), text: Some(text) })
}

/// Kind, name and keyword of the declaration round a place.
fn declared<'g>(glance: &'g Glance, spot: &Spot<'g>) -> Result<(&'static str, &'g str, Span), String> {
    let found = spot.declaration(glance).and_then(|id| glance.project.declaration(id));
    let keyword = spot.round.first().map(|(statement, _)| statement.keyword.span);
    let (Some(found), Some(keyword)) = (found, keyword) else {
        return Err("nothing to draw here: put the cursor in a face, an assembly or a detail".to_owned());
    };
    Ok((found.kind, &found.name, keyword))
}

fn face<'g>(glance: &'g Glance, name: &str) -> Result<(Wall<'g>, FaceId), String> {
    glance.model.face_named(name).and_then(|id| glance.wall(id)).ok_or_else(|| unread(name))
}

fn unread(name: &str) -> String {
    format!("`{name}` cannot be drawn: its outline could not be read")
}

fn shown(sheet: Option<Sheet>, name: &str) -> Drawn {
    let sheet = sheet.ok_or_else(|| unread(name))?;
    Ok(Drawing { title: sheet.title.title.clone(), svg: sheet.to_svg(), text: None })
}

/// The elevation of the first face of something.
fn whole(glance: &Glance, first: Option<&String>, name: &str) -> Drawn {
    let first = first.ok_or_else(|| format!("`{name}` names no face that could be read"))?;
    let (wall, id) = face(glance, first)?;
    shown(elevation::sheet(wall, id), first)
}

/// The wall section of an assembly, with the arguments it is first used with.
fn cut(glance: &Glance, name: &str, keyword: Span) -> Drawn {
    let all = glance.model.assemblies.iter().enumerate().filter(|(_, one)| made_by(one.origin, keyword));
    let sheet = all.map(|(at, _)| AssemblyId(at as u32)).find_map(|id| wall_section::sheet_of(glance, id));
    let sheet = sheet.ok_or_else(|| format!("no area is built as `{name}` yet, so there is no wall section of it"))?;
    shown(Some(sheet), name)
}

/// The first opening or edge that is built by a detail.
fn used(glance: &Glance, name: &str, keyword: Span) -> Drawn {
    let model = &glance.model;
    let made = |id| model.detail(id).is_some_and(|detail| made_by(detail.origin, keyword));
    let found = model.faces.iter().enumerate().find_map(|(at, face)| {
        let opening = face.openings.iter().find(|one| one.detail.is_some_and(made)).map(|one| one.origin);
        let edge = || face.edges.iter().find(|one| one.details.iter().any(|stretch| made(stretch.detail)));
        let service = || face.services.iter().find(|one| one.detail.is_some_and(made)).map(|one| one.origin);
        let origin = opening.or_else(|| edge().map(|one| one.origin)).or_else(service)?;
        Some((FaceId(at as u32), origin))
    });
    let (face, origin) = found
        .ok_or_else(|| format!("no opening, edge or hole is built as `{name}` yet, so there is nothing to draw"))?;
    let drawn = glance.wall(face).and_then(|(wall, id)| elevation::near(wall, id, &thing(wall, id, origin)?));
    shown(drawn, name)
}

/// What a statement puts on a face; areas and the like are the face itself.
fn thing(wall: Wall<'_>, id: FaceId, keyword: Span) -> Option<Thing> {
    let face = wall.model.face(id)?;
    opening(wall, id, face, keyword)
        .or_else(|| edge(face, keyword))
        .or_else(|| block(wall, id, face, keyword))
        .or_else(|| along(wall, id, face, keyword))
        .or_else(|| service(face, keyword))
}

fn opening(wall: Wall<'_>, id: FaceId, face: &Face, keyword: Span) -> Option<Thing> {
    let shapes = &wall.plan.face(id)?.openings;
    let (opening, shape) = face.openings.iter().zip(shapes).find(|(one, _)| made_by(one.origin, keyword))?;
    Some(Thing {
        words: format!("{} {}", opening.kind, opening.name),
        subject: format!("{}.{}", face.name, opening.name),
        bounds: shape.bounds(),
        line: None,
    })
}

fn edge(face: &Face, keyword: Span) -> Option<Thing> {
    let edge = face.edges.iter().find(|one| made_by(one.origin, keyword))?;
    // `rake.1` is the first of several rakes.
    let words = edge.name.replace(['_', '.'], " ");
    Some(line(face, words, &edge.name, edge.segment))
}

fn block(wall: Wall<'_>, id: FaceId, face: &Face, keyword: Span) -> Option<Thing> {
    let shapes = &wall.plan.face(id)?.blocks;
    let (block, shape) = face.blocks.iter().zip(shapes).find(|(one, _)| made_by(one.origin, keyword))?;
    let (words, subject) = (format!("block {}", block.name), format!("{}.{}", face.name, block.name));
    Some(Thing { words, subject, bounds: shape.as_ref()?.bounds(), line: None })
}

/// A trim or a roof.
fn along(wall: Wall<'_>, id: FaceId, face: &Face, keyword: Span) -> Option<Thing> {
    if let Some(roof) = face.roofs.iter().find(|one| made_by(one.origin, keyword)) {
        return Some(line(face, format!("roof {}", roof.name), &roof.name, roof.line));
    }
    let trim = face.trims.iter().find(|one| made_by(one.origin, keyword))?;
    let runs: Vec<&crate::plan::Run> = wall.plan.runs_of(id).map(|(_, run)| run).collect();
    let segment = crate::layout::holes::trim_line(face, &runs, trim)?;
    Some(line(face, format!("trim {}", trim.name), &trim.name, segment))
}

fn service(face: &Face, keyword: Span) -> Option<Thing> {
    let service = face.services.iter().find(|one| made_by(one.origin, keyword))?;
    let Point { x, y } = service.at;
    let kind = service.kind.replace('_', " ");
    let words =
        if service.name.starts_with(service.kind) { service.name.clone() } else { format!("{kind} {}", service.name) };
    let bounds = Bounds { left: x, bottom: y, right: x, top: y };
    Some(Thing { words, subject: face.dotted(service), bounds, line: None })
}

fn line(face: &Face, words: String, name: &str, line: Segment) -> Thing {
    let (from, to) = (line.from, line.to);
    let bounds =
        Bounds { left: from.x.min(to.x), bottom: from.y.min(to.y), right: from.x.max(to.x), top: from.y.max(to.y) };
    Thing { words, subject: format!("{}.{name}", face.name), bounds, line: Some(line) }
}

/// A place near the top of the largest area of a face, over its middle.
fn below_top(wall: Wall<'_>, id: FaceId) -> Option<Point> {
    let pieces = wall.plan.face(id)?.areas.iter().flat_map(|area| area.net.polygons());
    let largest = pieces.max_by_key(|piece| piece.doubled_area())?;
    let x = largest.label_point().x;
    let (low, high) = largest.y_intervals_at(x).into_iter().next_back()?;
    Some(Point::new(x, (high - BELOW_TOP).max(middle(low, high))))
}

fn middle(from: Length, to: Length) -> Length {
    Length(from.0.midpoint(to.0))
}

/// `a material`, `an option`.
fn a(kind: &str) -> String {
    let article = if kind.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {}", kind.replace('_', " "))
}
