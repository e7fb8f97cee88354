//! Laws the monthly method must keep, whatever the wall; worked answers stand among the outside checks.

use proptest::prelude::*;

use super::glaser::{Slab, Wall};
use super::indoors::Class;
use super::year::{Months, of};
use super::{Air, cups, ends, surface};
use crate::units::Range;

/// The invented climate of the outside checks: °C and humidity.
const CLIMATE: [(f64, f64); 12] = [
    (-9.0, 0.80),
    (-7.5, 0.78),
    (-1.5, 0.74),
    (6.0, 0.68),
    (13.0, 0.66),
    (18.0, 0.70),
    (20.5, 0.71),
    (19.5, 0.75),
    (14.5, 0.78),
    (8.0, 0.79),
    (1.5, 0.82),
    (-6.0, 0.82),
];

fn months(class: Class) -> Months {
    CLIMATE.map(|(celsius, humidity)| {
        let outside = Air::of_humidity(celsius, humidity);
        (outside, class.inside(20.0, outside))
    })
}

fn wall(sheets: [f64; 2]) -> Wall {
    let layers = vec![
        Slab { resistance: 0.011 / 0.13, air: 0.55 },
        Slab { resistance: 0.0, air: sheets[0] },
        Slab { resistance: 4.0, air: 0.14 },
        Slab { resistance: 0.0, air: sheets[1] },
        Slab { resistance: 0.05, air: 0.125 },
    ];
    Wall { outside: 0.13, layers, inside: 0.13 }
}

#[test]
fn water_is_neither_made_nor_lost() {
    for class in [Class::One, Class::Two, Class::Three, Class::Four] {
        for sheets in [[0.0, 0.0], [0.02, 0.0], [3.0, 0.0], [50.0, 0.02], [0.0, 2.0]] {
            let year = of(&wall(sheets).cut().unwrap(), &months(class));
            for month in &year.months {
                let (entered, left) = month.through;
                assert!(
                    (entered - left - month.gain()).abs() < 1e-7,
                    "{class:?} {sheets:?}: {entered} {left} {}",
                    month.gain()
                );
                assert!(month.water.iter().all(|water| water.held >= 0.0));
            }
            let gained: f64 = year.months.iter().map(super::year::Month::gain).sum();
            assert!((gained - year.left()).abs() < 1e-12);
        }
    }
}

/// Walls of one to five layers: resistance, dry cup, and wet cup as a share of it.
fn layered() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    proptest::collection::vec((0.0_f64..4.0, 0.01_f64..20.0, 0.1_f64..1.0), 1..6)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn no_wall_makes_or_loses_water_with_either_cup(layers in layered(), class in 0_usize..4) {
        let class = [Class::One, Class::Two, Class::Three, Class::Four][class];
        let slabs = layers.iter().map(|(resistance, air, _)| Slab { resistance: *resistance, air: *air }).collect();
        let wall = Wall { outside: 0.13, layers: slabs, inside: 0.13 };
        let wet: Vec<f64> = layers.iter().map(|(_, air, share)| air * share).collect();
        let air = months(class);
        let cups = cups::year(&wall, &wet, &air).unwrap();
        for year in [of(&wall.cut().unwrap(), &air), cups.year] {
            for month in &year.months {
                let (entered, left) = month.through;
                let most = entered.abs().max(left.abs()).max(1.0);
                prop_assert!((entered - left - month.gain()).abs() < 1e-7 * most, "{entered} {left} {}", month.gain());
                prop_assert!(month.water.iter().all(|water| water.held >= 0.0));
            }
        }
        // With wet cups that are the dry ones nothing changes.
        let dry: Vec<f64> = layers.iter().map(|(_, air, _)| *air).collect();
        prop_assert_eq!(cups::year(&wall, &dry, &air).unwrap().year, of(&wall.cut().unwrap(), &air));
    }
}

/// A wall and its mirror image, the air of both sides changed over.
fn mirrored(wall: &Wall) -> Wall {
    Wall { outside: wall.inside, layers: wall.layers.iter().rev().copied().collect(), inside: wall.outside }
}

fn of_layers(layers: &[(f64, f64, f64)]) -> Wall {
    let slabs = layers.iter().map(|(resistance, air, _)| Slab { resistance: *resistance, air: *air }).collect();
    Wall { outside: 0.13, layers: slabs, inside: 0.25 }
}

fn of_class(class: usize) -> Months {
    months([Class::One, Class::Two, Class::Three, Class::Four][class])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn what_lies_between_the_ends_comes_out_between_them(
        layers in proptest::collection::vec((0.05_f64..4.0, 0.01_f64..20.0, 0.3_f64..1.0), 2..6),
        shares in proptest::collection::vec(0.0_f64..1.0, 6),
        class in 0_usize..4,
    ) {
        let air = of_class(class);
        // Every other layer is known within bounds.
        let ranges: Vec<Range> = layers
            .iter()
            .enumerate()
            .map(|(at, (most, _, share))| if at % 2 == 0 { Range::between(most * share, *most) } else { (*most).into() })
            .collect();
        let peak = |resistances: &[f64]| {
            let mut wall = of_layers(&layers);
            wall.layers.iter_mut().zip(resistances).for_each(|(slab, resistance)| slab.resistance = *resistance);
            of(&wall.cut().unwrap(), &air).peak().map_or(0.0, |(_, water)| water)
        };
        let all = ends::splits(&ranges).into_iter().map(|end| Range::exactly(peak(&end))).reduce(Range::hull).unwrap();
        let between: Vec<f64> =
            ranges.iter().zip(&shares).map(|(range, share)| range.low + (range.high - range.low) * share).collect();
        let found = peak(&between);
        // Thick layers are cut into parts by their resistance: places between parts are missed by so much.
        let spare = 0.02 * all.high + 1e-3;
        prop_assert!(all.low - spare <= found && found <= all.high + spare, "{found} {all:?}");
    }

    #[test]
    fn a_tighter_layer_never_lets_more_vapour_in_or_out(
        layers in layered(),
        at in 0_usize..6,
        more in 1.0_f64..50.0,
        class in 0_usize..4,
    ) {
        let wall = of_layers(&layers);
        let mut tighter = wall.clone();
        let at = at % tighter.layers.len();
        tighter.layers[at].air *= more;
        let flows = |wall: &Wall, (outside, inside): (Air, Air)| {
            let cut = wall.cut().unwrap();
            let (entered, left) = cut.between(outside, inside, &vec![false; cut.places.len()]).through;
            (entered.max(0.0), left.max(0.0))
        };
        for both in of_class(class) {
            let (one, other) = (flows(&wall, both), flows(&tighter, both));
            prop_assert!(other.0 <= one.0 * (1.0 + 1e-9) && other.1 <= one.1 * (1.0 + 1e-9), "{one:?} {other:?}");
        }
    }

    #[test]
    fn a_wall_turned_round_between_airs_changed_over_is_the_same(
        layers in layered(),
        class in 0_usize..4,
        month in 0_usize..12,
    ) {
        let (outside, inside) = of_class(class)[month];
        let wall = of_layers(&layers);
        let (cut, turned) = (wall.cut().unwrap(), mirrored(&wall).cut().unwrap());
        let nothing = vec![false; cut.places.len()];
        let (one, other) = (cut.between(outside, inside, &nothing), turned.between(inside, outside, &nothing));
        let most = one.through.0.abs().max(one.through.1.abs()).max(1e-12);
        let near = |one: f64, other: f64| (one - other).abs() < 1e-6 * most;
        prop_assert!(near(one.through.0, -other.through.1) && near(one.through.1, -other.through.0));
        prop_assert!(near(one.gain.iter().sum(), other.gain.iter().sum()));
        for (one, other) in one.temperature.iter().zip(other.temperature.iter().rev()) {
            prop_assert!((one - other).abs() < 1e-9);
        }
    }
}

/// Worked again by linear programming in tests/outside/physics/again.py, where the year stands.
#[test]
fn boards_that_get_damp_in_winter_count_with_their_wet_cup_then() {
    let wall = wall([0.0, 0.0]);
    let found = cups::year(&wall, &[0.33, 0.0, 0.14, 0.0, 0.05], &months(Class::Three)).unwrap();
    assert!(found.damp[0][0] && !found.damp[0][4], "{:?}", found.damp[0]);
    let dry = of(&wall.cut().unwrap(), &months(Class::Three));
    assert!(found.year.peak().unwrap().1 < dry.peak().unwrap().1 && found.year.left() < dry.left());
}

#[test]
fn vapour_nowhere_lies_above_saturation_but_at_the_faces() {
    let cut = wall([0.0, 0.0]).cut().unwrap();
    for month in of(&cut, &months(Class::Three)).months {
        let inner = 1..cut.places.len() - 1;
        for place in inner {
            assert!(month.state.vapour[place] <= month.state.saturation[place] * (1.0 + 1e-12));
        }
    }
}

#[test]
fn more_vapour_inside_never_leaves_less_water() {
    let cut = wall([0.0, 0.0]).cut().unwrap();
    let peaks = [Class::One, Class::Two, Class::Three, Class::Four]
        .map(|class| of(&cut, &months(class)).peak().map_or(0.0, |(_, water)| water));
    assert!(peaks.windows(2).all(|pair| pair[0] <= pair[1]), "{peaks:?}");
}

#[test]
fn a_tighter_inner_sheet_never_leaves_more_water() {
    let peak =
        |inner: f64| of(&wall([0.0, inner]).cut().unwrap(), &months(Class::Three)).peak().map_or(0.0, |one| one.1);
    let peaks = [0.0, 0.1, 0.5, 2.0, 10.0, 60.0].map(peak);
    assert!(peaks.windows(2).all(|pair| pair[0] >= pair[1]), "{peaks:?}");
    assert_eq!(peaks[5], 0.0);
}

#[test]
fn a_tight_sheet_between_two_open_layers_may_gather_at_more_than_one_plane() {
    let layers = vec![
        Slab { resistance: 1.0, air: 2.0 },
        Slab { resistance: 0.0, air: 1.0 },
        Slab { resistance: 1.5, air: 0.1 },
        Slab { resistance: 0.2, air: 3.0 },
        Slab { resistance: 1.5, air: 0.1 },
    ];
    let cut = Wall { outside: 0.04, layers, inside: 0.13 }.cut().unwrap();
    let year = of(&cut, &months(Class::Four));
    assert!(year.months[0].water.len() >= 2, "{:?}", year.months[0].water);
}

#[test]
fn where_reckoning_starts_changes_nothing_that_dries() {
    let cut = wall([0.0, 0.0]).cut().unwrap();
    let air = months(Class::Two);
    let mut turned = air;
    turned.rotate_left(5);
    // February has its days wherever it stands, so months of other lengths meet: only the order of events is compared.
    let (year, other) = (of(&cut, &air), of(&cut, &turned));
    assert_eq!((year.start, other.start), (Some(10), Some(5)));
    assert_eq!(year.dries_in(), Some(6));
    assert!(other.dries_in().is_some());
}

#[test]
fn a_wall_without_numbers_is_not_reckoned() {
    assert_eq!(wall([f64::NAN, 0.0]).cut(), None);
    assert_eq!(wall([f64::INFINITY, 0.0]).cut(), None);
    assert_eq!(Wall { outside: 0.04, layers: Vec::new(), inside: 0.13 }.cut(), None);
}

#[test]
fn a_month_as_warm_as_inside_asks_no_factor() {
    let outside = Air::of_humidity(20.5, 0.71);
    let need = surface::need(outside, Class::Three.inside(20.0, outside), surface::MOULD).unwrap();
    assert_eq!(need.factor, None);
    assert_eq!(surface::critical(&[Some(need), None]), None);
}
