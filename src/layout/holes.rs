//! Holes of trims: where each row of fixings, weeps or vents lands. Marks are counted from one end and worked out one by
//! one from exact lengths, never by adding rounded steps.

use super::marks::centres;
use crate::geometry::{Point, Segment};
use crate::model::{Face, FaceId, Frame, HoleRow, Model, Trim, Where};
use crate::plan::{Plan, Run};
use crate::units::Length;

/// How near to a trim the end of a strip must come to count as standing on it: more than any usual hold-up of furring.
const REACHES: Length = Length::mm(150);

/// Clear distance from the edge of a hole to the strip beside it, on each side: 5 mm, common practice.
pub const CLEAR_OF_STRIP: Length = Length::mm(5);

/// One hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hole {
    /// From the left (or lower) end of the trim, measured along it.
    pub along: Length,
    /// On the face.
    pub at: Point,
}

/// Something that stands across a trim, such as a strip of furring or a stud: its centre, and half its width.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Support {
    /// x for what stands, y for what lies.
    pub centre: Length,
    /// Half its width.
    pub half: Length,
}

/// Both ends alike: the first and the last mark `end` from the ends, as few equal spaces between as keep them at or under
/// `most`. `x_k = e + k·(L − 2e)/n`, `n = ⌈(L − 2e)/s⌉`. One mark in the middle if the piece is too short for two.
pub fn both_ends(length: Length, end: Length, most: Length) -> Vec<Length> {
    let clear = length - end * 2;
    if clear <= Length::ZERO {
        return vec![length / 2];
    }
    let spaces = clear.0.saturating_add(most.0.max(1) - 1) / most.0.max(1);
    (0..=spaces.min(MOST_MARKS)).map(|k| end + clear.scale(k, spaces)).collect()
}

/// True spacing from a first mark, the last space left short: `x_k = o + k·s` while it stays `end` clear of the far end.
pub fn from_first(length: Length, first: Length, spacing: Length, end: Length) -> Vec<Length> {
    if spacing <= Length::ZERO {
        return Vec::new();
    }
    let marks = (0..=MOST_MARKS).map(|k| first + spacing * k);
    marks.take_while(|&mark| mark <= length - end).filter(|&mark| mark >= Length::ZERO).collect()
}

/// On what carries: the centre of each support, counted from the start of the piece, `end` clear of both its ends.
pub fn on_supports(start: Length, length: Length, supports: &[Support], end: Length) -> Vec<Length> {
    let marks = supports.iter().map(|support| support.centre - start);
    marks.filter(|&mark| mark >= end && mark <= length - end).collect()
}

/// Between what carries: the middle of each clear space, counted from the start of the piece. A space at an end of the piece
/// counts to that end. Spaces too narrow for `hole` with [`CLEAR_OF_STRIP`] on both sides get none.
pub fn between_supports(start: Length, length: Length, supports: &[Support], hole: Length, end: Length) -> Vec<Length> {
    let stop = start + length;
    let mut edges: Vec<(Length, Length)> = supports.iter().map(|s| (s.centre - s.half, s.centre + s.half)).collect();
    edges.sort_unstable();
    if edges.first().is_none_or(|&(left, _)| left > start) {
        edges.insert(0, (start, start));
    }
    if edges.last().is_none_or(|&(_, right)| right < stop) {
        edges.push((stop, stop));
    }
    let spaces = edges.iter().zip(edges.iter().skip(1)).map(|(&(_, from), &(to, _))| (from, to));
    spaces
        .filter(|&(from, to)| to - from >= hole + CLEAR_OF_STRIP * 2)
        .map(|(from, to)| from + (to - from) / 2 - start)
        .filter(|&mark| mark >= end.max(Length::ZERO) && mark <= length - end.max(Length::ZERO))
        .collect()
}

/// More marks than any trim on a house has; a bound against absurd spacings.
const MOST_MARKS: i64 = 100_000;

/// Studs of a frame between the two ends of a face, in order; none if nothing says where they are.
pub fn studs(frame: &Frame, left: Length, right: Length) -> Vec<Support> {
    let half = frame.width / 2;
    let found = centres(left, right, frame.width, frame.spacing, frame.first, &frame.marks).unwrap_or_default();
    found.into_iter().map(|centre| Support { centre, half }).collect()
}

/// The line a trim lies on, left (or lower) end first: its edge, or the runs it names, between its `from` and `to`.
/// `None` if nothing on the face has that name.
pub fn trim_line(face: &Face, runs: &[&Run], trim: &Trim) -> Option<Segment> {
    let whole = run_line(face, runs, &trim.along)?;
    let from = trim.from.map_or(whole.from, |place| point_on(whole, place));
    let to = trim.to.map_or(whole.to, |place| point_on(whole, place));
    let line = Segment::new(from, to);
    Some(if along(whole, to) < along(whole, from) { line.reversed() } else { line })
}

/// The line of an edge or of runs of this name, left (or lower) end first.
fn run_line(face: &Face, runs: &[&Run], name: &str) -> Option<Segment> {
    let edge = face.edges.iter().find(|edge| edge.name == name).map(|edge| edge.segment);
    let ends = || runs.iter().filter(|run| place_name(run) == name).flat_map(|run| [run.segment.from, run.segment.to]);
    edge.map(left_first).or_else(|| Some(Segment::new(ends().min()?, ends().max()?)))
}

/// The name of a run without that of its face: `base`, `kitchen.head`.
fn place_name(run: &Run) -> &str {
    run.name.split_once('.').map_or(run.name.as_str(), |(_, place)| place)
}

/// The same stretch with its left end first, the lower one if it stands.
pub(super) fn left_first(segment: Segment) -> Segment {
    if segment.to < segment.from { segment.reversed() } else { segment }
}

/// How far along a line a point is, by x where it lies and by y where it stands.
pub(super) fn along(line: Segment, point: Point) -> Length {
    if line.is_vertical() { point.y } else { point.x }
}

/// A place named along a line: a length is x on the face for what lies, y for what stands.
fn point_on(line: Segment, place: Where) -> Point {
    match place {
        Where::Left => line.from,
        Where::Right => line.to,
        Where::Centre => line.midpoint(),
        Where::At(mark) if line.is_vertical() => {
            Point::new(line.from.x, mark.clamp(line.from.y.min(line.to.y), line.from.y.max(line.to.y)))
        }
        Where::At(mark) => {
            let x = mark.clamp(line.from.x.min(line.to.x), line.from.x.max(line.to.x));
            Point::new(x, line.y_at(x).unwrap_or(line.from.y))
        }
    }
}

/// All holes of one row of a trim, left (or lower) one first. The error is the missing fact.
pub fn holes(model: &Model, plan: &Plan, face: FaceId, trim: &Trim, row: &HoleRow) -> Result<Vec<Hole>, String> {
    let Some(stands_on) = model.face(face) else { return Ok(Vec::new()) };
    let runs: Vec<&Run> = plan.runs_of(face).map(|(_, run)| run).collect();
    let line = trim_line(stands_on, &runs, trim).ok_or_else(|| format!("where `{}` runs", trim.along))?;
    let supports = |what: &str| match what {
        "studs" => studs_along(model, plan, face, line),
        _ => Ok(strips_along(plan, face, line)),
    };
    let (from, to) = (along(line, line.from), along(line, line.to));
    let end = row.end_distance.unwrap_or(Length::ZERO);
    let size = row.slot.unwrap_or(row.height);
    if let Some(what) = row.on {
        let marks = on_supports(from, to - from, &supports(what)?, end);
        return Ok(marks.into_iter().map(|mark| hole_at(line, from + mark)).collect());
    }
    if let Some(what) = row.between {
        let marks = between_supports(from, to - from, &supports(what)?, size, end);
        return Ok(marks.into_iter().map(|mark| hole_at(line, from + mark)).collect());
    }
    let fact = |what: &str| format!("{what} of the {} holes of `{}`", row.purpose, trim.name);
    let spacing = row.spacing.ok_or_else(|| fact("spacing"))?;
    let marks = match row.first {
        Some(first) => from_first(line.length(), first, spacing, end),
        None => both_ends(line.length(), row.end_distance.ok_or_else(|| fact("end distance"))?, spacing),
    };
    Ok(marks.into_iter().map(|mark| Hole { along: mark, at: line.along(mark) }).collect())
}

/// The hole of a line at x (or y), measured along it: on a slope the marks lie `1/cos θ` farther apart.
fn hole_at(line: Segment, mark: Length) -> Hole {
    let at = point_on(line, Where::At(mark));
    Hole { along: Segment::new(line.from, at).length(), at }
}

/// The strips of furring that stand on or hang to a line, in order.
pub fn strips_along(plan: &Plan, face: FaceId, line: Segment) -> Vec<Support> {
    strips(plan, face, line, |ends| ends.into_iter().any(|off| off.abs() <= REACHES))
}

/// The strips of furring behind a line, in order: those that stand on or hang to it, and those that run on across it.
pub fn strips_behind(plan: &Plan, face: FaceId, line: Segment) -> Vec<Support> {
    strips(plan, face, line, |ends| {
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        low <= REACHES && high >= -REACHES
    })
}

/// The strips across a line of which both ends, by how far they lie beyond it, are as wanted.
fn strips(plan: &Plan, face: FaceId, line: Segment, wanted: impl Fn([Length; 2]) -> bool) -> Vec<Support> {
    let Some(face) = plan.face(face) else { return Vec::new() };
    let stands = line.is_vertical();
    let reaches = |axis: Segment| {
        let off = |end: Point| if stands { end.x - line.from.x } else { end.y - height_on(line, end.x) };
        wanted([axis.from, axis.to].map(off))
    };
    let strips = face.areas.iter().flat_map(|area| &area.strips);
    let mut found: Vec<Support> = strips
        .filter(|strip| strip.horizontal == stands && reaches(strip.axis))
        .map(|strip| {
            let bounds = strip.shape.bounds();
            let width = if stands { bounds.height() } else { bounds.width() };
            Support { centre: strip.centre, half: width / 2 }
        })
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// The height of a lying line at `x`, carried on level beyond its ends.
fn height_on(line: Segment, x: Length) -> Length {
    let (left, right) = (line.from.x.min(line.to.x), line.from.x.max(line.to.x));
    line.y_at(x.clamp(left, right)).unwrap_or(line.from.y)
}

/// The studs behind a line, in order; the error is the missing fact.
pub(super) fn studs_along(model: &Model, plan: &Plan, face: FaceId, line: Segment) -> Result<Vec<Support>, String> {
    let bounds = plan.face(face).and_then(|face| face.outline.bounds());
    let runs = plan.runs_of(face).filter(|(_, run)| run.segment.overlap_near(line, Length(10_000)).is_some());
    let area = runs.into_iter().find_map(|(_, run)| run.area).unwrap_or(0);
    let assembly =
        model.face(face).and_then(|face| face.areas.get(area)).and_then(|area| model.assembly(area.assembly));
    let (Some(bounds), Some(assembly)) = (bounds, assembly) else { return Ok(Vec::new()) };
    let frame = assembly.frame().map(|(_, frame)| frame).ok_or_else(|| format!("the frame of `{}`", assembly.name))?;
    let found = studs(frame, bounds.left, bounds.right);
    if found.is_empty() { Err(format!("where the studs of `{}` are", assembly.name)) } else { Ok(found) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tenths(marks: &[Length]) -> Vec<i64> {
        marks.iter().map(|mark| mark.scale(1, 100_000).0).collect()
    }

    fn furring(count: i64, spacing: Length, width: Length) -> Vec<Support> {
        (0..count).map(|k| Support { centre: spacing * k, half: width / 2 }).collect()
    }

    #[test]
    fn both_ends_alike() {
        // trade arithmetic of on-centre marks, common practice, no source: L = 3048, e = 50, s_max = 400: n = 8, a = 368.5.
        let marks = both_ends(Length::mm(3048), Length::mm(50), Length::mm(400));
        let wanted = [500, 4185, 7870, 11555, 15240, 18925, 22610, 26295, 29980];
        assert_eq!(tenths(&marks), wanted);
        // 120 in, 2 in, 16 in: n = 8, a = 14-1/2 in, last mark at 118 in.
        let marks = both_ends(Length::INCH * 120, Length::INCH * 2, Length::INCH * 16);
        let wanted = [20, 165, 310, 455, 600, 745, 890, 1035, 1180];
        assert_eq!(marks.iter().map(|mark| mark.scale(10, Length::INCH.0).0).collect::<Vec<_>>(), wanted);
        // Exactly divisible: no extra space.
        assert_eq!(both_ends(Length::mm(900), Length::mm(50), Length::mm(400)).len(), 3);
        // Too short for two: one in the middle.
        assert_eq!(both_ends(Length::mm(80), Length::mm(50), Length::mm(400)), [Length::mm(40)]);
    }

    #[test]
    fn rounding_never_adds_up() {
        // 1000/7 nm is no whole number: every mark is rounded by itself, the last one exact.
        let marks = both_ends(Length(1_000), Length::ZERO, Length(150));
        assert_eq!(marks.iter().map(|mark| mark.0).collect::<Vec<_>>(), [0, 143, 286, 429, 571, 714, 857, 1000]);
    }

    #[test]
    fn true_spacing_from_a_first_mark() {
        let marks = from_first(Length::mm(3048), Length::mm(50), Length::mm(400), Length::mm(50));
        assert_eq!(marks.first().copied(), Some(Length::mm(50)));
        assert_eq!(marks.last().copied(), Some(Length::mm(2850)));
        assert!(from_first(Length::mm(100), Length::ZERO, Length::ZERO, Length::ZERO).is_empty());
    }

    #[test]
    fn on_furring_and_between_it() {
        // trade arithmetic of on-centre marks, common practice, no source: the piece starts at 130, furring at 406.4 from 0.
        let spacing = Length(406_400_000);
        let strips = furring(12, spacing, Length::mm(38));
        let marks = on_supports(Length::mm(130), Length::mm(3048), &strips, Length::mm(50));
        assert_eq!(tenths(&marks), [2764, 6828, 10892, 14956, 19020, 23084, 27148]);
        let marks = between_supports(Length::mm(130), Length::mm(3048), &strips, Length::mm(8), Length::ZERO);
        assert_eq!(tenths(&marks)[..4], [732, 4796, 8860, 12924]);
        // Cut so that the ends land near furring: L = 7 × 406.4 + 2 × 50, start 50 before a strip.
        let length = spacing * 7 + Length::mm(100);
        let marks = on_supports(spacing - Length::mm(50), length, &strips, Length::mm(50));
        assert_eq!((marks.len(), marks[0], marks[7]), (8, Length::mm(50), length - Length::mm(50)));
    }

    #[test]
    fn a_weep_in_every_bay_that_has_room_for_it() {
        // Strips at 100 and 115 leave no room between them; the end spaces count to the ends of the piece.
        let strips = [100, 115, 400].map(|x| Support { centre: Length::mm(x), half: Length::mm(5) });
        let marks = between_supports(Length::ZERO, Length::mm(500), &strips, Length::mm(8), Length::ZERO);
        // 0…95, 120…395, 405…500.
        assert_eq!(tenths(&marks), [475, 2575, 4525]);
        assert_eq!(
            between_supports(Length::ZERO, Length::mm(500), &[], Length::mm(8), Length::ZERO),
            [Length::mm(250)]
        );
    }

    #[test]
    fn studs_from_the_end_of_the_face() {
        let frame = Frame {
            depth: Length::mm(140),
            width: Length(38_100_000),
            spacing: Some(Length::INCH * 16),
            first: Some(Length(387_350_000)),
            marks: Vec::new(),
            fill: None,
            wood_share: None,
            kind: None,
        };
        // 8 ft: flush at 0 (centre 3/4 in), near edges at 15-1/4, 31-1/4, … so that centres stand at 16, 32, … 80 in.
        let found = studs(&frame, Length::ZERO, Length::INCH * 96);
        let inches: Vec<f64> = found.iter().map(|stud| stud.centre.as_inches()).collect();
        assert_eq!(inches, [0.75, 16.0, 32.0, 48.0, 64.0, 80.0, 95.25]);
    }

    #[test]
    fn marks_on_a_slope_are_measured_along_it() {
        // trade arithmetic of on-centre marks, common practice, no source: 5 % slope, factor 1.00125.
        let line = Segment::new(Point::mm(0, 0), Point::mm(10_000, -500));
        let hole = hole_at(line, Length::mm(4_000));
        assert_eq!(hole.at, Point::mm(4_000, -200));
        assert!((hole.along.as_mm() - 4_000.0 * 1.001_249_2).abs() < 1e-2);
        // A length is x on the face even where the line starts elsewhere.
        assert_eq!(point_on(line, Where::At(Length::mm(99_999))), line.to);
        assert_eq!(point_on(line, Where::Centre), Point::mm(5_000, -250));
    }
}
