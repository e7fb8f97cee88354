//! Free area for air: what slots, drilled holes and pierced sheets leave open, and what is left of openings in a row.

use std::f64::consts::PI;

/// How round holes lie in a pierced sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pattern {
    /// At the corners of triangles with three equal sides.
    Staggered,
    /// At the corners of squares.
    Square,
}

/// Free area of a slot `height` metres high, in m² for each metre along it, where strips `strip` metres wide stand in it
/// every `spacing` metres and the screen leaves the share `open` (0…1): h·(1 − w/s)·open. Plain geometry, common practice.
/// `None` for a spacing that is none. Strips that touch leave nothing.
pub fn slot_per_metre(height: f64, strip: f64, spacing: f64, open: f64) -> Option<f64> {
    (spacing > 0.0).then(|| height * (1.0 - strip / spacing).max(0.0) * open)
}

/// Area of a round hole, m², from its diameter in metres.
pub fn round_hole(diameter: f64) -> f64 {
    PI * diameter * diameter / 4.0
}

/// Free area of round holes in a line, in m² for each metre along it; diameter and spacing in metres. `None` for a spacing
/// that is none.
pub fn holes_per_metre(diameter: f64, spacing: f64) -> Option<f64> {
    (spacing > 0.0).then(|| round_hole(diameter) / spacing)
}

/// The widest spacing in metres at which round holes in a line give `wanted` m² for each metre. `None` where nothing is wanted.
pub fn hole_spacing(diameter: f64, wanted: f64) -> Option<f64> {
    (wanted > 0.0).then(|| round_hole(diameter) / wanted)
}

/// Open share (0…1) of a sheet with round holes of one diameter, `pitch` from centre to centre, both in one unit:
/// π/(2√3)·(d/p)² = 0.907(d/p)² staggered, π/4·(d/p)² = 0.785(d/p)² square. `None` where the holes run into one another.
pub fn open_share(pattern: Pattern, diameter: f64, pitch: f64) -> Option<f64> {
    let whole = match pattern {
        Pattern::Staggered => PI / (2.0 * 3.0_f64.sqrt()),
        Pattern::Square => PI / 4.0,
    };
    (diameter >= 0.0 && pitch > 0.0 && diameter <= pitch).then(|| whole * (diameter / pitch).powi(2))
}

/// The single opening that lets as much air through as openings one after another: 1/A² = Σ 1/Aᵢ², equal coefficients of
/// discharge, turbulent flow (textbook; from memory). 0 if one is shut; `None` without openings.
pub fn in_series(areas: &[f64]) -> Option<f64> {
    if areas.iter().any(|&area| area <= 0.0) {
        return Some(0.0);
    }
    let sum: f64 = areas.iter().map(|area| area.powi(-2)).sum();
    (sum > 0.0).then(|| sum.powf(-0.5))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_open_is_nothing_and_nonsense_is_none() {
        assert_eq!(slot_per_metre(0.010, 0.064, 0.064, 1.0), Some(0.0));
        assert_eq!(slot_per_metre(0.010, 0.064, 0.050, 1.0), Some(0.0));
        assert_eq!(slot_per_metre(0.010, 0.064, 0.0, 1.0), None);
        assert_eq!(holes_per_metre(0.008, 0.0), None);
        assert_eq!(hole_spacing(0.008, 0.0), None);
        assert_eq!(open_share(Pattern::Square, 6.0, 5.0), None);
        assert_eq!(in_series(&[0.005, 0.0]), Some(0.0));
        assert_eq!(in_series(&[]), None);
    }

    #[test]
    fn the_smallest_opening_governs() {
        let alone = in_series(&[0.0027]).unwrap();
        assert!((alone - 0.0027).abs() < 1e-15);
        let row = in_series(&[0.0054, 0.0172, 0.0027]).unwrap();
        assert!(row < alone && row > 0.8 * alone);
        // Two alike: each takes half the pressure, so the flow falls by the root of two.
        let twins = in_series(&[0.005, 0.005]).unwrap();
        assert!((twins - 0.005 / 2.0_f64.sqrt()).abs() < 1e-15);
    }

    #[test]
    fn holes_in_a_sheet_never_open_all_of_it() {
        assert!(open_share(Pattern::Staggered, 5.0, 5.0).unwrap() < 0.907);
        assert!(open_share(Pattern::Square, 5.0, 5.0).unwrap() < 0.786);
    }
}
