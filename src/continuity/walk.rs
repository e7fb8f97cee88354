//! The walk of a drop through the bays of a face: it falls, lands, runs along floors, and leaves or stands.

use super::drain::{self, Answer, Low};
use super::ends::{Drains, Ends, NEAR, Scene, gap_end, side_of};
use super::flow::{BayId, ExitKind, GapFlow, Opening};
use super::trace::{Ending, Gate, SheetLap, Step, StepKind};
use crate::geometry::{Edge, LevelPoint, Point, Region, Segment, low_points};
use crate::model::Assembly;
use crate::plan::{Against, Bay, Contact, Part, PartId};
use crate::units::Length;

/// More steps than any wall has; a drop that takes more goes round in a ring, which cannot be.
const MOST_STEPS: usize = 10_000;

/// From which side a drop comes to a place: it falls at it, or just beside it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Beside {
    At,
    Left,
    Right,
}

/// Where a drop goes next.
enum Next {
    /// Falls or runs on from here.
    From(Point, Beside),
    /// Into another bay.
    Into(BayId, Point),
    End(Ending),
}

/// The steps of a drop from a place inside a bay, and how they end.
pub(super) fn follow(scene: &Scene, flow: &GapFlow, bay: BayId, start: Point) -> (Vec<Step>, Ending) {
    let mut steps = Vec::new();
    let mut next = Next::Into(bay, start);
    let mut walk = None;
    for _ in 0..MOST_STEPS {
        next = match next {
            Next::Into(id, at) => {
                walk = Walk::new(scene, flow, id);
                Next::From(at, Beside::At)
            }
            Next::From(at, beside) => match &walk {
                Some(walk) => walk.step(at, beside, &mut steps),
                None => Next::End(Ending::CannotTell("where this bay lies".to_owned())),
            },
            Next::End(ending) => {
                let ending = judged(scene, ending, &steps);
                return (steps, ending);
            }
        };
    }
    (steps, Ending::CannotTell("where the way of the water ends".to_owned()))
}

/// Daylight counts only if nothing on the way turns the water in, and something keeps it out at all.
fn judged(scene: &Scene, ending: Ending, steps: &[Step]) -> Ending {
    if ending != Ending::Daylight {
        return ending;
    }
    if let Some(why) = steps.iter().find_map(|step| step.reversed.clone()) {
        return Ending::Stops { why, depth: None };
    }
    let assembly_of = |step: &Step| scene.model.assembly(scene.face.areas.get(step.bay.area)?.assembly);
    let bare = steps.iter().filter(|step| step.kind == StepKind::Fall && step.lap.is_none()).find_map(assembly_of);
    match bare {
        Some(assembly) => Ending::CannotTell(format!("which layer of `{}` keeps water out", assembly.name)),
        None => ending,
    }
}

/// One bay while a drop is in it.
struct Walk<'w> {
    scene: &'w Scene<'w>,
    flow: &'w GapFlow,
    id: BayId,
    bay: &'w Bay,
    region: Region,
}

impl<'w> Walk<'w> {
    fn new(scene: &'w Scene<'w>, flow: &'w GapFlow, id: BayId) -> Option<Self> {
        let bay = scene.plan.face(id.face)?.areas.get(id.area)?.bays.get(id.bay)?;
        Some(Self { scene, flow, id, bay, region: Region::from(bay.shape.clone()) })
    }

    /// Falls to the floor below, and lands there.
    fn step(&self, at: Point, beside: Beside, steps: &mut Vec<Step>) -> Next {
        let Some(floor) = self.floor_below(at, beside) else {
            return Next::End(Ending::CannotTell("what lies under this bay".to_owned()));
        };
        let Some(contact) = self.floor_at(floor, beside) else {
            return Next::End(Ending::CannotTell("what lies under this bay".to_owned()));
        };
        if floor.y < at.y {
            steps.push(self.fall(Segment::new(at, floor)));
            let (part, reversed) = self.flashing(contact);
            let step = self.new_step(StepKind::Land, Segment::new(floor, floor), Some(contact.with));
            steps.push(Step { part, reversed, ..step });
        }
        if contact.segment.is_horizontal() { self.on_level(floor, steps) } else { self.on_slope(floor, contact, steps) }
    }

    fn new_step(&self, kind: StepKind, place: Segment, with: Option<Against>) -> Step {
        Step { kind, bay: self.id, place, with, part: None, lap: None, reversed: None }
    }

    /// The lowest place straight below.
    fn floor_below(&self, at: Point, beside: Beside) -> Option<Point> {
        let spans = match beside {
            Beside::At => self.region.y_intervals_at(at.x),
            Beside::Left => self.region.y_intervals_left_of(at.x),
            Beside::Right => self.region.y_intervals_right_of(at.x),
        };
        // Snapped ends may lie a hair above or below the place.
        let own = spans.into_iter().find(|&(from, to)| from - NEAR <= at.y && at.y < to)?;
        Some(Point::new(at.x, own.0.min(at.y)))
    }

    /// The piece of boundary on which a place lies, on the side from which the drop comes.
    fn floor_at(&self, at: Point, beside: Beside) -> Option<&'w Contact> {
        self.bay.contacts.iter().filter(|contact| contact.segment.is_floor()).find(|contact| {
            let (left, right) = ends_x(contact.segment);
            let within = match beside {
                Beside::At => left <= at.x && at.x <= right,
                Beside::Left => left < at.x && at.x <= right,
                Beside::Right => left <= at.x && at.x < right,
            };
            within && contact.segment.y_at(at.x).is_some_and(|y| (y - at.y).abs() <= NEAR)
        })
    }

    fn assembly(&self) -> Option<&'w Assembly> {
        self.scene.model.assembly(self.scene.face.areas.get(self.id.area)?.assembly)
    }

    /// Down the drainage plane, over its sheets.
    fn fall(&self, place: Segment) -> Step {
        let plane = self.assembly().and_then(|assembly| assembly.drainage_plane());
        let lap = plane.map(|(layer, plane)| SheetLap { layer, lapped: plane.lapped, lap: plane.lap });
        let behind = plane.filter(|(_, plane)| plane.lapped == Some("lower_over_upper"));
        let reversed = behind
            .map(|(_, plane)| format!("`{}` laps lower sheet over upper sheet: water runs in behind it", plane.name));
        Step { lap, reversed, ..self.new_step(StepKind::Fall, place, None) }
    }

    /// The flashing on which water comes down along a run: the innermost that goes under the plane, or the innermost. A flashing
    /// that says it laps over the plane, without tape, lets water in behind itself.
    fn flashing(&self, contact: &Contact) -> (Option<PartId>, Option<String>) {
        let Against::Run(id) = contact.with else { return (None, None) };
        let Some(run) = self.scene.plan.run(id) else { return (None, None) };
        let own =
            |&id: &PartId| self.scene.plan.part(id).filter(|part| part.spec.kind == "flashing").map(|part| (id, part));
        let flashings: Vec<(PartId, &Part)> = run.parts.iter().filter_map(own).collect();
        let laps = |part: &Part, under: bool| {
            part.spec.laps.iter().any(|lap| lap.under == under && matches!(lap.what, "water" | "membrane"))
        };
        let found = flashings.iter().find(|(_, part)| laps(part, true)).or_else(|| flashings.first());
        let behind = found.filter(|(_, part)| laps(part, false) && !laps(part, true) && part.spec.taped.is_none());
        let why =
            behind.map(|(_, part)| format!("`{}` lies over the membrane above it: water runs in behind it", part.name));
        (found.map(|&(id, _)| id), why)
    }

    /// On a level floor: out by what it gives, off its nearer end, or it stands.
    fn on_level(&self, at: Point, steps: &mut Vec<Step>) -> Next {
        let level = self.level_at(at);
        let low = drain::judge(self.scene, self.id.area, self.bay, level);
        if let Some(out) = self.nearest_out(&low, at) {
            return out.leave(self, at, steps);
        }
        let (left, right) = low.point.span();
        let ends = [(left, Beside::Left), (right, Beside::Right)];
        let off = ends.into_iter().filter_map(|(x, beside)| {
            let end = Point::new(x, at.y);
            self.drops(end, beside).then_some((x - at.x, end, beside))
        });
        match off.min_by_key(|(far, ..)| far.abs()) {
            Some((_, end, beside)) => {
                self.run_along(at, end, steps);
                Next::From(end, beside)
            }
            None => Next::End(self.stands(&low)),
        }
    }

    /// A step along a floor, if it leads anywhere.
    fn run_along(&self, from: Point, to: Point, steps: &mut Vec<Step>) {
        if from != to {
            let with = self.floor_at(from, Beside::At).map(|contact| contact.with);
            steps.push(self.new_step(StepKind::Run, Segment::new(from, to), with));
        }
    }

    /// The level floor through a place: the low point there, or the flat top of something.
    fn level_at(&self, at: Point) -> LevelPoint {
        let holds = |point: &LevelPoint| {
            let (left, right) = point.span();
            !point.level.is_empty() && (point.at.y - at.y).abs() <= NEAR && left <= at.x && at.x <= right
        };
        if let Some(low) = low_points(&self.bay.shape).into_iter().find(holds) {
            return low;
        }
        let floors = self.bay.shape.edges().filter(|edge| edge.segment.is_horizontal() && edge.segment.is_floor());
        let mut rest: Vec<Edge> = floors.filter(|edge| (edge.segment.from.y - at.y).abs() <= NEAR).collect();
        let (mut left, mut right, mut level) = (at.x, at.x, Vec::new());
        while let Some(next) = rest.iter().position(|edge| {
            let (from, to) = ends_x(edge.segment);
            from <= right && left <= to
        }) {
            let edge = rest.swap_remove(next);
            let (from, to) = ends_x(edge.segment);
            (left, right) = (left.min(from), right.max(to));
            level.push(edge);
        }
        LevelPoint { ring: 0, at: Point::new(left, at.y), level }
    }

    /// Whether water goes on down beyond the end of a floor.
    fn drops(&self, end: Point, beside: Beside) -> bool {
        match self.floor_at(end, beside) {
            Some(floor) => floor.segment.lower_end().y < end.y - NEAR || floor.segment.is_horizontal(),
            None => self.floor_below(end, beside).is_some_and(|below| below.y < end.y),
        }
    }

    /// On a sloped floor: straight out by a slot, else down it to a hole or to its low end.
    fn on_slope(&self, at: Point, contact: &'w Contact, steps: &mut Vec<Step>) -> Next {
        if let Some(out) = self.out_of_slope(at, contact) {
            return out.leave(self, at, steps);
        }
        let end = contact.segment.lower_end();
        let beside = if end.x < at.x || (end.x == at.x && end.x == ends_x(contact.segment).0) {
            Beside::Left
        } else {
            Beside::Right
        };
        self.run_along(at, end, steps);
        if self.drops(end, beside) {
            return Next::From(end, beside);
        }
        let here = |point: &LevelPoint| {
            let (left, right) = point.span();
            (point.at.y - end.y).abs() <= NEAR && left - NEAR <= end.x && end.x <= right + NEAR
        };
        let low = low_points(&self.bay.shape).into_iter().find(here);
        let low = low.unwrap_or(LevelPoint { ring: 0, at: end, level: Vec::new() });
        let low = drain::judge(self.scene, self.id.area, self.bay, low);
        match self.nearest_out(&low, end) {
            Some(out) => out.leave(self, end, steps),
            None => Next::End(self.stands(&low)),
        }
    }

    /// A slot at this very place, or the next hole down the slope.
    fn out_of_slope(&self, at: Point, contact: &Contact) -> Option<Out> {
        let Against::Run(id) = contact.with else { return None };
        let run = self.scene.plan.run(id)?;
        let ends = self.scene.ends(id, run, self.id.area, contact.segment);
        if ends.broken {
            return None;
        }
        let mut down: Vec<(Point, Opening)> = Vec::new();
        for way in ends.ways.iter().filter(|way| way.drains == Drains::Yes) {
            let (left, right) = ends_x(way.opening.segment);
            if way.opening.kind == ExitKind::Slot && left <= at.x && at.x <= right {
                return Some(Out { gate: self.slot(&ends, &way.opening), opening: way.opening.clone(), at });
            }
            let low = contact.segment.lower_end().x;
            let ahead = |hole: &&Point| (at.x.min(low)..=at.x.max(low)).contains(&hole.x);
            down.extend(way.holes.iter().filter(ahead).map(|&hole| (hole, way.opening.clone())));
        }
        let (hole, opening) = down.into_iter().min_by_key(|(hole, _)| (hole.x - at.x).abs())?;
        Some(Out { gate: self.weep(hole, hole), opening, at: Point::new(hole.x, hole.y.min(at.y)) })
    }

    /// Of everything that lets water out of a low point, what lies nearest to a place.
    fn nearest_out(&self, low: &Low, at: Point) -> Option<Out> {
        let outs = low.answers.iter().filter_map(|(_, answer)| match answer {
            Answer::Out(opening) => Some(self.out(opening, low, at)),
            _ => None,
        });
        outs.min_by_key(|out| (out.at.x - at.x).abs())
    }

    /// An opening with the place at which water comes to it.
    fn out(&self, opening: &Opening, low: &Low, at: Point) -> Out {
        let (left, right) = ends_x(opening.segment);
        let along = Point::new(at.x.clamp(left, right), at.y);
        let gate_at = |gate, at| Out { gate, opening: opening.clone(), at };
        let Against::Run(id) = opening.with else { return gate_at(Gate::Flashing, along) };
        let Some(run) = self.scene.plan.run(id) else { return gate_at(Gate::Flashing, along) };
        if opening.kind == ExitKind::Slot {
            let ends = self.scene.ends(id, run, self.id.area, opening.segment);
            let place = if low.point.level.is_empty() { at } else { along };
            return gate_at(self.slot(&ends, opening), place);
        }
        if opening.segment.from == opening.segment.to {
            // On under the furring, to the next hole down the slope or to the low end.
            let channel = self.scene.trim_at(opening.segment.from);
            let lower = channel.into_iter().flat_map(|channel| channel.drain_holes()).filter(|hole| hole.y <= at.y);
            let end = lower.max_by_key(|hole| (hole.y, hole.x)).unwrap_or(opening.segment.from);
            let open_end = channel.filter(|channel| channel.low_end() == Some(end));
            let gate = match open_end.filter(|channel| !channel.drain_holes().any(|hole| hole == end)) {
                Some(channel) => Gate::LowEnd(channel.trim.name.clone()),
                None => self.weep(end, end),
            };
            return gate_at(gate, end);
        }
        let ends = self.scene.ends(id, run, self.id.area, opening.segment);
        let own = ends.ways.iter().filter(|way| way.drains == Drains::Yes).flat_map(|way| &way.holes);
        let hole = own.min_by_key(|hole| (**hole - at).length()).copied().unwrap_or(along);
        gate_at(self.weep(hole, at), Point::new(hole.x, hole.y.min(at.y)))
    }

    /// A hole, and how far water backs up to it from a place.
    fn weep(&self, hole: Point, from: Point) -> Gate {
        let trim = self.scene.trim_at(hole);
        Gate::Weep {
            trim: trim.map(|trim| trim.trim.name.clone()),
            from_left: trim.map_or(hole.x, |trim| (hole - trim.line.from).length()),
            backs_up: (hole.y - from.y).max(Length::ZERO),
        }
    }

    /// A slot as its detail makes it, or the pierced floor of the channel along it.
    fn slot(&self, ends: &Ends, opening: &Opening) -> Gate {
        if let Some(channel) = ends.channel.filter(|channel| channel.line.overlap_near(opening.segment, NEAR).is_some())
        {
            return Gate::Pierced(channel.trim.name.clone());
        }
        let Against::Run(id) = opening.with else { return Gate::Flashing };
        let run = self.scene.plan.run(id);
        let place = run.and_then(|run| Some(self.scene.model.detail(run.detail?)?.place(run.kind)));
        let end = run.zip(place).and_then(|(run, place)| gap_end(place, side_of(run, self.id.area, opening.segment)));
        let depth = || run.and_then(|run| self.scene.net_depth(run));
        Gate::Slot { clear: end.and_then(|end| end.slot).or_else(depth), screen: end.and_then(|end| end.screen) }
    }

    /// Why a low point holds its water.
    fn stands(&self, low: &Low) -> Ending {
        let unknown = low.answers.iter().find_map(|(_, answer)| match answer {
            Answer::Unknown(fact) => Some(fact.clone()),
            _ => None,
        });
        if let Some(fact) = unknown {
            return Ending::CannotTell(fact);
        }
        let trap = self.flow.bay(self.id).and_then(|bay| bay.traps.iter().find(|trap| trap.at == low.point.at));
        if let Some(trap) = trap {
            return Ending::Stops { why: trap.why.clone(), depth: trap.depth };
        }
        let silent = low.answers.iter().all(|(_, answer)| matches!(answer, Answer::Silent));
        let on_strip = low.answers.iter().all(|(with, _)| matches!(with, Against::Strip(_)));
        match (silent, on_strip) {
            (true, true) => {
                Ending::Stops { why: "a spoonful stands on the cut end of a strip of furring".to_owned(), depth: None }
            }
            _ => Ending::CannotTell("what lies here: a mistake of the text hides it".to_owned()),
        }
    }

    /// The bay under a strip that lies across the wall.
    fn below(&self, with: Against, at: Point) -> Option<(BayId, Point)> {
        let Against::Strip(index) = with else { return None };
        let strip = self.scene.plan.face(self.id.face)?.areas.get(self.id.area)?.strips.get(index)?;
        let (foot, _) =
            strip.shape.y_intervals_at(at.x).into_iter().find(|&(from, to)| from <= at.y && at.y - NEAR <= to)?;
        let own = self.flow.bays.iter().filter(|bay| bay.id.face == self.id.face && bay.id.area == self.id.area);
        own.map(|bay| bay.id).find_map(|id| {
            let shape = &self.scene.plan.face(id.face)?.areas.get(id.area)?.bays.get(id.bay)?.shape;
            let spans = shape.y_intervals_at(at.x);
            let (_, top) = spans.into_iter().find(|&(from, top)| from < foot && (top - foot).abs() <= NEAR)?;
            Some((id, Point::new(at.x, top.min(foot) - Length(1))))
        })
    }
}

/// A way out with the place at which water comes to it.
struct Out {
    gate: Gate,
    opening: Opening,
    at: Point,
}

impl Out {
    /// Runs to it, and leaves.
    fn leave(self, walk: &Walk, from: Point, steps: &mut Vec<Step>) -> Next {
        walk.run_along(from, self.at, steps);
        let here = Segment::new(self.at, self.at);
        let with = Some(self.opening.with);
        if self.opening.joins == "gap" {
            return match walk.below(self.opening.with, self.at) {
                Some((bay, start)) => {
                    steps.push(walk.new_step(StepKind::Pass, Segment::new(self.at, start), with));
                    Next::Into(bay, start)
                }
                None => Next::End(Ending::CannotTell("which bay takes the water that passes here".to_owned())),
            };
        }
        steps.push(walk.new_step(StepKind::Leave(self.gate), here, with));
        Next::End(match self.opening.joins {
            "outside" => Ending::Daylight,
            "none" => Ending::Stops { why: "the gap opens into nothing here".to_owned(), depth: None },
            space => {
                Ending::Stops { why: format!("the gap opens into the {space} here, not to the outside"), depth: None }
            }
        })
    }
}

/// Left and right end of a stretch.
fn ends_x(segment: Segment) -> (Length, Length) {
    (segment.from.x.min(segment.to.x), segment.from.x.max(segment.to.x))
}
