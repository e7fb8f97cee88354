//! Where findings lie on the wall: a chalk stroke along a line, a ring about a small box, the corners of a large one.

use super::canvas::Canvas;
use super::faults::Fault;
use crate::checks::Stretch;
use crate::emit::drawing::{Candidate, Dash, Item, Point, Rect, Stroke, Text, at, item, notes};
use crate::geometry::Segment;
use crate::units::Length;

/// A box with a side longer than this is not ringed but marked at its corners, mm.
const RINGED: f64 = 42.0;
/// Length of the marks at the corners of a large box, mm.
const CORNER: f64 = 9.0;

/// What is chalked, on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Place {
    Line([Point; 2]),
    Box(Rect),
}

impl Place {
    /// A stretch between two places that lie on one line of the wall is a line; else its ends are corners of a box.
    fn of(canvas: &Canvas<'_>, stretch: &Stretch) -> Place {
        let segment = within(canvas, Segment::new(stretch.from, stretch.to));
        let [from, to] = canvas.segment(segment);
        let slants = (from.x - to.x).abs() > 1.0 && (from.y - to.y).abs() > 1.0;
        if slants && !lies_on_a_line(canvas, segment) {
            return Place::Box(Rect::around([from, to]));
        }
        Place::Line(canvas.seen(from, to).unwrap_or([from, to]))
    }

    /// Whether two would be chalked one over the other.
    fn is_near(&self, other: &Place) -> bool {
        match (self, other) {
            (Place::Line([a, b]), Place::Line([c, d])) => {
                (a.distance(*c) < 1.5 && b.distance(*d) < 1.5) || (a.distance(*d) < 1.5 && b.distance(*c) < 1.5)
            }
            (Place::Box(one), Place::Box(other)) => one == other,
            _ => false,
        }
    }

    /// The lines that are drawn.
    fn lines(&self) -> Vec<Vec<Point>> {
        match self {
            Place::Line([from, to]) if from.distance(*to) < 4.0 => {
                let middle = from.towards(*to, 0.5);
                vec![vec![middle.shift(-2.5, 1.5), middle.shift(2.5, -1.5)]]
            }
            Place::Line(ends) => vec![ends.to_vec()],
            Place::Box(area) if area.width.max(area.height) <= RINGED => {
                let [a, b, c, d] = area.grow(1.5).corners();
                vec![vec![a, b, c, d, a]]
            }
            Place::Box(area) => corners(area.grow(-2.0)).to_vec(),
        }
    }
}

/// A level or plumb stretch without what of it lies off the wall.
fn within(canvas: &Canvas<'_>, segment: Segment) -> Segment {
    let outline = &canvas.plan.outline;
    let cut = |intervals: Vec<(Length, Length)>, low: Length, high: Length| {
        let met = intervals.into_iter().filter(|(from, to)| *from < high && *to > low);
        met.map(|(from, to)| (from.max(low), to.min(high))).reduce(|all, next| (all.0, next.1))
    };
    let (from, to) = (segment.from, segment.to);
    let point = crate::geometry::Point::new;
    if segment.is_vertical() {
        let found = cut(outline.y_intervals_at(from.x), from.y.min(to.y), from.y.max(to.y));
        return found.map_or(segment, |(low, high)| Segment::new(point(from.x, low), point(from.x, high)));
    }
    if segment.is_horizontal() {
        let found = cut(outline.x_intervals_at(from.y), from.x.min(to.x), from.x.max(to.x));
        return found.map_or(segment, |(low, high)| Segment::new(point(low, from.y), point(high, from.y)));
    }
    segment
}

/// Whether both ends lie on one edge of the wall, of an area or of a roof.
fn lies_on_a_line(canvas: &Canvas<'_>, segment: Segment) -> bool {
    let near = Length::mm(5);
    let edges = canvas.face.edges.iter().map(|edge| edge.segment);
    let roofs = canvas.face.roofs.iter().map(|roof| roof.line);
    let runs = canvas.wall.plan.runs_of(canvas.id).map(|(_, run)| run.segment);
    edges.chain(roofs).chain(runs).any(|line| line.is_oblique() && line.overlap_near(segment, near).is_some())
}

/// An angle at each corner of a box.
fn corners(area: Rect) -> [Vec<Point>; 4] {
    let (across, down) = (CORNER.min(area.width / 3.0), CORNER.min(area.height / 3.0));
    let angle = |corner: Point, right: f64, below: f64| {
        vec![corner.shift(0.0, down * below), corner, corner.shift(across * right, 0.0)]
    };
    let [a, b, c, d] = area.corners();
    [angle(a, 1.0, 1.0), angle(b, -1.0, 1.0), angle(c, -1.0, -1.0), angle(d, 1.0, -1.0)]
}

/// Keeps words off the places where strokes will lie.
pub(super) fn reserve(canvas: &mut Canvas<'_>, faults: &[Fault<'_>]) {
    for stretch in faults.iter().filter_map(|fault| fault.settled.finding.stretch.as_ref()) {
        for line in Place::of(canvas, stretch).lines() {
            canvas.labels.keep_line_clear(&line, 2.6);
        }
    }
}

/// A stroke for every place where something was found; what was found in one place shares it.
pub(super) fn draw(canvas: &mut Canvas<'_>, faults: &[Fault<'_>]) -> Vec<Item> {
    let mut strokes: Vec<(Place, Vec<&Fault<'_>>)> = Vec::new();
    for fault in faults {
        let Some(stretch) = &fault.settled.finding.stretch else { continue };
        let place = Place::of(canvas, stretch);
        let shares = |(known, with): &&mut (Place, Vec<&Fault<'_>>)| {
            known.is_near(&place) && with.iter().all(|one| one.is_accepted() == fault.is_accepted())
        };
        match strokes.iter_mut().find(shares) {
            Some((_, list)) => list.push(fault),
            None => strokes.push((place, vec![fault])),
        }
    }
    let items = strokes.iter().map(|(place, list)| stroke(canvas, *place, list)).collect();
    vec![Item::group("findings", items)]
}

fn stroke(canvas: &mut Canvas<'_>, place: Place, faults: &[&Fault<'_>]) -> Item {
    let letters: Vec<&str> = faults.iter().map(|fault| fault.letter.as_str()).collect();
    let letters = letters.join(" ");
    let title = faults.iter().map(|fault| fault.settled.finding.message.as_str()).collect::<Vec<_>>().join("; ");
    let lines = place.lines();
    let is_accepted = faults.iter().all(|fault| fault.is_accepted());
    if !is_accepted && let [line] = lines.as_slice() {
        return notes::chalk(&letters, &format!("finding {letters}"), &title, line, &mut canvas.labels);
    }
    // An accepted finding is no fault any more: broken lines, its letter in brackets.
    let look = if is_accepted { Stroke::MEDIUM.dash(Dash::Dashed) } else { Stroke::HEAVY };
    let word = if is_accepted { format!("({letters})") } else { letters.clone() };
    let mut items: Vec<Item> = lines.iter().flat_map(|line| thick(line, look, is_accepted)).collect();
    items.extend(letter(canvas, &word, &lines));
    let (class, id) = if is_accepted { ("accepted", "accepted") } else { ("finding", "finding") };
    Item::named(class, &format!("{id} {letters}"), &title, items)
}

/// One broken line for what was accepted, three side by side for a fault.
fn thick(line: &[Point], look: Stroke, is_accepted: bool) -> Vec<Item> {
    let offs: &[f64] = if is_accepted { &[0.0] } else { &[-0.6, 0.0, 0.6] };
    offs.iter().map(|off| Item::polyline(line.iter().map(|point| point.shift(*off, *off)).collect(), look)).collect()
}

/// The letter at the first corner or about the middle of a line.
fn letter(canvas: &mut Canvas<'_>, word: &str, lines: &[Vec<Point>]) -> Vec<Item> {
    let mut ways = Vec::new();
    for line in lines {
        let (first, last) = (line.first().copied().unwrap_or_default(), line.last().copied().unwrap_or_default());
        let middle =
            if line.len() == 2 { first.towards(last, 0.5) } else { Rect::around(line.iter().copied()).centre() };
        for (right, down) in [(0.0, 0.0), (0.0, -6.0), (0.0, 6.0), (6.0, 0.0), (-6.0, 0.0), (0.0, -10.0), (0.0, 10.0)] {
            let text = Text::new(at(middle.x + right, middle.y + down), word).size(item::LARGE).bold().halo();
            ways.push(Candidate::text(text.anchor(crate::emit::drawing::Anchor::Middle).centred()));
        }
    }
    canvas.labels.place(ways).texts.into_iter().map(Item::Text).collect()
}
