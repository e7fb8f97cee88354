//! Monthly moisture of a wall after ISO 13788:2012 (from memory): inside air by humidity class, surfaces, condensation and
//! evaporation within the wall over a year, and what the air of a ventilated gap can carry off.
//!
//! The method knows no storage in the pores, no air that leaks, no sun and no rain: what it gives is a warning, not a forecast.

pub mod cups;
pub mod ends;
pub mod gap;
pub mod glaser;
pub mod indoors;
pub mod surface;
#[cfg(test)]
mod tests;
pub mod year;

/// Air on one side of a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// °C.
    pub temperature: f64,
    /// Pressure of its vapour, Pa.
    pub vapour: f64,
}

impl Air {
    /// From a relative humidity of 0 to 1, with saturation as ISO 13788 has it.
    pub fn of_humidity(temperature: f64, humidity: f64) -> Air {
        Air { temperature, vapour: humidity * super::psychrometrics::saturation_iso(temperature) }
    }
}

/// Days of the months, February with 28.
pub const DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];
/// Seconds of a day.
pub const DAY: f64 = 86_400.0;
