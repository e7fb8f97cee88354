//! Arithmetic of furring marks: where strips lie along a wall, before anything cuts them.

use crate::units::Length;

/// The most marks reckoned along one wall: at 406.4 mm that is 812 m, and no absurd spacing can fill the memory.
pub const MOST_MARKS: usize = 2000;

/// How regular strips are set out.
#[derive(Clone, Copy, Debug)]
pub struct SetOut<'a> {
    /// Width of a strip along the wall.
    pub width: Length,
    /// Centre to centre.
    pub spacing: Option<Length>,
    /// From the end of the wall to the near edge of the second strip, as framers hook their tape.
    pub first: Option<Length>,
    /// Measured centres from the end of the wall; replace spacing and first.
    pub marks: &'a [Length],
}

/// Centres of the strips whose marks lie between `start` and `end`, in order.
///
/// Measured centres are taken as they are, counted from `start`. Else a strip lies flush with `start`, the second has its
/// near edge at `first` and so its centre half a width further, and the rest follow at `spacing`. Without `first` the second
/// strip is centred one spacing from `start`. 15-1/4 in puts the edges of sheets on studs (common practice, no source); the marks are
/// exact multiples, never added rounded steps.
pub fn centres(set_out: SetOut<'_>, start: Length, end: Length) -> Vec<Length> {
    let half = Length(set_out.width.0 / 2);
    if !set_out.marks.is_empty() {
        let mut centres: Vec<Length> = set_out.marks.iter().take(MOST_MARKS).map(|&mark| start + mark).collect();
        centres.sort_unstable();
        centres.dedup();
        centres.retain(|&centre| centre + half > start && centre - half < end);
        return centres;
    }
    let Some(spacing) = set_out.spacing.filter(|&spacing| spacing > Length::ZERO) else { return Vec::new() };
    let second = start + set_out.first.map_or(spacing, |first| first + half);
    let mark = |count: usize| second + spacing * count as i64;
    let regular = (0..MOST_MARKS).map(mark).take_while(|&centre| centre - half < end);
    std::iter::once(start + half).chain(regular.filter(|&centre| centre > start + half)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(sixteenths: i64) -> Length {
        Length(sixteenths * Length::INCH.0 / 16)
    }

    #[test]
    fn framers_hook_the_tape_on_the_corner() {
        // Common practice: near edges 15-1/4, 31-1/4, 47-1/4, 63-1/4 in; a stud of 1-1/2 in is then centred on 16, 32, 48, 64.
        let set_out = SetOut { width: inches(24), spacing: Some(inches(256)), first: Some(inches(244)), marks: &[] };
        let found = centres(set_out, Length::ZERO, inches(16 * 70));
        let near_edges: Vec<Length> = found.iter().map(|&centre| centre - inches(12)).collect();
        assert_eq!(near_edges, [inches(0), inches(244), inches(500), inches(756), inches(1012)]);
        assert_eq!(found[1..], [inches(256), inches(512), inches(768), inches(1024)]);
    }

    #[test]
    fn marks_do_not_drift_and_start_where_the_wall_starts() {
        let set_out = SetOut { width: Length::mm(64), spacing: Some(Length(406_400_000)), first: None, marks: &[] };
        let found = centres(set_out, Length::mm(1000), Length::mm(1000) + Length(406_400_000) * 100);
        assert_eq!(found[0], Length::mm(1032));
        assert_eq!(found[100], Length::mm(1000) + Length(406_400_000) * 100);
        assert_eq!(found.len(), 101);
    }

    #[test]
    fn measured_studs_are_taken_as_they_are() {
        let marks = [Length::mm(820), Length::mm(19), Length::mm(395), Length::mm(5000)];
        let set_out = SetOut { width: Length::mm(38), spacing: Some(Length::mm(400)), first: None, marks: &marks };
        let found = centres(set_out, Length::ZERO, Length::mm(1200));
        assert_eq!(found, [Length::mm(19), Length::mm(395), Length::mm(820)]);
    }

    #[test]
    fn absurd_spacings_end() {
        let tiny = SetOut { width: Length::mm(64), spacing: Some(Length(1)), first: None, marks: &[] };
        assert!(centres(tiny, Length::ZERO, Length(i64::MAX)).len() <= MOST_MARKS + 1);
        let none = SetOut { spacing: Some(Length::ZERO), ..tiny };
        assert!(centres(none, Length::ZERO, Length::mm(100)).is_empty());
        let back = SetOut { spacing: Some(Length::mm(-4)), ..tiny };
        assert!(centres(back, Length::ZERO, Length::mm(100)).is_empty());
    }
}
