//! The sums a crew does for rolls, tapes, fasteners and folded metal. Rules of the trade, common practice, no source.

pub use crate::layout::folds::{girth, head_length};
use crate::units::{Area, Length};

/// Courses of a roll of width `width` that cover a height with laps of `lap`: `⌈(H − lap)/(w − lap)⌉`, at least one.
/// `None` where the lap eats the width.
pub fn roll_courses(height: Length, width: Length, lap: Length) -> Option<i64> {
    let step = width - lap;
    if step <= Length::ZERO {
        return None;
    }
    let rest = (height - lap).0.max(0);
    Some((rest.div_euclid(step.0) + i64::from(rest.rem_euclid(step.0) > 0)).max(1))
}

/// Surface of a roll used on a rectangle: `n·w·(L + lap at the end)`.
pub fn roll_area(courses: i64, width: Length, length: Length, end_lap: Length) -> Area {
    width * courses * (length + end_lap)
}

/// Seam between sheets laid edge to edge: half the perimeter of a sheet for its surface, in m of seam for each m² of wall.
pub fn sheet_seam(width: Length, height: Length) -> Option<f64> {
    let area = (width * height).as_m2();
    (area > 0.0).then(|| (width + height).as_m() / area)
}

/// Length by which tape round an opening overlaps at each of its four corners.
pub const CORNER_OVERLAP: Length = Length::mm(150);

/// Tape round an opening: `W + 2H + sill + 4 × 0.15 m`.
pub fn opening_tape(width: Length, height: Length) -> Length {
    width * 2 + height * 2 + CORNER_OVERLAP * 4
}

/// Tape round a pipe of diameter `d`: `π(d + 50 mm) + 0.1 m`.
pub fn pipe_tape(diameter: Length) -> Length {
    Length::snap_mm(std::f64::consts::PI * (diameter.as_mm() + 50.0)) + Length::mm(100)
}

/// Fasteners for each m²: `1/(spacing × exposure)`. `None` where one of them is not above zero.
pub fn fasteners_per_area(spacing: Length, exposure: Length) -> Option<f64> {
    let cell = (spacing * exposure).as_m2();
    (spacing > Length::ZERO && exposure > Length::ZERO).then(|| 1.0 / cell)
}

/// Whole fasteners on a surface, upwards.
pub fn fasteners_on(area: Area, spacing: Length, exposure: Length) -> Option<u64> {
    fasteners_per_area(spacing, exposure).map(|each| (each * area.as_m2() - 1e-9).ceil().max(0.0) as u64)
}
