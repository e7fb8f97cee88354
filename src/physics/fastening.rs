//! What screws and nails hold, what one of them has to hold, and what strips between them carry.
//! Indicative: an engineer confirms. Side grain, dry wood, one fastener in a hole of its own.

/// Inches to a metre and pounds-force to a newton, for formulas that are written in them (exact).
const INCH: f64 = 0.0254;
const POUND: f64 = 4.448_221_615_260_5;

/// Standard gravity, m/s².
pub const GRAVITY: f64 = 9.806_65;

/// How a fastener holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shank {
    /// A smooth nail; a ring-shank nail is taken as one, which is on the safe side.
    Nail,
    /// A wood screw.
    Screw,
}

/// Specific gravity, oven-dry mass over volume at about 12 % moisture, from the density in kg/m³ at that moisture. A little
/// low against tables that take the oven-dry volume, which is on the safe side.
pub fn specific_gravity(density: f64) -> f64 {
    density / (1000.0 * 1.12)
}

/// Allowable withdrawal in N of one fastener from the side grain, for loads of long duration: of a wood screw `2850·G²·D`,
/// of a smooth nail `1380·G^2.5·D`, in pounds for an inch of penetration (NDS, edition of the United States; both read on
/// public pages). `diameter` and `penetration` in metres. Valid for wood of G 0.3 to 0.7 in side grain; a nail in end grain
/// holds nothing.
pub fn withdrawal(shank: Shank, gravity: f64, diameter: f64, penetration: f64) -> f64 {
    let each_inch = match shank {
        Shank::Screw => 2850.0 * gravity * gravity,
        Shank::Nail => 1380.0 * libm::pow(gravity.max(0.0), 2.5),
    };
    each_inch * (diameter / INCH).max(0.0) * (penetration / INCH).max(0.0) * POUND
}

/// Allowable withdrawal in N of a lag screw: `1800·G^1.5·D^0.75` pounds for an inch (NDS; public page).
pub fn lag_withdrawal(gravity: f64, diameter: f64, penetration: f64) -> f64 {
    let each_inch = 1800.0 * libm::pow(gravity.max(0.0), 1.5) * libm::pow((diameter / INCH).max(0.0), 0.75);
    each_inch * (penetration / INCH).max(0.0) * POUND
}

/// Factored withdrawal in N by the Canadian code for wood: `φ·y·L` with `y = 59·d^0.82·G^1.77` N/mm for screws and
/// `16.4·d^0.82·G^2.2` for nails, φ 0.4 (CSA O86, from memory, low to medium). For factored loads: never compare it with an
/// allowable force (`share` refuses).
pub fn withdrawal_factored(shank: Shank, gravity: f64, diameter: f64, penetration: f64) -> f64 {
    let (factor, power) = match shank {
        Shank::Screw => (59.0, 1.77),
        Shank::Nail => (16.4, 2.2),
    };
    let each_mm = factor * libm::pow((diameter * 1e3).max(0.0), 0.82) * libm::pow(gravity.max(0.0), power);
    0.4 * each_mm * (penetration * 1e3).max(0.0)
}

/// What a force is measured by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Allowable stress: loads as they come, strength with all the safety in it.
    Allowable,
    /// Limit states: loads multiplied, strength reduced.
    Factored,
}

/// A force with its basis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Force {
    /// Newtons.
    pub newtons: f64,
    /// What it is measured by.
    pub basis: Basis,
}

/// Share of what holds that a load takes; `None` where the two are measured differently, or nothing holds.
pub fn share(load: Force, holds: Force) -> Option<f64> {
    (load.basis == holds.basis && holds.newtons > 0.0).then(|| load.newtons / holds.newtons)
}

/// Allowable pull in N at which the head of a fastener goes through wood `thickness` metres thick: `690·π·D·G²·t` pounds,
/// and for boards thicker than 2.5 heads `1725·π·D²·G²` (NDS 2018, 12.2.5, from memory). Wood only.
pub fn pull_through(gravity: f64, head: f64, thickness: f64) -> f64 {
    let (head, thickness) = ((head / INCH).max(0.0), (thickness / INCH).max(0.0));
    690.0 * std::f64::consts::PI * head * gravity * gravity * thickness.min(2.5 * head) * POUND
}

/// How far apart in metres fasteners may stand that each hold `capacity` N against `suction` Pa over a strip `across` metres
/// wide. `None` where nothing pulls.
pub fn spacing(capacity: f64, suction: f64, across: f64) -> Option<f64> {
    let each_metre = suction * across;
    (each_metre > 0.0).then(|| capacity / each_metre)
}

/// A strip that runs over many supports under an even load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Greatest bending stress, Pa.
    pub stress: f64,
    /// Greatest deflection, metres.
    pub deflection: f64,
}

/// Stress and deflection of a strip `width` metres wide and `thickness` metres thick, over supports `span` metres apart,
/// under `load` N/m: `wl²/10` and `wl⁴/145EI`, the usual factors of a beam over three spans or more (textbook).
/// `None` for a strip of no size or no stiffness.
pub fn continuous(load: f64, span: f64, width: f64, thickness: f64, modulus: f64) -> Option<Span> {
    if !(width > 0.0 && thickness > 0.0 && modulus > 0.0) {
        return None;
    }
    let section = width * thickness * thickness / 6.0;
    let inertia = width * libm::pow(thickness, 3.0) / 12.0;
    Some(Span {
        stress: load * span * span / 10.0 / section,
        deflection: load * libm::pow(span, 4.0) / (145.0 * modulus * inertia),
    })
}

/// The longest span in metres that keeps the stress at or under `stress` Pa and the deflection at or under `share` of the
/// span.
pub fn longest_span(load: f64, width: f64, thickness: f64, modulus: f64, stress: f64, share: f64) -> f64 {
    if load <= 0.0 {
        return f64::INFINITY;
    }
    let section = width * thickness * thickness / 6.0;
    let inertia = width * libm::pow(thickness, 3.0) / 12.0;
    let by_stress = libm::sqrt((10.0 * stress * section / load).max(0.0));
    by_stress.min(libm::cbrt((145.0 * modulus * inertia * share / load).max(0.0)))
}

/// Weight in N that hangs on one screw: `weight` kg/m² over all the screws of a square metre.
pub fn weight_on_screw(weight: f64, screws: f64) -> Option<f64> {
    (screws > 0.0).then(|| weight * GRAVITY / screws)
}

/// Bending in N·m of a screw that carries `load` N at `lever` metres from the wood that holds it.
pub fn bending(load: f64, lever: f64) -> f64 {
    load * lever
}

/// Greatest stress in Pa in a round shank `diameter` metres thick (at its thinnest) under a moment in N·m: 32 M/(π d³),
/// textbook. `None` for no shank.
pub fn shank_stress(moment: f64, diameter: f64) -> Option<f64> {
    (diameter > 0.0).then(|| 32.0 * moment / (std::f64::consts::PI * libm::pow(diameter, 3.0)))
}

/// How far in metres the outer end of a screw sinks that carries `load` N at `lever` metres from the wood that grips it: F l³/3EI
/// where the outer end may turn, a quarter of that where strip and head hold it square. Textbook beams; what the wood gives is
/// not in it. `None` for no shank.
pub fn sag_of_screw(load: f64, lever: f64, diameter: f64, modulus: f64, held_square: bool) -> Option<f64> {
    let inertia = std::f64::consts::PI * libm::pow(diameter.max(0.0), 4.0) / 64.0;
    let parts = if held_square { 12.0 } else { 3.0 };
    (inertia > 0.0 && modulus > 0.0).then(|| load * libm::pow(lever, 3.0) / (parts * modulus * inertia))
}

/// Pull in N in a screw, and push in the insulation below it, where a weight of `load` N hangs `lever` metres out: the strip leans
/// on the insulation, and the two make a couple `arm` metres apart that takes the moment. Statics. `None` for no arm.
pub fn strut(load: f64, lever: f64, arm: f64) -> Option<f64> {
    (arm > 0.0).then(|| load * lever / arm)
}

/// Least distance in metres from the centre of a hole to an edge: `diameters` of the fastener, and not less than `least`.
pub fn edge_distance(diameter: f64, diameters: f64, least: f64) -> f64 {
    (diameter * diameters).max(least)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn denser_thicker_and_deeper_hold_more(
            gravity in 0.3f64..0.7,
            diameter in 0.0025f64..0.008,
            depth in 0.005f64..0.06,
            more in 1.0f64..1.5,
        ) {
            for shank in [Shank::Screw, Shank::Nail] {
                for holds in [withdrawal, withdrawal_factored] {
                    let here = holds(shank, gravity, diameter, depth);
                    prop_assert!(here > 0.0);
                    prop_assert!(holds(shank, gravity * more, diameter, depth) >= here);
                    prop_assert!(holds(shank, gravity, diameter * more, depth) >= here);
                    prop_assert!((holds(shank, gravity, diameter, depth * more) / here - more).abs() < 1e-9);
                }
            }
            // What is heavier or further out bends more, on more screws less.
            let hung = |weight: f64, screws: f64| weight_on_screw(weight, screws).unwrap();
            prop_assert!(hung(12.0 * more, 6.0) >= hung(12.0, 6.0) && hung(12.0, 6.0 * more) <= hung(12.0, 6.0));
            prop_assert!(bending(hung(12.0, 6.0), depth * more) >= bending(hung(12.0, 6.0), depth));
            // More wind, a shorter span; more wood, a longer one.
            let span = |load: f64, thick: f64| longest_span(load, 0.064, thick, 6e9, 5e6, 0.004);
            prop_assert!(span(500.0 * more, depth) <= span(500.0, depth));
            prop_assert!(span(500.0, depth * more) >= span(500.0, depth));
            // Twice as wide a strip, half the spacing.
            let every = |across: f64| spacing(300.0, 1200.0, across).unwrap();
            prop_assert!((every(0.4) / every(0.8) - 2.0).abs() < 1e-12);
            let bends = |lever: f64| sag_of_screw(50.0, lever, diameter, 200e9, false).unwrap();
            prop_assert!((bends(2.0 * depth) / bends(depth) - 8.0).abs() < 1e-9);
            let square = sag_of_screw(50.0, depth, diameter, 200e9, true).unwrap();
            prop_assert!((bends(depth) / square - 4.0).abs() < 1e-9);
        }
    }

    #[test]
    fn unlike_bases_are_not_compared() {
        let load = Force { newtons: 186.9, basis: Basis::Factored };
        let holds = Force { newtons: 850.0, basis: Basis::Allowable };
        assert_eq!(share(load, holds), None);
        let same = Force { basis: Basis::Factored, ..holds };
        assert!((share(load, same).unwrap() - 0.21988).abs() < 1e-4);
        assert_eq!(strut(10.0, 0.1, 0.0), None);
        assert_eq!(shank_stress(1.0, 0.0), None);
    }

    #[test]
    fn nothing_in_the_wood_holds_nothing() {
        assert_eq!(withdrawal(Shank::Screw, 0.42, 0.005, 0.0), 0.0);
        assert_eq!(withdrawal(Shank::Nail, 0.42, 0.003, -0.01), 0.0);
        assert!(withdrawal(Shank::Screw, 0.4, 0.0045, 0.019) > withdrawal(Shank::Nail, 0.4, 0.0045, 0.019));
    }

    #[test]
    fn a_head_goes_no_easier_through_thick_wood() {
        let thin = pull_through(0.45, 0.009, 0.010);
        assert!((pull_through(0.45, 0.009, 0.020) / thin - 2.0).abs() < 1e-12);
        assert_eq!(pull_through(0.45, 0.009, 0.030), pull_through(0.45, 0.009, 0.100));
    }

    #[test]
    fn the_longest_span_is_just_within_both_limits() {
        let (load, width, thickness, modulus) = (500.0, 0.064, 0.019, 6e9);
        let longest = longest_span(load, width, thickness, modulus, 5e6, 1.0 / 240.0);
        let found = continuous(load, longest, width, thickness, modulus).unwrap();
        let by_stress = (found.stress - 5e6).abs() < 1.0;
        let by_deflection = (found.deflection - longest / 240.0).abs() < 1e-9;
        assert!(by_stress || by_deflection);
        assert!(found.stress <= 5e6 + 1.0 && found.deflection <= longest / 240.0 + 1e-9);
        assert_eq!(continuous(load, 1.0, 0.0, thickness, modulus), None);
        assert!(longest_span(0.0, width, thickness, modulus, 5e6, 0.004).is_infinite());
    }

    #[test]
    fn still_air_sets_no_spacing() {
        assert_eq!(spacing(400.0, 0.0, 0.4), None);
        assert!((spacing(186.9, 1534.7, 0.4064).unwrap() - 0.29966).abs() < 1e-4);
        assert_eq!(weight_on_screw(12.0, 0.0), None);
        assert_eq!(edge_distance(0.004, 2.0, 0.012), 0.012);
    }
}
