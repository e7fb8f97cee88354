//! Puts tasks in order, and finds the loops that have none.

use std::cmp::Reverse;
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap, VecDeque};

use super::{Kind, Task, TaskId, Tie};

/// Tasks that wait for each other, as the ties between them: each `then` is the next `first`, and the last leads back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Loop {
    /// The ties.
    pub ties: Vec<Tie>,
}

/// No more loops of one knot are told: when the first ones are mended the others are found.
const MOST_LOOPS: usize = 12;

/// All tasks in order, those of loops where they fall; and the loops.
pub(super) fn sort(tasks: &[Task], ties: &[Tie]) -> (Vec<TaskId>, Vec<Loop>) {
    let mut waits = vec![0_u32; tasks.len()];
    for tie in ties {
        if let Some(count) = waits.get_mut(tie.then.0 as usize) {
            *count += 1;
        }
    }
    let mut ready: BinaryHeap<Reverse<(super::Key, TaskId)>> = BinaryHeap::new();
    let key = |id: TaskId| tasks.get(id.0 as usize).map(|task| Reverse((task.key, id)));
    let ids = || (0..tasks.len() as u32).map(TaskId);
    ready.extend(ids().filter(|id| waits.get(id.0 as usize) == Some(&0)).filter_map(key));
    let mut sequence = Vec::with_capacity(tasks.len());
    let mut done = vec![false; tasks.len()];
    let mut knot: Option<BTreeSet<(super::Key, TaskId)>> = None;
    loop {
        let next = match ready.pop() {
            Some(Reverse((_, id))) => Some(id),
            None => {
                let left = knot.get_or_insert_with(|| {
                    let open = ids().filter(|id| done.get(id.0 as usize) == Some(&false));
                    open.filter_map(|id| tasks.get(id.0 as usize).map(|task| (task.key, id))).collect()
                });
                std::iter::from_fn(|| left.pop_first())
                    .map(|(_, id)| id)
                    .find(|id| done.get(id.0 as usize) == Some(&false))
            }
        };
        let Some(id) = next else { break };
        let Some(mark) = done.get_mut(id.0 as usize) else { continue };
        if std::mem::replace(mark, true) {
            continue;
        }
        sequence.push(id);
        for tie in after(ties, id) {
            if let Some(count) = waits.get_mut(tie.then.0 as usize) {
                *count = count.saturating_sub(1);
                if *count == 0 {
                    ready.extend(key(tie.then));
                }
            }
        }
    }
    let loops = if knot.is_some() { loops(tasks, ties) } else { Vec::new() };
    (sequence, loops)
}

/// The ties that lead away from a task; ties are sorted.
fn after(ties: &[Tie], id: TaskId) -> &[Tie] {
    let start = ties.partition_point(|tie| tie.first < id);
    let rest = ties.get(start..).unwrap_or_default();
    rest.get(..rest.partition_point(|tie| tie.first == id)).unwrap_or_default()
}

/// The shortest loop through each part that is in one; a part that stands in a loop already told is not asked again.
fn loops(tasks: &[Task], ties: &[Tie]) -> Vec<Loop> {
    let knots = knots(tasks.len(), ties);
    let mut found: Vec<Loop> = Vec::new();
    for knot in knots {
        let mut told: BTreeSet<TaskId> = BTreeSet::new();
        let mut of_knot: Vec<Loop> = Vec::new();
        // Parts and what is made of them come first; a hold point alone explains nothing.
        let (parts, others): (Vec<TaskId>, Vec<TaskId>) = knot
            .iter()
            .partition(|id| tasks.get(id.0 as usize).is_some_and(|task| matches!(task.kind, Kind::Part | Kind::Trim)));
        for id in parts.into_iter().chain(others) {
            if of_knot.len() >= MOST_LOOPS || told.contains(&id) {
                continue;
            }
            let Some(shortest) = back_to(ties, &knot, id) else { continue };
            let known = shortest.iter().any(|tie| told.contains(&tie.first) && is_part(tasks, tie.first));
            told.extend(shortest.iter().map(|tie| tie.first));
            if !known {
                of_knot.push(Loop { ties: shortest });
            }
        }
        found.append(&mut of_knot);
    }
    found
}

fn is_part(tasks: &[Task], id: TaskId) -> bool {
    tasks.get(id.0 as usize).is_some_and(|task| matches!(task.kind, Kind::Part | Kind::Trim))
}

/// The shortest way from a task back to itself inside a knot.
fn back_to(ties: &[Tie], knot: &BTreeSet<TaskId>, start: TaskId) -> Option<Vec<Tie>> {
    let mut from: BTreeMap<TaskId, Tie> = BTreeMap::new();
    let mut queue = VecDeque::from([start]);
    while let Some(at) = queue.pop_front() {
        for tie in after(ties, at).iter().filter(|tie| knot.contains(&tie.then)) {
            if tie.then == start {
                return Some(trail(&from, start, *tie));
            }
            if let Entry::Vacant(place) = from.entry(tie.then) {
                place.insert(*tie);
                queue.push_back(tie.then);
            }
        }
    }
    None
}

fn trail(from: &BTreeMap<TaskId, Tie>, start: TaskId, last: Tie) -> Vec<Tie> {
    let mut ties = vec![last];
    let mut at = last.first;
    while at != start {
        let Some(tie) = from.get(&at) else { break };
        ties.push(*tie);
        at = tie.first;
    }
    ties.reverse();
    ties
}

/// Sets of tasks each of which waits for every other of its set: strongly connected components of more than one task, found
/// without recursion.
fn knots(count: usize, ties: &[Tie]) -> Vec<BTreeSet<TaskId>> {
    const NEW: u32 = u32::MAX;
    let (mut index, mut low) = (vec![NEW; count], vec![NEW; count]);
    let mut on_stack = vec![false; count];
    let (mut stack, mut next, mut found) = (Vec::new(), 0_u32, Vec::new());
    for root in 0..count {
        if index.get(root).copied() != Some(NEW) {
            continue;
        }
        // A task, and how many of its ties were followed.
        let mut way: Vec<(usize, usize)> = vec![(root, 0)];
        while let Some((at, followed)) = way.last().copied() {
            if followed == 0 {
                set(&mut index, at, next);
                set(&mut low, at, next);
                next += 1;
                stack.push(at);
                set(&mut on_stack, at, true);
            }
            if let Some(tie) = after(ties, TaskId(at as u32)).get(followed) {
                if let Some(top) = way.last_mut() {
                    top.1 += 1;
                }
                let then = tie.then.0 as usize;
                if get(&index, then) == NEW {
                    way.push((then, 0));
                } else if get(&on_stack, then) {
                    let least = get(&low, at).min(get(&index, then));
                    set(&mut low, at, least);
                }
                // A task without ties must not be opened twice.
                continue;
            }
            way.pop();
            if let Some((above, _)) = way.last().copied() {
                let least = get(&low, above).min(get(&low, at));
                set(&mut low, above, least);
            }
            if get(&low, at) == get(&index, at) {
                let mut knot = BTreeSet::new();
                while let Some(member) = stack.pop() {
                    set(&mut on_stack, member, false);
                    knot.insert(TaskId(member as u32));
                    if member == at {
                        break;
                    }
                }
                if knot.len() > 1 {
                    found.push(knot);
                }
            }
        }
    }
    found.sort();
    found
}

fn get<T: Copy + Default>(list: &[T], at: usize) -> T {
    list.get(at).copied().unwrap_or_default()
}

fn set<T>(list: &mut [T], at: usize, value: T) {
    if let Some(place) = list.get_mut(at) {
        *place = value;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::continuity::order::Why;

    fn tie(first: u32, then: u32) -> Tie {
        Tie { first: TaskId(first), then: TaskId(then), why: Why::Over }
    }

    fn ties(pairs: &[(u32, u32)]) -> Vec<Tie> {
        let mut ties: Vec<Tie> = pairs.iter().map(|&(first, then)| tie(first, then)).collect();
        ties.sort_unstable();
        ties
    }

    #[test]
    fn what_has_an_order_has_no_knot() {
        assert!(knots(4, &ties(&[(0, 1), (1, 2), (0, 2), (3, 2)])).is_empty());
        assert!(knots(0, &[]).is_empty());
    }

    #[test]
    fn each_knot_is_found_once() {
        let found = knots(7, &ties(&[(0, 1), (1, 2), (2, 0), (2, 3), (3, 4), (4, 3), (5, 6)]));
        let members: Vec<Vec<u32>> = found.iter().map(|knot| knot.iter().map(|id| id.0).collect()).collect();
        assert_eq!(members, [vec![0, 1, 2], vec![3, 4]]);
    }

    #[test]
    fn the_shortest_way_back_is_told_from_its_start() {
        let ties = ties(&[(0, 1), (1, 2), (2, 3), (3, 0), (1, 0)]);
        let knot: BTreeSet<TaskId> = (0..4).map(TaskId).collect();
        assert_eq!(back_to(&ties, &knot, TaskId(0)), Some(vec![tie(0, 1), tie(1, 0)]));
        assert_eq!(back_to(&ties, &knot, TaskId(2)).map(|ties| ties.len()), Some(4));
    }
}
