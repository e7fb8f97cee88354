//! The crew's sections as lanes of a face: where each begins and ends, which lift it is, what they leave out or do twice.

use std::collections::BTreeMap;

use crate::geometry::{Bounds, Point, Region};
use crate::model::{FaceId, Model, Where};
use crate::plan::FacePlan;
use crate::units::Length;

/// One section of work where it lies; or a whole face, or the rest of one, that no section was declared for.
#[derive(Clone, Debug)]
pub struct Lane {
    /// The face.
    pub face: FaceId,
    /// Index of the section in the model; none for what no section was declared for.
    pub section: Option<usize>,
    /// Left end.
    pub left: Length,
    /// Right end.
    pub right: Length,
    /// Where it begins: the stop line of the lane below it, or the foot of the wall.
    pub bottom: Length,
    /// Its stop line, or the top of the wall.
    pub top: Length,
    /// It ends below the top of the wall, so that its top edge waits for the next lift.
    pub stops: bool,
    /// How many lifts are below it.
    pub lift: usize,
}

/// Lanes of one face.
#[derive(Clone, Debug, Default)]
pub struct Lanes {
    /// Indices into [`super::Order::lanes`], by height of the stop line, then left to right.
    pub own: Vec<usize>,
    /// What no section covers, where there are sections.
    pub left_out: Region,
    /// Pairs of sections, by index in the model, that are to do the same piece of wall.
    pub twice: Vec<(usize, usize)>,
}

/// Indices of sections by face.
pub(super) fn by_face(model: &Model) -> BTreeMap<FaceId, Vec<usize>> {
    let mut found: BTreeMap<FaceId, Vec<usize>> = BTreeMap::new();
    for (at, section) in model.sections.iter().enumerate() {
        if let Some(face) = section.face {
            found.entry(face).or_default().push(at);
        }
    }
    found
}

/// A place along a face of this extent.
pub fn along(place: Option<Where>, bounds: Bounds, otherwise: Length) -> Length {
    match place {
        None => otherwise,
        Some(Where::Left) => bounds.left,
        Some(Where::Right) => bounds.right,
        Some(Where::Centre) => bounds.left + Length(bounds.width().0 / 2),
        Some(Where::At(x)) => x,
    }
}

impl Lanes {
    pub(super) fn of(
        model: &Model,
        plan: &FacePlan,
        face: FaceId,
        bounds: Bounds,
        sections: &[usize],
        all: &mut Vec<Lane>,
    ) -> Self {
        let mut lanes = Self::default();
        for &at in sections {
            let Some(section) = model.sections.get(at) else { continue };
            let (one, other) = (along(section.from, bounds, bounds.left), along(section.to, bounds, bounds.right));
            let top = section.up_to.filter(|top| *top < bounds.top);
            all.push(Lane {
                face,
                section: Some(at),
                left: one.min(other),
                right: one.max(other),
                bottom: bounds.bottom,
                top: top.unwrap_or(bounds.top),
                stops: top.is_some(),
                lift: 0,
            });
            lanes.own.push(all.len() - 1);
        }
        lanes.stack(all);
        lanes.left_out = if sections.is_empty() { plan.outline.clone() } else { lanes.rest(&plan.outline, all) };
        if let Some(rest) = lanes.left_out.bounds() {
            let lift = if sections.is_empty() { 0 } else { 1 + lanes.highest(all) };
            let Bounds { left, right, bottom, top } = rest;
            all.push(Lane { face, section: None, left, right, bottom, top, stops: false, lift });
            lanes.own.push(all.len() - 1);
        }
        if sections.is_empty() {
            lanes.left_out = Region::default();
        }
        lanes
    }

    /// Puts lanes one above the other.
    fn stack(&mut self, all: &mut [Lane]) {
        self.own.sort_by_key(|&at| all.get(at).map(|lane| (lane.top, lane.left, lane.section)));
        for (place, &at) in self.own.iter().enumerate() {
            let Some(lane) = all.get(at).cloned() else { continue };
            let lower = self.own.iter().take(place).filter_map(|&at| all.get(at));
            let mut below: Option<(Length, usize)> = None;
            for other in lower.filter(|other| other.left < lane.right && lane.left < other.right) {
                if other.top == lane.top {
                    self.twice.extend(other.section.zip(lane.section));
                } else {
                    let found = (other.top, other.lift + 1);
                    below = Some(below.map_or(found, |(top, lift)| (top.max(found.0), lift.max(found.1))));
                }
            }
            if let (Some((top, lift)), Some(lane)) = (below, all.get_mut(at)) {
                (lane.bottom, lane.lift) = (top, lift);
            }
        }
    }

    /// What no lane covers. A lane covers everything below its stop line that no lower lane does.
    fn rest(&self, outline: &Region, all: &[Lane]) -> Region {
        let Some(bounds) = outline.bounds() else { return Region::default() };
        let lanes = self.own.iter().filter_map(|&at| all.get(at));
        let sheets: Vec<Region> = lanes
            .filter(|lane| lane.left < lane.right && bounds.bottom < lane.top)
            .map(|lane| Region::rectangle(lane.left, bounds.bottom, lane.right, lane.top))
            .collect();
        outline.difference_many(sheets.iter())
    }

    fn highest(&self, all: &[Lane]) -> usize {
        self.own.iter().filter_map(|&at| all.get(at)).map(|lane| lane.lift).max().unwrap_or(0)
    }

    /// The lane in which a place lies: the lowest one that reaches so high. A stop line belongs to what is below it.
    pub fn at(&self, all: &[Lane], place: Point) -> Option<usize> {
        let holds = |lane: &Lane| lane.left <= place.x && place.x <= lane.right && place.y <= lane.top;
        let own = self.own.iter().copied();
        own.clone().find(|&at| all.get(at).is_some_and(holds)).or(own.last())
    }
}
