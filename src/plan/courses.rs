//! One exposure for the whole house, and the first course line, chosen over the lines at which the cladding of all its faces ends.

use super::Placed;
use crate::layout::courses::Cut;
use crate::layout::coursing::{CutLine, choose as choose_coursing};
use crate::layout::stack;
use crate::model::{Area, Face, Model};
use crate::units::Length;

type Range = (Length, Length);

/// For each face its exposure and first course line, as far as they can be told.
///
/// Faces of one building go together, and so do those of none. The story pole gives the range; else what the rain layers of
/// all their areas have in common. Where they have nothing in common, each face is set out by itself.
pub(super) fn choose(model: &Model, placed: &[Placed]) -> Vec<Option<(Length, Length)>> {
    let mut chosen = vec![None; model.faces.len()];
    for group in groups(model) {
        set_out(model, placed, &group, &mut chosen);
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

fn set_out(model: &Model, placed: &[Placed], group: &Group, chosen: &mut [Option<(Length, Length)>]) {
    let of = |at: usize| Some((at, model.faces.get(at)?, placed.get(at)?));
    let faces: Vec<(usize, &Face, &Placed)> = group.faces.iter().filter_map(|&at| of(at)).collect();
    let own: Vec<Option<Range>> = faces.iter().map(|(_, face, _)| range_of(model, face)).collect();
    // A face without courses, such as one of upright boards, has no say.
    let common = own.iter().flatten().copied().map(Some).reduce(|one, other| both(one?, other?)).flatten();
    if let Some((min, max)) = group.range.or(common) {
        let lines: Vec<CutLine> = faces.iter().flat_map(|(_, face, placed)| lines_of(model, face, placed)).collect();
        let Some(coursing) = choose_coursing(&lines, min, max, group.start) else { return };
        for (at, ..) in &faces {
            if let Some(place) = chosen.get_mut(*at) {
                *place = Some((coursing.exposure, coursing.start));
            }
        }
        return;
    }
    for ((at, face, placed), range) in faces.iter().zip(own) {
        let Some((min, max)) = range else { continue };
        let coursing = choose_coursing(&lines_of(model, face, placed), min, max, group.start);
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
    let rain = stack::shedding(model.assembly(area.assembly)?)?;
    rain.exposure.filter(|_| !rain.runs_vertical)
}

/// The exposure a face is taken to have until one is chosen: the greatest its boards allow.
pub(super) fn guess(model: &Model, face: &Face) -> Option<Length> {
    range_of(model, face).map(|(_, most)| most)
}

/// Lines at which the courses of a face end: those of the fields of its coursed areas.
fn lines_of(model: &Model, face: &Face, placed: &Placed) -> Vec<CutLine> {
    let guess = guess(model, face).unwrap_or_default();
    let coursed = face.areas.iter().zip(&placed.face.areas).filter(|(area, _)| exposure_of(model, area).is_some());
    let lines = coursed.filter_map(|(_, plan)| plan.field.as_ref()).flat_map(|field| &field.levels);
    lines
        .filter(|line| line.is_cut())
        .map(|line| {
            // What stands on courses goes up with them: all that counts is where it begins.
            let height = line.height() - guess * line.courses;
            match line.cut {
                Cut::Over if line.foot => CutLine::Base(height),
                Cut::Over => CutLine::Head(height),
                Cut::Under => CutLine::Sill(height),
            }
        })
        .collect()
}
