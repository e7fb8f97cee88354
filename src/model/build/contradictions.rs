//! Declarations that say two things at once, or something that cannot be built: one mistake each, at its place.

use std::collections::{BTreeMap, BTreeSet};

use super::{Builder, problems};
use crate::eval::Bound;
use crate::geometry::Point;
use crate::model::{Face, Lap, PartSpec, Stretch, Where};
use crate::source::Span;
use crate::units::Length;

/// Clause, slot and what it is: more than 0.
const MORE_THAN_NOTHING: &[(&str, &str, &str)] = &[
    ("width", "width", "a width"),
    ("height", "height", "a height"),
    ("thickness", "thickness", "a thickness"),
    ("part", "thickness", "the thickness of a part"),
    ("sleeve", "diameter", "the diameter of a sleeve"),
    ("stem", "length", "the length of a stem"),
    ("kick_out", "height", "the height of a kick-out"),
];

/// Clause, slot and what it is: 0 or more.
const NOT_NEGATIVE: &[(&str, &str, &str)] = &[
    ("lap", "length", "a lap"),
    ("end_lap", "length", "a lap"),
    ("laps", "by", "a lap"),
    ("upper_laps", "length", "a lap"),
    ("joint_gap", "gap", "a joint"),
    ("gap", "gap", "a gap"),
    ("gaps", "gap", "a gap"),
    ("rough_gap", "gap", "a gap"),
    ("side_gap", "gap", "a gap"),
    ("bulge", "allowance", "a bulge"),
    ("stops", "length", "what a strip stops short"),
    ("held_up", "length", "what a strip is held up"),
    ("held_down", "length", "what a strip is held down"),
    ("splice_gap", "length", "a gap"),
    ("end_dams", "height", "a dam"),
    ("back_dam", "height", "a dam"),
    ("upstand", "height", "an upstand"),
    ("drip", "down", "a drip"),
    ("drip", "out", "a drip"),
    ("hem", "length", "a hem"),
    ("wraps", "length", "what runs round the corner"),
    ("holds_up", "length", "what is held up"),
    ("trims", "width", "the width of a trim"),
    ("reveal", "length", "a reveal"),
    ("overhang", "depth", "an overhang"),
    ("limiting_distance", "distance", "a distance"),
    ("planned", "depth", "a depth"),
    ("wood", "depth", "a depth"),
    ("flange", "width", "a flange"),
    ("collar_length", "length", "a length"),
    ("end_distance", "min", "a distance"),
    ("edge_distance", "min", "a distance"),
];

/// Kinds of place that have no neighbour of their own kind at their ends.
const ALONE: &[&str] = &["base", "eave", "top", "rake", "opening", "window", "door", "transition", "floor_line"];

impl Builder<'_> {
    /// Sizes of a declaration that are nothing or less.
    pub(super) fn sizes_make_sense(&mut self, bound: &Bound) {
        for clause in &bound.clauses {
            let of = |table: &'static [(&'static str, &'static str, &'static str)]| {
                table.iter().filter(|row| row.0 == clause.row.word).map(|row| (row.1, row.2))
            };
            for (label, what) in of(MORE_THAN_NOTHING) {
                if clause.length(label).is_some_and(|least| least <= Length::ZERO) {
                    self.problem(problems::not_positive(clause.span_of(label), what));
                }
            }
            for (label, what) in of(NOT_NEGATIVE) {
                if clause.length(label).is_some_and(|least| least < Length::ZERO) {
                    self.problem(problems::negative(clause.span_of(label), what));
                }
            }
            self.sizes_make_sense(clause);
        }
    }

    /// What stands, runs or is said twice on one face.
    pub(super) fn face_agrees(&mut self, face: &Face) {
        self.holes_apart(face);
        self.ranges_on_face(face);
        for edge in &face.edges {
            let upright = edge.segment.is_vertical();
            let measure = |point: Point| if upright { point.y } else { point.x };
            let (from, to) = (measure(edge.segment.from), measure(edge.segment.to));
            self.stretches_apart(&edge.details, (from.min(to), from.max(to)));
        }
        let mut pairs: BTreeMap<(&str, &str), Span> = BTreeMap::new();
        for between in &face.betweens {
            let (lower, upper) = (between.lower.as_str(), between.upper.as_str());
            if lower == upper {
                self.problem(problems::between_itself(between.origin, lower));
                continue;
            }
            let pair = (lower.min(upper), lower.max(upper));
            if let Some(&first) = pairs.get(&pair) {
                self.problem(problems::between_twice(between.origin, lower, upper, first));
            } else {
                pairs.insert(pair, between.origin);
            }
        }
    }

    /// A pipe does not pass through a window.
    fn holes_apart(&mut self, face: &Face) {
        let inside = |at: Point| {
            face.openings.iter().find(|opening| {
                let (x, y) = (opening.at.x, opening.at.y);
                x < at.x && at.x < x + opening.width && y < at.y && at.y < y + opening.height
            })
        };
        let services = face.services.iter().map(|one| (one.kind, &one.name, one.at, one.origin));
        let blocks = face.blocks.iter().map(|one| ("block", &one.name, one.at, one.origin));
        let mut told = BTreeSet::new();
        for (kind, name, at, origin) in services.chain(blocks) {
            if let Some(opening) = inside(at).filter(|_| told.insert(origin)) {
                self.problem(problems::in_opening(origin, kind, name, &opening.name, opening.origin));
            }
        }
    }

    /// `from … to …` of what runs along the wall: left to right, and on the face.
    fn ranges_on_face(&mut self, face: &Face) {
        let Some(ring) = &face.outline else { return };
        let xs = || ring.points().iter().map(|point| point.x);
        let (Some(left), Some(right)) = (xs().min(), xs().max()) else { return };
        let areas = face.areas.iter().map(|one| ("area", &one.name, one.from, one.to, one.origin));
        let vents = face.vents.iter().map(|one| ("vent", &one.name, one.from, one.to, one.origin));
        let stops = face.fire_stops.iter().map(|one| ("fire stop", &one.name, one.from, one.to, one.origin));
        let decks = face.decks.iter().map(|one| ("deck", &one.name, Some(one.from), Some(one.to), one.origin));
        let mut wrong = Vec::new();
        for (what, name, from, to, origin) in areas.chain(vents).chain(stops).chain(decks) {
            let (from, to) = ends(from, to, (left, right));
            if from >= to {
                wrong.push(problems::turned_round(origin, what, name));
            } else if to <= left || from >= right || (what != "area" && what != "deck" && (from < left || to > right)) {
                wrong.push(problems::outside_face(origin, what, name, &face.name));
            }
        }
        for nailer in face.nailers.iter().filter(|nailer| nailer.from.x >= nailer.to) {
            wrong.push(problems::turned_round(nailer.origin, "nailer", &nailer.name));
        }
        self.model.problems.extend(wrong);
    }

    /// A shorter stretch may lie within a longer one and then holds there; two of one place, or two that half overlap, say two
    /// things of one piece of edge.
    pub(super) fn stretches_apart(&mut self, details: &[Stretch], extent: (Length, Length)) {
        for (at, stretch) in details.iter().enumerate() {
            let (from, to) = ends(stretch.from, stretch.to, extent);
            if from >= to {
                self.problem(problems::stretch_turned_round(stretch.origin));
                continue;
            }
            let clash = details.iter().take(at).find(|other| {
                let (first, last) = ends(other.from, other.to, extent);
                let apart = last <= from || to <= first || first >= last;
                let within = (first <= from && to <= last) != (from <= first && last <= to);
                !apart && !within
            });
            if let Some(other) = clash {
                self.problem(problems::two_details(stretch.origin, other.origin));
            }
        }
    }

    /// Corners are said by both faces: with one kind, and not past a face whose sides both meet others.
    pub(super) fn corners_agree(&mut self) {
        let mut wrong = Vec::new();
        let faces = &self.model.faces;
        for (at, face) in faces.iter().enumerate() {
            for corner in face.edges.iter().filter_map(|edge| edge.meets.as_ref()) {
                let Some((id, other)) = corner.id.and_then(|id| Some((id, faces.get(id.0 as usize)?))) else {
                    continue;
                };
                if id.0 as usize == at {
                    wrong.push(problems::meets_itself(corner.origin, &face.name));
                    continue;
                }
                if other.broken {
                    continue;
                }
                let all = || other.edges.iter().filter_map(|edge| edge.meets.as_ref());
                let back: Vec<_> = all().filter(|back| back.face == face.name).collect();
                let sides = other.edges.iter().filter(|edge| matches!(edge.kind, "left" | "right"));
                let taken = sides.clone().count() > 0 && sides.clone().all(|edge| edge.meets.is_some());
                if back.is_empty() && taken {
                    let elsewhere = all().next().map(|one| one.origin).unwrap_or(other.origin);
                    wrong.push(problems::corner_unanswered(corner.origin, &face.name, &other.name, elsewhere));
                }
                // Two faces may meet at two corners of different kinds. Told once for a pair, at the later of the two.
                let agrees =
                    back.iter().any(|one| one.kind.is_none() || corner.kind.is_none() || one.kind == corner.kind);
                if let Some(first) = back.first().filter(|first| !agrees && first.origin < corner.origin) {
                    wrong.push(problems::corner_kinds(corner.origin, &face.name, &other.name, first.origin));
                }
            }
        }
        self.model.problems.extend(wrong);
    }

    /// Laps of the parts of one place. Where edges meet, a part may lap another of its kind that comes from beside it.
    pub(super) fn laps_agree(&mut self, parts: &[PartSpec], places: &[&str]) {
        let alone = places.iter().any(|place| ALONE.contains(place));
        for part in parts {
            for (at, lap) in part.laps.iter().enumerate() {
                let first = part.laps.iter().take(at).find(|other| other.what == lap.what && other.under != lap.under);
                if let Some(first) = first {
                    self.problem(problems::lap_both_ways(lap.origin, lap.what, first.origin));
                }
                if alone && of_itself(part, lap, parts) {
                    self.problem(problems::lap_with_itself(lap.origin, lap.what));
                }
            }
        }
    }
}

/// A flashing that laps a flashing, where its place has no other one.
fn of_itself(part: &PartSpec, lap: &Lap, parts: &[PartSpec]) -> bool {
    let own = matches!(lap.what, "flashing" | "pan" | "flap" | "tape") && lap.what == part.kind;
    own && parts.iter().filter(|other| other.kind == part.kind).count() == 1
}

fn ends(from: Option<Where>, to: Option<Where>, (low, high): (Length, Length)) -> (Length, Length) {
    let place = |place: Where| match place {
        Where::Left => low,
        Where::Right => high,
        Where::Centre => (low + high) / 2,
        Where::At(at) => at,
    };
    (from.map_or(low, place), to.map_or(high, place))
}
