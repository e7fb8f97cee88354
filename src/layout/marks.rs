//! Marks along a wall: centres of studs as framers set them, rows of holes, and the nearest of a list.

use crate::units::Length;

/// Centres of framing between `left` and `right`. The first piece is flush with the left end, the last with the right end;
/// `first` is the near edge of the second one, as framers hook their tape, and the rest follow by `spacing`. Measured
/// `marks` (centres from the left end) replace all of it. `None` when neither marks nor spacing are known.
pub fn centres(
    left: Length,
    right: Length,
    width: Length,
    spacing: Option<Length>,
    first: Option<Length>,
    marks: &[Length],
) -> Option<Vec<Length>> {
    if !marks.is_empty() {
        return Some(marks.iter().map(|&mark| left + mark).collect());
    }
    let spacing = spacing.filter(|&spacing| spacing > Length::ZERO)?;
    let second = left + first.unwrap_or(spacing - width / 2) + width / 2;
    let mut found = vec![left + width / 2];
    found.extend(row(second, right - width / 2, spacing));
    found.push(right - width / 2);
    found.dedup();
    Some(found)
}

/// Marks from `first` on, `spacing` apart, up to `last`; at most 100 000 of them.
pub fn row(first: Length, last: Length, spacing: Length) -> Vec<Length> {
    if spacing <= Length::ZERO || last < first {
        return Vec::new();
    }
    let count = ((last - first).0 / spacing.0).min(100_000);
    (0..=count).map(|at| first + spacing * at).collect()
}

/// The mark nearest to a place.
pub fn nearest(marks: &[Length], place: Length) -> Option<Length> {
    marks.iter().copied().min_by_key(|&mark| ((mark - place).abs(), mark))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn studs_follow_the_framers_tape() {
        // 15-1/4 in to the near edge of a 1-1/2 in stud: centres at 16 in.
        let first = Length::INCH * 61 / 4;
        let found =
            centres(Length::ZERO, Length::FOOT * 4, Length::INCH * 3 / 2, Some(Length::INCH * 16), Some(first), &[]);
        let inches: Vec<f64> = found.unwrap().into_iter().map(Length::as_inches).collect();
        assert_eq!(inches, [0.75, 16.0, 32.0, 47.25]);
    }

    #[test]
    fn measured_marks_win_and_nothing_known_is_nothing() {
        let marks = [Length::mm(300), Length::mm(720)];
        let found = centres(Length::mm(10), Length::mm(900), Length::mm(38), None, None, &marks);
        assert_eq!(found, Some(vec![Length::mm(310), Length::mm(730)]));
        assert_eq!(centres(Length::ZERO, Length::mm(900), Length::mm(38), None, None, &[]), None);
        assert_eq!(row(Length::ZERO, Length::mm(900), Length::ZERO), Vec::new());
        assert_eq!(nearest(&marks, Length::mm(500)), Some(Length::mm(300)));
        assert_eq!(nearest(&[], Length::mm(500)), None);
    }
}
