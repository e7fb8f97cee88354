//! Wind on cladding as the code of the United States reckons it: velocity pressure with height, ground, air and hills, and the
//! gust and shape factors of components and cladding. Indicative: an engineer confirms. ASCE 7-16, chapters 26 and 30, from
//! memory; the edition of 2022 has other heights of the gradient wind. Do not mix with the factors of `wind`.

use super::wind::{Zone, by_logarithm};

/// Feet to a metre, exact.
const FOOT: f64 = 0.3048;

/// Ground upwind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exposure {
    /// Towns, suburbs, woods.
    B,
    /// Open country.
    C,
    /// Flat shores.
    D,
}

impl Exposure {
    /// Height of the gradient wind in metres, and the exponent of the power law (table 26.11-1).
    fn profile(self) -> (f64, f64) {
        match self {
            Self::B => (1200.0 * FOOT, 7.0),
            Self::C => (900.0 * FOOT, 9.5),
            Self::D => (700.0 * FOOT, 11.5),
        }
    }
}

/// Factor of exposure at `height` metres: 2.01 (z/zg)^(2/α), z no less than 15 ft (table 26.10-1). Valid to zg.
pub fn height_factor(height: f64, exposure: Exposure) -> f64 {
    let (gradient, exponent) = exposure.profile();
    2.01 * libm::pow(height.clamp(15.0 * FOOT, gradient) / gradient, 2.0 / exponent)
}

/// Factor of thin air `altitude` metres above the sea: e^(−0.000119 z) (table 26.9-1).
pub fn air_factor(altitude: f64) -> f64 {
    libm::exp(-0.000_119 * altitude)
}

/// Shape of the ground under the building.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hill {
    /// A long ridge, or a valley.
    Ridge,
    /// A step.
    Escarpment,
    /// A round hill.
    Round,
}

/// Where a building stands on a hill; lengths in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnHill {
    /// Its shape.
    pub hill: Hill,
    /// Height of the hill.
    pub rise: f64,
    /// From the crest upwind to where the ground is half as high.
    pub half_length: f64,
    /// From the crest to the building, positive downwind.
    pub from_crest: f64,
    /// Above the ground.
    pub height: f64,
}

/// Factor of a hill: (1 + K₁K₂K₃)², K₁ by shape and rise (a slope over 1 in 2 counts as that), K₂ falling with the distance
/// from the crest, K₃ with the height (figure 26.8-1). 1 on flat ground and beyond the reach of the hill.
pub fn hill_factor(at: OnHill, exposure: Exposure) -> f64 {
    let [steep, away, above] = hill_parts(at, exposure);
    libm::pow(1.0 + steep * away * above, 2.0)
}

/// K₁, K₂ and K₃ of a hill.
pub fn hill_parts(at: OnHill, exposure: Exposure) -> [f64; 3] {
    if at.rise <= 0.0 || at.half_length <= 0.0 {
        return [0.0; 3];
    }
    let (in_open, decay, downwind) = match at.hill {
        Hill::Ridge => (1.45, 3.0, 1.5),
        Hill::Escarpment => (0.85, 2.5, 4.0),
        Hill::Round => (1.05, 4.0, 1.5),
    };
    let by_ground = match (exposure, at.hill) {
        (Exposure::C, _) => 0.0,
        (Exposure::B, Hill::Ridge) => -0.15,
        (Exposure::B, _) => -0.10,
        (Exposure::D, _) => 0.10,
    };
    let half = at.half_length.max(2.0 * at.rise);
    let reach = if at.from_crest > 0.0 { downwind } else { 1.5 };
    [
        (in_open + by_ground) * at.rise / half,
        (1.0 - at.from_crest.abs() / (reach * half)).max(0.0),
        libm::exp(-decay * at.height.max(0.0) / half),
    ]
}

/// Velocity pressure in Pa of a gust of `speed` m/s: 0.613 times the factors of height, hill, direction (0.85 for cladding)
/// and air, times the speed squared (26.10.2).
pub fn velocity_pressure(height: f64, hill: f64, direction: f64, air: f64, speed: f64) -> f64 {
    0.613 * height * hill * direction * air * speed * speed
}

/// Gust and shape together of the greatest suction on a wall no higher than 60 ft, negative, for a piece that carries the wind
/// of `area` m²: zone 4 −1.1…−0.8 and zone 5 −1.4…−0.8 between 10 and 500 ft², in proportion to the logarithm (figure
/// 30.3-1). The tenth off for roofs flatter than 10° is not taken.
pub fn wall_suction(zone: Zone, area: f64) -> f64 {
    let small = if zone == Zone::Field { -1.1 } else { -1.4 };
    by_logarithm(area, (10.0 * FOOT * FOOT, small), (500.0 * FOOT * FOOT, -0.8))
}

/// The same for the greatest push: 1.0…0.7.
pub fn wall_push(area: f64) -> f64 {
    by_logarithm(area, (10.0 * FOOT * FOOT, 1.0), (500.0 * FOOT * FOOT, 0.7))
}

/// Pressure inside an enclosed building by velocity pressure: ±0.18 (table 26.13-1).
pub const INSIDE: f64 = 0.18;

/// Design pressure in Pa on a piece, positive inward, with the pressure inside that adds to it.
pub fn design(velocity: f64, shape: f64, inside: f64) -> f64 {
    velocity * (shape + inside.abs().copysign(shape))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn flat_ground_and_a_far_hill_change_nothing() {
        let on = |rise: f64, from_crest: f64| OnHill {
            hill: Hill::Ridge,
            rise,
            half_length: 100.0,
            from_crest,
            height: 5.0,
        };
        assert_eq!(hill_factor(on(0.0, 0.0), Exposure::C), 1.0);
        assert_eq!(hill_factor(on(30.0, 500.0), Exposure::C), 1.0);
        assert!(hill_factor(on(30.0, 0.0), Exposure::C) > 1.5);
    }

    proptest! {
        #[test]
        fn higher_opener_and_smaller_pull_more(height in 0.0f64..18.0, more in 0.0f64..9.0, area in 0.1f64..80.0) {
            for exposure in [Exposure::B, Exposure::C, Exposure::D] {
                prop_assert!(height_factor(height + more, exposure) >= height_factor(height, exposure));
            }
            prop_assert!(height_factor(height, Exposure::C) > height_factor(height, Exposure::B));
            prop_assert!(height_factor(height, Exposure::D) > height_factor(height, Exposure::C));
            prop_assert!(wall_suction(Zone::Corner, area) <= wall_suction(Zone::Field, area));
            prop_assert!(wall_suction(Zone::Field, area + more) >= wall_suction(Zone::Field, area));
            prop_assert!(wall_push(area + more) <= wall_push(area));
            // A ridge is alike on both sides; an escarpment reaches further downwind.
            let on = |hill: Hill, from_crest: f64| {
                hill_factor(OnHill { hill, rise: 20.0, half_length: 80.0, from_crest, height }, Exposure::C)
            };
            prop_assert_eq!(on(Hill::Ridge, more * 10.0), on(Hill::Ridge, -more * 10.0));
            prop_assert!(on(Hill::Escarpment, more * 10.0) >= on(Hill::Escarpment, -more * 10.0));
            // The inside always adds to what the outside does.
            prop_assert_eq!(design(1000.0, -1.1, INSIDE), -design(1000.0, 1.1, -INSIDE));
        }
    }
}
