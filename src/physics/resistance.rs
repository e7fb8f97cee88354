//! Heat through walls by ISO 6946:2017: surfaces, air layers, ventilation of air layers, layers with wood in them, screws, gaps.
//!
//! Clauses and values are from memory of the 2017 edition unless said; the surface resistances were seen on a public page, and the
//! table of air layers is reproduced by its own formula. Steady heat, one direction, no sun.

/// Which way heat flows. Within 30° of the horizontal it counts as horizontal: through every wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Flow {
    /// Through a wall.
    #[default]
    Horizontal,
    /// Through a ceiling, out.
    Up,
    /// Through a floor, out.
    Down,
}

/// Surface resistance outside, in the wind, m²·K/W, whichever way heat flows (6.8, as shown on a public page).
pub const SURFACE_OUTSIDE: f64 = 0.04;

/// Surface resistance inside a wall, m²·K/W, and outside where a well-ventilated layer shelters the surface: that of
/// [`surface_inside`] for horizontal heat.
pub const SURFACE_INSIDE: f64 = 0.13;

/// Emissivity of a surface that is not bare metal (6.8 and annex D: 0.9 is usual).
pub const DULL: f64 = 0.9;

/// Mean temperature at which air layers are reckoned, °C.
pub const MEAN: f64 = 10.0;

/// W/(m²·K⁴).
const STEFAN_BOLTZMANN: f64 = 5.67e-8;

/// The thickest layer of air that the method is for, m.
pub const DEEPEST: f64 = 0.3;

/// Surface resistance inside, m²·K/W (6.8, as shown on a public page). It is also that outside where a well-ventilated layer
/// shelters the surface (6.9.4).
pub fn surface_inside(flow: Flow) -> f64 {
    match flow {
        Flow::Horizontal => SURFACE_INSIDE,
        Flow::Up => 0.10,
        Flow::Down => 0.17,
    }
}

/// Resistance of a layer, m²·K/W, from its thickness in m and conductivity in W/(m·K) (6.7.1.1). `None` for a conductivity that
/// is none.
pub fn resistance(thickness: f64, conductivity: f64) -> Option<f64> {
    (conductivity > 0.0 && thickness >= 0.0).then(|| thickness / conductivity)
}

/// Resistance of still air between two parallel surfaces, m²·K/W: 1/(hₐ + hᵣ) (annex D.2). `thickness` in m, the emissivities of
/// both surfaces, mean temperature in °C. For air up to 0.3 m deep with no more than 5 K across it. `None` outside of that
/// depth, for no depth, or for emissivities that are none.
pub fn air_layer(thickness: f64, emissivities: (f64, f64), mean: f64, flow: Flow) -> Option<f64> {
    let (one, other) = emissivities;
    let possible = |share: f64| share > 0.0 && share <= 1.0;
    if !(thickness > 0.0 && thickness <= DEEPEST && possible(one) && possible(other) && mean > -273.15) {
        return None;
    }
    let still = 0.025 / thickness;
    let by_air = match flow {
        Flow::Horizontal => still.max(1.25),
        Flow::Up => still.max(1.95),
        Flow::Down => still.max(0.12 * libm::pow(thickness, -0.44)),
    };
    let kelvin = mean + 273.15;
    let between = 1.0 / (1.0 / one + 1.0 / other - 1.0);
    let by_radiation = between * 4.0 * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin;
    Some(1.0 / (by_air + by_radiation))
}

/// How open an upright air layer is to the air outside (6.9), by the area of its openings for each metre of its length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ventilation {
    /// Up to 500 mm²/m: its air counts as still.
    Unventilated,
    /// Between 500 and 1500 mm²/m: something between the two.
    Slightly,
    /// From 1500 mm²/m: it and what stands outboard of it do not count.
    Well,
}

/// Openings up to which air counts as still, m²/m.
const STILL: f64 = 500e-6;
/// Openings from which a layer counts as outside, m²/m.
const OPEN: f64 = 1500e-6;

/// The class of an air layer with this much opening, m²/m.
pub fn ventilation(opening: f64) -> Ventilation {
    if opening <= STILL {
        Ventilation::Unventilated
    } else if opening < OPEN {
        Ventilation::Slightly
    } else {
        Ventilation::Well
    }
}

/// Resistance of a wall with an air layer of this opening in m²/m, from what it would be with still air and with a well-ventilated
/// layer, m²·K/W (6.9.3; the edition of 1996 halved the air layer instead).
pub fn with_ventilation(opening: f64, still: f64, open: f64) -> f64 {
    match ventilation(opening) {
        Ventilation::Unventilated => still,
        Ventilation::Slightly => ((OPEN - opening) * still + (opening - STILL) * open) / (OPEN - STILL),
        Ventilation::Well => open,
    }
}

/// One piece of a layer: its share of the area, and its resistance in m²·K/W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// 0…1; those of a layer add up to 1.
    pub share: f64,
    /// m²·K/W.
    pub resistance: f64,
}

/// The bounds of a resistance between which the true one lies, m²·K/W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// No heat flows sideways.
    pub upper: f64,
    /// Every plane across the wall has one temperature.
    pub lower: f64,
}

/// The largest ratio of upper to lower limit for which their mean may be used (6.7.2.1).
pub const WIDEST: f64 = 1.5;

impl Limits {
    /// The mean of both (6.7.2.2).
    pub fn total(self) -> f64 {
        (self.upper + self.lower) / 2.0
    }

    /// How far off the mean may be, as a share of it (6.7.2.5).
    pub fn error(self) -> f64 {
        (self.upper - self.lower) / (2.0 * self.total())
    }

    /// Whether the method holds for such a wall.
    pub fn is_valid(self) -> bool {
        self.upper <= WIDEST * self.lower
    }
}

/// Both limits of a wall of layers, each of pieces side by side (6.7.2.3 and 6.7.2.4). `outside` and `inside` are the resistances
/// of the surfaces. Pieces of different layers are taken to lie across each other at random, so that every combination counts
/// with the product of its shares: nested layers need nothing more. Not for pieces of metal. `None` for a layer without pieces,
/// or one with a piece that has no resistance beside others.
pub fn limits(layers: &[Vec<Piece>], outside: f64, inside: f64) -> Option<Limits> {
    let mut lower = outside + inside;
    let mut paths = vec![Piece { share: 1.0, resistance: outside + inside }];
    for layer in layers {
        let plain = layer.len() == 1;
        let whole: f64 = layer.iter().map(|piece| piece.share).sum();
        let sound = |piece: &Piece| piece.share >= 0.0 && piece.resistance >= 0.0 && (plain || piece.resistance > 0.0);
        if layer.is_empty() || (whole - 1.0).abs() > 1e-9 || !layer.iter().all(sound) {
            return None;
        }
        lower += match layer.as_slice() {
            [only] => only.resistance,
            pieces => 1.0 / pieces.iter().map(|piece| piece.share / piece.resistance).sum::<f64>(),
        };
        paths = paths.iter().flat_map(|path| layer.iter().map(move |piece| both(*path, *piece))).collect();
    }
    let upper = 1.0 / paths.iter().map(|path| path.share / path.resistance).sum::<f64>();
    (upper.is_finite() && lower > 0.0).then_some(Limits { upper, lower })
}

fn both(path: Piece, next: Piece) -> Piece {
    Piece { share: path.share * next.share, resistance: path.resistance + next.resistance }
}

/// Screws through a layer of insulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screws {
    /// W/(m·K).
    pub conductivity: f64,
    /// Shank, m.
    pub diameter: f64,
    /// In each m² of wall.
    pub per_area: f64,
}

/// Share of a screw's section that counts where it goes through the whole insulation.
const PENETRATING: f64 = 0.8;

/// What screws add to the transmittance, W/(m²·K): α·λ·A·n/d₀·(R₁/R)², with α 0.8 for screws through the whole of a layer `depth`
/// metres thick and `layer` m²·K/W good, in a wall of `wall` m²·K/W without them (annex F.3; annex D in 2007). Not valid where
/// both ends touch sheet metal. `None` for a layer or a wall that is none.
pub fn screw_loss(screws: Screws, depth: f64, layer: f64, wall: f64) -> Option<f64> {
    if depth <= 0.0 || wall <= 0.0 {
        return None;
    }
    let section = std::f64::consts::PI * screws.diameter * screws.diameter / 4.0;
    Some(PENETRATING * screws.conductivity * section * screws.per_area / depth * (layer / wall).powi(2))
}

/// How insulation was fitted (annex F.2).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fit {
    /// No gaps to speak of.
    #[default]
    Close,
    /// Gaps from the warm side to the cold side through which no air turns.
    Gaps,
    /// Gaps through which air turns behind the insulation.
    Loose,
}

/// What gaps in a layer of insulation add to the transmittance, W/(m²·K): ΔU″·(R₁/R)², with ΔU″ 0, 0.01 or 0.04 (annex F.2). `layer`
/// and `wall` as for screws. `None` for a wall that is none.
pub fn fit_loss(fit: Fit, layer: f64, wall: f64) -> Option<f64> {
    let added = match fit {
        Fit::Close => 0.0,
        Fit::Gaps => 0.01,
        Fit::Loose => 0.04,
    };
    (wall > 0.0).then(|| added * (layer / wall).powi(2))
}

/// Transmittance of a wall of this resistance, m²·K/W, with these additions in W/(m²·K); additions of less than 3 % in all are
/// left out (6.5.2, annex F.1). `None` for a wall that is none.
pub fn transmittance(wall: f64, additions: f64) -> Option<f64> {
    let bare = 1.0 / wall;
    let counted = if additions < 0.03 * bare { 0.0 } else { additions };
    (wall > 0.0).then_some(bare + counted)
}

/// Ways through which a face loses heat besides its walls: openings and edges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loss {
    /// An area in m², or a length in m.
    pub size: f64,
    /// Its transmittance in W/(m²·K), or psi in W/(m·K).
    pub by: f64,
}

/// Heat lost for each kelvin, W/K: Σ A·U + Σ l·ψ (ISO 13789:2017, 7.2, from memory).
pub fn coefficient(losses: &[Loss]) -> f64 {
    losses.iter().map(|loss| loss.size * loss.by).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn plain(resistance: f64) -> Vec<Piece> {
        vec![Piece { share: 1.0, resistance }]
    }

    fn bridged(depth: f64, parts: &[(f64, f64)]) -> Vec<Piece> {
        parts.iter().map(|(share, conductivity)| Piece { share: *share, resistance: depth / conductivity }).collect()
    }

    #[test]
    fn strange_air_has_no_resistance() {
        for (depth, one) in [(0.0, 0.9), (0.4, 0.9), (0.02, 0.0), (0.02, 1.5), (-0.1, 0.9)] {
            assert_eq!(air_layer(depth, (one, 0.9), MEAN, Flow::Horizontal), None);
        }
    }

    #[test]
    fn a_wall_of_plain_layers_has_one_resistance() {
        let found = limits(&[plain(0.1), plain(4.0)], 0.04, 0.13).unwrap();
        assert!((found.upper - found.lower).abs() < 1e-12 && (found.total() - 4.27).abs() < 1e-12);
        assert_eq!(limits(&[Vec::new()], 0.04, 0.13), None);
        assert_eq!(limits(&[vec![Piece { share: 0.5, resistance: 1.0 }]], 0.04, 0.13), None);
    }

    /// Up to four layers of up to two pieces.
    fn walls() -> impl Strategy<Value = Vec<Vec<Piece>>> {
        let piece = (0.05_f64..0.95, 0.01_f64..6.0, 0.01_f64..6.0);
        let layer = piece.prop_map(|(share, one, other)| {
            vec![Piece { share, resistance: one }, Piece { share: 1.0 - share, resistance: other }]
        });
        proptest::collection::vec(layer, 1..5)
    }

    proptest! {
        #[test]
        fn the_upper_limit_is_never_below_the_lower(wall in walls()) {
            let found = limits(&wall, 0.04, 0.13).unwrap();
            prop_assert!(found.upper >= found.lower - 1e-12);
        }

        #[test]
        fn more_resistance_never_makes_less(wall in walls(), at in 0_usize..4, more in 0.0_f64..3.0) {
            let before = limits(&wall, 0.04, 0.13).unwrap();
            let mut better = wall;
            let layers = better.len();
            better[at % layers][0].resistance += more;
            let after = limits(&better, 0.04, 0.13).unwrap();
            prop_assert!(after.upper >= before.upper - 1e-12 && after.lower >= before.lower - 1e-12);
        }

        #[test]
        fn the_order_of_paths_does_not_matter(wall in walls(), at in 0_usize..4, by in 0.05_f64..0.95) {
            let before = limits(&wall, 0.04, 0.13).unwrap();
            let mut other = wall.clone();
            other.iter_mut().for_each(|layer| layer.reverse());
            // A piece told as two with the same resistance is the same piece.
            let layers = other.len();
            let piece = other[at % layers][0];
            other[at % layers][0].share = piece.share * by;
            other[at % layers].push(Piece { share: piece.share * (1.0 - by), ..piece });
            let after = limits(&other, 0.04, 0.13).unwrap();
            prop_assert!((before.upper - after.upper).abs() < 1e-9 && (before.lower - after.lower).abs() < 1e-9);
        }

        #[test]
        fn the_order_of_layers_does_not_matter(wall in walls()) {
            let mut turned = wall.clone();
            turned.reverse();
            let (one, other) = (limits(&wall, 0.04, 0.13).unwrap(), limits(&turned, 0.04, 0.13).unwrap());
            prop_assert!((one.upper - other.upper).abs() < 1e-9 && (one.lower - other.lower).abs() < 1e-9);
        }
    }

    #[test]
    fn steel_in_insulation_is_not_for_this_method() {
        let studs = bridged(0.14, &[(0.99, 0.035), (0.01, 50.0)]);
        assert!(!limits(&[studs], 0.04, 0.13).unwrap().is_valid());
    }

    #[test]
    fn small_additions_are_left_out() {
        assert_eq!(transmittance(4.0, 0.007), Some(0.25));
        assert_eq!(transmittance(4.0, 0.01), Some(0.26));
        assert_eq!(transmittance(0.0, 0.01), None);
    }
}
