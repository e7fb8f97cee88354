//! Where boards of one course are joined: on a strip, away from the joints of the courses below, and not over the corner
//! of an opening.

use crate::geometry::Bounds;
use crate::layout::field::Stop;
use crate::plan::FacePlan;
use crate::units::Length;

/// Joints of the course below are this many bays away, better one more. Common practice, no source.
const BAYS: i64 = 2;
/// How many courses back are looked at.
pub const BACK: usize = 2;

/// A strip that can carry a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Support {
    /// Its middle.
    pub x: Length,
    /// From this height.
    pub from: Length,
    /// To this height.
    pub to: Length,
}

/// Upright strips of an area, from the left.
pub(super) fn supports(placed: &FacePlan, area: usize) -> Vec<Support> {
    let strips = placed.areas.get(area).map(|area| area.strips.as_slice()).unwrap_or_default();
    let upright = strips.iter().filter(|strip| !strip.horizontal);
    let mut supports: Vec<Support> = upright
        .map(|strip| {
            let bounds = strip.shape.bounds();
            Support { x: strip.centre, from: bounds.bottom, to: bounds.top }
        })
        .collect();
    supports.sort_unstable();
    supports
}

/// What a way of joining one run of a course reads.
#[derive(Clone, Copy)]
pub(super) struct Course<'c> {
    pub left: Length,
    pub right: Length,
    /// Height at which strips must be there.
    pub height: Length,
    pub longest: Length,
    pub supports: &'c [Support],
    /// Joints of the courses below, nearest first.
    pub below: &'c [Vec<Length>],
    pub stops: &'c [Stop],
    /// Height of the course: openings whose corners lie within it are kept clear of.
    pub band: (Length, Length),
    /// Which of the repeating starts is tried first.
    pub turn: i64,
}

/// Joints where the wall says boards meet, and between two of those wherever a board is not long enough.
pub(super) fn between(course: &Course<'_>, said: &[Length]) -> Vec<Length> {
    let said = said.iter().copied().filter(|&x| course.left < x && x < course.right);
    let mut joints = Vec::new();
    let mut left = course.left;
    for x in said {
        joints.extend(choose(&Course { left, right: x, ..*course }));
        joints.push(x);
        left = x;
    }
    joints.extend(choose(&Course { left, ..*course }));
    joints
}

/// Places of joints, from the left; none where one board is long enough. Fewest boards first, then the fewest joints that
/// come too near another or over a corner, then the shortest first board by turns, so that joints climb in steps.
pub(super) fn choose(course: &Course<'_>) -> Vec<Length> {
    let Course { left, right, longest, .. } = *course;
    if right - left <= longest || longest.0 <= 0 {
        return Vec::new();
    }
    let bay = bay(course.supports);
    let end = Length(bay.0 * 3 / 2);
    let there = |support: &&Support| support.from <= course.height && course.height <= support.to;
    let mut places: Vec<Length> = course.supports.iter().filter(there).map(|support| support.x).collect();
    places.retain(|&x| x > left && x < right);
    places.dedup();
    let corners: Vec<Length> = course
        .stops
        .iter()
        .map(|stop| stop.shape.bounds())
        .filter(|b| beside(b, course.band))
        .flat_map(|b| [b.left, b.right])
        .collect();
    let wish = left + Length(longest.0 / 3 * (course.turn.rem_euclid(3) + 1));
    let cost_of = |x: Length| -> i64 {
        let near = |joints: &[Length], bays: i64| joints.iter().any(|joint| (*joint - x).abs() < Length(bay.0 * bays));
        let clashes = course.below.iter().enumerate().map(|(back, joints)| match back {
            0 if near(joints, BAYS) => 40,
            0 => 0,
            // Two courses down a joint may come near, but not into line.
            _ if near(joints, 1) => 30,
            _ => 0,
        });
        let clash: i64 = clashes.sum();
        let corner = i64::from(corners.iter().any(|corner| (*corner - x).abs() < bay)) * 25;
        let short = i64::from(x - left < end || right - x < end) * 30;
        clash + corner + short
    };
    // Shortest path from the left end over the supports to the right end.
    let mut nodes: Vec<Length> = vec![left];
    nodes.extend(&places);
    nodes.push(right);
    let count = nodes.len();
    let mut best: Vec<Option<(i64, i64, i64, usize)>> = vec![None; count];
    best[0] = Some((0, 0, 0, 0));
    for to in 1..count {
        for from in (0..to).rev() {
            if nodes[to] - nodes[from] > longest {
                break;
            }
            let Some((boards, trouble, wishes, _)) = best[from] else { continue };
            let own = if to + 1 == count { 0 } else { cost_of(nodes[to]) };
            let wished = if from == 0 && to + 1 < count { (nodes[to] - wish).abs().0 / 1_000_000 } else { 0 };
            let next = (boards + 1, trouble + own, wishes + wished, from);
            if best[to].is_none_or(|have| (next.0 * 12 + next.1, next.2) < (have.0 * 12 + have.1, have.2)) {
                best[to] = Some(next);
            }
        }
    }
    let mut joints = Vec::new();
    let mut at = count - 1;
    while let Some((_, _, _, from)) = best[at] {
        if from == 0 {
            break;
        }
        joints.push(nodes[from]);
        at = from;
    }
    if best[count - 1].is_none() {
        // No strip to join on: full lengths, and the rule on unsupported joints speaks of it.
        joints = (1..=(right - left).0 / longest.0)
            .map(|k| left + Length(longest.0 * k))
            .filter(|x| *x < right)
            .rev()
            .collect();
    }
    joints.reverse();
    joints
}

fn beside(bounds: &Bounds, band: (Length, Length)) -> bool {
    bounds.bottom < band.1 && band.0 < bounds.top || bounds.bottom == band.1 || bounds.top == band.0
}

/// The usual distance of supports: the middle one of all.
fn bay(supports: &[Support]) -> Length {
    let mut apart: Vec<Length> =
        supports.windows(2).map(|pair| pair[1].x - pair[0].x).filter(|apart| apart.0 > 100_000_000).collect();
    apart.sort_unstable();
    apart.get(apart.len() / 2).copied().unwrap_or(Length::INCH * 16)
}
