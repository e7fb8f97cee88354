//! Cutting a field into courses, courses into runs, and runs into boards.

use super::{Cutting, Piece, PieceKind, ends, joints, touching};
use crate::geometry::{Bounds, Polygon, Region};
use crate::layout::courses::SPLINTER;
use crate::layout::field::board_width;
use crate::units::Length;

/// More courses than any wall has; a bound against absurd exposures.
const MOST: i64 = 4_000;

/// All pieces of an area, not yet marked.
pub(super) fn cut(cutting: &Cutting<'_>) -> Vec<Piece> {
    let Some(bounds) = cutting.field.region.bounds() else { return Vec::new() };
    match (cutting.product.kind, cutting.layer.runs_vertical) {
        ("panel", _) => panels(cutting, bounds),
        (_, true) => upright(cutting, bounds),
        _ => level(cutting, bounds),
    }
}

/// Height of the board itself: its face width, or what shows and what is lapped.
fn full_width(cutting: &Cutting<'_>) -> Length {
    let lap = cutting.product.lap.as_ref().map_or(Length::ZERO, |lap| lap.value);
    board_width(cutting.product).unwrap_or(cutting.exposure + lap)
}

fn level(cutting: &Cutting<'_>, bounds: Bounds) -> Vec<Piece> {
    let exposure = cutting.exposure;
    if exposure.0 <= 0 {
        return Vec::new();
    }
    let width = full_width(cutting).max(exposure);
    let first = (bounds.bottom - cutting.start).0.div_euclid(exposure.0);
    let last = (bounds.top - cutting.start - Length(1)).0.div_euclid(exposure.0);
    let mut pieces = Vec::new();
    let mut below: Vec<Vec<Length>> = Vec::new();
    for course in first..=last.min(first.saturating_add(MOST)) {
        let foot = cutting.start + Length(exposure.0 * course);
        let band = (foot, foot + exposure);
        let seen = cutting.field.region.clip_y(band.0, band.1);
        let high = cutting.field.region.clip_y(band.0, foot + width);
        let mut here = Vec::new();
        for run in seen.into_components() {
            let bounds = run.bounds();
            if bounds.height() < SPLINTER || bounds.width() < SPLINTER {
                continue;
            }
            let turn = joints::Course {
                left: bounds.left,
                right: bounds.right,
                height: bounds.bottom + bounds.height() / 2,
                longest: cutting.longest,
                supports: &cutting.supports,
                below: &below,
                stops: &cutting.field.stops,
                band,
                turn: course,
            };
            let joints = joints::between(&turn, &said(cutting, course));
            let run = Region::from(run);
            for part in parted(cutting, bounds, &joints, true) {
                let piece = run.clip_x(part.0, part.1);
                let hidden = touching(high.clip_x(part.0, part.1), &piece);
                pieces.extend(made(cutting, PieceKind::Board, course - cutting.lowest + 1, piece, hidden, width));
            }
            here.extend(joints);
        }
        below.insert(0, here);
        below.truncate(joints::BACK);
    }
    pieces
}

/// Where the wall says that boards of a course meet, from the left.
fn said(cutting: &Cutting<'_>, course: i64) -> Vec<Length> {
    let number = course - cutting.lowest_here + 1;
    let here = cutting.declared.iter().filter(|(course, _)| course.is_none_or(|course| course == number));
    let mut marks: Vec<Length> = here.map(|(_, x)| *x).collect();
    marks.sort_unstable();
    marks.dedup();
    marks
}

/// The stretches of a run between its joints, with the gaps taken off: half a gap at each side of a joint, and at both ends
/// of a piece half of what it may still grow.
fn parted(cutting: &Cutting<'_>, bounds: Bounds, joints: &[Length], across: bool) -> Vec<(Length, Length)> {
    let (from, to) = if across { (bounds.left, bounds.right) } else { (bounds.bottom, bounds.top) };
    let mut marks = vec![from];
    marks.extend(joints);
    marks.push(to);
    let half = Length(cutting.field.joint.0 / 2);
    let last = marks.len() - 1;
    let stretch = |at: usize| {
        let (from, to) = (marks[at - 1], marks[at]);
        let growth = Length::snap_mm((to - from).as_mm() * cutting.growth / 2.0);
        let left = if at == 1 { growth } else { half + growth };
        let right = if at == last { growth } else { half + growth };
        (from + left, to - right)
    };
    (1..=last).map(stretch).filter(|(from, to)| from < to).collect()
}

/// Boards that stand: from where the field's columns begin, each as wide as it shows; one that does not reach is joined over
/// the same height in every second board.
fn upright(cutting: &Cutting<'_>, bounds: Bounds) -> Vec<Piece> {
    let wide = full_width(cutting);
    let Some(columns) = cutting.field.columns else { return Vec::new() };
    let mut pieces = Vec::new();
    for (board, (_, left)) in columns.from(bounds.left, bounds.right).take(MOST as usize).enumerate() {
        let board = board as i64;
        let seen = cutting.field.region.clip_x(left, left + columns.shows);
        let whole = cutting.field.region.clip_x(left, left + wide);
        for run in seen.into_components() {
            let bounds = run.bounds();
            if bounds.height() < SPLINTER || bounds.width() < SPLINTER {
                continue;
            }
            let first = if board % 2 == 0 { cutting.longest } else { Length(cutting.longest.0 / 2) };
            let mut marks = Vec::new();
            let mut at = bounds.bottom + first;
            while at < bounds.top && cutting.longest.0 > 0 {
                marks.push(at);
                at += cutting.longest;
            }
            let joints = if bounds.height() <= cutting.longest { Vec::new() } else { marks };
            let run = Region::from(run);
            for part in parted(cutting, bounds, &joints, false) {
                let piece = run.clip_y(part.0, part.1);
                let hidden = touching(whole.clip_y(part.0, part.1), &piece);
                pieces.extend(made(cutting, PieceKind::UprightBoard, board + 1, piece, hidden, wide));
            }
        }
    }
    pieces
}

/// Sheets in the columns and rows of the field, with a joint all round each.
fn panels(cutting: &Cutting<'_>, bounds: Bounds) -> Vec<Piece> {
    let Some((columns, rows)) = cutting.field.columns.zip(cutting.field.rows) else { return Vec::new() };
    let mut pieces = Vec::new();
    for (row, (_, foot)) in rows.from(bounds.bottom, bounds.top).take(MOST as usize).enumerate() {
        let band = cutting.field.region.clip_y(foot, foot + rows.shows);
        for (_, left) in columns.from(bounds.left, bounds.right).take(MOST as usize) {
            for piece in band.clip_x(left, left + columns.shows).into_components() {
                let region = Region::from(piece);
                let course = row as i64 + 1;
                pieces.extend(made(cutting, PieceKind::Panel, course, region.clone(), region, rows.shows));
            }
        }
    }
    pieces
}

/// A piece for each polygon of what shows.
fn made(cutting: &Cutting<'_>, kind: PieceKind, course: i64, seen: Region, shape: Region, full: Length) -> Vec<Piece> {
    let upright = kind == PieceKind::UprightBoard;
    let whole = |polygon: &Polygon| {
        let region = Region::from(polygon.clone());
        shape.polygons().iter().find(|shape| Region::from((*shape).clone()).overlaps(&region)).cloned()
    };
    let piece = |seen: Polygon| {
        let shape = whole(&seen).unwrap_or_else(|| seen.clone());
        let bounds = shape.bounds();
        let (length, width) =
            if upright { (bounds.height(), bounds.width()) } else { (bounds.width(), bounds.height()) };
        if length < SPLINTER || width < SPLINTER {
            return None;
        }
        let (ends, notched) = ends::of(&shape, upright);
        let hand = ends::hand(ends);
        Some(Piece {
            mark: String::new(),
            kind,
            face: cutting.face,
            area: cutting.area,
            product: Some(cutting.id),
            course,
            seen,
            shape,
            length,
            width,
            ripped: width < full,
            notched,
            ends,
            hand,
            cutouts: Vec::new(),
            too_small: false,
        })
    };
    seen.into_components().into_iter().filter_map(piece).collect()
}
