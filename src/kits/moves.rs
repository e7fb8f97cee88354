//! How often the machine is moved, and the order of sections that moves it least.
//!
//! A section is worked from one place of the machine, or from several side by side where its lane is wider than hands reach
//! from one. The machine stays where it is when the next section can be reached from there too. Walls are taken one after the
//! other: no order that jumps between them moves less, because a move from wall to wall is always one. So each wall is solved
//! for itself, exactly while its half-done states fit in a table, and with the best states kept beyond that; a bound tells how
//! much an order that was not proven could still be bettered.

use std::collections::BTreeMap;

use super::{Kit, hours};
use crate::continuity::Order;
use crate::model::{FaceId, Model};
use crate::plan::Plan;
use crate::units::Length;

/// Half-done states of one wall that are kept side by side. Twelve lanes of two lifts have less.
const STATES: usize = 20_000;
/// Sections of one wall that a state can hold.
const MOST: usize = 64;

/// One section as the machine sees it.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Index of the section in the model.
    pub section: usize,
    /// The wall.
    pub face: FaceId,
    /// Places of the machine, left to right: what hands must reach from each.
    pub stands: Vec<(Length, Length)>,
    /// How wide hands reach from one place; a place serves two sections only if they are one lane where that is not told.
    pub across: Option<Length>,
    /// Sections that must be done before it.
    pub after: Vec<usize>,
    /// How often the platform is set.
    pub settings: u64,
}

/// How the machine goes round.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Route {
    /// Sections in the order in which they are worked, by index in the model.
    pub sequence: Vec<usize>,
    /// Moves of that order.
    pub moves: u64,
    /// The order that moves least.
    pub proposed: Vec<usize>,
    /// Moves of the proposed order.
    pub fewest: u64,
    /// No order moves less than this; the proposed one is proven where both are the same.
    pub bound: u64,
    /// The lead's order is the one that is worked.
    pub is_leads: bool,
    /// Sections that the lead's order leaves out; they come last.
    pub left_out: Vec<usize>,
    /// Pairs of the order that is worked that stand the wrong way round: the first is worked before the second, which it needs.
    pub wrong: Vec<(usize, usize)>,
    /// Moves if sections are worked as they stand in the files.
    pub as_written: u64,
    /// Moves between the places of each section, and to it from the one before, in the order that is worked.
    pub each: Vec<u64>,
}

/// A section as the machine sees it; `None` for what has no section.
pub(super) fn work(model: &Model, plan: &Plan, order: &Order, kit: &Kit) -> Option<Work> {
    let section = kit.section?;
    let lane = order.lanes.get(kit.lane)?;
    let outline = &plan.face(kit.face)?.outline;
    let bounds = outline.clip_x(lane.left, lane.right).clip_y(lane.bottom, lane.top).bounds()?;
    let across = model.crew.as_ref().and_then(|crew| crew.across()).filter(|across| *across > Length::ZERO);
    let width = bounds.width();
    let count = across.map_or(1, |across| ((width.0 + across.0 - 1) / across.0).clamp(1, 1000));
    let mark = |at: i64| bounds.left + width.scale(at, count);
    let stands = (0..count).map(|at| (mark(at), mark(at + 1))).collect();
    let settings = hours::settings(model, kit);
    Some(Work { section, face: kit.face, stands, across, after: below(order, kit.lane), settings })
}

/// Sections that stand below a lane.
fn below(order: &Order, lane: usize) -> Vec<usize> {
    let Some(of) = order.lanes.get(lane) else { return Vec::new() };
    let under = |other: &&crate::continuity::Lane| {
        other.face == of.face && other.lift < of.lift && other.left < of.right && of.left < other.right
    };
    order.lanes.iter().filter(under).filter_map(|other| other.section).collect()
}

/// The order that is worked, the order that moves least, and how they compare.
pub(super) fn route(model: &Model, works: &[Work]) -> Route {
    let (proposed, bound) = propose(works);
    let written: Vec<usize> = by_number(works).into_iter().map(|work| work.section).collect();
    let mut leads: Vec<usize> = model.crew.iter().flat_map(|crew| &crew.order).filter_map(|(.., at)| *at).collect();
    leads.retain(|section| written.contains(section));
    let is_leads = !leads.is_empty();
    let left_out: Vec<usize> =
        if is_leads { proposed.iter().copied().filter(|at| !leads.contains(at)).collect() } else { Vec::new() };
    let sequence =
        if is_leads { leads.into_iter().chain(left_out.iter().copied()).collect() } else { proposed.clone() };
    let each = walk(works, &sequence);
    let moves = |sequence: &[usize]| walk(works, sequence).iter().sum::<u64>();
    let place = |section: usize| sequence.iter().position(|at| *at == section);
    let mut wrong: Vec<(usize, usize)> = works
        .iter()
        .flat_map(|work| work.after.iter().map(|before| (work.section, *before)))
        .filter(|(then, first)| place(*then) < place(*first))
        .collect();
    wrong.sort_unstable();
    Route {
        moves: each.iter().sum(),
        fewest: moves(&proposed),
        as_written: moves(&written),
        sequence,
        proposed,
        bound,
        is_leads,
        left_out,
        wrong,
        each,
    }
}

fn by_number(works: &[Work]) -> Vec<&Work> {
    let mut found: Vec<&Work> = works.iter().collect();
    found.sort_by_key(|work| work.section);
    found
}

/// The order of sections that moves the machine least, and what no order goes below. Of equals the one that comes first in the
/// files.
pub fn propose(works: &[Work]) -> (Vec<usize>, u64) {
    let mut walls: BTreeMap<FaceId, Vec<&Work>> = BTreeMap::new();
    for work in by_number(works) {
        walls.entry(work.face).or_default().push(work);
    }
    let mut walls: Vec<Vec<&Work>> = walls.into_values().collect();
    walls.sort_by_key(|wall| wall.first().map(|work| work.section));
    let mut sequence = Vec::new();
    let mut bound = (walls.len() as u64).saturating_sub(1);
    for wall in walls {
        let (order, fewest) = one_wall(&wall);
        sequence.extend(order);
        bound += fewest;
    }
    (sequence, bound)
}

/// Moves inside each section and to it from the one before, in this order, each section begun at the end that suits.
pub fn walk(works: &[Work], sequence: &[usize]) -> Vec<u64> {
    let find = |section: usize| works.iter().find(|work| work.section == section);
    let found: Vec<&Work> = sequence.iter().filter_map(|section| find(*section)).collect();
    let Some(first) = found.first() else { return Vec::new() };
    // Cost so far when the last section was worked to the right, to the left; and how it was come to.
    let mut costs = [0, 0];
    let mut from: Vec<[usize; 2]> = vec![[0, 0]];
    for pair in found.windows(2) {
        let &[before, work] = pair else { continue };
        let best = |way: usize| {
            let step = |last: usize| costs[last] + to(before, last, work, way);
            if step(0) <= step(1) { (step(0), 0) } else { (step(1), 1) }
        };
        let (right, left) = (best(0), best(1));
        costs = [right.0, left.0];
        from.push([right.1, left.1]);
    }
    let mut way = usize::from(costs[1] < costs[0]);
    let mut ways = Vec::new();
    for step in from.iter().rev() {
        ways.push(way);
        way = step[way];
    }
    ways.reverse();
    let mut each = vec![inner(first)];
    for (pair, ways) in found.windows(2).zip(ways.windows(2)) {
        if let (&[before, work], &[last, way]) = (pair, ways) {
            each.push(inner(work) + to(before, last, work, way));
        }
    }
    each
}

fn inner(work: &Work) -> u64 {
    (work.stands.len() as u64).saturating_sub(1)
}

/// One move, or none if the first place of the next section is the last one of the section before. `0` works to the right.
fn to(before: &Work, last: usize, work: &Work, way: usize) -> u64 {
    let ends = |work: &Work| Some((*work.stands.first()?, *work.stands.last()?));
    let (Some((left, right)), Some((low, high))) = (ends(before), ends(work)) else { return 1 };
    let here = if last == 0 { right } else { left };
    let there = if way == 0 { low } else { high };
    let stays = before.face == work.face
        && match work.across {
            Some(across) => here.1.max(there.1) - here.0.min(there.0) <= across,
            None => here == there,
        };
    u64::from(!stays)
}

/// What one wall has been worked to.
#[derive(Clone, Copy)]
struct State {
    done: u64,
    last: usize,
    way: usize,
    cost: u64,
    /// In the layer before.
    parent: usize,
}

/// The order of one wall with the fewest moves, and its bound.
fn one_wall(wall: &[&Work]) -> (Vec<usize>, u64) {
    let count = wall.len();
    if count > MOST {
        let order = stacked(wall);
        return (order, least(wall));
    }
    let place = |section: usize| wall.iter().position(|work| work.section == section);
    let needs: Vec<u64> = wall
        .iter()
        .map(|work| work.after.iter().filter_map(|before| place(*before)).fold(0, |set, at| set | 1 << at))
        .collect();
    let mut layers: Vec<Vec<State>> = Vec::new();
    let mut proven = true;
    for step in 0..count {
        let mut next: BTreeMap<(u64, usize, usize), State> = BTreeMap::new();
        let mut rank: Vec<(u64, usize, usize)> = Vec::new();
        let start = [State { done: 0, last: usize::MAX, way: 0, cost: 0, parent: 0 }];
        let before = if step == 0 { &start[..] } else { layers.last().map(Vec::as_slice).unwrap_or_default() };
        for (parent, state) in before.iter().enumerate() {
            for (at, work) in wall.iter().enumerate() {
                let need = needs.get(at).copied().unwrap_or(0);
                if state.done >> at & 1 == 1 || need & !state.done != 0 {
                    continue;
                }
                for way in 0..work.stands.len().clamp(1, 2) {
                    let come = wall.get(state.last).map_or(0, |last| to(last, state.way, work, way));
                    let (done, cost) = (state.done | 1 << at, state.cost + come + inner(work));
                    let made = State { done, last: at, way, cost, parent };
                    let key = (done, at, way);
                    match next.get_mut(&key) {
                        Some(known) if known.cost <= cost => {}
                        Some(known) => *known = made,
                        None => {
                            next.insert(key, made);
                            rank.push(key);
                        }
                    }
                }
            }
        }
        let mut layer: Vec<State> = rank.iter().filter_map(|key| next.get(key).copied()).collect();
        layer.sort_by_key(|state| (state.parent, state.last, state.way));
        if layer.len() > STATES {
            // The best are kept, and stay in the order of the files.
            layer.sort_by_key(|state| state.cost);
            layer.truncate(STATES);
            layer.sort_by_key(|state| (state.parent, state.last, state.way));
            proven = false;
        }
        layers.push(layer);
    }
    let Some(best) = layers.last().and_then(|layer| layer.iter().min_by_key(|state| state.cost)).copied() else {
        // Sections that wait for each other: as they stand in the files.
        return (wall.iter().map(|work| work.section).collect(), least(wall));
    };
    let mut order = Vec::new();
    let mut state = best;
    for layer in layers.iter().rev().skip(1) {
        order.extend(wall.get(state.last).map(|work| work.section));
        match layer.get(state.parent) {
            Some(before) => state = *before,
            None => break,
        }
    }
    order.extend(wall.get(state.last).map(|work| work.section));
    order.reverse();
    (order, if proven { best.cost } else { least(wall) })
}

/// What no order of a wall goes below: the moves inside sections, and one to each section that shares no place with another.
fn least(wall: &[&Work]) -> u64 {
    let inside: u64 = wall.iter().map(|work| inner(work)).sum();
    let shares = |work: &Work| {
        let other = |other: &&&Work| other.section != work.section;
        let near = |before: &Work| (0..4).any(|ways| to(before, ways / 2, work, ways % 2) == 0);
        wall.iter().filter(other).any(|before| near(before))
    };
    let alone = wall.iter().filter(|work| !shares(work)).count() as u64;
    inside + alone.saturating_sub(u64::from(alone == wall.len() as u64))
}

/// A wall with very many sections: stay where the machine stands while something can be done from there, else go to the first
/// section in the files that can be begun.
fn stacked(wall: &[&Work]) -> Vec<usize> {
    let mut left: Vec<&Work> = wall.to_vec();
    let known: std::collections::BTreeSet<usize> = wall.iter().map(|work| work.section).collect();
    let mut done = std::collections::BTreeSet::new();
    let mut order: Vec<usize> = Vec::new();
    let mut last: Option<&Work> = None;
    while !left.is_empty() {
        let free = |work: &Work| work.after.iter().all(|before| done.contains(before) || !known.contains(before));
        let stays = |work: &Work| last.is_some_and(|last| to(last, 0, work, 0) == 0);
        let next = left.iter().position(|work| free(work) && stays(work));
        let at = next.or_else(|| left.iter().position(|work| free(work))).unwrap_or(0);
        let work = left.remove(at);
        done.insert(work.section);
        order.push(work.section);
        last = Some(work);
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    fn work(section: usize, face: u32, lane: (i64, i64), after: &[usize]) -> Work {
        let stands = vec![(Length::mm(lane.0), Length::mm(lane.1))];
        Work { section, face: FaceId(face), stands, across: None, after: after.to_vec(), settings: 1 }
    }

    /// Every order that keeps what must come first, and its moves: what a person with all day would try.
    fn by_hand(works: &[Work]) -> u64 {
        fn rest(works: &[Work], so_far: &mut Vec<usize>, best: &mut u64) {
            if so_far.len() == works.len() {
                *best = (*best).min(walk(works, so_far).iter().sum());
                return;
            }
            for work in works {
                let free = work.after.iter().all(|before| so_far.contains(before));
                if !so_far.contains(&work.section) && free {
                    so_far.push(work.section);
                    rest(works, so_far, best);
                    so_far.pop();
                }
            }
        }
        let mut best = u64::MAX;
        rest(works, &mut Vec::new(), &mut best);
        best
    }

    #[test]
    fn lanes_are_finished_before_the_machine_moves() {
        // Two lanes of two lifts, and a gable over both.
        let works = [
            work(0, 0, (0, 3600), &[]),
            work(1, 0, (3600, 7200), &[]),
            work(2, 0, (0, 3600), &[0]),
            work(3, 0, (3600, 7200), &[1]),
            work(4, 0, (0, 7200), &[2, 3]),
        ];
        let (order, bound) = propose(&works);
        assert_eq!(order, [0, 2, 1, 3, 4]);
        assert_eq!((bound, walk(&works, &order)), (2, vec![0, 0, 1, 0, 1]));
        assert_eq!(walk(&works, &[0, 1, 2, 3, 4]).iter().sum::<u64>(), 4);
    }

    #[test]
    fn a_wide_reach_needs_fewer_places_and_goes_to_and_fro() {
        let wide = |section, places: &[(i64, i64)], after: &[usize]| {
            let stands = places.iter().map(|(left, right)| (Length::mm(*left), Length::mm(*right))).collect();
            Work {
                section,
                face: FaceId(0),
                stands,
                across: Some(Length::mm(4000)),
                after: after.to_vec(),
                settings: 1,
            }
        };
        // Two lifts of one wide lane: out along the lower one, back along the upper one.
        let works = [wide(0, &[(0, 3600), (3600, 7200)], &[]), wide(1, &[(0, 3600), (3600, 7200)], &[0])];
        assert_eq!(walk(&works, &[0, 1]), [1, 1]);
        assert_eq!(propose(&works), (vec![0, 1], 2));
    }

    #[test]
    fn no_order_tried_by_hand_moves_less() {
        let mut seed = 7u64;
        let mut random = |below: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % below
        };
        for _ in 0..60 {
            let works: Vec<Work> = (0..7)
                .map(|section| {
                    let left = random(3) as i64 * 2000;
                    let width = 1 + random(3) as i64;
                    let stands =
                        (0..width).map(|at| (Length::mm(left + at * 2000), Length::mm(left + (at + 1) * 2000)));
                    let after = (0..section).filter(|_| random(4) == 0).collect();
                    Work {
                        section,
                        face: FaceId(random(2) as u32),
                        stands: stands.collect(),
                        across: Some(Length::mm(2500)),
                        after,
                        settings: 1,
                    }
                })
                .collect();
            // Only what stands on the same wall comes first.
            let works: Vec<Work> = works
                .iter()
                .map(|work| Work {
                    after: work.after.iter().copied().filter(|before| works[*before].face == work.face).collect(),
                    ..work.clone()
                })
                .collect();
            let (order, bound) = propose(&works);
            let moves: u64 = walk(&works, &order).iter().sum();
            assert_eq!(moves, bound);
            assert_eq!(moves, by_hand(&works));
            assert!(works.iter().all(|work| {
                let at = |section: usize| order.iter().position(|known| *known == section);
                work.after.iter().all(|before| at(*before) < at(work.section))
            }));
        }
    }

    #[test]
    fn very_many_sections_are_ordered_with_an_honest_bound() {
        let works: Vec<Work> = (0..200)
            .map(|at| {
                let lane = (at / 2) as i64 * 1000;
                work(at, 0, (lane, lane + 1000), if at % 2 == 1 { &[0] } else { &[] })
            })
            .collect();
        let (order, bound) = propose(&works);
        let moves: u64 = walk(&works, &order).iter().sum();
        assert_eq!(order.len(), 200);
        assert!(bound <= moves && moves == 99, "{bound} {moves}");
    }
}
