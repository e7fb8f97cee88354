//! Wind and rain on each face: the suction of the wind away from the corners and at them, how wide the corners are, and how
//! much rain a year drives on it.

use super::{Found, Scene, Source, Study, Value, WallFigures, What, rain_index};
use crate::loads::{Suction, suction};
use crate::model::{FaceId, Model, Site, Sureness};
use crate::physics::rain::{Caught, caught};
use crate::units::{Dimension, Keep, Range};

/// Wind and rain.
pub struct WindAndRain;

/// Outward, specified.
pub static FIELD: What = What {
    key: "wind.suction_field",
    title: "wind suction, field",
    dimension: Dimension::PRESSURE,
    keep: Keep::Places(0),
};

/// Outward, specified.
pub static CORNER: What = What {
    key: "wind.suction_corner",
    title: "wind suction, corners",
    dimension: Dimension::PRESSURE,
    keep: Keep::Places(0),
};

/// From each end of the face.
pub static ZONE: What = What {
    key: "wind.corner_zone",
    title: "width of the corner zone",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

/// Litres on each square metre are millimetres.
pub static YEARLY: What = What {
    key: "rain.yearly",
    title: "driving rain on it, any direction",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

/// The static procedure; shape factors are limits.
const STATIC: Source = Source { standard: "NBC, static procedure", edition: "2015, 2020", clause: "4.1.7" };
/// The deposition of rain.
const CATCH: Source = Source { standard: "form of ASHRAE 160", edition: "", clause: "" };

/// Said wherever a person could be hurt.
pub(super) const INDICATIVE: &str = "indicative, an engineer confirms";

/// Shelter of a face (FE): between towns and the open country; and where it is not said what lies upwind.
const ROUGH: (f64, f64) = (0.7, 1.0);
const OPEN: (f64, f64) = (1.0, 1.3);
const UNSAID: (f64, f64) = (0.7, 1.3);
/// Below a roof (FD): a steep one and a low one.
const BELOW_ROOF: (f64, f64) = (0.35, 0.5);

impl Study for WindAndRain {
    fn id(&self) -> &'static str {
        "wind_and_rain"
    }

    fn title(&self) -> &'static str {
        "wind and rain"
    }

    fn of_face(&self, scene: &Scene<'_>, face: FaceId, _walls: &[WallFigures]) -> Found {
        let mut found = Found::default();
        let wind = suction(scene.model, scene.plan, face);
        let told = |value: fn(&Suction<'_>) -> f64| {
            let value = wind.as_ref().map(value).map_err(Clone::clone)?;
            Ok((Value::Number(value.into()), Sureness::Memory, INDICATIVE.to_owned()))
        };
        found.tell(&FIELD, STATIC, told(|wind| tens(wind.field)));
        // Without wind one line says what is missing for all three.
        if wind.is_ok() {
            found.tell(&CORNER, STATIC, told(|wind| tens(wind.corner)));
            found.tell(&ZONE, STATIC, told(|wind| wind.zone.as_m()));
        }
        let rain = yearly(scene.model).map(|range| {
            let doubt = "directions of the wind in rain are not known".to_owned();
            (Value::Number(range), Sureness::Memory, doubt)
        });
        found.tell(&YEARLY, CATCH, rain);
        rain_index::tell(&mut found, scene, face);
        found
    }
}

/// Rain on a face in a year, metres: from a steep roof over it and wind from all round to a low roof and wind always square on.
/// The error is the missing fact.
fn yearly(model: &Model) -> Result<Range, String> {
    let site = model.site.as_ref().ok_or("where the wall stands is not said (`site`)")?;
    let (least, most) = match site.terrain {
        Some("rough") => ROUGH,
        Some(_) => OPEN,
        None => UNSAID,
    };
    let low = of_year(site, least, BELOW_ROOF.0)?.all_round;
    let high = of_year(site, most, BELOW_ROOF.1)?.square_on;
    // Millimetres, to two digits: no more is known.
    Ok(Range::between(two_digits(low) / 1e3, two_digits(high) / 1e3))
}

fn of_year(site: &Site, exposure: f64, deposition: f64) -> Result<Caught, String> {
    let climate = site.climate.as_ref().ok_or("the climate of the site is not said (`climate`)")?;
    let said = |months: &[f64], what: &str, clause: &str| {
        let known = months.len() == 12;
        known.then_some(()).ok_or_else(|| format!("{what} of the climate `{}` are not said (`{clause}`)", climate.name))
    };
    said(&climate.rain, "months of rain", "rain")?;
    said(&climate.wind_speed, "months of wind", "wind_speed")?;
    let months = climate.wind_speed.iter().copied().zip(climate.rain.iter().copied());
    Ok(caught(months, exposure, deposition))
}

/// Whole tens of pascals: no more is known.
fn tens(pressure: f64) -> f64 {
    libm::round(pressure / 10.0) * 10.0
}

pub(super) fn two_digits(value: f64) -> f64 {
    if value <= 0.0 {
        return 0.0;
    }
    let step = libm::pow(10.0, libm::floor(libm::log10(value)) - 1.0);
    libm::round(value / step) * step
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_digits_are_kept() {
        assert_eq!(two_digits(0.0), 0.0);
        assert!((two_digits(183.4) - 180.0).abs() < 1e-9);
        assert!((two_digits(47.2) - 47.0).abs() < 1e-9);
    }
}
