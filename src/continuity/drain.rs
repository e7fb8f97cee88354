//! Water: whether each low point of a bay has a way out, and how deep it stands where it has none.

use super::ends::{Drains, Ends, NEAR, Scene, Way};
use super::flow::{ExitKind, Opening, Trap};
use crate::geometry::{LevelPoint, Point, Polygon, Region, Segment, low_points};
use crate::plan::{Against, Bay, Contact, Strip};
use crate::units::Length;

/// On a sloped floor the lowest hole must lie this near to the low end: 60 mm, made for this check.
pub(super) const HOLE_TO_LOW_END: Length = Length::mm(60);

/// What became of the water of one bay.
#[derive(Default)]
pub(super) struct Drained {
    pub exits: Vec<Opening>,
    pub traps: Vec<Trap>,
    pub undecided: Vec<(Against, String)>,
}

/// What one thing under a low point does with its water.
pub(super) enum Answer {
    Out(Opening),
    /// Why not, and the height of a way out that lies higher on the same floor.
    Stands(String, Option<Length>),
    Unknown(String),
    /// Already reported.
    Silent,
}

/// A low point with what lies under it and what that does.
pub(super) struct Low {
    pub point: LevelPoint,
    pub answers: Vec<(Against, Answer)>,
}

impl Low {
    fn drains(&self) -> bool {
        self.answers.iter().any(|(_, answer)| matches!(answer, Answer::Out(_)))
    }

    /// Not known to stand: it drains, or a fact is missing, or the text is broken.
    fn may_drain(&self) -> bool {
        self.answers.iter().any(|(_, answer)| !matches!(answer, Answer::Stands(..)))
    }
}

/// Follows the water of a bay to its low points, and from each of them out.
pub(super) fn drain(scene: &Scene, area: usize, bay: &Bay) -> Drained {
    let lows: Vec<Low> = low_points(&bay.shape).into_iter().map(|point| judge(scene, area, bay, point)).collect();
    let mut drained = Drained::default();
    for low in &lows {
        for (with, answer) in &low.answers {
            match answer {
                Answer::Out(exit) => push_once(&mut drained.exits, exit.clone()),
                Answer::Unknown(fact) if !low.drains() => {
                    let entry = (*with, fact.clone());
                    if !drained.undecided.contains(&entry) {
                        drained.undecided.push(entry);
                    }
                }
                _ => {}
            }
        }
        if !low.may_drain() {
            drained.traps.push(trap(scene, area, bay, low, &lows));
        }
    }
    drained
}

/// Each way out once, however many low points use it.
fn push_once(exits: &mut Vec<Opening>, exit: Opening) {
    let same = |known: &Opening| known.segment == exit.segment && known.with == exit.with && known.kind == exit.kind;
    if !exits.iter().any(same) {
        exits.push(exit);
    }
}

/// Asks everything under a low point.
pub(super) fn judge(scene: &Scene, area: usize, bay: &Bay, point: LevelPoint) -> Low {
    let mut answers = Vec::new();
    for contact in under(bay, &point) {
        answers.extend(ask(scene, area, contact, &point).into_iter().map(|answer| (contact.with, answer)));
    }
    if answers.is_empty() {
        answers.push((Against::Unknown, Answer::Unknown("what lies under this bay".to_owned())));
    }
    Low { point, answers }
}

/// Pieces of boundary under a low point: those on its level floor, or those that meet in its corner.
fn under<'b>(bay: &'b Bay, point: &LevelPoint) -> Vec<&'b Contact> {
    if point.level.is_empty() {
        let touches = |contact: &&Contact| {
            let ends = [contact.segment.from, contact.segment.to];
            contact.segment.is_floor() && ends.into_iter().any(|end| near(end, point.at))
        };
        return bay.contacts.iter().filter(touches).collect();
    }
    let lies = |contact: &&Contact| {
        let on = |level: Segment| contact.segment.overlap_near(level, NEAR).is_some();
        point.level.iter().any(|edge| on(edge.segment))
    };
    bay.contacts.iter().filter(lies).collect()
}

fn near(one: Point, other: Point) -> bool {
    (one.x - other.x).abs() <= NEAR && (one.y - other.y).abs() <= NEAR
}

/// What the thing under a low point does with its water.
fn ask(scene: &Scene, area: usize, contact: &Contact, point: &LevelPoint) -> Vec<Answer> {
    let face = scene.face;
    let passes = |joins| Answer::Out(way_past(contact, joins));
    let stands = |why: String| Answer::Stands(why, None);
    let answer = match contact.with {
        Against::Run(id) => {
            return match scene.plan.run(id) {
                Some(run) => run_answers(&scene.ends(id, run, area, contact.segment), contact.with, point),
                None => Vec::new(),
            };
        }
        Against::Block(index) => match face.blocks.get(index) {
            Some(block) if block.flashing.is_some() => passes("outside"),
            Some(block) => match block.drained {
                Some(true) => passes("gap"),
                Some(false) => stands(format!("block `{}` dams the gap: no flashing, and not drained", block.name)),
                None => Answer::Unknown(format!("whether water in the gap can pass block `{}`", block.name)),
            },
            None => Answer::Silent,
        },
        Against::FireStop(index) => match face.fire_stops.get(index) {
            Some(stop) if stop.flashing.is_some() => passes("outside"),
            Some(stop) if stop.open_state => passes("gap"),
            Some(stop) => stands(format!("fire stop `{}` fills the gap and has no flashing", stop.name)),
            None => Answer::Silent,
        },
        Against::Vent(index) => match face.vents.get(index) {
            Some(vent) if vent.gives.contains(&"exit") => passes("outside"),
            Some(vent) => {
                stands(format!("the flashing of `{}` crosses the gap, and `{}` gives no exit", vent.name, vent.name))
            }
            None => Answer::Silent,
        },
        Against::Nailer(index) => match face.nailers.get(index) {
            Some(nailer) => stands(format!("nailer `{}` dams the gap", nailer.name)),
            None => Answer::Silent,
        },
        Against::Strip(index) => match strip(scene, area, index) {
            Some(strip) if is_its_end(strip, contact.segment) => Answer::Silent,
            Some(strip) if strip.horizontal && is_held_off(scene, area) => passes("gap"),
            Some(_) => stands("a strip of furring dams the gap".to_owned()),
            None => Answer::Silent,
        },
        Against::Unknown => Answer::Unknown("what lies under this bay".to_owned()),
    };
    vec![answer]
}

fn strip<'s>(scene: &'s Scene, area: usize, index: usize) -> Option<&'s Strip> {
    scene.plan.face(scene.id)?.areas.get(area)?.strips.get(index)
}

/// Whether a piece of a strip's boundary is its cut end, square or on a pitch: a spoonful of water stands there at most.
fn is_its_end(strip: &Strip, piece: Segment) -> bool {
    let width = strip.shape.area().as_m2() / strip.axis.length().as_m().max(f64::MIN_POSITIVE);
    piece.length().as_m() <= 2.0 * width
}

/// Whether upright strips or a drainage mat hold those that lie across the wall off the plane, so that water passes behind.
fn is_held_off(scene: &Scene, area: usize) -> bool {
    let assembly = scene.face.areas.get(area).and_then(|area| scene.model.assembly(area.assembly));
    let gap = assembly.and_then(|assembly| assembly.gap());
    gap.is_some_and(|(_, gap)| gap.mat.is_some() || gap.furring.iter().any(|furring| furring.counter.is_some()))
}

/// A way out with no size of its own to speak of: over a flashing, or past a thing that is drained.
fn way_past(contact: &Contact, joins: &'static str) -> Opening {
    Opening {
        segment: contact.segment,
        with: contact.with,
        kind: ExitKind::Slot,
        area: None,
        aged_area: None,
        share: None,
        missing: None,
        joins,
    }
}

/// What an edge does with the water of a low point: its slots and holes, then the channel that runs on under the furring.
fn run_answers(ends: &Ends, with: Against, point: &LevelPoint) -> Vec<Answer> {
    if ends.broken {
        return vec![Answer::Silent];
    }
    let mut answers: Vec<Answer> = ends.ways.iter().filter_map(|way| way_answer(way, point)).collect();
    answers.extend(ends.closed.iter().map(|why| Answer::Stands(why.clone(), None)));
    answers.extend(ends.missing.iter().map(|fact| Answer::Unknown(fact.clone())));
    if !answers.iter().any(|answer| matches!(answer, Answer::Out(_))) {
        answers.extend(channel_answer(ends, with, point));
    }
    answers
}

/// Whether a way takes the water of this low point.
fn way_answer(way: &Way, point: &LevelPoint) -> Option<Answer> {
    let segment = way.opening.segment;
    let level = point.level.iter().any(|edge| edge.segment.overlap_near(segment, NEAR).is_some());
    if !level && ![segment.from, segment.to].into_iter().any(|end| near(end, point.at)) {
        return None;
    }
    Some(match &way.drains {
        Drains::No(why) => Answer::Stands(why.clone(), None),
        Drains::Unknown(fact) => Answer::Unknown(fact.clone()),
        Drains::Yes if level || way.opening.kind == ExitKind::Slot => Answer::Out(way.opening.clone()),
        Drains::Yes => {
            let lowest = way.holes.iter().min_by_key(|at| (at.y, at.x))?;
            if (*lowest - point.at).length() <= HOLE_TO_LOW_END {
                Answer::Out(way.opening.clone())
            } else {
                Answer::Stands("the lowest weep lies above the low end of the floor".to_owned(), Some(lowest.y))
            }
        }
    })
}

/// A sloped channel carries water on under the furring, to a lower hole or to its open low end. A closed low end holds what
/// reaches it, unless a hole lies right there.
fn channel_answer(ends: &Ends, with: Against, point: &LevelPoint) -> Option<Answer> {
    let channel = ends.channel?;
    let low_end = channel.low_end()?;
    let out = |at: Point| {
        let contact = Contact { segment: Segment::new(at, at), with };
        Answer::Out(Opening { kind: ExitKind::Holes, ..way_past(&contact, "outside") })
    };
    let stands = |how: &str| Answer::Stands(format!("the low end of `{}` is {how}", channel.trim.name), None);
    let at_end = |hole: &Point| (*hole - low_end).length() <= HOLE_TO_LOW_END;
    let lower = channel.drain_holes().filter(|hole| hole.y <= point.at.y).min_by_key(|hole| (hole.y, hole.x));
    Some(match (channel.trim.low_end, lower) {
        (Some("closed"), Some(hole)) if at_end(&hole) => out(hole),
        (Some("closed"), _) => stands("closed"),
        (_, Some(hole)) => out(hole),
        (Some("open"), None) => out(low_end),
        (Some(_), None) => stands("dammed"),
        (None, None) => Answer::Unknown(format!("whether the low end of `{}` is open", channel.trim.name)),
    })
}

/// A low point that nothing drains.
fn trap(scene: &Scene, area: usize, bay: &Bay, low: &Low, lows: &[Low]) -> Trap {
    let (left, right) = low.point.span();
    let at = low.point.at;
    let floor = Segment::new(Point::new(left, at.y), Point::new(right, at.y));
    let mut with: Vec<Against> = Vec::new();
    let mut reasons: Vec<String> = Vec::new();
    let mut way_out: Option<Length> = None;
    for (thing, answer) in &low.answers {
        if !with.contains(thing) {
            with.push(*thing);
        }
        if let Answer::Stands(why, higher) = answer {
            if !reasons.contains(why) {
                reasons.push(why.clone());
            }
            way_out = way_out.into_iter().chain(*higher).min();
        }
    }
    let spill = spill_height(scene, area, bay, low, lows).into_iter().chain(way_out).min();
    Trap { at, floor, with, depth: spill.map(|height| height - at.y), why: reasons.join("; ") }
}

/// The height at which standing water runs over to a lower place of the bay, to one that drains, or out at a higher slot.
/// Water rises from corner to corner of the boundary; between two of them nothing new can happen.
fn spill_height(scene: &Scene, area: usize, bay: &Bay, low: &Low, lows: &[Low]) -> Option<Length> {
    let at = low.point.at;
    let slots = higher_slots(scene, area, bay, at.y);
    let mut heights: Vec<Length> = bay.shape.edges().map(|edge| edge.segment.from.y).filter(|&y| y >= at.y).collect();
    heights.extend(slots.iter().map(|slot| slot.y));
    heights.sort_unstable();
    heights.dedup();
    let elsewhere = |other: &&Low| other.point.at != at && (other.drains() || other.point.at.y < at.y);
    let goals: Vec<Point> = lows.iter().filter(elsewhere).map(|other| other.point.at).collect();
    let whole = Region::from(bay.shape.clone());
    let bottom = bay.shape.bounds().bottom;
    for (&height, &next) in heights.iter().zip(heights.iter().skip(1)) {
        let level = height + (next - height) / 2;
        let flooded = whole.clip_y(bottom, level);
        let pool = flooded.polygons().iter().find(|pool| holds(pool, at));
        let Some(pool) = pool else { continue };
        let out = slots.iter().any(|&slot| slot.y <= height && holds(pool, slot));
        if out || goals.iter().any(|&goal| holds(pool, goal)) {
            return Some(height);
        }
    }
    None
}

/// Whether a point lies in a pool or on its edge.
fn holds(pool: &Polygon, at: Point) -> bool {
    pool.place(at) != crate::geometry::Place::Outside
}

/// Lower ends of slots on the boundary of a bay through which water that rises runs out.
fn higher_slots(scene: &Scene, area: usize, bay: &Bay, above: Length) -> Vec<Point> {
    let mut found = Vec::new();
    for contact in &bay.contacts {
        let Against::Run(id) = contact.with else { continue };
        let Some(run) = scene.plan.run(id) else { continue };
        if contact.segment.is_ceiling() {
            continue;
        }
        let ends = scene.ends(id, run, area, contact.segment);
        let out = ends.ways.iter().filter(|way| way.drains == Drains::Yes && way.opening.kind == ExitKind::Slot);
        found.extend(out.map(|way| way.opening.segment.lower_end()).filter(|end| end.y > above));
    }
    found
}
