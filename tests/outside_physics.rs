//! Sums of the physics held against values worked out elsewhere; each has its source beside it.

use wythe::physics::galvanic::{Metal, difference};
use wythe::physics::movement;

fn near(found: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!((found - wanted).abs() <= tolerance, "{what}: found {found}, wanted {wanted}");
}

/// Piece, expansion 1/K, length m, set °C, coldest and hottest °C, shortens mm, lengthens mm. Worked out apart from this
/// program by a script and checked by hand; expansions from common tables, from memory.
const MOVEMENT: [(&str, f64, f64, f64, f64, f64, f64, f64); 2] = [
    ("PVC 3810 mm", 70e-6, 3.810, 10.0, -30.0, 50.0, 10.67, 10.67),
    ("aluminium 6000 mm", 23.5e-6, 6.000, 15.0, -30.0, 60.0, 6.34, 6.34),
];

#[test]
fn pieces_grow_and_shrink_as_worked_out_elsewhere() {
    for (what, expansion, length, set, coldest, hottest, shortens, lengthens) in MOVEMENT {
        // 0.01 mm, the tolerance stated with the values.
        near(movement::change(expansion, length, set - coldest) * 1000.0, shortens, 0.01, what);
        near(movement::change(expansion, length, hottest - set) * 1000.0, lengthens, 0.01, what);
        near(movement::gap_when_set(0.0, expansion, length, set, hottest) * 1000.0, lengthens, 0.01, what);
        near(movement::lap_when_set(0.0, expansion, length, set, coldest) * 1000.0, shortens, 0.01, what);
    }
}

/// Piece, expansion 1/K, length m, set °C, hottest °C, growth mm as printed (one decimal). Trade arithmetic, crew notes.
const CREW_GAPS: [(&str, f64, f64, f64, f64, f64, f64); 4] = [
    ("aluminium 3050 at -10 °C", 23.6e-6, 3.050, -10.0, 65.0, 5.4, 0.05),
    ("aluminium 3050 at 25 °C", 23.6e-6, 3.050, 25.0, 65.0, 2.9, 0.05),
    // Printed without decimals and as a range of expansions, 58 to 65: 62 gives 17.0.
    ("PVC 3660 over 75 K", 62e-6, 3.660, -10.0, 65.0, 17.0, 0.5),
    ("steel 3050 over 75 K", 12e-6, 3.050, -10.0, 65.0, 2.7, 0.05),
];

#[test]
fn gaps_are_those_crews_leave() {
    for (what, expansion, length, set, hottest, growth, tolerance) in CREW_GAPS {
        near(movement::change(expansion, length, hottest - set) * 1000.0, growth, tolerance, what);
    }
    // "At −10 °C leave 7 mm here": 1.5 left plus 5.4, rounded up to a whole millimetre.
    let gap = movement::gap_when_set(0.0015, 23.6e-6, 3.050, -10.0, 65.0) * 1000.0;
    assert_eq!(gap.ceil(), 7.0);
    // Contraction from 25 to −40 °C: 4.7 mm, so a lap of 15 keeps 10.
    let lap = movement::lap_when_set(0.010, 23.6e-6, 3.050, 25.0, -40.0) * 1000.0;
    near(lap, 14.7, 0.05, "lap");
}

#[test]
fn a_floor_of_sawn_lumber_settles_as_the_code_note_works_it_out() {
    // Three plates of 38 mm and a joist of 235 mm: 349 mm; 19 to 8 percent, 7.7 mm; 12 to 8, 2.8 mm. Note to
    // OBC 9.27.3.8.(4), as read in a public copy, worked out in the trade's arithmetic.
    near(movement::frame_shrinkage(0.349, 0.19, 0.08, 0.002) * 1000.0, 7.7, 0.05, "19 to 8 percent");
    near(movement::frame_shrinkage(0.349, 0.12, 0.08, 0.002) * 1000.0, 2.8, 0.05, "12 to 8 percent");
    // A ledge of 39 mm held at both edges loses 20 percent of slope: start at 26 percent to keep 6.
    let start = movement::slope_to_start_with(0.06, 0.039, 0.0077).unwrap_or_default();
    near(start, 0.26, 0.005, "slope to start with");
}

#[test]
fn index_differences_are_those_of_the_printed_table() {
    // Anodic index practice, public pages to 0.70 V, beyond from memory; the differences recomputed independently.
    let printed = [
        (Metal::Aluminium, Metal::Stainless, 0.40),
        (Metal::Galvanised, Metal::Steel, 0.35),
        (Metal::Aluminium, Metal::Copper, 0.55),
        (Metal::Zinc, Metal::Aluminium, 0.35),
        (Metal::Galvanised, Metal::Stainless, 0.70),
        (Metal::Brass, Metal::Copper, 0.05),
    ];
    for (one, other, wanted) in printed {
        near(difference(one, other), wanted, 1e-9, "index difference");
    }
}
