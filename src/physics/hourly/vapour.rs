//! Saturation pressure with its slope, and heat in water: what the hourly balance needs at every step.

/// Gas constant of water vapour, J/(kg·K).
pub const VAPOUR_GAS: f64 = 461.5;
/// Heat in vapour at 0 °C above that in water at 0 °C, J/kg (textbook, from memory).
pub const EVAPORATION: f64 = 2.501e6;
/// Heat capacity of vapour, J/(kg·K) (textbook, from memory).
pub const VAPOUR_CAPACITY: f64 = 1860.0;
/// Heat capacity of water, J/(kg·K).
pub const WATER_CAPACITY: f64 = 4186.0;
/// Density of air times its heat capacity near 10 °C, J/(m³·K).
pub const AIR_CAPACITY: f64 = 1.23 * 1006.0;

/// Saturation pressure in Pa at `celsius` and its slope in Pa/K: ISO 13788:2012, annex E (from memory), over water from 0 °C up
/// and over ice below.
pub fn saturation(celsius: f64) -> (f64, f64) {
    let (a, b) = if celsius >= 0.0 { (17.269, 237.3) } else { (21.875, 265.5) };
    let below = b + celsius;
    let pressure = 610.5 * libm::exp(a * celsius / below);
    (pressure, pressure * a * b / (below * below))
}

/// Mass of vapour in air of `pressure` Pa at `celsius`, kg/m³.
pub fn density(pressure: f64, celsius: f64) -> f64 {
    pressure / (VAPOUR_GAS * (celsius + 273.15))
}

/// Heat in a kilogram of vapour at `celsius`, J, from water at 0 °C.
pub fn heat(celsius: f64) -> f64 {
    EVAPORATION + VAPOUR_CAPACITY * celsius
}
