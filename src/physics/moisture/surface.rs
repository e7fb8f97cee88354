//! How warm the inner surface must be, month by month (ISO 13788:2012, clause 5, from memory).

use super::Air;
use crate::physics::psychrometrics::dew_point_iso;

/// Humidity at a surface from which mould may grow when it lasts for days.
pub const MOULD: f64 = 0.8;
/// Humidity at which water stands on a surface.
pub const WATER: f64 = 1.0;

/// What a month asks of a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// The least temperature, °C.
    pub temperature: f64,
    /// The least temperature factor; `None` where it is no colder outside than inside. Below nothing: any surface will do.
    pub factor: Option<f64>,
}

/// How warm a surface must be so that the air at it stays below `humidity` (0 to 1). `None` for air without vapour.
pub fn need(outside: Air, inside: Air, humidity: f64) -> Option<Need> {
    let temperature = dew_point_iso(inside.vapour / humidity)?;
    let apart = inside.temperature - outside.temperature;
    let factor = (apart > 0.0).then(|| (temperature - outside.temperature) / apart);
    Some(Need { temperature, factor })
}

/// The month (January is 0) that asks most of a surface, with its factor. `None` if no month asks anything.
pub fn critical(needs: &[Option<Need>]) -> Option<(usize, f64)> {
    let asked = needs.iter().enumerate().filter_map(|(month, need)| Some((month, (*need)?.factor?)));
    asked.filter(|(_, factor)| *factor > 0.0).reduce(|most, one| if one.1 > most.1 { one } else { most })
}

/// Temperature factor of the inner surface of a plain wall, resistances in m²·K/W; `None` for no wall.
pub fn factor(whole: f64, inside: f64) -> Option<f64> {
    (whole > 0.0).then(|| 1.0 - inside / whole)
}
