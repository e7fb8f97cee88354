//! Stretches of edge: of the outline, between areas, round openings, along roofs, decks, floors and ledgers that cross the face.

use std::collections::BTreeMap;

use super::places::{Index, NEAR, Scene, inside, range, same_way};
use super::{FacePlan, Run, RunPlace};
use crate::geometry::{Place, Point, Segment, split_run};
use crate::model::{DetailId, Edge, Stretch};
use crate::source::Span;
use crate::units::Length;

/// All runs of a face: outline, between areas, openings, roofs, decks.
pub(super) fn find(scene: &Scene<'_>, plan: &FacePlan) -> Vec<Run> {
    let sides = Sides::of(plan);
    let mut runs = Vec::new();
    for at in 0..scene.face.edges.len() {
        along_edge(scene, plan, &sides, at, &mut runs);
    }
    between_areas(scene, &sides, &mut runs);
    round_openings(scene, plan, &mut runs);
    let mut lines = crossing_lines(scene);
    lines.retain(|line| line.segment.from != line.segment.to);
    for line in &lines {
        across_face(scene, plan, line, &mut runs);
    }
    along_named_lines(scene, &lines, &mut runs);
    runs
}

/// Boundaries of what is clad, with the area each belongs to.
struct Sides {
    index: Index,
    owners: Vec<usize>,
}

impl Sides {
    fn of(plan: &FacePlan) -> Self {
        let (mut segments, mut owners) = (Vec::new(), Vec::new());
        for (at, area) in plan.areas.iter().enumerate() {
            for (_, edge) in area.net.edges() {
                segments.push(edge.segment);
                owners.push(at);
            }
        }
        Self { index: Index::new(segments), owners }
    }

    /// Sides near a segment that run the same way, or the other way.
    fn near(&self, segment: Segment, same: bool) -> (Vec<Segment>, Vec<usize>) {
        let found = self.index.near(segment).into_iter().filter_map(|at| {
            let side = self.index.get(at)?;
            (same_way(side, segment) == same).then_some((side, *self.owners.get(at)?))
        });
        found.unzip()
    }
}

/// Splits an edge of the outline by the areas along it and by its details. Nothing is there where an opening reaches it.
fn along_edge(scene: &Scene<'_>, plan: &FacePlan, sides: &Sides, at: usize, runs: &mut Vec<Run>) {
    let Some(edge) = scene.face.edges.get(at) else { return };
    let (near, owners) = sides.near(edge.segment, true);
    let extent = extent([edge.segment]);
    for piece in split_run(edge.segment, &near, NEAR) {
        let area = piece.over.and_then(|over| owners.get(over).copied());
        if area.is_none() && in_opening(plan, piece.part.midpoint()) {
            continue;
        }
        for (segment, stretch) in by_details(piece.part, &edge.details, extent) {
            runs.push(Run {
                face: scene.id,
                place: RunPlace::Edge(at),
                kind: kind_of(edge),
                name: format!("{}.{}", scene.face.name, edge.name),
                segment,
                area,
                other: None,
                detail: stretch.map(|stretch| stretch.detail),
                parts: Vec::new(),
                origin: stretch.map_or(edge.origin, |stretch| stretch.origin),
            });
        }
    }
}

/// Corners are known by the face they meet.
pub(super) fn kind_of(edge: &Edge) -> &'static str {
    if edge.meets.is_some() { "corner" } else { edge.kind }
}

fn in_opening(plan: &FacePlan, at: Point) -> bool {
    plan.openings.iter().any(|shape| shape.place(at) != Place::Outside)
}

/// The coordinate along which a stretch is measured: height on upright edges, x on all others.
fn measured(segment: Segment, at: Point) -> Length {
    if segment.is_vertical() { at.y } else { at.x }
}

/// Least and greatest measure of segments that run one way.
fn extent(segments: impl IntoIterator<Item = Segment>) -> (Length, Length) {
    let ends = segments.into_iter().flat_map(|segment| [segment.from, segment.to].map(|at| measured(segment, at)));
    ends.fold((Length(i64::MAX), Length(i64::MIN)), |(low, high), end| (low.min(end), high.max(end)))
}

/// A piece of edge with the clause that holds on it.
type Piece<'d> = (Segment, Option<&'d Stretch>);

/// Splits a segment where details begin and end along it. Of several details at one place the one with the shortest stretch
/// holds, the last of equals.
fn by_details(segment: Segment, details: &[Stretch], extent: (Length, Length)) -> Vec<Piece<'_>> {
    let ranges: Vec<(Length, Length, &Stretch)> = details
        .iter()
        .map(|stretch| {
            let (low, high) = range(stretch.from, stretch.to, extent);
            (low, high, stretch)
        })
        .collect();
    let (start, end) = (measured(segment, segment.from), measured(segment, segment.to));
    let (low, high) = (start.min(end), start.max(end));
    let mut cuts: Vec<Length> = ranges.iter().flat_map(|range| [range.0, range.1]).collect();
    cuts.retain(|&cut| low < cut && cut < high);
    cuts.sort_unstable();
    cuts.dedup();
    if end < start {
        cuts.reverse();
    }
    let holding = |a: Length, b: Length| {
        let covering = ranges.iter().rev().filter(|range| range.0 <= a.min(b) && range.1 >= a.max(b));
        covering.min_by_key(|range| range.1 - range.0).map(|range| range.2)
    };
    let mut pieces: Vec<Piece<'_>> = Vec::new();
    let mut from = (start, segment.from);
    for cut in cuts.into_iter().chain([end]) {
        let at = if cut == end { segment.to } else { point_at(segment, cut) };
        let stretch = holding(from.0, cut);
        match pieces.last_mut() {
            Some((last, held)) if held.map(|held| held.origin) == stretch.map(|now| now.origin) => last.to = at,
            _ => pieces.push((Segment::new(from.1, at), stretch)),
        }
        from = (cut, at);
    }
    pieces
}

fn point_at(segment: Segment, measure: Length) -> Point {
    if segment.is_vertical() {
        Point::new(segment.from.x, measure)
    } else {
        Point::new(measure, segment.y_at(measure).unwrap_or(segment.from.y))
    }
}

/// Where areas share a side, declared or not. Openings on it interrupt it.
fn between_areas(scene: &Scene<'_>, sides: &Sides, runs: &mut Vec<Run>) {
    // By upper (or left) area, lower (or right) area, upright or not.
    let mut shared: BTreeMap<(usize, usize, bool), Vec<Segment>> = BTreeMap::new();
    for (at, &owner) in sides.owners.iter().enumerate() {
        let Some(side) = sides.index.get(at) else { continue };
        let upright = side.is_vertical();
        let leads = if upright { side.to.y > side.from.y } else { side.is_floor() };
        if !leads {
            continue;
        }
        let (near, owners) = sides.near(side, false);
        for piece in split_run(side, &near, NEAR) {
            if let Some(&other) = piece.over.and_then(|over| owners.get(over)).filter(|&&other| other != owner) {
                shared.entry((owner, other, upright)).or_default().push(piece.part);
            }
        }
    }
    for ((area, other, upright), mut pieces) in shared {
        pieces.sort_by_key(|piece| (measured(*piece, piece.from), *piece));
        push_between(scene, (area, other, upright), &pieces, runs);
    }
}

fn push_between(scene: &Scene<'_>, key: (usize, usize, bool), pieces: &[Segment], runs: &mut Vec<Run>) {
    let (area, other, upright) = key;
    let name = |at: usize| scene.face.areas.get(at).map_or("", |area| area.name.as_str());
    let (upper, lower) = (name(area), name(other));
    let declared = scene.face.betweens.iter().position(|between| {
        (between.lower == lower && between.upper == upper) || (between.lower == upper && between.upper == lower)
    });
    let clause = declared.and_then(|at| scene.face.betweens.get(at));
    let line = clause.map_or_else(
        || scene.face.areas.get(area).map_or(scene.face.origin, |area| area.origin),
        |between| between.origin,
    );
    let extent = extent(pieces.iter().copied());
    // Side by side, the left one is named first; above each other, the lower one.
    let (first, second) = if upright { (upper, lower) } else { (lower, upper) };
    for piece in pieces {
        for (segment, stretch) in by_details(*piece, clause.map_or(&[], |between| &between.details), extent) {
            runs.push(Run {
                face: scene.id,
                place: RunPlace::Between(declared),
                kind: if upright { "side" } else { "transition" },
                name: format!("{}.{first}/{second}", scene.face.name),
                segment,
                area: Some(area),
                other: Some(other),
                detail: stretch.map(|stretch| stretch.detail),
                parts: Vec::new(),
                origin: stretch.map_or(line, |stretch| stretch.origin),
            });
        }
    }
}

/// Head, left jamb, right jamb and sill of every opening, the wall to the left.
fn round_openings(scene: &Scene<'_>, plan: &FacePlan, runs: &mut Vec<Run>) {
    for (at, (opening, shape)) in scene.face.openings.iter().zip(&plan.openings).enumerate() {
        let bounds = shape.bounds();
        if bounds.width() == Length::ZERO || bounds.height() == Length::ZERO {
            continue;
        }
        let corner = |x, y| Point::new(x, y);
        let (low_left, low_right) = (corner(bounds.left, bounds.bottom), corner(bounds.right, bounds.bottom));
        let (top_left, top_right) = (corner(bounds.left, bounds.top), corner(bounds.right, bounds.top));
        let middle = Segment::new(low_left, top_right).midpoint();
        for (kind, from, to) in [
            ("head", top_left, top_right),
            ("jamb", low_left, top_left),
            ("jamb", top_right, low_right),
            ("sill", low_right, low_left),
        ] {
            let segment = Segment::new(from, to);
            runs.push(Run {
                face: scene.id,
                place: RunPlace::Opening(at),
                kind,
                name: format!("{}.{}.{kind}", scene.face.name, opening.name),
                segment,
                area: area_at(plan, beside(segment)).or_else(|| area_at(plan, middle)),
                other: None,
                detail: opening.detail,
                parts: Vec::new(),
                origin: opening.origin,
            });
        }
    }
}

/// One millimetre to the left of the middle of a level or plumb segment.
fn beside(segment: Segment) -> Point {
    let (middle, left) = (segment.midpoint(), segment.vector().left());
    let step = |length: Length| Length::MM * length.0.signum();
    Point::new(middle.x + step(left.dx), middle.y + step(left.dy))
}

fn area_at(plan: &FacePlan, at: Point) -> Option<usize> {
    plan.areas.iter().position(|area| area.whole.place(at) != Place::Outside)
}

/// A roof, a deck, a floor, a ledger or a row of brackets as a line from left to right.
struct Line {
    place: RunPlace,
    kind: &'static str,
    name: String,
    segment: Segment,
    detail: Option<DetailId>,
    origin: Span,
}

fn crossing_lines(scene: &Scene<'_>) -> Vec<Line> {
    let face = scene.face;
    let roofs = face.roofs.iter().enumerate().map(|(at, roof)| Line {
        place: RunPlace::Roof(at),
        kind: "roof_line",
        name: format!("{}.{}", face.name, roof.name),
        segment: if roof.line.to.x < roof.line.from.x { roof.line.reversed() } else { roof.line },
        detail: roof.detail,
        origin: roof.origin,
    });
    let decks = face.decks.iter().enumerate().map(|(at, deck)| {
        let (left, right) = scene.across(Some(deck.from), Some(deck.to));
        Line {
            place: RunPlace::Deck(at),
            kind: "deck_line",
            name: format!("{}.{}", face.name, deck.name),
            segment: Segment::new(Point::new(left, deck.height), Point::new(right, deck.height)),
            detail: deck.detail,
            origin: deck.origin,
        }
    });
    roofs.chain(decks).chain(level_lines(scene)).collect()
}

/// Floors, ledgers and rows of brackets.
fn level_lines(scene: &Scene<'_>) -> Vec<Line> {
    let face = scene.face;
    let level = |(left, right): (Length, Length), y: Length| Segment::new(Point::new(left, y), Point::new(right, y));
    let name = |own: &str| format!("{}.{own}", face.name);
    let floors = face.floor_lines.iter().enumerate().map(|(at, floor)| Line {
        place: RunPlace::Floor(at),
        kind: "floor_line",
        name: name(&floor.name),
        segment: level(scene.across(None, None), floor.height),
        detail: floor.detail,
        origin: floor.origin,
    });
    let ledgers = face.ledgers.iter().enumerate().map(|(at, ledger)| Line {
        place: RunPlace::Ledger(at),
        kind: "ledger",
        name: name(&ledger.name),
        segment: level(scene.across(Some(ledger.from), Some(ledger.to)), ledger.top),
        detail: ledger.detail,
        origin: ledger.origin,
    });
    let brackets = face.bracket_rows.iter().enumerate().map(|(at, row)| Line {
        place: RunPlace::Brackets(at),
        kind: "bracket",
        name: name(&row.name),
        segment: level(scene.across(row.from, row.to), row.height),
        detail: row.detail,
        origin: row.origin,
    });
    floors.chain(ledgers).chain(brackets).collect()
}

/// The parts of a line inside the face, area by area.
fn across_face(scene: &Scene<'_>, plan: &FacePlan, line: &Line, runs: &mut Vec<Run>) {
    let areas = plan.areas.iter().enumerate().map(|(at, area)| (Some(at), &area.net)).chain([(None, &plan.bare)]);
    let mut pieces: Vec<(Segment, Option<usize>)> = areas
        .flat_map(|(area, region)| inside(line.segment, region).into_iter().map(move |piece| (piece, area)))
        .collect();
    pieces.sort();
    for (segment, area) in pieces {
        runs.push(Run {
            face: scene.id,
            place: line.place,
            kind: line.kind,
            name: line.name.clone(),
            segment,
            area,
            other: None,
            detail: line.detail,
            parts: Vec::new(),
            origin: line.origin,
        });
    }
}

/// An edge of the outline that runs along a roof or deck and has no detail of its own takes that of the roof or deck; a line
/// between areas that lies on a floor takes that of the floor.
fn along_named_lines(scene: &Scene<'_>, lines: &[Line], runs: &mut [Run]) {
    for run in runs.iter_mut().filter(|run| run.face == scene.id && run.detail.is_none()) {
        let fits: &[&str] = match (run.place, run.kind) {
            (RunPlace::Edge(_), "roof_line" | "deck_line") => &["roof_line", "deck_line"],
            (RunPlace::Between(_), "transition") => &["floor_line"],
            _ => continue,
        };
        let near = |line: &&Line| fits.contains(&line.kind) && run.segment.overlap_near(line.segment, NEAR).is_some();
        let line = lines.iter().find(near);
        run.detail = line.and_then(|line| line.detail);
    }
}
