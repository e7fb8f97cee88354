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

/// Driving rain of a year in L/m² on a face without shelter, from hours of wind m/s, rain mm/h and angle over `years` years
/// (ISO 15927-3, from memory). `None` without years.
pub fn yearly_index(hours: impl IntoIterator<Item = (f64, f64, f64)>, years: f64) -> Option<f64> {
    let sum: f64 = hours.into_iter().map(|(wind, rain, angle)| driving_rain(wind, rain, angle)).sum();
    (years > 0.0).then(|| sum / years)
}

/// Share of level rain that one m² of wall catches of a wind that blows square on it, by the form of ASHRAE 160: FE · FD ·
/// 0.2 · U (from memory); `wind` in m/s.
pub fn catch_ratio(exposure: f64, deposition: f64, wind: f64) -> f64 {
    exposure * deposition * 0.2 * wind.max(0.0)
}

/// Rain on a wall in a year, L/m².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Caught {
    /// If the wind of rain comes from all round alike: 1/π of what comes square on.
    pub all_round: f64,
    /// If it always comes square on: no wall catches more.
    pub square_on: f64,
}

/// Rain on a wall in a year from months of mean wind m/s and rain mm, where nothing is known of the directions: the catch ratio
/// of each month times its rain. The mean of the cosine over the half circle a wall looks at, taken over the whole circle, is
/// 1/π. Means hide that storms rain and blow at once: more may come.
pub fn caught(months: impl IntoIterator<Item = (f64, f64)>, exposure: f64, deposition: f64) -> Caught {
    let each = |(wind, rain): (f64, f64)| catch_ratio(exposure, deposition, wind) * rain.max(0.0);
    let square_on: f64 = months.into_iter().map(each).sum();
    Caught { all_round: square_on / std::f64::consts::PI, square_on }
}

/// Driving rain of a year on a face in the open that looks `looks` degrees clockwise from north, from those of faces that look
/// north, north-east and so on: on a straight line between the two nearest, in their unit.
pub fn index_towards(eight: &[f64; 8], looks: f64) -> f64 {
    let at = looks.rem_euclid(360.0) / 45.0;
    let (first, share) = (libm::floor(at), at - libm::floor(at));
    let of = |step: f64| eight.get(step as usize % 8).copied().unwrap_or_default();
    of(first) + share * (of(first + 1.0) - of(first))
}

/// Ground upwind, by the four classes of ISO 15927-3.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Terrain {
    /// A shore, or flat country without obstacles.
    Shore,
    /// Fields with hedges and houses here and there.
    Fields,
    /// Suburbs and woods.
    Suburb,
    /// Towns.
    Town,
}

/// Roughness factor at `height` metres: K ln(z/z₀), level below the least height of the class (ISO 15927-3, from memory).
pub fn roughness(height: f64, terrain: Terrain) -> f64 {
    let (factor, length, least) = match terrain {
        Terrain::Shore => (0.17, 0.01, 2.0),
        Terrain::Fields => (0.19, 0.05, 4.0),
        Terrain::Suburb => (0.22, 0.3, 8.0),
        Terrain::Town => (0.24, 1.0, 16.0),
    };
    factor * libm::log(height.max(least) / length)
}

/// Factor of a hill for an upwind slope (rise over run) and the place on it (`place` 0…1, from a chart): 1 up to 1 in 20,
/// 1 + 2 s Φ up to 0.3, 1 + 0.6 s beyond (ISO 15927-3, from memory).
pub fn topography(slope: f64, place: f64) -> f64 {
    if slope <= 0.05 { 1.0 } else { 1.0 + 2.0 * place.clamp(0.0, 1.0) * slope.min(0.3) }
}

/// Factor of the nearest obstacle as high as the wall, by its distance in metres (ISO 15927-3, table, from memory).
pub fn obstruction(distance: f64) -> f64 {
    const UP_TO: [(f64, f64); 8] =
        [(8.0, 0.2), (15.0, 0.3), (25.0, 0.4), (40.0, 0.5), (60.0, 0.6), (80.0, 0.7), (100.0, 0.8), (120.0, 0.9)];
    UP_TO.iter().find(|(limit, _)| distance <= *limit).map_or(1.0, |(_, factor)| *factor)
}

/// Driving rain of a year on a wall, L/m²: the index times the factors of ground, hill, obstacles and wall (ISO 15927-3, from
/// memory).
pub fn wall_index(index: f64, roughness: f64, topography: f64, obstruction: f64, wall: f64) -> f64 {
    index * roughness * topography * obstruction * wall
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
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn more_wind_more_rain_and_a_straighter_look_catch_more(
            wind in 0.1f64..20.0,
            rain in 0.1f64..30.0,
            angle in 0.0f64..89.0,
            more in 0.0f64..5.0,
        ) {
            for form in [driving_rain, driving_rain_by_drops] {
                let here = form(wind, rain, angle);
                prop_assert!(form(wind + more, rain, angle) >= here);
                prop_assert!(form(wind, rain + more, angle) >= here);
                prop_assert!(form(wind, rain, (angle + more).min(90.0)) <= here + 1e-12);
                prop_assert!((form(wind, rain, -angle) - here).abs() < 1e-12);
            }
            let year = |factor: f64| caught((1..=12).map(|month| (wind, factor * f64::from(month))), 1.0, 0.35);
            prop_assert!((year(2.0).square_on / year(1.0).square_on - 2.0).abs() < 1e-12);
            prop_assert!(year(1.0).all_round < year(1.0).square_on);
            // Round the compass and back, and never beyond what its neighbours get.
            let eight: [f64; 8] = std::array::from_fn(|at| (rain * (at as f64 + 1.0)) % 7.0);
            prop_assert!((index_towards(&eight, angle + 360.0) - index_towards(&eight, angle)).abs() < 1e-9);
            let most = eight.iter().copied().fold(0.0, f64::max);
            prop_assert!((0.0..=most).contains(&index_towards(&eight, -angle * more)));
            for terrain in [Terrain::Shore, Terrain::Fields, Terrain::Suburb, Terrain::Town] {
                prop_assert!(roughness(wind + more, terrain) >= roughness(wind, terrain));
            }
            prop_assert!(obstruction(wind * 10.0 + more) >= obstruction(wind * 10.0));
        }
    }

    #[test]
    fn a_third_of_the_rain_comes_to_a_wall_when_the_wind_goes_round() {
        // Every whole degree of the wind alike, against 1/π.
        let mean: f64 = (0..360).map(|angle| deposited_rain(1.0, 1.0, 5.0, 1.0, f64::from(angle))).sum::<f64>() / 360.0;
        let found = caught([(5.0, 1.0)], 1.0, 1.0).all_round;
        assert!((mean / found - 1.0).abs() < 1e-4, "{mean} {found}");
    }

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
