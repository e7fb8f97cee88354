//! One exposure for the whole house, and the first course line, chosen over the lines of all its faces.

use crate::geometry::Point;
use crate::layout::coursing::{CutLine, choose as choose_coursing};
use crate::model::{Area, Face, Model, Where};
use crate::units::Length;

type Range = (Length, Length);

/// For each face its exposure and first course line, as far as they can be told.
///
/// Faces of one building go together, and so do those of none. The story pole gives the range; else what the rain layers of
/// all their areas have in common. Where they have nothing in common, each face is set out by itself.
pub(super) fn choose(model: &Model) -> Vec<Option<(Length, Length)>> {
    let mut chosen = vec![None; model.faces.len()];
    for group in groups(model) {
        set_out(model, &group, &mut chosen);
    }
    chosen
}

/// Faces that share a story pole.
struct Group {
    faces: Vec<usize>,
    range: Option<Range>,
    start: Option<Length>,
}

fn groups(model: &Model) -> Vec<Group> {
    let mut taken = vec![false; model.faces.len()];
    let mut groups = Vec::new();
    for building in &model.buildings {
        let mut faces = Vec::new();
        for at in building.faces.iter().filter_map(|(_, id, _)| *id).map(|id| id.0 as usize) {
            if let Some(taken) = taken.get_mut(at).filter(|taken| !**taken) {
                *taken = true;
                faces.push(at);
            }
        }
        groups.push(Group { faces, range: building.exposure, start: building.course_start });
    }
    let rest = taken.iter().enumerate().filter(|(_, taken)| !**taken).map(|(at, _)| at).collect();
    groups.push(Group { faces: rest, range: None, start: None });
    groups
}

fn set_out(model: &Model, group: &Group, chosen: &mut [Option<(Length, Length)>]) {
    let faces: Vec<(usize, &Face)> = group.faces.iter().filter_map(|&at| Some((at, model.faces.get(at)?))).collect();
    let own: Vec<Option<Range>> = faces.iter().map(|(_, face)| range_of(model, face)).collect();
    // A face without courses, such as one of upright boards, has no say.
    let common = own.iter().flatten().copied().map(Some).reduce(|one, other| both(one?, other?)).flatten();
    if let Some((min, max)) = group.range.or(common) {
        let lines: Vec<CutLine> = faces.iter().flat_map(|(_, face)| lines_of(model, face)).collect();
        let Some(coursing) = choose_coursing(&lines, min, max, group.start) else { return };
        for (at, _) in &faces {
            if let Some(place) = chosen.get_mut(*at) {
                *place = Some((coursing.exposure, coursing.start));
            }
        }
        return;
    }
    for ((at, face), range) in faces.iter().zip(own) {
        let Some((min, max)) = range else { continue };
        let coursing = choose_coursing(&lines_of(model, face), min, max, group.start);
        if let Some(place) = chosen.get_mut(*at) {
            *place = coursing.map(|coursing| (coursing.exposure, coursing.start));
        }
    }
}

/// What two ranges have in common.
fn both(one: Range, other: Range) -> Option<Range> {
    let (min, max) = (one.0.max(other.0), one.1.min(other.1));
    (min <= max).then_some((min, max))
}

/// The range of courses that all areas of a face allow.
fn range_of(model: &Model, face: &Face) -> Option<Range> {
    let ranges = face.areas.iter().filter_map(|area| exposure_of(model, area));
    ranges.map(Some).reduce(|one, other| both(one?, other?)).flatten()
}

/// The exposure of the layer that sheds rain, if its boards lie level.
fn exposure_of(model: &Model, area: &Area) -> Option<Range> {
    let layers = &model.assembly(area.assembly)?.layers;
    let rain = layers.iter().find(|layer| layer.controls.rain).or_else(|| layers.first())?;
    rain.exposure.filter(|_| !rain.runs_vertical)
}

/// Level lines at which the courses of a face are cut: bases, tops, ends of bands, sills and heads. Sloping ones are cut along their slope.
fn lines_of(model: &Model, face: &Face) -> Vec<CutLine> {
    let coursed: Vec<&Area> = face.areas.iter().filter(|area| exposure_of(model, area).is_some()).collect();
    if coursed.is_empty() && !face.areas.is_empty() {
        return Vec::new();
    }
    let edges = face.edges.iter().filter(|edge| edge.segment.is_horizontal()).filter_map(|edge| match edge.kind {
        "base" | "roof_line" | "deck_line" | "underside" => Some(CutLine::Base(edge.segment.from.y)),
        "top" | "parapet" => Some(CutLine::Top(edge.segment.from.y)),
        _ => None,
    });
    let within = |at: Point| coursed.iter().any(|area| may_hold(area, at));
    let openings = face.openings.iter().flat_map(|opening| {
        let (sill, head) = (opening.at, Point::new(opening.at.x, opening.at.y + opening.height));
        [(sill, CutLine::Sill(sill.y)), (head, CutLine::Head(head.y))]
    });
    let bands = coursed.iter().flat_map(|area| [area.below.map(CutLine::Top), area.above.map(CutLine::Base)]).flatten();
    edges.chain(bands).chain(openings.filter(|(at, _)| within(*at)).map(|(_, line)| line)).collect()
}

/// Whether a band may hold a point; areas with corners of their own are taken to.
fn may_hold(area: &Area, at: Point) -> bool {
    let over = area.above.is_none_or(|above| at.y >= above) && area.below.is_none_or(|below| at.y <= below);
    let beside = |place: Option<Where>, keeps: fn(Length, Length) -> bool| match place {
        Some(Where::At(x)) => keeps(at.x, x),
        _ => true,
    };
    over && beside(area.from, |x, from| x >= from) && beside(area.to, |x, to| x <= to)
}
