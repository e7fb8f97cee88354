//! Boards that stand and sheets: equal pieces side by side, and where the first begins so that no last one is a sliver.

use super::courses::Cut;
use super::coursing::{CutLine, choose};
use super::field::EndLine;
use crate::units::Length;

/// The narrowest strip of a sheet worth fixing where its maker names none. Common practice, no source.
const LEAST: Length = Length::mm(50);
/// The most places looked at.
const MOST: usize = 48;

/// Equal pieces side by side, across or up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grid {
    /// Where one of them begins.
    pub start: Length,
    /// From the beginning of one to that of the next.
    pub step: Length,
    /// How much of each shows; what is left to the step is the joint.
    pub shows: Length,
}

impl Grid {
    /// What is left of the piece that is cut at a line; the whole of it where none is. Zero for a grid without step.
    pub fn strip(&self, cut: Cut, line: Length) -> Length {
        if self.step <= Length::ZERO {
            return Length::ZERO;
        }
        let rest = Length((line - self.start).0.rem_euclid(self.step.0));
        match cut {
            _ if rest == Length::ZERO => self.shows,
            Cut::Over if rest < self.shows => self.shows - rest,
            Cut::Over => self.shows,
            Cut::Under => rest.min(self.shows),
        }
    }

    /// Beginnings of the pieces that touch a stretch, each with its number in the grid; none without a step.
    pub fn from(&self, low: Length, high: Length) -> impl Iterator<Item = (i64, Length)> {
        let (start, step) = (self.start, self.step.0.max(1));
        let first = (low - start).0.div_euclid(step);
        let last = if self.step.0 > 0 { (high - start - Length(1)).0.div_euclid(step) } else { first - 1 };
        (first..=last).map(move |at| (at, start + Length(step.saturating_mul(at))))
    }

    fn smallest(&self, lines: &[(Cut, Length)]) -> Length {
        lines.iter().map(|&(cut, line)| self.strip(cut, line)).min().unwrap_or(self.shows)
    }
}

/// Boards that stand, each of which shows between `least` and `most`: the first begins in full at the left edge where that
/// leaves no sliver at any side, else where the narrowest strip is widest. `None` for a range that is none.
pub fn boards(sides: &[EndLine], (least, most): (Length, Length)) -> Option<Grid> {
    let left = sides.iter().map(|side| side.along.from.x).min().unwrap_or_default();
    let line = |side: &EndLine| match side.cut {
        Cut::Over if side.along.from.x == left => CutLine::Base(left),
        Cut::Over => CutLine::Head(side.along.from.x),
        Cut::Under => CutLine::Sill(side.along.from.x),
    };
    let lines: Vec<CutLine> = sides.iter().map(line).collect();
    let found = choose(&lines, least, most, None)?;
    Some(Grid { start: found.start, step: found.exposure, shows: found.exposure })
}

/// Sheets of one size with a joint between: as [`boards`], with strips of at least `least` (50 mm where none is told).
pub fn sheets(lines: &[(Cut, Length)], sheet: Length, joint: Length, least: Option<Length>) -> Grid {
    let mut lines = lines.to_vec();
    lines.sort_unstable_by_key(|line| line.1);
    lines.dedup();
    lines.truncate(MOST);
    let step = sheet + joint;
    let grid = |start: Length| Grid { start, step, shows: sheet };
    let natural = lines.iter().find(|line| line.0 == Cut::Over).map_or(Length::ZERO, |line| line.1);
    let whole = |&(cut, line): &(Cut, Length)| if cut == Cut::Over { line } else { line - sheet };
    let mut starts: Vec<Length> = lines.iter().map(whole).collect();
    let pairs = starts.iter().enumerate().flat_map(|(at, one)| starts.iter().skip(at + 1).map(move |two| (*one, *two)));
    // Half-way between two of them both strips are equal.
    let halves: Vec<Length> = pairs.flat_map(|(one, two)| [(one + two) / 2, (one + two) / 2 + step / 2]).collect();
    starts.extend(halves);
    let place = |start: Length| natural + Length((start - natural).0.rem_euclid(step.0.max(1))) - step;
    let mut tried: Vec<Length> = starts.into_iter().map(place).collect();
    tried.sort_unstable();
    let least = least.unwrap_or(LEAST);
    if grid(natural).smallest(&lines) >= least {
        return grid(natural);
    }
    let best = tried
        .into_iter()
        .map(grid)
        .reduce(|best, next| if next.smallest(&lines) > best.smallest(&lines) { next } else { best });
    best.unwrap_or_else(|| grid(natural))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(mm: i64) -> Length {
        Length::mm(mm)
    }

    #[test]
    fn a_wall_of_sheets_that_ends_in_a_sliver_is_begun_with_a_cut_one() {
        // Sheets of 1200 with a joint of 10 on 2450: 2 × 1200 + 2 × 10 = 2420, and then 30 of a third sheet.
        let lines = [(Cut::Over, mm(0)), (Cut::Under, mm(2450))];
        let plain = Grid { start: mm(0), step: mm(1210), shows: mm(1200) };
        assert_eq!(plain.strip(Cut::Under, mm(2450)), mm(30));
        let found = sheets(&lines, mm(1200), mm(10), None);
        // A whole one between joints in the middle: (2450 − 1200 − 20) / 2 = 615 at each end.
        assert_eq!((found.strip(Cut::Over, mm(0)), found.strip(Cut::Under, mm(2450))), (mm(615), mm(615)));
        // Three whole ones and what is left as wider joints at both ends: 3640 = 10 + 3620 + 10.
        let centred = sheets(&[(Cut::Over, mm(0)), (Cut::Under, mm(3640))], mm(1200), mm(10), None);
        assert_eq!(centred.strip(Cut::Over, mm(0)), mm(1200));
        let whole = sheets(&[(Cut::Over, mm(0)), (Cut::Under, mm(2410))], mm(1200), mm(10), None);
        assert_eq!((whole.start, whole.strip(Cut::Under, mm(2410))), (mm(0), mm(1200)));
        // A wall that ends in the joint ends in a whole sheet.
        assert_eq!(whole.strip(Cut::Under, mm(2415)), mm(1200));
    }

    #[test]
    fn pieces_touch_the_stretch_they_cover() {
        let grid = Grid { start: mm(-50), step: mm(100), shows: mm(100) };
        let found: Vec<Length> = grid.from(mm(0), mm(150)).map(|(_, at)| at).collect();
        assert_eq!(found, [mm(-50), mm(50)]);
        assert_eq!(Grid { step: mm(0), ..grid }.from(mm(0), mm(150)).count(), 0);
    }
}
