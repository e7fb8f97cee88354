//! Driving rain on a face, the part of it that gets behind the cladding, and what an exit lets out.

/// Gravity, m/s².
const GRAVITY: f64 = 9.806_65;

/// Coefficient of discharge of a sharp-edged hole, textbook, from memory.
pub const DISCHARGE: f64 = 0.61;

/// Density of the air from which the Canadian code makes its wind pressures, kg/m³ (0 °C, dry), from memory.
const AIR: f64 = 1.2929;

/// Wind speed in m/s of a wind pressure in pascals: √(2 p / ρ), with the density the Canadian code takes (1.2929 kg/m³, from
/// memory). 0 for a pressure that is none.
pub fn wind_of_pressure(pressure: f64) -> f64 {
    (2.0 * pressure.max(0.0) / AIR).sqrt()
}

/// Driving rain in L/(m²·h) on an upright face that meets the wind square, free of shelter: 2/9 · v · r^(8/9), ISO 15927-3
/// (from memory), for a wind of `wind` m/s and rain of `rain` mm/h on level ground. `angle` is the angle in degrees between
/// the wind and the way the face looks: nothing reaches a face that looks away.
pub fn driving_rain(wind: f64, rain: f64, angle: f64) -> f64 {
    2.0 / 9.0 * wind.max(0.0) * rain.max(0.0).powf(8.0 / 9.0) * facing(angle)
}

/// Rain deposited on a wall in L/(m²·h) as ASHRAE 160 reckons it (from memory): FE · FD · 0.2 · U · cos θ · r. `exposure` is
/// FE (about 0.7 sheltered, 1.0, 1.3 severe), `deposition` FD (0.35 below a steep roof, 0.5 below a low one, 1 where water
/// runs down).
pub fn deposited_rain(exposure: f64, deposition: f64, wind: f64, rain: f64, angle: f64) -> f64 {
    exposure * deposition * 0.2 * wind.max(0.0) * rain.max(0.0) * facing(angle)
}

/// Driving rain in L/(m²·h) by the size of drops: the median drop 1.105 r^0.232 mm falls at −0.166033 + 4.91844 D −
/// 0.888016 D² + 0.054888 D³ m/s, and the wind carries it (Straube and Burnett's way; from memory). 0 without rain.
pub fn driving_rain_by_drops(wind: f64, rain: f64, angle: f64) -> f64 {
    if rain <= 0.0 {
        return 0.0;
    }
    wind.max(0.0) * rain * facing(angle) / fall_speed(rain)
}

/// How fast the median drop of a rain of `rain` mm/h falls, m/s.
fn fall_speed(rain: f64) -> f64 {
    let drop = 1.105 * rain.powf(0.232);
    -0.166_033 + 4.918_44 * drop - 0.888_016 * drop.powi(2) + 0.054_888 * drop.powi(3)
}

/// The share of a wind that meets a face: the cosine of the angle between them in degrees, never less than 0.
fn facing(angle: f64) -> f64 {
    angle.to_radians().cos().max(0.0)
}

/// What leaves through an opening of `area` m² with `head` metres of water over it, m³/s: 0.61 · A · √(2 g h), textbook, from
/// memory. Once the water over a wide slot is shallower than the slot is wide it runs in as over a weir, and this is too much.
pub fn discharge(area: f64, head: f64) -> f64 {
    DISCHARGE * area.max(0.0) * (2.0 * GRAVITY * head.max(0.0)).sqrt()
}

/// How many times what arrives an exit passes; `None` where nothing arrives.
pub fn margin(passes: f64, arrives: f64) -> Option<f64> {
    (arrives > 0.0).then(|| passes / arrives)
}

/// Depth in metres of the water that stands in the dip of a channel between two of its supports `span` metres apart, which
/// hangs down `sag` metres in the middle as a parabola, on a slope (rise over run): f (1 − s L / 4 f)², nothing once the
/// slope is 4 f / L. Plane geometry, worked here.
pub fn dip(sag: f64, slope: f64, span: f64) -> f64 {
    if sag <= 0.0 || span <= 0.0 {
        return 0.0;
    }
    let left = 1.0 - slope.abs() * span / (4.0 * sag);
    if left > 0.0 { sag * left * left } else { 0.0 }
}

/// How far below the middle of the span the lowest point of that dip lies, along it, in metres: s L² / 8 f, at most half the
/// span. Same geometry.
pub fn dip_offset(sag: f64, slope: f64, span: f64) -> f64 {
    if sag <= 0.0 { span.max(0.0) / 2.0 } else { (slope.abs() * span * span / (8.0 * sag)).min(span / 2.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_wind_no_rain_no_face_no_water() {
        assert_eq!(driving_rain(0.0, 4.0, 0.0), 0.0);
        assert_eq!(driving_rain(5.0, 0.0, 0.0), 0.0);
        assert_eq!(driving_rain(5.0, 4.0, 100.0), 0.0);
        assert_eq!(deposited_rain(1.0, 0.35, 5.0, 4.0, 180.0), 0.0);
        assert_eq!(driving_rain_by_drops(5.0, 0.0, 0.0), 0.0);
        assert_eq!(discharge(1.0, 0.0), 0.0);
        assert_eq!(discharge(1.0, -1.0), 0.0);
        assert_eq!(margin(1.0, 0.0), None);
        assert_eq!(wind_of_pressure(-1.0), 0.0);
    }

    #[test]
    fn a_wind_gives_back_its_pressure() {
        let wind = wind_of_pressure(200.0);
        assert!((0.5 * 1.2929 * wind * wind - 200.0).abs() < 1e-9);
    }

    #[test]
    fn the_dip_is_what_a_walk_along_the_parabola_finds() {
        for (sag, slope, span) in [(0.003, 0.0, 0.4), (0.003, 0.005, 0.4), (0.002, 0.015, 0.6), (0.003, 0.05, 0.4)] {
            let height = |x: f64| -slope * x - 4.0 * sag * x * (span - x) / (span * span);
            let steps = 20_000;
            let at = |k: i32| span * f64::from(k) / f64::from(steps);
            let low = (0..=steps).map(at).min_by(|a, b| height(*a).total_cmp(&height(*b))).unwrap();
            // Water spills at the lower support, at the far end.
            let depth = height(span) - height(low);
            assert!((dip(sag, slope, span) - depth).abs() < 1e-7, "{sag} {slope} {span}: {depth}");
            assert!((dip_offset(sag, slope, span) - (low - span / 2.0)).abs() < 1e-4);
        }
        assert_eq!(dip(0.0, 0.0, 1.0), 0.0);
    }
}
