//! Points where runs meet: feet and heads of corners, ridges, ends of steps, ends of roofs and of lines between areas.

use std::collections::BTreeMap;

use super::places::{NEAR, Scene};
use super::runs::kind_of;
use super::{Node, Run, RunId, RunPlace};
use crate::geometry::{Place, Point, orient};
use crate::model::{DetailId, Edge};
use crate::source::Span;

/// All points of a face, in the order of its edges, then of its lines.
pub(super) fn find(scene: &Scene<'_>, runs: &[Run]) -> Vec<Node> {
    let meeting = Meeting::of(runs);
    let mut nodes = Vec::new();
    corners(scene, &meeting, &mut nodes);
    ends_of_areas(scene, runs, &meeting, &mut nodes);
    ends_of_roofs(scene, &meeting, &mut nodes);
    nodes
}

/// Runs by the points at which they end.
struct Meeting {
    ends: BTreeMap<Point, Vec<RunId>>,
}

impl Meeting {
    fn of(runs: &[Run]) -> Self {
        let mut ends: BTreeMap<Point, Vec<RunId>> = BTreeMap::new();
        for (at, run) in runs.iter().enumerate() {
            for end in [run.segment.from, run.segment.to] {
                ends.entry(end).or_default().push(RunId(at as u32));
            }
        }
        Self { ends }
    }

    /// Runs that end within a hair of a point, in order.
    fn at(&self, point: Point) -> Vec<RunId> {
        let (low, high) = (Point::new(point.x - NEAR, point.y - NEAR), Point::new(point.x + NEAR, point.y + NEAR));
        let near = self.ends.range(low..=high).filter(|(end, _)| (end.y - point.y).abs() <= NEAR);
        let mut found: Vec<RunId> = near.flat_map(|(_, runs)| runs).copied().collect();
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// Where one edge of the outline ends and the next begins.
fn corners(scene: &Scene<'_>, meeting: &Meeting, nodes: &mut Vec<Node>) {
    let edges = &scene.face.edges;
    let next = edges.iter().cycle().skip(1);
    for (edge, next) in edges.iter().zip(next) {
        let straight = orient(edge.segment.from, edge.segment.to, next.segment.to).is_eq();
        if straight && edge.kind == next.kind && edge.point.is_none() {
            continue;
        }
        let (kind, place) = sort_of(edge, next);
        push(scene, meeting, nodes, edge.segment.to, kind, place, edge.point, edge.origin);
    }
}

/// What sort of point lies between two edges of the outline, and how a person speaks of it.
fn sort_of(edge: &Edge, next: &Edge) -> (&'static str, String) {
    let is_side = |edge: &Edge| matches!(edge.kind, "left" | "right") || edge.meets.is_some();
    let is_foot = |edge: &Edge| matches!(edge.kind, "base" | "roof_line" | "deck_line" | "underside");
    let is_head = |edge: &Edge| matches!(edge.kind, "top" | "rake" | "parapet");
    let at = edge.segment.to;
    let rises = |side: &Edge| side.segment.lower_end() == at;
    for (line, side) in [(edge, next), (next, edge)] {
        // At the foot of a corner the corner matters more than the roof.
        let roof = line.kind == "roof_line" && line.segment.is_oblique();
        if roof && !(is_side(side) && rises(side)) {
            let (kind, end) = if line.segment.lower_end() == at { ("kick_out", "low") } else { ("saddle", "high") };
            return (kind, format!("{end} end of {}", line.name));
        }
    }
    for (side, other) in [(edge, next), (next, edge)] {
        if is_side(side) && is_foot(other) {
            return ("corner_foot", format!("foot of {}", side_words(side)));
        }
        if is_side(side) && is_head(other) {
            return ("corner_head", format!("head of {}", side_words(side)));
        }
    }
    let between = format!("between {} and {}", edge.name, next.name);
    if edge.kind == "step" || next.kind == "step" {
        return ("step_end", format!("end of the step {between}"));
    }
    if edge.kind == "rake" && next.kind == "rake" && edge.segment.to.y > edge.segment.from.y {
        return ("ridge", format!("ridge {between}"));
    }
    ("bend", format!("bend {between}"))
}

/// "the corner to east", or "the left side" where no other face is named.
fn side_words(side: &Edge) -> String {
    match &side.meets {
        Some(corner) => format!("the corner to {}", corner.face),
        None if kind_of(side) == side.name => format!("the {} side", side.kind),
        None => format!("the {} side {}", side.kind, side.name),
    }
}

/// Where a line between areas reaches the outline.
fn ends_of_areas(scene: &Scene<'_>, runs: &[Run], meeting: &Meeting, nodes: &mut Vec<Node>) {
    let mut seen: Vec<Point> = Vec::new();
    for run in runs.iter().filter(|run| matches!(run.place, RunPlace::Between(_))) {
        let names = if run.segment.is_vertical() { ["lower end", "upper end"] } else { ["left end", "right end"] };
        for (end, name) in [run.segment.from, run.segment.to].into_iter().zip(names) {
            if seen.contains(&end) || !on_outline(scene, end) {
                continue;
            }
            seen.push(end);
            let line = run.name.split_once('.').map_or("", |(_, line)| line);
            push(scene, meeting, nodes, end, "area_end", format!("{name} of the line {line}"), None, run.origin);
        }
    }
}

/// Whether a point lies on an edge, or within a hair of it.
fn on_outline(scene: &Scene<'_>, at: Point) -> bool {
    if scene.outline.place(at) == Place::Boundary {
        return true;
    }
    let near = |point: Point| (point - at).length() <= NEAR;
    scene.face.edges.iter().any(|edge| {
        let segment = edge.segment;
        let beside = segment.y_at(at.x).map(|y| Point::new(at.x, y));
        let level = segment.x_at(at.y).map(|x| Point::new(x, at.y));
        beside.into_iter().chain(level).any(near)
    })
}

/// Ends of roofs inside the face: a diverter at the low end, a saddle at the high one.
fn ends_of_roofs(scene: &Scene<'_>, meeting: &Meeting, nodes: &mut Vec<Node>) {
    for roof in &scene.face.roofs {
        let level = roof.line.from.y == roof.line.to.y;
        for end in [roof.line.from, roof.line.to] {
            if scene.outline.place(end) != Place::Inside {
                continue;
            }
            let low = !level && end == roof.line.lower_end();
            let (kind, words) = if low { ("kick_out", "low end") } else { ("saddle", "high end") };
            let words = if level { "end" } else { words };
            push(scene, meeting, nodes, end, kind, format!("{words} of the roof {}", roof.name), None, roof.origin);
        }
    }
}

#[expect(clippy::too_many_arguments, reason = "one row of facts for one point")]
fn push(
    scene: &Scene<'_>,
    meeting: &Meeting,
    nodes: &mut Vec<Node>,
    at: Point,
    kind: &'static str,
    place: String,
    detail: Option<DetailId>,
    origin: Span,
) {
    let name = format!("{} wall, {place}", scene.face.name);
    nodes.push(Node { face: scene.id, at, runs: meeting.at(at), kind, detail, name, origin });
}
