//! Layers of the wall as tasks: what lies behind the barrier once for each area, what lies before it once for each section
//! between two breaks; and the points at which somebody looks before the work goes on.

use std::collections::BTreeMap;

use super::lanes::Lanes;
use super::{Draft, Entry, Kind, Phase, TaskId, Why};
use crate::geometry::{Bounds, Point, Region, Segment};
use crate::model::{Assembly, Face, FaceId, Layer, LayerKind};
use crate::plan::FacePlan;
use crate::units::Length;

/// Stages of the work in one section.
pub(super) mod stage {
    pub const LAYERS: u8 = 0;
    pub const SCREEN: u8 = 1;
    pub const FOOT_SEEN: u8 = 2;
    pub const TRIM: u8 = 3;
    pub const CLADDING: u8 = 4;
    pub const TOP_SEEN: u8 = 5;
    pub const TOP_TRIM: u8 = 6;
    pub const SECTION_SEEN: u8 = 7;
    pub const DRY_IN: u8 = 8;
}

/// One area of one section between two breaks of the wall: the layers outboard of the barrier.
pub(super) struct Column {
    pub area: usize,
    pub lane: usize,
    pub bounds: Bounds,
    /// Tasks of its layers, from inside to outside.
    pub layers: Vec<TaskId>,
    pub furring: Option<TaskId>,
    pub cladding: Option<TaskId>,
    /// The look at the foot of the wall, where it has one.
    pub foot: Option<TaskId>,
    /// The look at the top of the wall, where it has one.
    pub top: Option<TaskId>,
}

/// One face while its tasks are made.
pub(super) struct Wall<'m> {
    pub id: FaceId,
    pub face: &'m Face,
    pub plan: &'m FacePlan,
    pub columns: Vec<Column>,
    /// The layer that drains, by area.
    pub membranes: Vec<Option<TaskId>>,
    /// The air barrier, by area.
    pub airs: Vec<Option<TaskId>>,
    /// The test of the barrier.
    pub test: Option<TaskId>,
    start: usize,
}

/// Makes one test of the barrier for each building, and for each face that belongs to none.
pub(super) fn tests(draft: &mut Draft<'_>) -> BTreeMap<FaceId, TaskId> {
    let model = draft.model;
    let mut found = BTreeMap::new();
    for building in &model.buildings {
        let faces = building.faces.iter().filter_map(|(_, id, _)| *id).filter(|id| !found.contains_key(id));
        let faces: Vec<FaceId> = faces.collect();
        if let Some(&first) = faces.first() {
            let test = test(draft, first);
            found.extend(faces.into_iter().map(|face| (face, test)));
        }
    }
    for at in 0..model.faces.len() as u32 {
        found.entry(FaceId(at)).or_insert_with(|| test(draft, FaceId(at)));
    }
    found
}

fn test(draft: &mut Draft<'_>, face: FaceId) -> TaskId {
    let origin = draft.model.face(face).map(|face| face.origin).unwrap_or_default();
    draft.add(Entry {
        kind: Kind::Hold("H1"),
        name: "test of the air barrier".to_owned(),
        owner: String::new(),
        face: FaceId(u32::MAX),
        lane: None,
        phase: Phase::Barrier,
        stage: u8::MAX,
        by: "crew",
        segment: Segment::new(Point::default(), Point::default()),
        at: Point::default(),
        rank: 0,
        detail: None,
        origin,
    })
}

impl<'m> Wall<'m> {
    pub(super) fn build(
        draft: &mut Draft<'m>,
        id: FaceId,
        face: &'m Face,
        plan: &'m FacePlan,
        lanes: &Lanes,
        test: Option<TaskId>,
    ) -> Self {
        let start = draft.tasks.len();
        let mut wall =
            Self { id, face, plan, columns: Vec::new(), membranes: Vec::new(), airs: Vec::new(), test, start };
        let breaks = breaks(face);
        for at in 0..face.areas.len() {
            wall.area(draft, lanes, &breaks, at);
        }
        wall.ends(draft);
        wall
    }

    /// An entry of this face; what is not said is that of a task of the barrier by the crew.
    pub(super) fn entry(
        &self,
        kind: Kind,
        name: impl Into<String>,
        owner: impl Into<String>,
        segment: Segment,
    ) -> Entry {
        Entry {
            kind,
            name: name.into(),
            owner: owner.into(),
            face: self.id,
            lane: None,
            phase: Phase::Barrier,
            stage: 0,
            by: "crew",
            segment,
            at: segment.lower_end(),
            rank: 0,
            detail: None,
            origin: self.face.origin,
        }
    }

    fn area(&mut self, draft: &mut Draft<'m>, lanes: &Lanes, breaks: &[Length], at: usize) {
        let area = self.face.areas.get(at).zip(self.plan.areas.get(at));
        let assembly = area.and_then(|(area, _)| draft.model.assembly(area.assembly)).filter(|wall| !wall.broken);
        let (mut membrane, mut air) = (None, None);
        if let (Some(assembly), Some((declared, placed))) = (assembly, area)
            && let Some(bounds) = placed.net.bounds()
        {
            let barrier = barrier(assembly);
            let foot = Segment::new(Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.bottom));
            let end = assembly.frame().map_or(assembly.layers.len(), |(frame, _)| frame);
            let mut before = None;
            for (layer, of) in assembly.layers.iter().enumerate().take(end).skip(barrier).rev() {
                if matches!(of.kind, LayerKind::Existing) {
                    continue;
                }
                let water = assembly.drainage_plane().is_some_and(|(plane, _)| plane == layer);
                let kind = if water { Kind::Membrane } else { Kind::Layer };
                // Behind the lowest parts, which it laps over, and before everything that stands higher.
                let task = draft.add(Entry {
                    by: of.by.unwrap_or("crew"),
                    rank: end - layer,
                    stage: if water { 1 } else { 0 },
                    at: Point::new(bounds.left, Length(i64::MIN)),
                    origin: of.origin,
                    ..self.entry(kind, of.name.clone(), declared.name.clone(), foot)
                });
                before.into_iter().for_each(|before| draft.tie(before, task, Why::Behind));
                before = Some(task);
                membrane = membrane.or(Some(task).filter(|_| water));
                air = air.or(Some(task).filter(|_| of.controls.air));
            }
            // What is innermost of the barrier may carry no function of its own.
            for task in [before, membrane, air].into_iter().flatten() {
                self.test.into_iter().for_each(|test| draft.tie(task, test, Why::Tested));
            }
            let layers = assembly.layers.get(..barrier).unwrap_or_default();
            self.columns(draft, lanes, breaks, at, &placed.net, (bounds, layers), &declared.name, before);
        }
        self.membranes.push(membrane);
        self.airs.push(air);
    }

    #[expect(clippy::too_many_arguments, reason = "one call, in the middle of one pass over the areas")]
    fn columns(
        &mut self,
        draft: &mut Draft<'m>,
        lanes: &Lanes,
        breaks: &[Length],
        area: usize,
        net: &Region,
        (bounds, layers): (Bounds, &[Layer]),
        name: &str,
        behind: Option<TaskId>,
    ) {
        let mut cuts = vec![bounds.bottom];
        cuts.extend(breaks.iter().copied().filter(|cut| bounds.bottom < *cut && *cut < bounds.top));
        cuts.push(bounds.top);
        for &lane in &lanes.own {
            let Some(of) = draft.lanes.get(lane).cloned() else { continue };
            for pair in cuts.windows(2) {
                let &[low, high] = pair else { continue };
                let part = Bounds {
                    left: bounds.left.max(of.left),
                    right: bounds.right.min(of.right),
                    bottom: low.max(of.bottom),
                    top: high.min(of.top),
                };
                if part.left >= part.right || part.bottom >= part.top {
                    continue;
                }
                let mut piece = net.clone();
                if lanes.own.len() > 1 {
                    piece = piece.clip_x(part.left, part.right).clip_y(part.bottom, part.top);
                    if of.section.is_none() {
                        piece = piece.intersection(&lanes.left_out);
                    }
                }
                if !piece.is_empty() {
                    self.column(draft, (area, lane), part, layers, name, behind);
                }
            }
        }
    }

    fn column(
        &mut self,
        draft: &mut Draft<'m>,
        (area, lane): (usize, usize),
        bounds: Bounds,
        layers: &[Layer],
        name: &str,
        behind: Option<TaskId>,
    ) {
        let foot = Segment::new(Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.bottom));
        let rain = layers.iter().position(|layer| layer.controls.rain).unwrap_or(0);
        let mut column =
            Column { area, lane, bounds, layers: Vec::new(), furring: None, cladding: None, foot: None, top: None };
        for (at, layer) in layers.iter().enumerate().rev() {
            if matches!(layer.kind, LayerKind::Existing) {
                continue;
            }
            let (kind, label) = match &layer.kind {
                LayerKind::Gap(gap) if gap.furring.is_empty() && gap.mat.is_none() => continue,
                LayerKind::Gap(gap) if gap.furring.is_empty() => (Kind::Layer, "drainage mat"),
                LayerKind::Gap(_) => (Kind::Furring, "furring"),
                _ if at <= rain => (Kind::Cladding, layer.name.as_str()),
                _ => (Kind::Layer, layer.name.as_str()),
            };
            let task = draft.add(Entry {
                lane: Some(lane),
                phase: Phase::Sections,
                stage: if kind == Kind::Cladding { stage::CLADDING } else { stage::LAYERS },
                by: layer.by.unwrap_or("crew"),
                rank: layers.len() - at,
                origin: layer.origin,
                ..self.entry(kind, label, name, foot)
            });
            let inner = column.layers.last().copied().or(behind);
            inner.into_iter().for_each(|inner| draft.tie(inner, task, Why::Behind));
            if column.layers.is_empty() {
                self.test.into_iter().for_each(|test| draft.tie(test, task, Why::Tested));
            }
            column.layers.push(task);
            if kind == Kind::Furring {
                column.furring = Some(task);
            }
            if kind == Kind::Cladding {
                column.cladding = Some(task);
            }
        }
        self.columns.push(column);
    }

    /// Who looks at the foot of a wall before the first course, and at its top before it is closed.
    fn ends(&mut self, draft: &mut Draft<'m>) {
        let edges = |kinds: &'static [&'static str]| -> Vec<Segment> {
            self.face.edges.iter().filter(|edge| kinds.contains(&edge.kind)).map(|edge| edge.segment).collect()
        };
        let (feet, tops) = (edges(&["base", "deck_line", "roof_line"]), edges(&["top", "rake", "parapet"]));
        for at in 0..self.columns.len() {
            let Some(column) = self.columns.get(at) else { continue };
            let (lane, cladding, last) =
                (column.lane, column.cladding, column.furring.or(column.layers.last().copied()));
            let mut look = |lines: &[Segment], hold: &'static str, name: &str, stage: u8| {
                let line = lines.iter().find(|line| meets(**line, column.bounds))?;
                let entry = Entry {
                    lane: Some(lane),
                    phase: Phase::Sections,
                    stage,
                    ..self.entry(Kind::Hold(hold), name, "", *line)
                };
                Some(draft.add(entry))
            };
            let foot = look(&feet, "H4", "look at the foot of the wall", stage::FOOT_SEEN);
            let top = look(&tops, "H6", "look at the top of the wall", stage::TOP_SEEN);
            for (first, then) in [(last, foot), (foot, cladding), (cladding, top)] {
                if let (Some(first), Some(then)) = (first, then) {
                    draft.tie(first, then, Why::Tested);
                }
            }
            if let Some(column) = self.columns.get_mut(at) {
                (column.foot, column.top) = (foot, top);
            }
        }
    }

    /// Columns that a line touches.
    pub(super) fn touched(&self, line: Segment) -> Vec<usize> {
        let all = self.columns.iter().enumerate();
        all.filter(|(_, column)| meets(line, column.bounds)).map(|(at, _)| at).collect()
    }

    /// The column in which a place lies; of an area, if it is known.
    pub(super) fn column_at(&self, place: Point, area: Option<usize>) -> Option<usize> {
        let holds = |column: &Column| {
            let bounds = column.bounds;
            area.is_none_or(|area| column.area == area)
                && (bounds.left..=bounds.right).contains(&place.x)
                && (bounds.bottom..=bounds.top).contains(&place.y)
        };
        self.columns.iter().position(holds)
    }
}

/// Index of the outermost layer that drains or is airtight; what lies before it is done in sections. Without either, the frame.
fn barrier(assembly: &Assembly) -> usize {
    let frame = assembly.frame().map_or(assembly.layers.len(), |(frame, _)| frame);
    let air = assembly.air_layer().map(|(at, _)| at).filter(|at| *at < frame);
    let water = assembly.drainage_plane().map(|(at, _)| at).filter(|at| *at < frame);
    air.into_iter().chain(water).min().unwrap_or(frame)
}

/// Heights at which flashings cut the wall: floors, and rows of slots.
fn breaks(face: &Face) -> Vec<Length> {
    let floors = face.floor_lines.iter().filter(|line| line.detail.is_some()).map(|line| line.height);
    let vents = face.vents.iter().filter(|vent| vent.flashing.is_some()).map(|vent| vent.height + vent.slot);
    let mut found: Vec<Length> = floors.chain(vents).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// Whether a line touches a piece of wall along more than a point.
fn meets(line: Segment, bounds: Bounds) -> bool {
    let (left, right) = (line.from.x.min(line.to.x), line.from.x.max(line.to.x));
    let (bottom, top) = (line.from.y.min(line.to.y), line.from.y.max(line.to.y));
    let across = if left == right {
        left <= bounds.right && bounds.left <= right
    } else {
        left < bounds.right && bounds.left < right
    };
    let up = if bottom == top {
        bottom <= bounds.top && bounds.bottom <= top
    } else {
        bottom < bounds.top && bounds.bottom < top
    };
    across && up
}

/// Ties the sections of a face to each other, and ends the work on it.
pub(super) fn close(draft: &mut Draft<'_>, wall: &Wall<'_>) {
    upward(draft, wall);
    let mut seen: BTreeMap<usize, TaskId> = BTreeMap::new();
    let lanes: BTreeMap<usize, Bounds> = wall.columns.iter().fold(BTreeMap::new(), |mut found, column| {
        found.entry(column.lane).and_modify(|all: &mut Bounds| *all = all.with(column.bounds)).or_insert(column.bounds);
        found
    });
    for (&lane, bounds) in &lanes {
        let line = Segment::new(Point::new(bounds.left, bounds.top), Point::new(bounds.right, bounds.top));
        let entry = |kind, name, stage| Entry {
            lane: Some(lane),
            phase: Phase::Sections,
            stage,
            ..wall.entry(kind, name, "", line)
        };
        let look = draft.add(entry(Kind::Hold("H5"), "look at the section", stage::SECTION_SEEN));
        let mut last = look;
        if draft.lanes.get(lane).is_some_and(|lane| lane.stops) {
            last = draft.add(entry(Kind::DryIn, "close the top edge for the night", stage::DRY_IN));
            draft.tie(look, last, Why::Upward);
        }
        seen.insert(lane, look);
        let above = wall.columns.iter().filter(|column| is_above(draft, column.lane, lane));
        for cladding in above.filter_map(|column| column.cladding).collect::<Vec<_>>() {
            draft.tie(last, cladding, Why::Upward);
        }
    }
    leave(draft, wall, &seen);
}

fn is_above(draft: &Draft<'_>, upper: usize, lower: usize) -> bool {
    let (Some(upper), Some(lower)) = (draft.lanes.get(upper), draft.lanes.get(lower)) else { return false };
    upper.lift == lower.lift + 1 && lower.stops && upper.left < lower.right && lower.left < upper.right
}

/// Within one section, what is above a break comes after what is below it.
fn upward(draft: &mut Draft<'_>, wall: &Wall<'_>) {
    for lower in &wall.columns {
        for upper in wall.columns.iter().filter(|upper| upper.lane == lower.lane) {
            let over = upper.bounds.bottom == lower.bounds.top
                && upper.bounds.left < lower.bounds.right
                && lower.bounds.left < upper.bounds.right;
            if let (true, Some(first), Some(then)) = (over, lower.cladding, upper.cladding) {
                draft.tie(first, then, Why::Upward);
            }
        }
    }
}

/// Everything of a section is done before it is looked at; everything of a face before the lift leaves.
fn leave(draft: &mut Draft<'_>, wall: &Wall<'_>, seen: &BTreeMap<usize, TaskId>) {
    let Some(bounds) = wall.plan.outline.bounds() else { return };
    let line = Segment::new(Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.bottom));
    let end = draft.tasks.len();
    let leaving = draft.add(Entry {
        phase: Phase::Leaving,
        ..wall.entry(Kind::Hold("H7"), "walk the wall before the lift leaves", "", line)
    });
    for at in wall.start..end {
        let Some(task) = draft.tasks.get(at) else { continue };
        let id = TaskId(at as u32);
        let (phase, kind, lane) = (task.phase, task.kind, task.lane);
        let look = lane.and_then(|lane| seen.get(&lane)).copied();
        match (phase, kind, look) {
            (Phase::Sections, Kind::Hold("H5") | Kind::DryIn, _) | (Phase::SecondFix, ..) => {
                draft.tie(id, leaving, Why::Tested);
            }
            (Phase::Sections, _, Some(look)) => draft.tie(id, look, Why::Tested),
            _ => {}
        }
    }
}
