//! Cutting a field into courses, courses into runs, and runs into boards.

use super::{Cutting, Piece, PieceKind, ends, joints, touching};
use crate::geometry::{Bounds, Polygon, Region};
use crate::units::Length;

/// What is left after cutting and is no piece: thinner than a saw blade.
const SPLINTER: Length = Length::mm(3);
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
fn board_width(cutting: &Cutting<'_>) -> Length {
    let product = cutting.product;
    let lap = product.lap.as_ref().map_or(Length::ZERO, |lap| lap.value);
    product.width.or(product.size.get(1).copied()).unwrap_or(cutting.exposure + lap)
}

fn level(cutting: &Cutting<'_>, bounds: Bounds) -> Vec<Piece> {
    let exposure = cutting.exposure;
    if exposure.0 <= 0 {
        return Vec::new();
    }
    let width = board_width(cutting).max(exposure);
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
            let joints = joints::choose(&joints::Course {
                left: bounds.left,
                right: bounds.right,
                height: bounds.bottom + bounds.height() / 2,
                longest: cutting.longest,
                supports: &cutting.supports,
                below: &below,
                stops: &cutting.field.stops,
                band,
                turn: course,
            });
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

/// Boards that stand: from the left edge of the field, each as wide as it shows; one that does not reach is joined over
/// the same height in every second board.
fn upright(cutting: &Cutting<'_>, bounds: Bounds) -> Vec<Piece> {
    let wide = board_width(cutting);
    let shows = cutting.layer.exposure.map_or(wide, |(_, most)| most).min(wide);
    if shows.0 <= 0 {
        return Vec::new();
    }
    let mut pieces = Vec::new();
    let count = (bounds.width().0 + shows.0 - 1) / shows.0;
    for board in 0..count.min(MOST) {
        let left = bounds.left + Length(shows.0 * board);
        let seen = cutting.field.region.clip_x(left, left + shows);
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

/// Sheets from the lower left, rows from the foot, with a joint all round each.
fn panels(cutting: &Cutting<'_>, bounds: Bounds) -> Vec<Piece> {
    let &[length, width] = cutting.product.sheet.as_slice() else { return Vec::new() };
    let (wide, high) = if cutting.layer.runs_vertical {
        (width.min(length), width.max(length))
    } else {
        (width.max(length), width.min(length))
    };
    let joint = cutting.field.joint;
    if wide.0 <= 0 || high.0 <= 0 {
        return Vec::new();
    }
    let mut pieces = Vec::new();
    let (columns, rows) = ((bounds.width().0 / (wide + joint).0) + 1, (bounds.height().0 / (high + joint).0) + 1);
    for row in 0..rows.min(MOST) {
        let foot = bounds.bottom + Length((high + joint).0 * row);
        let band = cutting.field.region.clip_y(foot, foot + high);
        for column in 0..columns.min(MOST) {
            let left = bounds.left + Length((wide + joint).0 * column);
            for piece in band.clip_x(left, left + wide).into_components() {
                let region = Region::from(piece);
                pieces.extend(made(cutting, PieceKind::Panel, row + 1, region.clone(), region, high));
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
