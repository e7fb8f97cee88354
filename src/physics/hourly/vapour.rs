//! Saturation pressure with its slope, and heat in water: what the hourly balance needs at every step.

/// Heat in vapour at 0 °C above that in water at 0 °C, J/kg (textbook, from memory).
pub const EVAPORATION: f64 = 2.501e6;
/// Heat capacity of vapour, J/(kg·K) (textbook, from memory).
pub const VAPOUR_CAPACITY: f64 = 1860.0;
/// Heat capacity of water, J/(kg·K).
pub const WATER_CAPACITY: f64 = 4186.0;
/// Density of air times its heat capacity near 10 °C, J/(m³·K).
pub const AIR_CAPACITY: f64 = 1.23 * 1006.0;

/// Saturation pressure in Pa with its slope in Pa/K, in the form of ISO 13788, and the mass of vapour in air, kg/m³.
pub use crate::physics::psychrometrics::{
    VAPOUR_GAS, saturation_iso_with_slope as saturation, vapour_density as density,
};

/// Heat in a kilogram of vapour at `celsius`, J, from water at 0 °C.
pub fn heat(celsius: f64) -> f64 {
    EVAPORATION + VAPOUR_CAPACITY * celsius
}
