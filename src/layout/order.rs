//! The order in which parts can go on: what must be there before what, and the loops that cannot be built.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// "This before that", by index.
pub type Before = BTreeMap<usize, BTreeSet<usize>>;

/// The shortest loop, as the parts in it, each before the next and the last before the first; of equals the one through
/// the lowest index. `None` when everything can be put in order.
pub fn loop_of(before: &Before) -> Option<Vec<usize>> {
    before.keys().filter_map(|&start| back_to(before, start)).min_by_key(Vec::len)
}

/// The shortest way from a part back to itself.
fn back_to(before: &Before, start: usize) -> Option<Vec<usize>> {
    let mut from: BTreeMap<usize, usize> = BTreeMap::new();
    let mut queue = VecDeque::from([start]);
    while let Some(at) = queue.pop_front() {
        for &next in before.get(&at).into_iter().flatten() {
            if next == start {
                return Some(trail(&from, start, at));
            }
            if let std::collections::btree_map::Entry::Vacant(entry) = from.entry(next) {
                entry.insert(at);
                queue.push_back(next);
            }
        }
    }
    None
}

fn trail(from: &BTreeMap<usize, usize>, start: usize, last: usize) -> Vec<usize> {
    let mut steps = vec![last];
    let mut at = last;
    while at != start {
        let Some(&earlier) = from.get(&at) else { break };
        steps.push(earlier);
        at = earlier;
    }
    steps.reverse();
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    fn graph(edges: &[(usize, usize)]) -> Before {
        let mut before = Before::new();
        for &(one, other) in edges {
            before.entry(one).or_default().insert(other);
        }
        before
    }

    #[test]
    fn an_order_has_no_loop() {
        assert_eq!(loop_of(&graph(&[(0, 1), (1, 2), (0, 2), (3, 2)])), None);
        assert_eq!(loop_of(&graph(&[])), None);
    }

    #[test]
    fn the_shortest_loop_is_named_from_its_first_part() {
        assert_eq!(loop_of(&graph(&[(0, 1), (1, 2), (2, 0), (2, 3), (3, 2)])), Some(vec![2, 3]));
        assert_eq!(loop_of(&graph(&[(5, 1), (1, 2), (2, 0), (0, 1)])), Some(vec![0, 1, 2]));
        assert_eq!(loop_of(&graph(&[(4, 4)])), Some(vec![4]));
    }
}
