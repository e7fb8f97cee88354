//! Courses of boards on one story pole: the strips that are left at sills, heads and tops, and the exposure that cures them.

use crate::units::Length;

/// What is left after cutting and is no piece: thinner than a saw blade.
pub const SPLINTER: Length = Length::mm(3);

/// Where a level line cuts through the courses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cut {
    /// Boards end under it: a sill, an eave. What shows of the last course is below the line.
    Under,
    /// Boards begin over it: a head. What shows of the first course is above the line.
    Over,
}

/// Height of the strip that shows at a level line, with courses of `exposure` from `start` up; a whole course where the line is
/// a course line. `None` for an exposure that is not positive.
pub fn strip(cut: Cut, line: Length, start: Length, exposure: Length) -> Option<Length> {
    if exposure <= Length::ZERO {
        return None;
    }
    let rest = Length((line - start).0.rem_euclid(exposure.0));
    Some(match cut {
        _ if rest == Length::ZERO => exposure,
        Cut::Under => rest,
        Cut::Over => exposure - rest,
    })
}

/// Height of the middle of a course, counted from 1 at the lowest one above `foot`.
pub fn middle_of(course: i64, foot: Length, start: Length, exposure: Length) -> Length {
    let lowest = (foot - start).0.div_euclid(exposure.0.max(1));
    // No wall has ten thousand courses.
    start + exposure * (lowest + course.clamp(1, 10_000) - 1) + exposure / 2
}

/// The exposure between `range.0` and `range.1`, in steps of 0.1 mm from the lowest, with the largest smallest strip; only if that
/// strip reaches `least(exposure)`. With it, the smallest strip. Of equals the smaller exposure.
pub fn cure(
    lines: &[(Cut, Length)],
    start: Length,
    range: (Length, Length),
    least: impl Fn(Length) -> Length,
) -> Option<(Length, Length)> {
    let step = Length(100_000);
    // 10 000 steps are a range of a metre: more is no range of exposures.
    let steps = ((range.1 - range.0).0 / step.0).clamp(0, 10_000);
    let tried = (0..=steps).filter_map(|count| {
        let exposure = range.0 + step * count;
        let smallest = lines.iter().map(|&(cut, line)| strip(cut, line, start, exposure)).min()??;
        (smallest >= least(exposure)).then_some((exposure, smallest))
    });
    tried.reduce(|best, next| if next.1 > best.1 { next } else { best })
}

#[cfg(test)]
mod tests {
    use super::*;

    const LINES: [(Cut, Length); 3] =
        [(Cut::Under, Length::mm(914)), (Cut::Over, Length::mm(2134)), (Cut::Under, Length::mm(2743))];

    #[test]
    fn a_line_on_a_course_leaves_a_whole_one() {
        assert_eq!(strip(Cut::Under, Length::mm(300), Length::ZERO, Length::mm(150)), Some(Length::mm(150)));
        assert_eq!(strip(Cut::Over, Length::mm(300), Length::ZERO, Length::mm(150)), Some(Length::mm(150)));
        assert_eq!(strip(Cut::Under, Length::mm(10), Length::mm(40), Length::mm(150)), Some(Length::mm(120)));
        assert_eq!(strip(Cut::Under, Length::mm(10), Length::ZERO, Length::ZERO), None);
    }

    #[test]
    fn courses_are_counted_from_the_foot() {
        let middle = |course| middle_of(course, Length::mm(-540), Length::ZERO, Length::mm(135));
        assert_eq!(middle(1), Length::mm(-540) + Length::mm(135) / 2);
        assert_eq!(middle(5), Length::mm(135) / 2);
        // A foot between two lines: the course that is cut there is the first.
        assert_eq!(middle_of(1, Length::mm(100), Length::ZERO, Length::mm(150)), Length::mm(75));
    }

    #[test]
    fn strips_and_their_cure() {
        let strips: Vec<_> =
            LINES.iter().filter_map(|&(cut, line)| strip(cut, line, Length::ZERO, Length::mm(150))).collect();
        assert_eq!(strips, [Length::mm(14), Length::mm(116), Length::mm(43)]);
        let least = |exposure: Length| Length::mm(50).max(exposure / 3);
        let (exposure, smallest) = cure(&LINES, Length::ZERO, (Length::mm(145), Length::mm(155)), least).unwrap();
        assert_eq!(exposure, Length(152_400_000));
        assert_eq!(smallest, Length::mm(152));
        assert_eq!(cure(&LINES, Length::ZERO, (Length::mm(150), Length::mm(150)), least), None);
        assert_eq!(cure(&LINES, Length::ZERO, (Length::mm(150), Length::mm(140)), least), None);
        assert_eq!(cure(&[], Length::ZERO, (Length::mm(145), Length::mm(155)), least), None);
    }
}
