//! Bays: the connected pieces of the gap between strips, with what lies along every piece of their boundary.

use super::gap::{Obstacles, Wall, gap_of};
use super::places::{Index, NEAR, Scene, same_way, tidy};
use super::strips::Laid;
use super::{Against, Bay, Contact, FacePlan, Run, RunId};
use crate::geometry::{Point, Polygon, Region, Segment, split_run};

/// The bays of an area; none if its assembly has no gap.
pub(super) fn find(
    scene: &Scene<'_>,
    plan: &FacePlan,
    runs: &[Run],
    gap: &Obstacles,
    laid: &Laid,
    area: usize,
) -> Vec<Bay> {
    let Some(placed) = plan.areas.get(area).filter(|_| gap_of(scene, area).is_some()) else { return Vec::new() };
    let strips = laid.strips.iter().take(laid.cutting).map(|strip| &strip.shape);
    let taken: Region = strips.chain(gap.shapes()).cloned().collect();
    let shapes = tidy(placed.whole.difference(&taken)).into_components();
    let walls = Walls::of(runs, gap, laid, area);
    let bay = |shape: Polygon| Bay { contacts: walls.along(&shape), vents: vents(scene, &shape), shape };
    shapes.into_iter().map(bay).collect()
}

/// Everything that can lie along a bay, first what holds where several do.
struct Walls {
    index: Index,
    with: Vec<Against>,
}

impl Walls {
    /// Every wall is turned so that the bay lies to its left: runs as they are (of the lower area of two: turned), things
    /// with their shapes turned inside out.
    fn of(runs: &[Run], gap: &Obstacles, laid: &Laid, area: usize) -> Self {
        let mut walls: Vec<(Segment, Against)> = Vec::new();
        for (at, run) in runs.iter().enumerate() {
            let with = Against::Run(RunId(at as u32));
            let opening = matches!(run.place, super::RunPlace::Opening(_));
            let crossing = run.place.crosses_face();
            if opening || (run.area == Some(area) && !crossing) {
                walls.push((run.segment, with));
            } else if run.other == Some(area) {
                walls.push((run.segment.reversed(), with));
            }
        }
        let turned = |shape: &Polygon| shape.edges().map(|edge| edge.segment.reversed()).collect::<Vec<_>>();
        for obstacle in &gap.list {
            match obstacle.wall {
                Wall::Opening => {}
                Wall::Thing(thing) => walls.extend(turned(&obstacle.shape).into_iter().map(|side| (side, thing))),
                Wall::Dividing(run) => {
                    walls.extend(turned(&obstacle.shape).into_iter().map(|side| (side, Against::Run(run))));
                }
                Wall::Crossing(run) => {
                    let sides = turned(&obstacle.shape).into_iter().filter(|side| !side.is_ceiling());
                    walls.extend(sides.map(|side| (side, Against::Run(run))));
                }
            }
        }
        for (at, strip) in laid.strips.iter().take(laid.cutting).enumerate() {
            walls.extend(turned(&strip.shape).into_iter().map(|side| (side, Against::Strip(at))));
        }
        let (segments, with) = walls.into_iter().unzip();
        Self { index: Index::new(segments), with }
    }

    /// What lies along each piece of a bay's boundary.
    fn along(&self, shape: &Polygon) -> Vec<Contact> {
        let mut contacts = Vec::new();
        for edge in shape.edges() {
            let near = self.index.near(edge.segment).into_iter().filter_map(|at| {
                let wall = self.index.get(at).filter(|&wall| same_way(wall, edge.segment))?;
                Some((wall, *self.with.get(at)?))
            });
            let (walls, with): (Vec<Segment>, Vec<Against>) = near.unzip();
            contacts.extend(split_run(edge.segment, &walls, NEAR).into_iter().map(|piece| Contact {
                segment: piece.part,
                with: piece.over.and_then(|over| with.get(over).copied()).unwrap_or(Against::Unknown),
            }));
        }
        contacts
    }
}

/// The stretches of rows of slots that open into the bay, left to right.
fn vents(scene: &Scene<'_>, shape: &Polygon) -> Vec<(usize, Segment)> {
    let bounds = shape.bounds();
    let mut found = Vec::new();
    for (at, vent) in scene.face.vents.iter().enumerate() {
        if vent.height < bounds.bottom || vent.height > bounds.top {
            continue;
        }
        let (left, right) = scene.across(vent.from, vent.to);
        for (from, to) in shape.x_intervals_at(vent.height) {
            let (from, to) = (from.max(left), to.min(right));
            if from < to {
                found.push((at, Segment::new(Point::new(from, vent.height), Point::new(to, vent.height))));
            }
        }
    }
    found
}
