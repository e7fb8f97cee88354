//! Faces with what bounds them: ground, roofs, decks, areas, floors; and buildings.

use std::collections::{BTreeMap, BTreeSet};

use super::goods::{sourced_clause, sourced_range};
use super::layers::any_broken;
use super::outline::{place_along, point};
use super::sections::trade;
use super::site::rain_factors;
use super::{Builder, problems};
use crate::diagnose::Diagnostic;
use crate::eval::Bound;
use crate::geometry::{Point, REACH, Segment, check_simple};
use crate::model::{
    Area, Between, Building, ButtJoints, Deck, DetailId, Face, FloorLine, Ground, LeakReading, Leaks, Planned, Roof,
    Where,
};
use crate::source::Span;
use crate::units::{Length, Range};

/// Readings of a blower door: flows, then changes of air.
fn leak_readings(bound: &Bound) -> Vec<LeakReading> {
    let read = |clause: &Bound, leaks: fn(Range) -> Leaks| {
        let value = sourced_clause(clause)?;
        Some(LeakReading {
            leaks: leaks(value.value),
            pressure: clause.number("pressure")?,
            on: clause.date("day"),
            source: value.source,
            sure: value.sure,
            origin: clause.span,
        })
    };
    let flows = bound.all("leakage").filter_map(|clause| read(clause, Leaks::Flow));
    flows.chain(bound.all("air_changes").filter_map(|clause| read(clause, Leaks::Changes))).collect()
}

impl Builder<'_> {
    /// A face with all that stands on it, judged by itself.
    pub(super) fn new_face(&mut self, bound: &Bound) -> Face {
        let name = bound.name().unwrap_or_default().to_owned();
        let (edges, outline) = self.outline(bound, &name);
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        let looks = bound.clause("looks").and_then(|clause| clause.number("angle")).map(f64::to_degrees);
        let overhang =
            bound.clause("overhang").and_then(|clause| Some((clause.length("depth")?, clause.length("height"))));
        let mut face = Face {
            looks,
            rain_factors: rain_factors(bound),
            measured_to: word("measured", "plane"),
            outline,
            edges,
            overhang,
            salted: bound.clause("salted").and_then(|clause| clause.length("distance")),
            limiting_distance: bound.clause("limiting_distance").and_then(|clause| clause.length("distance")),
            broken: any_broken(bound),
            ..Face::bare(&name, bound.span)
        };
        for clause in &bound.clauses {
            self.on_face(&mut face, clause);
        }
        face.broken |= face.outline.is_none();
        self.sizes_make_sense(bound);
        self.judge(&face);
        face
    }

    /// Adds a face to the wall, unless there is one of its name.
    pub(super) fn add_face(&mut self, face: Face) {
        if let Some(&first) = self.face_names.get(&face.name).filter(|_| !face.name.is_empty()) {
            self.problem(problems::twice_in_project(face.origin, "face", &face.name, first));
            return;
        }
        self.face_names.insert(face.name.clone(), face.origin);
        self.model.faces.push(face);
    }

    fn on_face(&mut self, face: &mut Face, clause: &Bound) {
        match clause.row.word {
            "ground" => face.ground.extend(ground(clause, face)),
            "roof" => face.roofs.extend(self.roof(clause)),
            "deck" => face.decks.extend(self.deck(clause)),
            "area" => face.areas.extend(self.area(clause)),
            "between" => face.betweens.extend(self.between(clause)),
            "floor_line" => face.floor_lines.extend(self.floor_line(clause)),
            "accept" => self.accept(clause, &face.name),
            _ => self.standing(face, clause, ""),
        }
    }

    fn roof(&mut self, bound: &Bound) -> Option<Roof> {
        let kick_out = bound
            .clause("kick_out")
            .and_then(|clause| Some((clause.length("height")?, self.stuff(clause, "of"), clause.span)));
        Some(Roof {
            name: bound.name()?.to_owned(),
            line: Segment { from: point(bound.point("from")?), to: point(bound.point("to")?) },
            detail: self.detail_of(bound),
            kick_out,
            course: bound.clause("course").and_then(|clause| self.positive(clause, "height", "a course")),
            gutter: bound.clause("gutter").and_then(|clause| clause.word("is")).map(|word| word == "yes"),
            low_end: bound.clause("low_end").and_then(|clause| clause.word("is")),
            by: trade(bound),
            origin: bound.span,
        })
    }

    fn deck(&mut self, bound: &Bound) -> Option<Deck> {
        Some(Deck {
            name: bound.name()?.to_owned(),
            height: bound.length("height")?,
            from: place_along(bound, "from")?,
            to: place_along(bound, "to")?,
            detail: self.detail_of(bound),
            stands_off: bound.clause("stands_off").and_then(|clause| clause.length("space")),
            joists_through: joists_through(bound),
            blocked: blocked(bound),
            by: trade(bound),
            bears: bound.clause("bears").and_then(|clause| clause.word("how")),
            origin: bound.span,
        })
    }

    /// The detail of a statement that has one.
    pub(super) fn detail_of(&mut self, bound: &Bound) -> Option<crate::model::DetailId> {
        bound.clause("detail").and_then(|clause| clause.instance("of")).and_then(|id| self.detail(id))
    }

    fn area(&mut self, bound: &Bound) -> Option<Area> {
        Some(Area {
            name: bound.name()?.to_owned(),
            assembly: bound.instance("of").and_then(|id| self.assembly(id))?,
            below: bound.length("below"),
            above: bound.length("above"),
            from: place_along(bound, "from"),
            to: place_along(bound, "to"),
            outline: bound
                .clause("outline")
                .map(|clause| clause.points("points"))
                .unwrap_or_default()
                .into_iter()
                .map(point)
                .collect(),
            joints: bound.all("joints").map(butt_joints).collect(),
            origin: bound.span,
        })
    }

    fn between(&mut self, bound: &Bound) -> Option<Between> {
        Some(Between {
            lower: bound.path("lower")?,
            upper: bound.path("upper")?,
            details: self.stretches(bound),
            flush: bound.clause("flush").and_then(|clause| clause.word("plane")),
            origin: bound.span,
        })
    }

    fn floor_line(&mut self, bound: &Bound) -> Option<FloorLine> {
        let moisture = bound.clause("moisture").and_then(|clause| Some((clause.number("from")?, clause.number("to")?)));
        Some(FloorLine {
            name: bound.name()?.to_owned(),
            height: bound.length("height")?,
            wood: bound.clause("wood").and_then(|clause| clause.length("depth")),
            moisture,
            detail: self.detail_of(bound),
            joists_through: joists_through(bound),
            blocked: blocked(bound),
            by: trade(bound),
            origin: bound.span,
        })
    }

    pub(super) fn building(&mut self, bound: &Bound) {
        let foundation = bound.clause("foundation").and_then(|clause| {
            let word = |word: &str| clause.clause(word).and_then(|clause| clause.word("what"));
            Some((clause.name()?.to_owned(), word("air"), word("water"), clause.span))
        });
        let roof = bound.clause("roof").and_then(|clause| {
            let air = clause.clause("air").and_then(|clause| clause.word("what"));
            let vented = clause.clause("vented").and_then(|clause| clause.word("is")).map(|word| word == "yes");
            Some((clause.name()?.to_owned(), air, vented, clause.span))
        });
        let pole = bound.clause("story_pole");
        let building = Building {
            name: bound.name().unwrap_or_default().to_owned(),
            faces: bound
                .clause("faces")
                .map(|clause| clause.paths("faces"))
                .unwrap_or_default()
                .into_iter()
                .map(|(name, span)| (name, None, span))
                .collect(),
            foundation,
            roof,
            exposure: pole.and_then(|pole| pole.range("exposure")),
            course_start: pole.and_then(|pole| pole.length("start")),
            volume: sourced_range(bound, "volume"),
            envelope: sourced_range(bound, "envelope"),
            leakage: leak_readings(bound),
            open_sides: bound.all("open_side").filter_map(|clause| clause.text("where")).collect(),
            origin: bound.span,
        };
        self.model.buildings.push(building);
    }

    /// What can be judged once the whole face is known.
    fn judge(&mut self, face: &Face) {
        self.names_once(face);
        let areas = || face.areas.iter().map(|area| area.name.as_str());
        for between in &face.betweens {
            for name in [&between.lower, &between.upper] {
                if !areas().any(|area| area == name) {
                    self.problem(problems::no_such_area(between.origin, name, &face.name, areas()));
                }
            }
        }
        let runs: Vec<String> = run_names(face);
        for trim in &face.trims {
            if !runs.contains(&trim.along) {
                self.problem(problems::no_such_run(
                    trim.origin,
                    &trim.along,
                    &face.name,
                    runs.iter().map(String::as_str),
                ));
            }
        }
        self.openings_inside(face);
        self.face_agrees(face);
        self.details_fit(face);
    }

    fn names_once(&mut self, face: &Face) {
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        let areas = face.areas.iter().map(|area| (area.name.as_str(), area.origin));
        let openings = face.openings.iter().map(|opening| (opening.name.as_str(), opening.origin));
        let services = face.services.iter().map(|service| (service.name.as_str(), service.origin));
        let blocks = face.blocks.iter().map(|block| (block.name.as_str(), block.origin));
        let trims = face.trims.iter().map(|trim| (trim.name.as_str(), trim.origin));
        let edges = face.edges.iter().map(|edge| (edge.name.as_str(), edge.origin));
        let vents = face.vents.iter().map(|vent| (vent.name.as_str(), vent.origin));
        let nailers = face.nailers.iter().map(|nailer| (nailer.name.as_str(), nailer.origin));
        let fire_stops = face.fire_stops.iter().map(|stop| (stop.name.as_str(), stop.origin));
        let named = edges.chain(areas).chain(openings).chain(services).chain(blocks).chain(trims);
        let mut twice: BTreeMap<(Span, Span), Diagnostic> = BTreeMap::new();
        let ledgers = face.ledgers.iter().map(|ledger| (ledger.name.as_str(), ledger.origin));
        let brackets = face.bracket_rows.iter().map(|row| (row.name.as_str(), row.origin));
        for (name, origin) in named.chain(ledgers).chain(brackets).chain(vents).chain(nailers).chain(fire_stops) {
            match seen.get(name) {
                // One message for a pair of statements, however often a row repeats them.
                Some(&first) => {
                    twice.entry((origin, first)).or_insert_with(|| problems::twice(origin, "the name", name, first));
                }
                None => {
                    seen.insert(name, origin);
                }
            }
        }
        self.model.problems.extend(twice.into_values());
    }

    fn openings_inside(&mut self, face: &Face) {
        let Some(ring) = &face.outline else { return };
        let region = crate::geometry::Region::from(crate::geometry::Polygon::new(ring.clone(), Vec::new()));
        let mut sorted: Vec<usize> = (0..face.openings.len()).collect();
        let rectangle = |at: usize| {
            face.openings
                .get(at)
                .map(|opening| (opening.at, opening.at.x + opening.width, opening.at.y + opening.height))
        };
        sorted.sort_by_key(|&at| rectangle(at).map(|(at, ..)| at.x));
        // One message for a statement, and for a pair of them, however often a row repeats them.
        let (mut outside, mut overlapping) = (BTreeSet::new(), BTreeSet::new());
        for (order, &at) in sorted.iter().enumerate() {
            let (Some(opening), Some((from, right, top))) = (face.openings.get(at), rectangle(at)) else { continue };
            let shape = crate::geometry::Region::rectangle(from.x, from.y, right, top);
            if !outside.contains(&opening.origin) && !region.covers(&shape) {
                outside.insert(opening.origin);
                self.problem(problems::outside_face(opening.origin, opening.kind, &opening.name, &face.name));
            }
            for &other in sorted.iter().skip(order + 1) {
                let (Some(second), Some((start, _, end))) = (face.openings.get(other), rectangle(other)) else {
                    continue;
                };
                if start.x >= right {
                    break;
                }
                if start.y < top && from.y < end && overlapping.insert((opening.origin, second.origin)) {
                    self.problem(problems::overlap(second.origin, &second.name, &opening.name, opening.origin));
                }
            }
        }
        for service in &face.services {
            let place = ring.place(service.at);
            if place == crate::geometry::Place::Outside && outside.insert(service.origin) {
                self.problem(problems::outside_face(service.origin, service.kind, &service.name, &face.name));
            }
        }
        for block in &face.blocks {
            let place = ring.place(block.at);
            if place == crate::geometry::Place::Outside && outside.insert(block.origin) {
                self.problem(problems::outside_face(block.origin, "block", &block.name, &face.name));
            }
        }
        self.heights_inside(face, ring);
        self.areas_inside(face, &region);
    }

    /// What lies at one height, all along the wall.
    fn heights_inside(&mut self, face: &Face, ring: &crate::geometry::Ring) {
        let ys = || ring.points().iter().map(|point| point.y);
        let (Some(low), Some(high)) = (ys().min(), ys().max()) else { return };
        let floors = face.floor_lines.iter().map(|floor| ("floor line", &floor.name, floor.height, floor.origin));
        let vents = face.vents.iter().map(|vent| ("vent", &vent.name, vent.height, vent.origin));
        let stops = face.fire_stops.iter().map(|stop| ("fire stop", &stop.name, stop.at, stop.origin));
        let ledgers = face.ledgers.iter().map(|ledger| ("ledger", &ledger.name, ledger.top, ledger.origin));
        let brackets = face.bracket_rows.iter().map(|row| ("row of brackets", &row.name, row.height, row.origin));
        let wrong: Vec<Diagnostic> = floors
            .chain(ledgers)
            .chain(brackets)
            .chain(vents)
            .chain(stops)
            .filter(|(.., height, _)| *height < low || *height > high)
            .map(|(what, name, _, origin)| problems::outside_face(origin, what, name, &face.name))
            .collect();
        self.model.problems.extend(wrong);
    }

    /// An area must have some wall in it.
    fn areas_inside(&mut self, face: &Face, region: &crate::geometry::Region) {
        for area in &face.areas {
            let (above, below) = (area.above.unwrap_or(-REACH), area.below.unwrap_or(REACH));
            if !area.outline.is_empty() && check_simple(&area.outline).is_err() {
                self.problem(problems::area_outline(area.origin, &area.name));
            } else if below <= above {
                self.problem(problems::area_upside_down(area.origin, &area.name));
            } else if region.clip_y(above, below).is_empty() {
                self.problem(problems::outside_face(area.origin, "area", &area.name, &face.name));
            }
        }
    }

    fn details_fit(&mut self, face: &Face) {
        let mut wrong = Vec::new();
        for edge in &face.edges {
            let corner = edge.meets.is_some() || matches!(edge.kind, "left" | "right");
            let kinds: &[&str] = match edge.kind {
                _ if corner => &["corner", "outside_corner", "inside_corner", "left", "right"],
                "top" => &["top", "eave"],
                "step" => &["step", "end_of_step"],
                kind => &[kind],
            };
            for stretch in &edge.details {
                let Some(detail) = self.model.detail(stretch.detail) else { continue };
                if !detail.places.is_empty() && !detail.is_for(kinds) {
                    wrong.push(problems::wrong_detail(
                        stretch.origin,
                        &detail.name,
                        &detail.places.join(" and "),
                        edge.kind,
                    ));
                }
            }
        }
        for opening in &face.openings {
            let Some(detail) = opening.detail.and_then(|id| self.model.detail(id)) else { continue };
            if !detail.places.is_empty() && !detail.is_for(&["opening", opening.kind]) {
                wrong.push(problems::wrong_detail(
                    opening.origin,
                    &detail.name,
                    &detail.places.join(" and "),
                    opening.kind,
                ));
            }
        }
        for between in &face.betweens {
            for stretch in &between.details {
                let Some(detail) = self.model.detail(stretch.detail) else { continue };
                if !detail.places.is_empty() && !detail.is_for(&["transition", "side", "floor_line"]) {
                    wrong.push(problems::wrong_detail(
                        stretch.origin,
                        &detail.name,
                        &detail.places.join(" and "),
                        "transition",
                    ));
                }
            }
        }
        for (origin, detail, kinds) in lines_with_details(face) {
            let Some(detail) = detail.and_then(|id| self.model.detail(id)) else { continue };
            if !detail.places.is_empty() && !detail.is_for(kinds) {
                let what = kinds.first().copied().unwrap_or_default();
                wrong.push(problems::wrong_detail(origin, &detail.name, &detail.places.join(" and "), what));
            }
        }
        self.model.problems.extend(wrong);
    }
}

fn joists_through(bound: &Bound) -> Option<bool> {
    bound.clause("joists").and_then(|clause| clause.word("how")).map(|how| how == "through")
}

fn blocked(bound: &Bound) -> Option<bool> {
    bound.clause("blocked").and_then(|clause| clause.word("is")).map(|is| is == "yes")
}

/// A statement, its detail, and the kinds of place that detail may be for.
type Fitted = (Span, Option<DetailId>, &'static [&'static str]);

/// Lines across a face, each with what its detail may be for.
fn lines_with_details(face: &Face) -> Vec<Fitted> {
    let floors =
        face.floor_lines.iter().map(|line| (line.origin, line.detail, &["floor_line", "transition"] as &'static [_]));
    let roofs = face.roofs.iter().map(|roof| (roof.origin, roof.detail, &["roof_line"] as &'static [_]));
    let decks = face.decks.iter().map(|deck| (deck.origin, deck.detail, &["deck_line"] as &'static [_]));
    let ledgers = face.ledgers.iter().map(|ledger| (ledger.origin, ledger.detail, &["ledger"] as &'static [_]));
    let brackets = face.bracket_rows.iter().map(|row| (row.origin, row.detail, &["bracket"] as &'static [_]));
    floors.chain(roofs).chain(decks).chain(ledgers).chain(brackets).collect()
}

/// Names a trim may lie along: edges, parts of openings, meeting lines of areas.
fn run_names(face: &Face) -> Vec<String> {
    let edges = face.edges.iter().map(|edge| edge.name.clone());
    let openings = face.openings.iter().flat_map(|opening| {
        ["head", "jamb", "left_jamb", "right_jamb", "sill"].map(|side| format!("{}.{side}", opening.name))
    });
    let betweens = face.betweens.iter().map(|between| format!("{}/{}", between.lower, between.upper));
    let areas =
        face.areas.iter().flat_map(|area| ["base", "top", "left", "right"].map(|side| format!("{}.{side}", area.name)));
    let lines = face.floor_lines.iter().map(|line| line.name.clone());
    let ledgers = face.ledgers.iter().map(|ledger| ledger.name.clone());
    edges.chain(lines).chain(ledgers).chain(openings).chain(betweens).chain(areas).collect()
}

/// A line of ground: one place and a slope, or several places.
fn ground(bound: &Bound, face: &Face) -> Option<Ground> {
    let (left, right) = face
        .outline
        .as_ref()
        .and_then(|ring| {
            let xs = || ring.points().iter().map(|point| point.x);
            Some((xs().min()?, xs().max()?))
        })
        .unwrap_or((Length::ZERO, Length::ZERO));
    let x_of = |place: Where| match place {
        Where::Left => left,
        Where::Right => right,
        Where::Centre => (left + right) / 2,
        Where::At(x) => x,
    };
    let x = x_of(place_along(bound, "where")?);
    let y = bound.length("height")?;
    let mut points = vec![Point { x, y }];
    if let Some(through) = bound.clause("through") {
        points.extend(through.points("points").into_iter().map(point));
    }
    if let Some(falls) = bound.clause("falls").and_then(|clause| clause.slope("slope")) {
        let drop = |to: Length| Point { x: to, y: y - Length::snap_mm((to - x).as_mm() * falls) };
        points.extend([left, right].into_iter().filter(|end| *end != x).map(drop));
    }
    points.sort_by_key(|point| (point.x, point.y));
    points.dedup_by_key(|point| point.x);
    let planned = bound.all("planned").filter_map(|clause| {
        Some(Planned {
            what: clause.word("what")?,
            depth: clause.length("depth")?,
            from: place_along(clause, "from"),
            to: place_along(clause, "to"),
            origin: clause.span,
        })
    });
    Some(Ground {
        points,
        surface: bound.clause("surface").and_then(|clause| clause.word("kind")),
        planned: planned.collect(),
        origin: bound.span,
    })
}

fn butt_joints(clause: &Bound) -> ButtJoints {
    ButtJoints { course: clause.integer("course"), marks: clause.lengths("marks"), origin: clause.span }
}
