//! The outline of a face: one walk round it, or the shorthand for a rectangle.

use super::{Builder, problems};
use crate::eval::{Bound, Value};
use crate::geometry::{OutlineFault, Point, REACH, Ring, Segment, check_simple};
use crate::model::{Corner, DetailId, Edge, Stretch, Where};
use crate::source::Span;
use crate::units::{Length, display};

/// No wall is longer or higher than this; a unit is wrong.
const LARGEST: Length = Length(2_000 * 1_000_000_000);

/// A leg of the walk: its row, its name, where it goes.
struct Leg<'b> {
    bound: &'b Bound,
    kind: &'static str,
    to: Point,
}

impl Builder<'_> {
    /// Edges and ring of a face; neither if there is no outline that makes sense.
    pub(super) fn outline(&mut self, face: &Bound, name: &str) -> (Vec<Edge>, Option<Ring>) {
        let shorthand = ["base", "top", "left", "right"].iter().find_map(|word| face.clause(word));
        let walk = match (face.clause("outline"), shorthand) {
            (Some(outline), None) => self.walk(outline),
            (Some(outline), Some(extra)) => {
                self.problem(problems::both_outlines(extra.span, outline.span));
                self.walk(outline)
            }
            (None, Some(_)) => self.rectangle(face),
            (None, None) => {
                if !face.broken {
                    self.problem(problems::no_outline(face.span, name));
                }
                None
            }
        };
        let Some((start, legs)) = walk else { return (Vec::new(), None) };
        let whole = face.clause("outline").or(shorthand).unwrap_or(face).span;
        self.close(start, legs, whole)
    }

    fn walk<'b>(&mut self, outline: &'b Bound) -> Option<(Point, Vec<Leg<'b>>)> {
        let start = point(outline.point("start")?);
        let mut legs = Vec::new();
        let mut here = start;
        for clause in &outline.clauses {
            let to = match clause.get("to") {
                Some(Value::Point(x, y)) => Point { x: *x, y: *y },
                Some(Value::Path(_)) => start,
                _ => return None,
            };
            if !self.sensible(clause.span_of("to"), here, to) {
                return None;
            }
            legs.push(Leg { bound: clause, kind: clause.row.word, to });
            here = to;
        }
        if here != start {
            self.problem(problems::open_outline(legs.last().map_or(outline.span, |leg| leg.bound.span)));
            return None;
        }
        Some((start, legs))
    }

    fn sensible(&mut self, at: Span, from: Point, to: Point) -> bool {
        let far = (to.x - from.x).abs().max((to.y - from.y).abs());
        if far > LARGEST || to.x.abs() > REACH || to.y.abs() > REACH {
            self.problem(problems::absurd(
                at,
                "an edge",
                &display::length(far, self.model.project.units),
                &display::length(LARGEST, self.model.project.units),
            ));
            return false;
        }
        true
    }

    fn rectangle<'b>(&mut self, face: &'b Bound) -> Option<(Point, Vec<Leg<'b>>)> {
        let (base, top) = (face.clause("base"), face.clause("top"));
        if !face.broken && (base.is_none() || top.is_none()) {
            self.problem(problems::half_rectangle(face.span, if base.is_none() { "base" } else { "top" }));
        }
        let (base, top) = (base?, top?);
        let (bottom, left, right) = (base.length("height")?, base.length("from")?, base.length("to")?);
        let height = top.length("height")?;
        if height <= bottom || right <= left {
            self.problem(problems::flat_rectangle(base.span.to(top.span), height <= bottom));
            return None;
        }
        let corner = |x, y| Point { x, y };
        let sides = [
            ("base", corner(right, bottom)),
            ("right", corner(right, height)),
            ("top", corner(left, height)),
            ("left", corner(left, bottom)),
        ];
        let start = corner(left, bottom);
        if !self.sensible(base.span, start, corner(right, height)) {
            return None;
        }
        // A side that is not written has no clause of its own; the base line stands for it.
        let legs =
            sides.into_iter().map(|(kind, to)| Leg { bound: face.clause(kind).unwrap_or(base), kind, to }).collect();
        Some((start, legs))
    }

    fn close(&mut self, start: Point, legs: Vec<Leg<'_>>, whole: Span) -> (Vec<Edge>, Option<Ring>) {
        let mut points = vec![start];
        points.extend(legs.iter().map(|leg| leg.to));
        points.pop();
        let ring = match check_simple(&points) {
            Ok(outline) if outline.flipped => {
                self.problem(problems::clockwise(legs.first().map_or(whole, |leg| leg.bound.span)));
                None
            }
            Ok(outline) => Some(outline.ring),
            Err(fault) => {
                self.outline_fault(&fault, &legs, whole);
                None
            }
        };
        let mut edges = Vec::new();
        let mut from = start;
        for leg in &legs {
            edges.push(self.edge(leg, Segment { from, to: leg.to }, &legs));
            from = leg.to;
        }
        (edges, ring)
    }

    fn outline_fault(&mut self, fault: &OutlineFault, legs: &[Leg<'_>], whole: Span) {
        let at = |edge: usize| legs.get(edge).map_or(whole, |leg| leg.bound.span);
        let units = self.model.project.units;
        let place =
            |point: &Point| format!("({}, {})", display::length(point.x, units), display::length(point.y, units));
        let problem = match fault {
            OutlineFault::TooFewPoints { .. } => {
                problems::outline_fault(whole, "an outline has at least three edges".into())
            }
            OutlineFault::OutOfReach { .. } => {
                problems::outline_fault(whole, "this outline reaches too far to be a wall".into())
            }
            OutlineFault::ZeroLengthEdge { edge } => {
                problems::outline_fault(at(*edge), "this edge has no length".into())
            }
            OutlineFault::ZeroArea => problems::outline_fault(whole, "this outline encloses no area".into()),
            OutlineFault::Spike { edge, .. } => {
                problems::outline_fault(at(*edge), "this edge runs back along the one before it".into())
            }
            OutlineFault::Retrace { first, second, .. } => {
                problems::outline_fault(at(*second), "this edge runs along another one".into())
                    .also(at(*first), "this one")
            }
            OutlineFault::SelfCrossing { first, second, at: crossing } => {
                problems::outline_fault(at(*second), format!("this edge crosses another one at {}", place(crossing)))
                    .also(at(*first), "this one")
            }
            OutlineFault::SelfTouch { first, second, at: touch } => {
                problems::outline_fault(at(*second), format!("this edge touches another one at {}", place(touch)))
                    .also(at(*first), "this one")
            }
        };
        self.problem(problem);
    }

    fn edge(&mut self, leg: &Leg<'_>, segment: Segment, legs: &[Leg<'_>]) -> Edge {
        let own = leg.bound.row.word == leg.kind;
        let name = leg.bound.name().filter(|_| own).map(str::to_owned).unwrap_or_else(|| numbered(leg, legs));
        let details = if own { self.stretches(leg.bound) } else { Vec::new() };
        let clause = |word: &str| leg.bound.clause(word).filter(|_| own);
        let meets = clause("meets").and_then(|clause| {
            Some(Corner { face: clause.path("face")?, id: None, kind: clause.word("corner"), origin: clause.span })
        });
        Edge {
            name,
            kind: leg.kind,
            segment,
            details,
            meets,
            keep: clause("keep").and_then(|clause| clause.length("clearance")),
            joins: clause("joins").and_then(|clause| clause.word("what")),
            point: clause("point").and_then(|clause| clause.instance("of")).and_then(|id| self.detail(id)),
            origin: leg.bound.span,
        }
    }

    /// The details along an edge or between areas.
    pub(super) fn stretches(&mut self, bound: &Bound) -> Vec<Stretch> {
        bound
            .all("detail")
            .filter_map(|clause| {
                let detail: DetailId = self.detail(clause.instance("of")?)?;
                Some(Stretch {
                    detail,
                    from: place_along(clause, "from"),
                    to: place_along(clause, "to"),
                    origin: clause.span,
                })
            })
            .collect()
    }
}

/// `rake`, or `rake.1` and `rake.2` where several have no names of their own.
fn numbered(leg: &Leg<'_>, legs: &[Leg<'_>]) -> String {
    let same: Vec<_> = legs.iter().filter(|other| other.kind == leg.kind && other.bound.name().is_none()).collect();
    if same.len() < 2 {
        return leg.kind.to_owned();
    }
    let number = same.iter().position(|other| std::ptr::eq(other.bound, leg.bound)).map_or(1, |at| at + 1);
    format!("{}.{number}", leg.kind)
}

/// `left`, `right`, `centre` or a length in a slot.
pub(super) fn place_along(bound: &Bound, label: &str) -> Option<Where> {
    match bound.get(label)? {
        Value::Path(words) => Some(match &*words.first()?.text {
            "right" | "end" | "top" => Where::Right,
            "centre" | "center" => Where::Centre,
            _ => Where::Left,
        }),
        Value::Number(number) => number.length().map(Where::At),
        _ => None,
    }
}

pub(super) fn point((x, y): (Length, Length)) -> Point {
    Point { x, y }
}
