//! Parts of details as tasks, and the ties between them: what laps over what, what lies behind what, what holds what.

use std::collections::BTreeMap;

use super::walls::{Wall, stage};
use super::{Draft, Entry, Kind, Phase, TaskId, Why};
use crate::geometry::{Point, Segment};
use crate::model::{DetailId, Lap, PartSpec};
use crate::plan::{Run, RunPlace};
use crate::source::Span;
use crate::units::Length;

/// How far out a part lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Depth {
    /// On the plane, the sheathing, the structure.
    Plane,
    /// On the strips.
    Furring,
    /// On the cladding.
    Cladding,
}

/// A stretch of edge with its parts: a run, a floor line, or the cap of a block or a row of slots.
struct Stretch<'m> {
    /// `head`, `base`, `floor_line`, `cap`, ….
    kind: &'static str,
    /// What it belongs to: `kitchen`, `base`.
    owner: String,
    segment: Segment,
    area: Option<usize>,
    below: Option<usize>,
    opening: Option<usize>,
    roof: Option<usize>,
    parts: Vec<&'m PartSpec>,
    screened: bool,
    detail: Option<DetailId>,
    by: Option<&'static str>,
    origin: Span,
    /// The line of its run goes from section to section.
    split: bool,
}

/// A part with its tasks, one for each section it is split into.
struct Placed<'m> {
    stretch: usize,
    spec: &'m PartSpec,
    depth: Depth,
    tasks: Vec<TaskId>,
    columns: Vec<usize>,
}

/// Makes the tasks of all parts of a face, of its openings and roofs, and their ties.
pub(super) fn place<'m>(draft: &mut Draft<'m>, wall: &Wall<'m>) {
    let stretches = stretches(draft, wall);
    let mut laid =
        Laid { stretches, placed: Vec::new(), folds: BTreeMap::new(), set: BTreeMap::new(), roofs: Vec::new() };
    laid.openings(draft, wall);
    laid.roofing(draft, wall);
    for at in 0..laid.stretches.len() {
        laid.parts(draft, wall, at);
    }
    for at in 0..laid.placed.len() {
        laid.depth(draft, wall, at);
        laid.laps(draft, wall, at);
    }
    laid.finish(draft, wall);
}

fn stretches<'m>(draft: &Draft<'m>, wall: &Wall<'m>) -> Vec<Stretch<'m>> {
    let (model, plan, face) = (draft.model, draft.plan, wall.face);
    let mut found = Vec::new();
    for (_, run) in plan.runs_of(wall.id) {
        let Some(detail) = run.detail.and_then(|id| model.detail(id)).filter(|detail| !detail.broken) else { continue };
        let place = detail.place(run.kind);
        found.push(Stretch {
            kind: run.kind,
            owner: owner(run),
            segment: run.segment,
            area: run.area,
            below: run.other,
            opening: if let RunPlace::Opening(at) = run.place { Some(at) } else { None },
            roof: roof_of(wall, run),
            parts: place.parts.iter().collect(),
            screened: place.gap_ends.iter().any(|end| end.open && end.screen.is_some()),
            detail: run.detail,
            by: match run.place {
                RunPlace::Deck(at) => face.decks.get(at).and_then(|deck| deck.by),
                _ => None,
            },
            origin: run.origin,
            split: matches!(run.place, RunPlace::Edge(_) | RunPlace::Between(_)),
        });
    }
    found.extend(crossing(draft, wall));
    found
}

/// Flashings that have no run: at floors, over blocks, over rows of slots.
fn crossing<'m>(draft: &Draft<'m>, wall: &Wall<'m>) -> Vec<Stretch<'m>> {
    let (model, face) = (draft.model, wall.face);
    let Some(bounds) = wall.plan.outline.bounds() else { return Vec::new() };
    let line = |left: Length, right: Length, y: Length| Segment::new(Point::new(left, y), Point::new(right, y));
    let bare = |kind, owner: &str, segment: Segment, parts, by, origin| Stretch {
        kind,
        owner: owner.to_owned(),
        segment,
        area: wall.column_at(above(segment), None).and_then(|at| wall.columns.get(at)).map(|column| column.area),
        below: None,
        opening: None,
        roof: None,
        parts,
        screened: false,
        detail: None,
        by,
        origin,
        split: false,
    };
    let placed = draft.plan.runs_of(wall.id).any(|(_, run)| run.kind == "floor_line");
    let mut found = Vec::new();
    for floor in face.floor_lines.iter().filter(|_| !placed) {
        let Some(detail) = floor.detail.and_then(|id| model.detail(id)).filter(|detail| !detail.broken) else {
            continue;
        };
        let parts = detail.edge.parts.iter().collect();
        let stretch = bare(
            "floor_line",
            &floor.name,
            line(bounds.left, bounds.right, floor.height),
            parts,
            floor.by,
            floor.origin,
        );
        found.push(Stretch { detail: floor.detail, ..stretch });
    }
    for (block, shape) in face.blocks.iter().zip(&wall.plan.blocks) {
        if let (Some(cap), Some(shape)) = (&block.flashing, shape) {
            let shape = shape.bounds();
            found.push(bare(
                "cap",
                &block.name,
                line(shape.left, shape.right, shape.top),
                vec![cap],
                block.by,
                block.origin,
            ));
        }
    }
    for vent in &face.vents {
        if let Some(cap) = &vent.flashing {
            let y = vent.height + vent.slot;
            let left = super::lanes::along(vent.from, bounds, bounds.left);
            let right = super::lanes::along(vent.to, bounds, bounds.right);
            found.push(bare("cap", &vent.name, line(left, right, y), vec![cap], vent.by, vent.origin));
        }
    }
    found
}

fn above(segment: Segment) -> Point {
    let middle = segment.midpoint();
    Point::new(middle.x, middle.y + Length::mm(1))
}

/// One millimetre into the wall beside a stretch: the wall lies to the left.
fn beside(segment: Segment) -> Point {
    let (middle, left) = (segment.midpoint(), segment.vector().left());
    Point::new(middle.x + Length::MM * left.dx.0.signum(), middle.y + Length::MM * left.dy.0.signum())
}

/// The same stretch, one millimetre into the wall, so that it touches what lies on its own side only.
fn into_the_wall(segment: Segment) -> Segment {
    let left = segment.vector().left();
    let step = |at: Point| Point::new(at.x + Length::MM * left.dx.0.signum(), at.y + Length::MM * left.dy.0.signum());
    Segment::new(step(segment.from), step(segment.to))
}

/// `kitchen` for its head, jambs and sill; `base`.
fn owner(run: &Run) -> String {
    let place = run.name.split_once('.').map_or(run.name.as_str(), |(_, place)| place);
    match run.place {
        RunPlace::Opening(_) => place.rsplit_once('.').map_or(place, |(opening, _)| opening).to_owned(),
        _ => place.to_owned(),
    }
}

fn roof_of(wall: &Wall<'_>, run: &Run) -> Option<usize> {
    match run.place {
        RunPlace::Roof(at) => Some(at),
        _ if run.kind == "roof_line" => {
            let near = |line: Segment| line.overlap_near(run.segment, Length::mm(300)).is_some();
            let roofs = &wall.face.roofs;
            roofs.iter().position(|roof| near(roof.line)).or(Some(0).filter(|_| roofs.len() == 1))
        }
        _ => None,
    }
}

/// Everything that is laid on one face, while it is tied together.
struct Laid<'m> {
    stretches: Vec<Stretch<'m>>,
    placed: Vec<Placed<'m>>,
    /// The membrane folded down over a stretch.
    folds: BTreeMap<usize, TaskId>,
    /// By opening: it is set, it is sealed, it is looked at.
    set: BTreeMap<usize, (TaskId, Option<TaskId>, TaskId)>,
    roofs: Vec<TaskId>,
}

impl<'m> Laid<'m> {
    fn openings(&mut self, draft: &mut Draft<'m>, wall: &Wall<'m>) {
        for (at, opening) in wall.face.openings.iter().enumerate() {
            let Some(detail) = opening.detail.and_then(|id| draft.model.detail(id)).filter(|detail| !detail.broken)
            else {
                continue;
            };
            let sill = Segment::new(opening.at, Point::new(opening.at.x + opening.width, opening.at.y));
            let entry = |kind, name: String, rank| Entry {
                stage: 2,
                rank,
                detail: opening.detail,
                origin: opening.origin,
                ..wall.entry(kind, name, opening.name.clone(), sill)
            };
            let by = opening.by.unwrap_or("crew");
            let set = draft.add(Entry { by, ..entry(Kind::Set, opening.kind.to_owned(), 300) });
            let seals = ["head", "jamb", "sill", "edge"].map(|side| detail.place(side));
            let seal = seals.iter().flat_map(|place| &place.air).find(|joint| joint.target == "frame").map(|joint| {
                let with = joint.with.as_ref().map_or("seal", |stuff| stuff.name.as_str());
                draft.add(entry(Kind::Seal, format!("seal the frame with {with}"), 310))
            });
            let look = draft.add(entry(Kind::Hold("H2"), "look at the laps".to_owned(), 900));
            let last = seal.unwrap_or(set);
            seal.into_iter().for_each(|seal| draft.tie(set, seal, Why::Stands));
            draft.tie(last, look, Why::Tested);
            wall.test.into_iter().for_each(|test| draft.tie(look, test, Why::Tested));
            self.set.insert(at, (set, seal, look));
        }
    }

    fn roofing(&mut self, draft: &mut Draft<'m>, wall: &Wall<'m>) {
        for roof in &wall.face.roofs {
            let name = format!("roof {}", roof.name);
            let entry = Entry {
                phase: Phase::Others,
                by: roof.by.unwrap_or("roofer"),
                origin: roof.origin,
                detail: roof.detail,
                ..wall.entry(Kind::Roofing, name, "", roof.line)
            };
            self.roofs.push(draft.add(entry));
        }
    }

    fn parts(&mut self, draft: &mut Draft<'m>, wall: &Wall<'m>, at: usize) {
        let Some(stretch) = self.stretches.get(at) else { return };
        let mut placed = Vec::new();
        for (rank, &spec) in stretch.parts.iter().enumerate() {
            let depth = depth(spec);
            let columns = if stretch.split && depth != Depth::Plane {
                wall.touched(into_the_wall(stretch.segment))
            } else {
                wall.column_at(beside(stretch.segment), stretch.area).into_iter().collect()
            };
            let lanes: Vec<Option<usize>> = match depth {
                Depth::Plane => vec![None],
                _ if columns.is_empty() => vec![None],
                _ => columns.iter().map(|&at| wall.columns.get(at).map(|column| column.lane)).collect(),
            };
            // The pieces of a corner board between two floors of one section are one piece of work.
            let mut tasks: Vec<TaskId> = Vec::new();
            let mut known: BTreeMap<Option<usize>, TaskId> = BTreeMap::new();
            for lane in lanes {
                let task = *known.entry(lane).or_insert_with(|| {
                    let task = draft.add(part_entry(wall, stretch, spec, (depth, lane), rank));
                    if let Some(task) = draft.tasks.get_mut(task.0 as usize) {
                        task.adhered = matches!(spec.kind, "flap" | "tape" | "membrane");
                    }
                    task
                });
                tasks.push(task);
            }
            placed.push(Placed { stretch: at, spec, depth, tasks, columns });
        }
        self.placed.append(&mut placed);
    }

    /// What a part waits for, or is waited for, because of where it lies.
    fn depth(&self, draft: &mut Draft<'m>, wall: &Wall<'m>, at: usize) {
        let Some(part) = self.placed.get(at) else { return };
        let Some(stretch) = self.stretches.get(part.stretch) else { return };
        let over = |over: bool, under: bool| {
            part.spec.laps.iter().any(|lap| lap.what == "cladding" && ((over && !lap.under) || (under && lap.under)))
        };
        let into_furring = part.spec.fasten.as_ref().is_some_and(|fasten| fasten.into == Some("furring"));
        for (place, &column) in part.columns.iter().enumerate() {
            let Some(column) = wall.columns.get(column) else { continue };
            let Some(&task) = part.tasks.get(place).or(part.tasks.first()) else { continue };
            match part.depth {
                Depth::Plane => {
                    let first = column.layers.first().copied().filter(|_| !into_furring);
                    first.into_iter().for_each(|first| draft.tie(task, first, Why::Behind));
                }
                Depth::Furring => {
                    let on = column.furring.or_else(|| inner(column));
                    on.into_iter().for_each(|on| draft.tie(on, task, Why::Held));
                    let last = closes_top(stretch.kind);
                    if let Some(cladding) = column.cladding.filter(|_| !over(true, true)) {
                        if last {
                            draft.tie(cladding, task, Why::Behind)
                        } else {
                            draft.tie(task, cladding, Why::Fitted)
                        }
                    }
                    column.top.filter(|_| last).into_iter().for_each(|top| draft.tie(top, task, Why::Tested));
                }
                Depth::Cladding => {
                    column.cladding.into_iter().for_each(|cladding| draft.tie(cladding, task, Why::Held));
                }
            }
        }
        let Some(&task) = part.tasks.first() else { return };
        if part.depth == Depth::Plane && part.spec.controls.air {
            wall.test.into_iter().for_each(|test| draft.tie(task, test, Why::Tested));
        }
        self.beside_frame(draft, part, stretch, task);
    }

    /// Pan and side strips go in before the frame, head flashings after it; all are looked at.
    fn beside_frame(&self, draft: &mut Draft<'m>, part: &Placed<'m>, stretch: &Stretch<'m>, task: TaskId) {
        let Some(&(set, _, look)) = stretch.opening.and_then(|opening| self.set.get(&opening)) else { return };
        if part.depth != Depth::Plane {
            draft.tie(look, task, Why::Tested);
            return;
        }
        draft.tie(task, look, Why::Tested);
        if part.spec.laps.iter().any(|lap| lap.what == "frame") {
            return;
        }
        match stretch.kind {
            "sill" if part.spec.kind == "pan" || part.spec.controls.water => draft.tie(task, set, Why::Stands),
            "jamb" if part.spec.controls.water => draft.tie(task, set, Why::Stands),
            "head" if part.spec.kind == "flashing" => draft.tie(set, task, Why::Stands),
            _ => {}
        }
    }

    fn laps(&mut self, draft: &mut Draft<'m>, wall: &Wall<'m>, at: usize) {
        let Some(part) = self.placed.get(at) else { return };
        let (spec, tasks, depth, stretch) = (part.spec, part.tasks.clone(), part.depth, part.stretch);
        for lap in &spec.laps {
            if lap.what == "cladding" && depth == Depth::Plane {
                // Boards slide up under a drip that is already there.
                continue;
            }
            for others in self.others(draft, wall, at, stretch, lap) {
                if lap.under {
                    draft.tie_all(&tasks, &others, Why::Under);
                } else {
                    draft.tie_all(&others, &tasks, Why::Over);
                }
            }
        }
    }

    /// The tasks of what a lap names.
    fn others(
        &mut self,
        draft: &mut Draft<'m>,
        wall: &Wall<'m>,
        at: usize,
        stretch: usize,
        lap: &Lap,
    ) -> Vec<Vec<TaskId>> {
        let one = |task: Option<TaskId>| task.map(|task| vec![task]).into_iter().collect();
        let Some(of) = self.stretches.get(stretch) else { return Vec::new() };
        match lap.what {
            "head" | "jamb" | "sill" => self.sheets(of.opening, lap.what, at),
            "frame" => one(of.opening.and_then(|opening| self.set.get(&opening)).map(|set| set.0)),
            "roof" => one(of.roof.and_then(|roof| self.roofs.get(roof)).copied()),
            "air" => one(of.area.and_then(|area| wall.airs.get(area)).copied().flatten()),
            "cladding" => {
                let part = self.placed.get(at).map(|part| part.columns.clone()).unwrap_or_default();
                let cladding = part.iter().filter_map(|&column| wall.columns.get(column)?.cladding);
                vec![cladding.collect()]
            }
            "water" => one(self.water(draft, wall, stretch, lap.under)),
            kind => match self.neighbour(at, kind) {
                Some(tasks) => vec![tasks],
                None if kind == "membrane" => one(self.water(draft, wall, stretch, lap.under)),
                None => Vec::new(),
            },
        }
    }

    /// The parts of one side of an opening that drain.
    fn sheets(&self, opening: Option<usize>, side: &str, at: usize) -> Vec<Vec<TaskId>> {
        let Some(opening) = opening else { return Vec::new() };
        let on_side = |stretch: usize| {
            self.stretches.get(stretch).is_some_and(|of| of.opening == Some(opening) && of.kind == side)
        };
        let near =
            self.around(at, |part| self.stretches.get(part.stretch).is_some_and(|of| of.opening == Some(opening)));
        let parts = near.filter(|&(other, part)| other != at && part.spec.controls.water && on_side(part.stretch));
        parts.map(|(_, part)| part.tasks.clone()).collect()
    }

    /// Parts about this one for which something is true without a break; parts of one opening stand together.
    fn around<'s>(
        &'s self,
        at: usize,
        keeps: impl Fn(&Placed<'m>) -> bool + 's,
    ) -> impl Iterator<Item = (usize, &'s Placed<'m>)> + 's {
        let mut start = at;
        while start > 0 && self.placed.get(start - 1).is_some_and(&keeps) {
            start -= 1;
        }
        self.placed.iter().enumerate().skip(start).take_while(move |(_, part)| keeps(part))
    }

    /// The nearest other part of a kind on the same stretch.
    fn neighbour(&self, at: usize, kind: &str) -> Option<Vec<TaskId>> {
        let stretch = self.placed.get(at)?.stretch;
        let same = self.around(at, move |part| part.stretch == stretch);
        let of_kind = same.filter(|(other, part)| *other != at && part.spec.kind == kind);
        of_kind.min_by_key(|(other, _)| other.abs_diff(at)).map(|(_, part)| part.tasks.clone())
    }

    /// The membrane of the wall at a stretch: as a whole, or folded down over what lies under it.
    fn water(&mut self, draft: &mut Draft<'m>, wall: &Wall<'m>, at: usize, under: bool) -> Option<TaskId> {
        let stretch = self.stretches.get(at)?;
        let of = |area: Option<usize>| area.and_then(|area| wall.membranes.get(area)).copied().flatten();
        let folded =
            matches!(stretch.kind, "head" | "jamb" | "sill" | "transition" | "floor_line" | "roof_line" | "cap");
        if !folded || !under {
            return of(stretch.below.filter(|_| !under).or(stretch.area));
        }
        if let Some(&fold) = self.folds.get(&at) {
            return Some(fold);
        }
        let membrane = of(stretch.area)?;
        let name = draft.tasks.get(membrane.0 as usize).map(|task| task.name.clone()).unwrap_or_default();
        let entry = Entry {
            stage: 2,
            at: anchor(wall, stretch),
            rank: 600 + rank_of(stretch.kind),
            detail: stretch.detail,
            origin: stretch.origin,
            ..wall.entry(Kind::Fold, format!("{name} folded down"), stretch.owner.clone(), stretch.segment)
        };
        let fold = draft.add(entry);
        draft.tie(membrane, fold, Why::Stands);
        wall.test.into_iter().for_each(|test| draft.tie(fold, test, Why::Tested));
        if let Some(&(_, _, look)) = stretch.opening.and_then(|opening| self.set.get(&opening)) {
            draft.tie(fold, look, Why::Tested);
        }
        self.folds.insert(at, fold);
        Some(fold)
    }

    /// What keeps pests out, and roofs that nothing laps.
    fn finish(&self, draft: &mut Draft<'m>, wall: &Wall<'m>) {
        for stretch in self.stretches.iter().filter(|stretch| stretch.screened) {
            let columns = match stretch.split {
                true => wall.touched(into_the_wall(stretch.segment)),
                false => wall.column_at(beside(stretch.segment), stretch.area).into_iter().collect(),
            };
            let mut known: BTreeMap<usize, TaskId> = BTreeMap::new();
            for column in columns.into_iter().filter_map(|at| wall.columns.get(at)) {
                let top = closes_top(stretch.kind);
                let task = *known.entry(column.lane).or_insert_with(|| {
                    draft.add(Entry {
                        lane: Some(column.lane),
                        phase: Phase::Sections,
                        stage: if top { stage::TOP_TRIM } else { stage::SCREEN },
                        rank: 50,
                        detail: stretch.detail,
                        origin: stretch.origin,
                        ..wall.entry(Kind::Screen, "screen", stretch.owner.clone(), stretch.segment)
                    })
                });
                column.furring.into_iter().for_each(|furring| draft.tie(furring, task, Why::Fitted));
                let cladding = column.cladding.filter(|_| stretch.below.is_none());
                match (top, cladding) {
                    (false, Some(cladding)) => draft.tie(task, cladding, Why::Behind),
                    (true, Some(cladding)) => draft.tie(cladding, task, Why::Fitted),
                    _ => {}
                }
                column.foot.filter(|_| !top && stretch.kind == "base").into_iter().for_each(|foot| {
                    draft.tie(task, foot, Why::Tested);
                });
            }
        }
    }
}

/// Trims that close the top go on when the courses are there.
fn closes_top(kind: &str) -> bool {
    matches!(kind, "top" | "rake" | "parapet")
}

/// What a thing on the strips stands on where there are none: the layer under the cladding.
fn inner(column: &super::walls::Column) -> Option<TaskId> {
    column.layers.iter().rev().copied().find(|&task| Some(task) != column.cladding)
}

fn depth(spec: &PartSpec) -> Depth {
    let into = spec.fasten.as_ref().and_then(|fasten| fasten.into);
    match (spec.on, spec.kind) {
        (Some("furring"), _) => Depth::Furring,
        (Some("cladding"), _) | (None, "coping") => Depth::Cladding,
        (None, "trim" | "starter" | "closure") => Depth::Furring,
        (None, _) if into == Some("furring") => Depth::Furring,
        _ => Depth::Plane,
    }
}

/// Where a stretch is sorted: everything of one opening at its lower left.
fn anchor(wall: &Wall<'_>, stretch: &Stretch<'_>) -> Point {
    let opening = stretch.opening.and_then(|at| wall.face.openings.get(at));
    opening.map_or(stretch.segment.lower_end(), |opening| opening.at)
}

/// Sill, jambs, head: as openings are flashed.
fn rank_of(kind: &str) -> usize {
    match kind {
        "sill" => 0,
        "jamb" => 100,
        "head" => 400,
        _ => 0,
    }
}

fn part_entry(
    wall: &Wall<'_>,
    stretch: &Stretch<'_>,
    spec: &PartSpec,
    (depth, lane): (Depth, Option<usize>),
    rank: usize,
) -> Entry {
    let usual = if matches!(spec.kind, "step_flashing" | "kick_out") { "roofer" } else { "crew" };
    let name = spec.name.clone().unwrap_or_else(|| spec.kind.to_owned());
    let owner = match stretch.opening {
        Some(_) => format!("{}.{}", stretch.owner, stretch.kind),
        None => stretch.owner.clone(),
    };
    let (kind, phase, stage) = match depth {
        Depth::Plane => (Kind::Part, Phase::Barrier, if is_foot(stretch.kind) { 0 } else { 2 }),
        _ if closes_top(stretch.kind) => (Kind::Part, Phase::Sections, stage::TOP_TRIM),
        Depth::Furring => (Kind::Part, Phase::Sections, stage::TRIM),
        Depth::Cladding => (Kind::Part, Phase::Sections, stage::CLADDING),
    };
    Entry {
        lane,
        phase,
        stage,
        by: spec.by.or(stretch.by).unwrap_or(usual),
        at: anchor(wall, stretch),
        rank: rank_of(stretch.kind) + rank,
        detail: stretch.detail,
        origin: spec.origin,
        ..wall.entry(kind, name, owner, stretch.segment)
    }
}

/// Edges whose parts go on before the membrane of the wall, which laps over them.
fn is_foot(kind: &str) -> bool {
    matches!(kind, "base" | "step" | "deck_line" | "roof_line")
}
