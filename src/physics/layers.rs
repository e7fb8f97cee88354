//! Vapour through layers one behind another, in one dimension, and how warm the outboard ones keep the others.

pub use super::resistance::{SURFACE_INSIDE, SURFACE_OUTSIDE, resistance};

/// Vapour permeability of still air, kg/(m·s·Pa) (ISO 13788:2012, from memory).
pub const AIR_PERMEABILITY: f64 = 2e-10;

/// Vapour permeability of still air at `celsius` and 101325 Pa, kg/(m·s·Pa): 2.306e-5/(R T)·(T/273.15)^1.81 (DIN 52615 form,
/// from memory). [`AIR_PERMEABILITY`] is its round number: 3 % more at 20 °C, where cups are measured. `None` below absolute zero.
pub fn air_permeability(celsius: f64) -> Option<f64> {
    let kelvin = celsius + 273.15;
    (kelvin > 0.0).then(|| 2.306e-5 / (VAPOUR_GAS * kelvin) * libm::pow(kelvin / 273.15, 1.81))
}

/// Gas constant of water vapour, J/(kg·K), as ISO 13788 rounds it (from memory).
const VAPOUR_GAS: f64 = 461.5;

/// Resistance outboard of a surface by that inboard of it, surfaces with the air not counted (the form of NBC Table 9.25.5.2).
/// `None` where there is nothing inboard.
pub fn ratio(outboard: f64, inboard: f64) -> Option<f64> {
    (inboard > 0.0).then(|| outboard / inboard)
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

    #[test]
    fn ratio_of_the_worked_wall() {
        assert!((ratio(2.08, 3.55).unwrap() - 0.5859).abs() < 5e-5);
        assert_eq!(ratio(1.0, 0.0), None);
    }

    #[test]
    fn nothing_is_not_tight() {
        assert_eq!(permeance(50.0, 0.0), None);
        assert!((permeance(50.0, 0.011).unwrap() - 2e-10 / 0.55).abs() < 1e-20);
    }
}
