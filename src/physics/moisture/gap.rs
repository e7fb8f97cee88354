//! What the air of a ventilated gap can carry off.

use super::DAY;
use crate::physics::psychrometrics::{saturation, vapour_density};

/// Air at one end of a gap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// °C.
    pub temperature: f64,
    /// 0 to 1.
    pub humidity: f64,
}

impl End {
    /// Vapour in it, kg/m³, by the ASHRAE form of saturation.
    pub fn vapour(self) -> f64 {
        vapour_density(self.humidity * saturation(self.temperature), self.temperature)
    }
}

/// Most water the air can carry off, kg/(m²·day): `changes` an hour through a gap `depth` metres deep. Below nothing when it
/// brings water. An upper bound, for it takes the air to go out as wet as `out` says.
pub fn drying(changes: f64, depth: f64, inlet: End, out: End) -> f64 {
    changes / 3600.0 * depth * (out.vapour() - inlet.vapour()) * DAY
}

/// Air changes an hour that carry off `water` kg/(m²·day); `None` where the air takes up nothing.
pub fn changes_for(water: f64, depth: f64, inlet: End, out: End) -> Option<f64> {
    let each = drying(1.0, depth, inlet, out);
    (each > 0.0).then(|| water / each)
}
