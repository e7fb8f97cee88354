//! One story pole: the exposure and the first course line with which no course is ripped to a sliver.

use std::collections::BTreeMap;

use super::courses::{Cut, strip};
use crate::units::Length;

/// Steps in which exposures are tried, 0.1 mm.
const STEP: Length = Length(100_000);
/// The most exposures tried; a wider range is tried in wider steps.
const MOST_STEPS: i64 = 1000;
/// The most lines looked at: those that occur most often, which are those of rows of equal windows.
const MOST_LINES: usize = 24;
/// The narrowest strip worth fixing: 50 mm, and no less than a third of the exposure. Common practice.
const LEAST_RIP: Length = Length::mm(50);

/// A level line at which courses are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CutLine {
    /// Foot of the cladding: the piece above it is cut.
    Base(Length),
    /// Head of an opening: the piece above it is cut.
    Head(Length),
    /// Sill of an opening: the piece below it is cut.
    Sill(Length),
    /// Top of the cladding: the piece below it is cut.
    Top(Length),
}

/// A way of setting out courses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Coursing {
    /// Height of each course that shows.
    pub exposure: Length,
    /// First course line above the datum.
    pub start: Length,
    /// Every line looked at with what is left of the course cut there, sorted; a full course counts as one exposure.
    pub rips: Vec<(CutLine, Length)>,
}

impl CutLine {
    /// Its height.
    pub fn height(self) -> Length {
        let (CutLine::Base(height) | CutLine::Head(height) | CutLine::Sill(height) | CutLine::Top(height)) = self;
        height
    }
}

impl Coursing {
    /// The smallest rip; the exposure where nothing is cut.
    pub fn smallest(&self) -> Length {
        self.rips.iter().map(|(_, rip)| *rip).min().unwrap_or(self.exposure)
    }

    /// Whether every rip is at least 50 mm and a third of the exposure (common practice).
    pub fn solves(&self) -> bool {
        self.smallest() >= wanted(self.exposure)
    }
}

/// What is left of the course cut at a line: below sills and tops `(h − start) mod E`, above bases and heads
/// `E − (h − start) mod E`; a full course is `E`. Zero for an exposure that is none.
pub fn rip(line: CutLine, exposure: Length, start: Length) -> Length {
    let cut = match line {
        CutLine::Base(_) | CutLine::Head(_) => Cut::Over,
        CutLine::Sill(_) | CutLine::Top(_) => Cut::Under,
    };
    strip(cut, line.height(), start, exposure).unwrap_or_default()
}

/// The narrowest rip that is worth fixing.
fn wanted(exposure: Length) -> Length {
    LEAST_RIP.max(exposure / 3)
}

/// Chooses one exposure in `[min, max]` and, unless `start` fixes it, the first course line.
///
/// Exposures are tried from the greatest down (fewest courses) in steps of 0.1 mm; the first with which every rip is at
/// least 50 mm and a third of the exposure is taken. Courses that begin in full on the lowest base are tried before
/// shifted ones. If nothing does, what leaves the largest smallest rip is taken, the earliest tried of equals.
/// `None` for an empty range or one that is not above zero.
pub fn choose(lines: &[CutLine], min: Length, max: Length, start: Option<Length>) -> Option<Coursing> {
    if min <= Length::ZERO || min > max {
        return None;
    }
    let lines = most_frequent(lines);
    let bases = lines.iter().filter(|line| matches!(line, CutLine::Base(_))).map(|line| line.height());
    let natural = start.or_else(|| bases.min()).unwrap_or(Length::ZERO);
    let mut best: Option<Coursing> = None;
    let passes = if start.is_some() { 1 } else { 2 };
    for pass in 0..passes {
        for exposure in exposures(min, max) {
            let starts = if pass == 0 { vec![natural] } else { shifts(&lines, exposure, natural) };
            let tried = starts.into_iter().map(|start| (smallest(&lines, exposure, start), start));
            // The first of equals: `max_by_key` would take the last.
            let found = tried.reduce(|best, next| if next.0 > best.0 { next } else { best });
            let Some((least, start)) = found else { continue };
            if best.as_ref().is_none_or(|best| least > best.smallest()) {
                let rips = lines.iter().map(|&line| (line, rip(line, exposure, start))).collect();
                best = Some(Coursing { exposure, start, rips });
            }
            if least >= wanted(exposure) {
                return Some(finished(lines, exposure, start));
            }
        }
    }
    best
}

fn finished(lines: Vec<CutLine>, exposure: Length, start: Length) -> Coursing {
    let rips = lines.into_iter().map(|line| (line, rip(line, exposure, start))).collect();
    Coursing { exposure, start, rips }
}

/// From the greatest down; the least is always among them.
fn exposures(min: Length, max: Length) -> impl Iterator<Item = Length> {
    let step = STEP.max((max - min) / MOST_STEPS);
    let count = (max - min).0 / step.0.max(1);
    let steps = (0..=count.min(MOST_STEPS)).map(move |at| max - step * at);
    let last = max - step * count.min(MOST_STEPS);
    steps.chain((last > min).then_some(min))
}

fn smallest(lines: &[CutLine], exposure: Length, start: Length) -> Length {
    lines.iter().map(|&line| rip(line, exposure, start)).min().unwrap_or(exposure)
}

/// First course lines worth trying, within one exposure below the natural one: those with a full course at some line, and
/// those half-way between two, where a piece below one line and a piece above another are equal. The smallest rip is greatest
/// at one of them, since each rip grows or shrinks evenly between.
fn shifts(lines: &[CutLine], exposure: Length, natural: Length) -> Vec<Length> {
    let over: Vec<i64> = {
        let mut over: Vec<i64> = lines.iter().map(|line| (line.height() - natural).0.rem_euclid(exposure.0)).collect();
        over.sort_unstable();
        over.dedup();
        over
    };
    let mut shifts = over.clone();
    for (at, one) in over.iter().enumerate() {
        for other in over.iter().skip(at + 1) {
            let half = (one + other) / 2;
            shifts.extend([half, (half + exposure.0 / 2).rem_euclid(exposure.0)]);
        }
    }
    shifts.push(0);
    shifts.sort_unstable();
    shifts.dedup();
    // Down from the natural start: 0, then the smallest shift of the lines.
    let start = |shift: i64| if shift == 0 { natural } else { natural + Length(shift) - exposure };
    let mut starts: Vec<Length> = shifts.into_iter().map(start).collect();
    starts.sort_unstable_by(|one, other| other.cmp(one));
    starts
}

/// At most as many lines as are worth the time: the most frequent, the lowest of equals; sorted.
fn most_frequent(lines: &[CutLine]) -> Vec<CutLine> {
    let mut counts: BTreeMap<CutLine, usize> = BTreeMap::new();
    for line in lines {
        *counts.entry(*line).or_default() += 1;
    }
    let mut order: Vec<(CutLine, usize)> = counts.into_iter().collect();
    order.sort_by_key(|&(line, count)| (usize::MAX - count, line.height(), line));
    let mut kept: Vec<CutLine> = order.into_iter().take(MOST_LINES).map(|(line, _)| line).collect();
    kept.sort_unstable();
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tenths(tenths: i64) -> Length {
        Length(tenths * 100_000)
    }

    /// A worked example of the trade, no source: sill 914, head 2134, soffit 2743 above a base at 0.
    fn worked() -> [CutLine; 3] {
        [CutLine::Sill(Length::mm(914)), CutLine::Head(Length::mm(2134)), CutLine::Top(Length::mm(2743))]
    }

    #[test]
    fn the_worked_example_at_150_has_two_slivers() {
        // 914 − 6 × 150 = 14; 2134 − 14 × 150 = 34, 150 − 34 = 116; 2743 − 18 × 150 = 43.
        let rips = worked().map(|line| rip(line, Length::mm(150), Length::ZERO));
        assert_eq!(rips, [Length::mm(14), Length::mm(116), Length::mm(43)]);
    }

    #[test]
    fn the_worked_example_is_solved_by_two_and_a_half_millimetres() {
        // 914 − 5 × 152.4 = 152.0; 2134 − 14 × 152.4 = 0.4, 152.4 − 0.4 = 152.0; 2743 − 17 × 152.4 = 152.2.
        let found = choose(&worked(), Length::mm(150), Length::mm(155), Some(Length::ZERO)).expect("a range");
        assert_eq!(found.exposure, tenths(1524));
        assert_eq!(found.smallest(), Length::mm(152));
        assert!(found.solves());
        assert_eq!(found.rips[0], (CutLine::Head(Length::mm(2134)), Length::mm(152)));
        assert_eq!(found.rips[2], (CutLine::Top(Length::mm(2743)), tenths(1522)));
    }

    #[test]
    fn a_full_course_is_no_rip() {
        let exposure = Length::mm(150);
        for line in [CutLine::Base, CutLine::Head, CutLine::Sill, CutLine::Top] {
            assert_eq!(rip(line(Length::mm(300)), exposure, Length::ZERO), exposure);
            assert_eq!(rip(line(Length::mm(-300)), exposure, Length::ZERO), exposure);
        }
        assert_eq!(rip(CutLine::Sill(Length::mm(-140)), exposure, Length::ZERO), Length::mm(10));
        assert_eq!(rip(CutLine::Sill(Length::mm(10)), Length::ZERO, Length::ZERO), Length::ZERO);
    }

    #[test]
    fn what_one_exposure_cannot_do_a_shift_can() {
        // One exposure: E = 100 leaves 10 below the top at 510. Starting 40 lower leaves 60 above the base, 50 below the top.
        let lines = [CutLine::Base(Length::ZERO), CutLine::Top(Length::mm(510))];
        let fixed = choose(&lines, Length::mm(100), Length::mm(100), Some(Length::ZERO)).expect("a range");
        assert_eq!((fixed.smallest(), fixed.solves()), (Length::mm(10), false));
        let free = choose(&lines, Length::mm(100), Length::mm(100), None).expect("a range");
        // Half-way: base piece b, top piece 110 − b: 55 each.
        assert_eq!((free.start, free.smallest()), (Length::mm(-45), Length::mm(55)));
        assert!(free.solves());
    }

    #[test]
    fn the_choice_is_never_worse_than_a_plain_search() {
        let lines: Vec<CutLine> = [914, 1220, 2134, 2743, 3100, 4555]
            .into_iter()
            .flat_map(|mm| [CutLine::Sill(Length::mm(mm)), CutLine::Head(Length::mm(mm + 61))])
            .chain([CutLine::Base(Length::ZERO)])
            .collect();
        let exposure = Length::mm(131);
        let found = choose(&lines, exposure, exposure, None).expect("a range");
        let plain = (0..1310).map(|at| smallest(&lines, exposure, -tenths(at))).max().expect("some");
        assert!(found.solves() || found.smallest() >= plain, "{found:?} {plain:?}");
    }

    #[test]
    fn absurd_requests_end() {
        let many: Vec<CutLine> = (0..5000).map(|at| CutLine::Sill(Length(at * 7_777_777))).collect();
        let found = choose(&many, Length(1), Length::mm(10_000), None).expect("a range");
        assert!(found.rips.len() <= MOST_LINES);
        assert_eq!(choose(&[], Length::ZERO, Length::mm(1), None), None);
        assert_eq!(choose(&[], Length::mm(2), Length::mm(1), None), None);
        let empty = choose(&[], Length::mm(130), Length::mm(140), None).expect("a range");
        assert_eq!((empty.exposure, empty.start), (Length::mm(140), Length::ZERO));
        let order: Vec<Length> = exposures(Length::mm(130), Length(130_250_000)).collect();
        assert_eq!(order, [Length(130_250_000), Length(130_150_000), Length(130_050_000), Length::mm(130)]);
    }
}
