//! Heat and vapour through layers one behind another, in one dimension: resistances, their ratio, and what screws let through.

/// Surface resistance inside, horizontal heat flow, m²·K/W (ISO 6946:2017 as shown on a public page). It is also that outside
/// where a well-ventilated layer shelters the surface (from memory).
pub const SURFACE_INSIDE: f64 = 0.13;

/// Surface resistance outside, in the wind, m²·K/W (ISO 6946:2017 as shown on a public page).
pub const SURFACE_OUTSIDE: f64 = 0.04;

/// Resistance of a still air layer of 25 mm and more, upright, both sides dull, m²·K/W (ISO 6946:2017, table from memory,
/// recomputed by its formula).
pub const STILL_AIR: f64 = 0.18;

/// Vapour permeability of still air, kg/(m·s·Pa) (ISO 13788:2012, from memory).
pub const AIR_PERMEABILITY: f64 = 2e-10;

/// Share of a screw's section that counts where it goes through the whole insulation (ISO 6946:2017, annex F, from memory).
const PENETRATING: f64 = 0.8;

/// One layer as heat sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slice {
    /// Its resistance, m²·K/W.
    Solid(f64),
    /// An air layer that is open enough to count as outside: 1500 mm² and more for each metre (ISO 6946:2017, from memory).
    Ventilated,
}

/// Resistance of a layer, m²·K/W, from its thickness in m and conductivity in W/(m·K). `None` for a conductivity that is none.
pub fn resistance(thickness: f64, conductivity: f64) -> Option<f64> {
    (conductivity > 0.0 && thickness >= 0.0).then(|| thickness / conductivity)
}

/// Resistance from room air to outside air, m²·K/W; slices from outside to inside. A ventilated layer and everything
/// outboard of it do not count, and the surface behind it has the resistance of a sheltered one (ISO 6946:2017, from memory).
pub fn total(slices: &[Slice]) -> f64 {
    let open = slices.iter().rposition(|slice| *slice == Slice::Ventilated);
    let inner = slices.get(open.map_or(0, |at| at + 1)..).unwrap_or_default();
    let layers: f64 =
        inner.iter().map(|slice| if let Slice::Solid(resistance) = slice { *resistance } else { 0.0 }).sum();
    let outer = if open.is_some() { SURFACE_INSIDE } else { SURFACE_OUTSIDE };
    outer + layers + SURFACE_INSIDE
}

/// Resistance outboard of a surface by that inboard of it, surfaces with the air not counted (the form of NBC Table 9.25.5.2).
/// `None` where there is nothing inboard.
pub fn ratio(outboard: f64, inboard: f64) -> Option<f64> {
    (inboard > 0.0).then(|| outboard / inboard)
}

/// Screws through a layer of insulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screws {
    /// W/(m·K).
    pub conductivity: f64,
    /// Shank, m.
    pub diameter: f64,
    /// In each m² of wall.
    pub per_area: f64,
}

/// What screws add to the transmittance, W/(m²·K): α·λ·A·n/d₀·(R₁/R)², with α 0.8 for screws through the whole of a layer `depth`
/// metres thick and `layer` m²·K/W good, in a wall of `wall` m²·K/W (ISO 6946:2017, annex F, from memory). Not valid where both
/// ends touch sheet metal. `None` for a layer or a wall that is none.
pub fn screw_loss(screws: Screws, depth: f64, layer: f64, wall: f64) -> Option<f64> {
    if depth <= 0.0 || wall <= 0.0 {
        return None;
    }
    let section = std::f64::consts::PI * screws.diameter * screws.diameter / 4.0;
    Some(PENETRATING * screws.conductivity * section * screws.per_area / depth * (layer / wall).powi(2))
}

/// Permeance, kg/(Pa·s·m²), of a layer `thickness` metres thick with the vapour resistance factor `factor`. `None` for a layer
/// without thickness or factor.
pub fn permeance(factor: f64, thickness: f64) -> Option<f64> {
    permeance_of(factor * thickness)
}

/// Permeance, kg/(Pa·s·m²), of a sheet that resists like so many metres of still air.
pub fn permeance_of(air_layer: f64) -> Option<f64> {
    (air_layer > 0.0).then(|| AIR_PERMEABILITY / air_layer)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Plasterboard, wool, sheathing; then air and brick.
    fn wall(air: Slice) -> Vec<Slice> {
        vec![
            Slice::Solid(0.1025 / 0.77),
            air,
            Slice::Solid(0.009 / 0.13),
            Slice::Solid(0.140 / 0.035),
            Slice::Solid(0.0125 / 0.25),
        ]
    }

    #[test]
    fn a_ventilated_gap_and_the_cladding_do_not_count() {
        assert!((total(&wall(Slice::Solid(STILL_AIR))) - 4.6023).abs() < 5e-5);
        assert!((total(&wall(Slice::Ventilated)) - 4.3792).abs() < 5e-5);
        let mut thick = wall(Slice::Ventilated);
        thick[0] = Slice::Solid(10.0);
        assert_eq!(total(&thick), total(&wall(Slice::Ventilated)));
    }

    #[test]
    fn ratio_of_the_worked_wall() {
        assert!((ratio(2.08, 3.55).unwrap() - 0.5859).abs() < 5e-5);
        assert_eq!(ratio(1.0, 0.0), None);
    }

    #[test]
    fn screws_of_the_worked_wall() {
        let screws = Screws { conductivity: 17.0, diameter: 0.0063, per_area: 4.0 };
        let added = screw_loss(screws, 0.1, 0.1 / 0.035, 3.5).unwrap();
        assert!((added - 0.01130).abs() < 1e-5, "{added}");
        assert_eq!(screw_loss(screws, 0.0, 1.0, 3.5), None);
    }

    #[test]
    fn nothing_is_neither_warm_nor_tight() {
        assert_eq!(resistance(0.1, 0.0), None);
        assert_eq!(resistance(0.0, 0.1), Some(0.0));
        assert_eq!(permeance(50.0, 0.0), None);
        assert!((permeance(50.0, 0.011).unwrap() - 2e-10 / 0.55).abs() < 1e-20);
    }
}
