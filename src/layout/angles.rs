//! Angles as a crew sets them: degrees from square for the saw, rise in 12 for the framing square, millimetres to the metre for
//! the laser; what a course loses on a rake, what a mitre takes, what an error opens.
//!
//! Plain trigonometry of a line that rises `slope` (rise over run). Floats are for angles and what is shown; lengths that are
//! marked on boards come from the polygons of the pieces.

use crate::units::Length;

/// Bases on which a slope is set out with a square or a straight-edge, inches: the square's own 12, its long 24, and a
/// straight-edge of 48 for grades.
pub const BASES: [i64; 3] = [12, 24, 48];
/// The finest mark of a carpenter's square, and so the error of a setting: 1/32 in.
pub const MARK: Length = Length(Length::INCH.0 / 32);

/// One setting on a framing square: the rise on a base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Along the level leg.
    pub base: Length,
    /// Along the plumb leg, exact.
    pub rise: Length,
    /// The same to the nearest 1/32 in, as it is set.
    pub read: Length,
    /// The angle that this mark gives, degrees.
    pub gives: f64,
    /// How far the angle goes off for one mark of 1/32 in, degrees.
    pub error: f64,
}

/// Angle of a slope above the level, degrees.
pub fn degrees(slope: f64) -> f64 {
    libm::atan(slope).to_degrees()
}

/// Rise over run of a line so many degrees above the level.
pub fn slope(degrees: f64) -> f64 {
    libm::tan(degrees.to_radians())
}

/// Rise in 12 of run, whatever the unit.
pub fn rise_in_12(slope: f64) -> f64 {
    slope * 12.0
}

/// Millimetres to the metre.
pub fn per_metre(slope: f64) -> f64 {
    slope * 1000.0
}

/// What a saw that is square at 0 is set to, to cut a board along a rake: the rest of the right angle for one that lies level,
/// the slope's own angle for one that stands.
pub fn from_square(slope: f64, upright: bool) -> f64 {
    if upright { degrees(slope) } else { 90.0 - degrees(slope) }
}

/// How much shorter each course is than the one below, at each end that is cut on the rake: ΔL = E/tan θ. `None` where level.
pub fn loss(exposure: Length, slope: f64) -> Option<Length> {
    (slope > 0.0).then(|| Length::snap_mm(exposure.as_mm() / slope))
}

/// How much longer each standing board is than the last: what it covers times the slope.
pub fn gain(cover: Length, slope: f64) -> Length {
    Length::snap_mm(cover.as_mm() * slope)
}

/// Long side less short side of a piece so wide, cut so many degrees from square.
pub fn long_less_short(width: Length, from_square: f64) -> Length {
    Length::snap_mm(width.as_mm() * slope(from_square))
}

/// Length of that cut.
pub fn cut_length(width: Length, from_square: f64) -> Length {
    Length::snap_mm(width.as_mm() / libm::cos(from_square.to_radians()).max(1e-6))
}

/// How far a cut so long gapes at one end when the saw is `off` degrees off.
pub fn opens(cut: Length, off: f64) -> Length {
    Length::snap_mm(cut.as_mm() * slope(off))
}

/// From square, at each of two pieces that meet at a corner of so many degrees: 90 − ψ/2.
pub fn mitre(corner: f64) -> f64 {
    90.0 - corner / 2.0
}

/// Degrees between two walls inside a building, from the ways they look: 90 at a square corner, outside or inside alike, 180
/// where they are one plane.
pub fn corner(looks: f64, other: f64) -> f64 {
    let apart = (looks - other).rem_euclid(360.0);
    180.0 - apart.min(360.0 - apart)
}

/// Degrees by which the way turns from one line into the next, each given as it is walked, rightwards and upwards.
pub fn turn((along, up): (f64, f64), (next_along, next_up): (f64, f64)) -> f64 {
    let (cross, dot) = (along * next_up - up * next_along, along * next_along + up * next_up);
    libm::atan2(cross.abs(), dot).to_degrees()
}

/// Where a sloping piece runs on into a level one: half the slope's angle at each.
pub fn mitre_to_level(slope: f64) -> f64 {
    degrees(slope) / 2.0
}

/// Sets a slope on a base, to the nearest mark.
pub fn setting(slope: f64, base: Length) -> Setting {
    let rise = Length::snap_mm(base.as_mm() * slope);
    let marks = rise.scale(32, Length::INCH.0).0;
    let read = Length(MARK.0.saturating_mul(marks));
    let angle = |rise: Length| libm::atan2(rise.as_mm(), base.as_mm().max(1e-6)).to_degrees();
    Setting { base, rise, read, gives: angle(read), error: angle(rise + MARK) - angle(rise) }
}

/// A slope on all [`BASES`].
pub fn settings(slope: f64) -> [Setting; 3] {
    BASES.map(|base| setting(slope, Length::INCH * base))
}

/// The tables on the blade of a framing square, for a rise in 12; inches, as on the blade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Square {
    /// Length of a common rafter for 12 of run.
    pub common: f64,
    /// Of a hip or valley for 12 of common run.
    pub hip: f64,
    /// Side cut of jacks, against 12.
    pub jack_cut: f64,
    /// Side cut of hips and valleys, against 12.
    pub hip_cut: f64,
}

/// The square's tables for a rise in 12. √(144 + r²), √(288 + r²), 144/common, 12·√288/hip.
pub fn square(rise: f64) -> Square {
    let (common, hip) = ((144.0 + rise * rise).sqrt(), (288.0 + rise * rise).sqrt());
    Square { common, hip, jack_cut: 144.0 / common, hip_cut: 12.0 * 288.0_f64.sqrt() / hip }
}

/// How much longer each jack is than the last, for jacks `spacing` apart along the plate.
pub fn jack_difference(rise: f64, spacing: Length) -> Length {
    Length::snap_mm(spacing.as_mm() / 12.0 * square(rise).common)
}

/// Trims round an opening on three sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Casing {
    /// Head, long points.
    pub head: Length,
    /// Head, short points; as long as `head` where it is cut square.
    pub head_short: Length,
    /// Jamb, long point.
    pub jamb: Length,
    /// Jamb, short point.
    pub jamb_short: Length,
}

/// Head and jambs, mitred or cut square with the head over the jambs, `under` left open below each jamb.
pub fn casing(opening: (Length, Length), reveal: Length, width: Length, under: Length, mitred: bool) -> Casing {
    let head = opening.0 + reveal * 2 + width * 2;
    let short = opening.1 + reveal - under;
    if mitred {
        Casing { head, head_short: opening.0 + reveal * 2, jamb: short + width, jamb_short: short }
    } else {
        Casing { head, head_short: head, jamb: short, jamb_short: short }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: Length) -> f64 {
        length.as_mm()
    }

    #[test]
    fn courses_on_a_rake() {
        // Trade table, worked by hand: rise, θ, from square, ΔL for 150 mm, ΔL in inches for 6 in, gain of 140 mm boards.
        let rows = [
            (3.0, 14.04, 75.96, 600.0, 24.0, 35.0),
            (4.0, 18.43, 71.57, 450.0, 18.0, 46.7),
            (5.0, 22.62, 67.38, 360.0, 14.4, 58.3),
            (6.0, 26.57, 63.43, 300.0, 12.0, 70.0),
            (7.0, 30.26, 59.74, 257.1, 10.0 + 9.0 / 32.0, 81.7),
            (8.0, 33.69, 56.31, 225.0, 9.0, 93.3),
            (9.0, 36.87, 53.13, 200.0, 8.0, 105.0),
            (10.0, 39.81, 50.19, 180.0, 7.2, 116.7),
            (12.0, 45.0, 45.0, 150.0, 6.0, 140.0),
        ];
        for (rise, angle, saw, lost, lost_inches, gained) in rows {
            let slope = rise / 12.0;
            assert!((degrees(slope) - angle).abs() < 0.0051, "{rise}");
            assert!((from_square(slope, false) - saw).abs() < 0.0051, "{rise}");
            assert_eq!(from_square(slope, true), degrees(slope));
            assert!((mm(loss(Length::mm(150), slope).unwrap()) - lost).abs() < 0.051, "{rise}");
            assert!((loss(Length::INCH * 6, slope).unwrap().as_inches() - lost_inches).abs() < 0.0156, "{rise}");
            assert!((mm(gain(Length::mm(140), slope)) - gained).abs() < 0.051, "{rise}");
        }
        assert_eq!(loss(Length::mm(150), 0.0), None);
    }

    #[test]
    fn a_gable_loses_the_same_at_each_course() {
        // 8.53 m wide, 7 in 12, exposure 150: 2488 high, 17 courses, 8530, 8016, 7501, 6987 … 816, 301, in all 75.1 m.
        let (width, slope, exposure) = (Length::mm(8530), 7.0 / 12.0, Length::mm(150));
        let height = gain(width / 2, slope);
        assert_eq!(mm(height).round(), 2488.0);
        let lost = loss(exposure, slope).unwrap() * 2;
        let courses: Vec<Length> =
            (0..).map(|at| width - lost * at).take_while(|length| *length > Length::ZERO).collect();
        assert_eq!(courses.len(), 17);
        let rounded: Vec<i64> = courses.iter().map(|length| mm(*length).round() as i64).collect();
        assert_eq!(rounded.iter().take(4).copied().collect::<Vec<_>>(), [8530, 8016, 7501, 6987]);
        assert_eq!(rounded.iter().rev().take(2).copied().collect::<Vec<_>>(), [301, 816]);
        let sum: Length = courses.into_iter().sum();
        assert!((sum.as_m() - 75.1).abs() < 0.06, "{}", sum.as_m());
    }

    #[test]
    fn half_a_degree_on_a_long_cut_gapes() {
        let slope = 7.0 / 12.0;
        let cut = cut_length(Length::mm(150), from_square(slope, false));
        assert_eq!(mm(cut).round(), 298.0);
        assert!((mm(opens(cut, 0.5)) - 2.6).abs() < 0.051);
        assert!((mm(opens(cut, 0.25)) - 1.3).abs() < 0.051);
    }

    #[test]
    fn grades_on_a_square() {
        // 5 %: 0.60 in on 12, 1.20 on 24, 2.40 on 48; 19/32 reads 2.83° for 2.86°; one mark is 0.15°, 0.07°, 0.04°.
        for (slope, rise) in [(0.05, 0.60), (0.02, 0.24), (0.03, 0.36), (1.0 / 12.0, 1.0)] {
            assert!((rise_in_12(slope) - rise).abs() < 1e-9);
        }
        let set = settings(0.05);
        let rises: Vec<f64> = set.iter().map(|set| (set.rise.as_inches() * 100.0).round() / 100.0).collect();
        assert_eq!(rises, [0.60, 1.20, 2.40]);
        assert_eq!(set[0].read, Length::INCH * 19 / 32);
        assert!((set[0].gives - 2.83).abs() < 0.005 && (degrees(0.05) - 2.86).abs() < 0.005);
        for (set, error) in set.iter().zip([0.15, 0.07, 0.04]) {
            assert!((set.error - error).abs() < 0.005, "{}", set.error);
        }
        assert_eq!(per_metre(0.05), 50.0);
    }

    #[test]
    fn mitres_and_casings() {
        assert_eq!((mitre(90.0), mitre(135.0)), (45.0, 22.5));
        assert!((mm(long_less_short(Length::mm(89), 45.0)) - 89.0).abs() < 1e-5);
        assert!((mm(long_less_short(Length::mm(89), 22.5)) - 36.9).abs() < 0.051);
        // The ways two walls look: north and east make a square corner, north and north-east one of 135°, across north too.
        assert_eq!(
            [corner(0.0, 90.0), corner(90.0, 0.0), corner(350.0, 80.0), corner(0.0, 45.0)],
            [90.0, 90.0, 90.0, 135.0]
        );
        assert_eq!(mitre(corner(0.0, 45.0)), 22.5);
        // A rake of 7 in 12 into a level frieze turns by its pitch, into the other rake at the ridge by twice that.
        let (up, down, level) = ((12.0, 7.0), (12.0, -7.0), (12.0, 0.0));
        assert!((turn(up, level) / 2.0 - 15.13).abs() < 0.0051 && (turn(up, down) / 2.0 - 30.26).abs() < 0.0051);
        assert!((turn(level, (0.0, 1.0)) - 90.0).abs() < 1e-9);
        let rake = mitre_to_level(7.0 / 12.0);
        assert!((rake - 15.13).abs() < 0.0051);
        assert!((mm(long_less_short(Length::mm(64), rake)) - 17.3).abs() < 0.051);
        let of =
            |mitred| casing((Length::mm(1200), Length::mm(1220)), Length::mm(6), Length::mm(89), Length::ZERO, mitred);
        let mitred = of(true);
        assert_eq!(
            [mitred.head, mitred.head_short, mitred.jamb, mitred.jamb_short].map(mm),
            [1390.0, 1212.0, 1315.0, 1226.0]
        );
        assert_eq!([of(false).head, of(false).jamb].map(mm), [1390.0, 1226.0]);
    }
}
