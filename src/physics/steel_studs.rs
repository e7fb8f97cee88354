//! What counts of the insulation between steel studs: the shares of the IECC (Table C402.1.4.1, the same as ASHRAE 90.1,
//! Table A9.2-2). One of them, 0.46 for 89 mm studs 406 mm apart, was read on a public page; the others are from memory.
//!
//! The layer of studs and insulation counts as one that resists so much of what the insulation does alone; it holds for C-studs
//! of 1.1 to 1.7 mm with solid webs, without plates and studs at openings.

/// Depth of the studs, m; distance from centre to centre, m; what the insulation resists alone, m²·K/W, and the share that counts.
type Row = (f64, f64, [(f64, f64); 2]);

/// m²·K/W of R 1.
const R: f64 = 0.176_110_183_68;

/// Studs of 3-1/2, 6 and 8 in at 16 and 24 in.
const TABLE: [Row; 6] = [
    (0.0889, 0.4064, [(13.0 * R, 0.46), (15.0 * R, 0.43)]),
    (0.0889, 0.6096, [(13.0 * R, 0.55), (15.0 * R, 0.52)]),
    (0.1524, 0.4064, [(19.0 * R, 0.37), (21.0 * R, 0.35)]),
    (0.1524, 0.6096, [(19.0 * R, 0.45), (21.0 * R, 0.43)]),
    (0.2032, 0.4064, [(25.0 * R, 0.31), (25.0 * R, 0.31)]),
    (0.2032, 0.6096, [(25.0 * R, 0.38), (25.0 * R, 0.38)]),
];

/// Nominal sizes are met this nearly, m: 92 mm studs count as 89, 400 mm as 406.
const NEAR: f64 = 0.012;
/// Insulation beyond the table by no more than this share still counts with its nearest row.
const BEYOND: f64 = 0.1;

/// Share of what the insulation between studs `depth` metres deep and `spacing` metres apart resists that counts, where it resists
/// `alone` m²·K/W; between two rows on a straight line. `None` for studs and insulation that the table does not hold.
pub fn share(depth: f64, spacing: f64, alone: f64) -> Option<f64> {
    let near = |one: f64, other: f64| (one - other).abs() <= NEAR;
    let (_, _, [least, most]) = TABLE.iter().find(|(deep, apart, _)| near(*deep, depth) && near(*apart, spacing))?;
    if alone < least.0 * (1.0 - BEYOND) || alone > most.0 * (1.0 + BEYOND) {
        return None;
    }
    let span = most.0 - least.0;
    let along = if span > 0.0 { ((alone - least.0) / span).clamp(0.0, 1.0) } else { 0.0 };
    Some(least.1 + along * (most.1 - least.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_table_does_not_hold_is_not_told() {
        assert_eq!(share(0.0889, 0.4064, 13.0 * R), Some(0.46));
        assert!((share(0.092, 0.4, 14.0 * R).unwrap() - 0.445).abs() < 1e-9);
        assert_eq!(share(0.0889, 0.3, 13.0 * R), None);
        assert_eq!(share(0.12, 0.4064, 13.0 * R), None);
        assert_eq!(share(0.0889, 0.4064, 30.0 * R), None);
        assert_eq!(share(0.0889, 0.4064, 5.0 * R), None);
    }
}
