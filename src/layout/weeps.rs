//! Where the holes of a trim lie, and how far they stay from the furring strips beside them.

use crate::geometry::{Point, Segment};
use crate::model::{FaceId, HoleRow, Model, Trim, Where};
use crate::plan::{Plan, Strip};
use crate::units::Length;

/// Centres of the holes of a row.
pub enum Marks {
    /// From left to right.
    At(Vec<Point>),
    /// The fact that is missing.
    Missing(String),
}

/// More holes than this on one trim are a slip of a unit, and are not listed.
const MOST: usize = 10_000;

/// Centres of one row of holes on its trim, left to right. A row `between furring` has one in the middle of each space
/// between strips; a row with its own spacing counts from the left end of the trim.
pub fn marks(model: &Model, plan: &Plan, face: FaceId, trim: &Trim, row: &HoleRow) -> Marks {
    let Some(line) = line(plan, face, trim) else {
        return Marks::Missing(format!("the edge `{}` along which `{}` runs", trim.along, trim.name));
    };
    if row.between.is_some() {
        return Marks::At(middles(&strips_above(plan, face, trim), line));
    }
    if row.on == Some("furring") {
        let strips = strips_above(plan, face, trim);
        return Marks::At(strips.iter().filter_map(|strip| on_line(line, strip.centre)).collect());
    }
    let Some(spacing) = row.spacing.filter(|&spacing| spacing > Length::ZERO) else {
        return Marks::Missing("how its weep holes are spaced: `between furring`, or `every`".to_owned());
    };
    let _ = model;
    let first = row.first.unwrap_or(spacing);
    let marks = std::iter::successors(Some(line.from.x + first), |&x| Some(x + spacing));
    let end = line.to.x - row.end_distance.unwrap_or(Length::ZERO);
    Marks::At(marks.take_while(|&x| x <= end).take(MOST).filter_map(|x| on_line(line, x)).collect())
}

/// Vertical strips that stand over a trim, left to right.
pub fn strips_above<'p>(plan: &'p Plan, face: FaceId, trim: &Trim) -> Vec<&'p Strip> {
    let (Some(line), Some(face)) = (line(plan, face, trim), plan.face(face)) else { return Vec::new() };
    let all = face.areas.iter().flat_map(|area| &area.strips).filter(|strip| !strip.horizontal);
    let mut over: Vec<&Strip> = all.filter(|strip| stands_over(strip, line)).collect();
    over.sort_by_key(|strip| (strip.centre, strip.axis.from.y));
    over.dedup_by_key(|strip| strip.centre);
    over
}

/// How far the edge of a hole stays from the nearest strip; negative where it lies on one. `None` without strips.
pub fn clearance(strips: &[&Strip], mark: Point, row: &HoleRow) -> Option<Length> {
    let half = row.slot.unwrap_or(row.height).scale(1, 2);
    strips.iter().map(|strip| (strip.centre - mark.x).abs() - half_width(strip) - half).min()
}

/// The least shift to the right that clears all strips: tried in steps of a millimetre up to the spacing.
pub fn shift(strips: &[&Strip], marks: &[Point], row: &HoleRow, clear: Length) -> Option<Length> {
    let spacing = row.spacing?;
    let steps = (spacing.0 / Length::MM.0).clamp(0, 2000);
    (1..steps).map(Length::mm).find(|&by| {
        let moved = marks.iter().map(|mark| Point::new(mark.x + by, mark.y));
        moved.into_iter().all(|mark| clearance(strips, mark, row).is_none_or(|left| left >= clear))
    })
}

/// The line of a trim, left to right: the stretches of its edge, cut to its own `from` and `to`.
fn line(plan: &Plan, face: FaceId, trim: &Trim) -> Option<Segment> {
    let named = |name: &str| name.split_once('.').is_some_and(|(_, place)| place == trim.along);
    let runs = plan.runs_of(face).filter(|(_, run)| named(&run.name)).map(|(_, run)| run.segment);
    let ends: Vec<Point> = runs.flat_map(|segment| [segment.from, segment.to]).collect();
    let (left, right) = (ends.iter().copied().min()?, ends.iter().copied().max()?);
    let line = Segment::new(left, right);
    let at = |place: Option<Where>, usual: Point| match place {
        Some(Where::At(x)) => on_line(line, x).unwrap_or(usual),
        Some(Where::Left) => left,
        Some(Where::Right) => right,
        Some(Where::Centre) => line.midpoint(),
        None => usual,
    };
    Some(Segment::new(at(trim.from, left), at(trim.to, right)))
}

fn on_line(line: Segment, x: Length) -> Option<Point> {
    line.y_at(x).map(|y| Point::new(x, y))
}

/// Middles of the spaces between strips, and between the outer strips and the ends of the line.
fn middles(strips: &[&Strip], line: Segment) -> Vec<Point> {
    let mut edges = vec![line.from.x];
    for strip in strips {
        let half = half_width(strip);
        edges.extend([strip.centre - half, strip.centre + half]);
    }
    edges.push(line.to.x);
    let spaces = edges.chunks_exact(2).filter(|pair| pair[1] > pair[0]);
    spaces.filter_map(|pair| on_line(line, pair[0] + (pair[1] - pair[0]).scale(1, 2))).collect()
}

fn half_width(strip: &Strip) -> Length {
    let bounds = strip.shape.bounds();
    (bounds.right - bounds.left).scale(1, 2)
}

/// Within 100 mm above the line: furring is held up above the base by less (common practice, 10 mm).
fn stands_over(strip: &Strip, line: Segment) -> bool {
    let bounds = strip.shape.bounds();
    let Some(y) = line.y_at(strip.centre) else { return false };
    bounds.bottom <= y + Length::mm(100) && bounds.top > y
}
