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

/// Least distance in metres from the centre of a hole to an edge: `diameters` of the fastener, and not less than `least`.
pub fn edge_distance(diameter: f64, diameters: f64, least: f64) -> f64 {
    (diameter * diameters).max(least)
}

#[cfg(test)]
mod tests {
    use super::*;

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
