//! Sun and night sky on a wall: where the sun stands, what of it reaches level ground and a face, what a face loses to the sky.
//!
//! Hours are solar time. The sky is equally bright everywhere, and nothing (eaves, trees, hills) stands before the wall.

use std::f64::consts::{PI, TAU};

/// Sun outside the atmosphere, yearly mean, W/m² (ASTM E490, from memory).
pub const SOLAR_CONSTANT: f64 = 1366.1;
/// Stefan–Boltzmann constant, W/(m²·K⁴) (2019 SI).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Share of the sun that the ground throws back: grass and bare ground, a usual value (from memory). Snow throws back far more.
pub const GROUND: f64 = 0.2;
/// Sine of the height below which all is taken for light of the sky: 3°.
const LOW: f64 = 0.052_336;
/// Least sine of the height by which the clearness of the air is reckoned.
const LEAST: f64 = 0.065;

/// How far along the year a day is (1 for the first of January), as an angle.
fn along(day: usize) -> f64 {
    TAU * (day as f64 - 1.0) / 365.0
}

/// Declination of the sun on a day (1 to 365), radians: the Fourier series of Search 2 (1971), page 172.
pub fn declination(day: usize) -> f64 {
    let b = along(day);
    0.006_918 - 0.399_912 * libm::cos(b) + 0.070_257 * libm::sin(b) - 0.006_758 * libm::cos(2.0 * b)
        + 0.000_907 * libm::sin(2.0 * b)
        - 0.002_697 * libm::cos(3.0 * b)
        + 0.001_48 * libm::sin(3.0 * b)
}

/// Sun outside the atmosphere on what looks straight at it, W/m²; the same paper.
pub fn beyond_air(day: usize) -> f64 {
    let b = along(day);
    let near = 1.000_11
        + 0.034_221 * libm::cos(b)
        + 0.001_28 * libm::sin(b)
        + 0.000_719 * libm::cos(2.0 * b)
        + 0.000_077 * libm::sin(2.0 * b);
    SOLAR_CONSTANT * near
}

/// Where the sun stands: a vector of length 1. At night `up` is less than 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// Sine of its height above the horizon.
    pub up: f64,
    /// Northward.
    pub north: f64,
    /// Eastward.
    pub east: f64,
}

impl Position {
    /// Seen from `latitude` radians north, at a solar hour (12 at noon) of a day; spherical trigonometry.
    pub fn of(latitude: f64, day: usize, hour: f64) -> Self {
        let (declined, turned) = (declination(day), PI * (hour - 12.0) / 12.0);
        let (sin, cos) = (libm::sin(latitude), libm::cos(latitude));
        let (high, wide) = (libm::sin(declined), libm::cos(declined));
        Self {
            up: sin * high + cos * wide * libm::cos(turned),
            north: cos * high - sin * wide * libm::cos(turned),
            east: -wide * libm::sin(turned),
        }
    }

    /// Cosine of the angle at which it meets an upright wall that looks `azimuth` radians clockwise from north; less than 0
    /// behind the wall.
    pub fn on_wall(self, azimuth: f64) -> f64 {
        self.north * libm::cos(azimuth) + self.east * libm::sin(azimuth)
    }
}

/// Sun on level ground under a clear sky, W/m²; Journal of Meteorology 2 (1945), page 154. 0 at night.
pub fn clear(up: f64) -> f64 {
    if up > 0.0 { 1098.0 * up * libm::exp(-0.059 / up) } else { 0.0 }
}

/// Sun on level ground taken apart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Light {
    /// From the disc, on what looks straight at it, W/m².
    pub beam: f64,
    /// From the sky, on level ground, W/m².
    pub sky: f64,
}

/// Takes sun on level ground apart by how clear the air is; Solar Energy 28 (1982), page 293. Below 3° all is light of the sky.
pub fn apart(global: f64, up: f64, day: usize) -> Light {
    if up <= LOW {
        return Light { beam: 0.0, sky: global };
    }
    let k = (global / (beyond_air(day) * up.max(LEAST))).clamp(0.0, 1.0);
    let share = if k <= 0.22 {
        1.0 - 0.09 * k
    } else if k <= 0.8 {
        0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)))
    } else {
        0.165
    };
    Light { beam: global * (1.0 - share) / up, sky: global * share }
}

/// Sun on an upright wall, W/m²: the disc by its angle, half the sky, half of what the ground throws back (Solar Energy 7 (1963),
/// page 53, from memory).
pub fn on_wall(global: f64, sun: Position, day: usize, azimuth: f64) -> f64 {
    if global <= 0.0 {
        return 0.0;
    }
    let light = apart(global, sun.up, day);
    light.beam * sun.on_wall(azimuth).max(0.0) + light.sky / 2.0 + global * GROUND / 2.0
}

/// Share of the sky that is under cloud, 0 to 1, where the sun on level ground is `share` of that under a clear sky: inverse of
/// 1 − 0.75 N^3.4 (Solar Energy 24 (1980), page 177, from memory).
pub fn cloud(share: f64) -> f64 {
    libm::pow(((1.0 - share) / 0.75).clamp(0.0, 1.0), 1.0 / 3.4)
}

/// What the sky radiates beside what a black body as warm as the air near the ground would, 0 to 1. Clear sky by its dew point
/// (Solar Energy 32 (1984), page 663), cloud as Quarterly Journal of the Royal Meteorological Society 101 (1975), page 13; both
/// from memory.
pub fn sky(dew_point: f64, cloud: f64) -> f64 {
    let dew = dew_point / 100.0;
    let clear = (0.711 + dew * (0.56 + 0.73 * dew)).clamp(0.0, 1.0);
    (1.0 - 0.84 * cloud) * clear + 0.84 * cloud
}

/// Heat that a surface of `emissivity` which sees `view` of the sky loses to it beyond what it exchanges with air at `celsius`,
/// W/m².
pub fn lost_to_sky(celsius: f64, sky: f64, emissivity: f64, view: f64) -> f64 {
    let kelvin = celsius + 273.15;
    emissivity * view * (1.0 - sky) * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin * kelvin
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(ours: f64, theirs: f64, within: f64) {
        assert!((ours - theirs).abs() <= within, "{ours} is not within {within} of {theirs}");
    }

    #[test]
    fn at_noon_it_stands_in_the_south_as_high_as_latitude_leaves_it() {
        for (degrees, day) in [(0.0_f64, 80), (45.0, 172), (60.0, 355)] {
            let latitude = degrees.to_radians();
            let noon = Position::of(latitude, day, 12.0);
            near(noon.up, (latitude - declination(day)).cos(), 1e-12);
            near(noon.east, 0.0, 1e-12);
            let length = noon.up * noon.up + noon.north * noon.north + noon.east * noon.east;
            near(length, 1.0, 1e-12);
        }
        // Morning in the east, and at equal distance from noon equally high.
        let (morning, evening) = (Position::of(0.8, 100, 8.0), Position::of(0.8, 100, 16.0));
        assert!(morning.east > 0.0 && evening.east < 0.0);
        near(morning.up, evening.up, 1e-12);
        near(morning.on_wall(PI / 2.0), evening.on_wall(3.0 * PI / 2.0), 1e-12);
    }

    #[test]
    fn a_day_outside_the_air_sums_to_its_closed_form() {
        // H = 24/π · G (cos φ cos δ sin ω + ω sin φ sin δ) hours, with cos ω = −tan φ tan δ (textbook).
        for (degrees, day) in [(46.0_f64, 17), (46.0, 162), (10.0, 80), (60.0, 344)] {
            let (latitude, declined) = (degrees.to_radians(), declination(day));
            let set = (-latitude.tan() * declined.tan()).clamp(-1.0, 1.0).acos();
            let arc = latitude.cos() * declined.cos() * set.sin() + set * latitude.sin() * declined.sin();
            let closed = 24.0 / PI * beyond_air(day) * arc;
            let steps = 24 * 600;
            let hour = |at: i32| (f64::from(at) + 0.5) / 600.0;
            let sum: f64 = (0..steps).map(|at| Position::of(latitude, day, hour(at)).up.max(0.0)).sum();
            near(sum / 600.0 * beyond_air(day), closed, 1e-3 * closed);
        }
    }

    #[test]
    fn what_is_taken_apart_makes_the_whole() {
        for (global, up, day) in [(50.0, 0.1, 10), (400.0, 0.6, 100), (950.0, 0.9, 170), (20.0, 0.04, 300)] {
            let light = apart(global, up, day);
            near(light.beam * up + light.sky, global, 1e-9);
            assert!(light.beam >= 0.0 && light.sky >= 0.0);
        }
    }

    #[test]
    fn a_sky_as_warm_as_the_air_takes_nothing_and_cloud_warms_it() {
        assert_eq!(lost_to_sky(10.0, 1.0, 0.9, 0.5), 0.0);
        near(lost_to_sky(0.0, 0.0, 1.0, 1.0), 315.6, 0.1);
        assert!(sky(5.0, 0.0) < sky(5.0, 0.5) && sky(5.0, 0.5) < sky(5.0, 1.0) && sky(5.0, 1.0) <= 1.0);
        assert!(sky(-15.0, 0.2) < sky(15.0, 0.2));
        assert_eq!((cloud(1.0), cloud(0.25), cloud(1.2)), (0.0, 1.0, 0.0));
        near(1.0 - 0.75 * cloud(0.6).powf(3.4), 0.6, 1e-12);
    }
}
