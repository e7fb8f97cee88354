//! What must hold of any section.

use proptest::prelude::*;

use super::*;

/// Cells enough for a test.
const ENOUGH: usize = 50_000;

fn rect(left: f64, low: f64, right: f64, high: f64) -> Rect {
    Rect { left, low, right, high }
}

fn region(at: Rect, conductivity: f64) -> Region {
    Region { at, conductivity }
}

/// Inside left, outside right, as resistances of ISO 6946:2017 table 7 for level heat (from memory).
fn between(regions: Vec<Region>, width: f64, height: f64) -> Section {
    let films = vec![Film { temperature: 20.0, resistance: 0.13 }, Film { temperature: -10.0, resistance: 0.04 }];
    let touches = vec![
        Touch { at: rect(0.0, 0.0, 0.0, height), film: 0 },
        Touch { at: rect(width, 0.0, width, height), film: 1 },
    ];
    Section { regions, films, touches }
}

fn solved(section: &Section, parts: usize) -> Field {
    solve(section, Grid::of(section, parts, ENOUGH).unwrap()).unwrap()
}

#[test]
fn layers_in_a_row_are_their_resistances_in_a_row() {
    let layers = [(0.0125, 0.25), (0.140, 0.035), (0.011, 0.13), (0.076, 0.034)];
    let mut at = 0.0;
    let mut regions = Vec::new();
    for (thickness, conductivity) in layers {
        regions.push(region(rect(at, 0.0, at + thickness, 0.5), conductivity));
        at += thickness;
    }
    let resistance = 0.17 + layers.iter().map(|(thickness, conductivity)| thickness / conductivity).sum::<f64>();
    let section = between(regions, at, 0.5);
    for parts in [1, 2, 7] {
        let field = solved(&section, parts);
        assert!((field.flows()[0] - 0.5 * 30.0 / resistance).abs() < 1e-10);
        assert!((field.flows()[1] + 0.5 * 30.0 / resistance).abs() < 1e-10);
        let inner = 20.0 - 0.13 * 30.0 / resistance;
        assert!((field.temperature((0.0, 0.2)).unwrap() - inner).abs() < 1e-10);
        assert!((field.coldest(0).unwrap().0 - inner).abs() < 1e-10);
        // Between two layers, where cells of both meet.
        let behind = inner - 0.0125 / 0.25 * 30.0 / resistance;
        assert!((field.temperature((0.0125, 0.25)).unwrap() - behind).abs() < 1e-10);
        let (across, along) = field.flux((0.1, 0.3)).unwrap();
        assert!((across - 30.0 / resistance).abs() < 1e-9 && along.abs() < 1e-9);
    }
}

#[test]
fn what_cannot_be_solved_says_why() {
    let wall = region(rect(0.0, 0.0, 0.1, 0.5), 1.0);
    let good = between(vec![wall], 0.1, 0.5);
    let fault = |change: fn(&mut Section)| {
        let mut section = good.clone();
        change(&mut section);
        settle(&section, &[], Effort::default()).unwrap_err()
    };
    assert_eq!(fault(|section| section.regions.clear()), Fault::Empty);
    assert_eq!(fault(|section| section.regions[0].conductivity = 0.0), Fault::BadRegion(0));
    assert_eq!(fault(|section| section.regions[0].conductivity = f64::NAN), Fault::BadRegion(0));
    assert_eq!(fault(|section| section.regions[0].at.right = 0.0), Fault::BadRegion(0));
    assert_eq!(fault(|section| section.films[1].resistance = -0.1), Fault::BadFilm(1));
    assert_eq!(fault(|section| section.films[0].temperature = f64::INFINITY), Fault::BadFilm(0));
    assert_eq!(fault(|section| section.touches[1].film = 2), Fault::BadTouch(1));
    assert_eq!(fault(|section| section.touches[1].at = rect(0.2, 0.0, 0.3, 0.5)), Fault::TouchesNothing(1));
    assert_eq!(fault(|section| section.touches.clear()), Fault::Loose(0));
    assert_eq!(fault(|section| section.regions.push(region(rect(1.0, 0.0, 2.0, 1.0), 1.0))), Fault::Loose(1));
    let few = Effort { most_cells: 3, ..Effort::default() };
    assert_eq!(settle(&good, &[], few).unwrap_err(), Fault::TooMany { cells: 4 });
}

/// Steps of the patchwork along x and y.
const X: [f64; 5] = [0.0, 0.013, 0.15, 0.165, 0.24];
const Y: [f64; 4] = [0.0, 0.1, 0.138, 0.3];

fn patchwork(conductivities: &[f64]) -> Section {
    let cells = Y.windows(2).flat_map(|y| X.windows(2).map(|x| rect(x[0], y[0], x[1], y[1])));
    let regions = cells.zip(conductivities).map(|(at, conductivity)| region(at, *conductivity)).collect();
    between(regions, 0.24, 0.3)
}

fn mirrored(section: &Section) -> Section {
    let mut other = section.clone();
    let flip = |at: &mut Rect| (at.low, at.high) = (0.3 - at.high, 0.3 - at.low);
    other.regions.iter_mut().for_each(|region| flip(&mut region.at));
    other.touches.iter_mut().for_each(|touch| flip(&mut touch.at));
    other
}

fn conductivities() -> impl Strategy<Value = Vec<f64>> {
    proptest::collection::vec(-4.0..6.0_f64, 12).prop_map(|powers| powers.into_iter().map(libm::exp).collect())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_comes_in_goes_out(conductivities in conductivities(), parts in 1usize..6) {
        let field = solved(&patchwork(&conductivities), parts);
        prop_assert!(field.imbalance() < 1e-9, "{}", field.imbalance());
        prop_assert!(field.through() > 0.0);
    }

    #[test]
    fn nothing_is_colder_or_warmer_than_what_is_around_it(conductivities in conductivities(), parts in 1usize..6) {
        let field = solved(&patchwork(&conductivities), parts);
        for temperature in field.temperatures.iter().flatten() {
            prop_assert!((-10.0..=20.0).contains(temperature));
        }
    }

    #[test]
    fn a_mirrored_section_passes_as_much(conductivities in conductivities()) {
        let section = patchwork(&conductivities);
        let (one, other) = (solved(&section, 3), solved(&mirrored(&section), 3));
        prop_assert!((one.through() / other.through() - 1.0).abs() < 1e-9);
        let (here, there) = (one.temperature((0.1, 0.07)).unwrap(), other.temperature((0.1, 0.23)).unwrap());
        prop_assert!((here - there).abs() < 1e-8);
    }

    #[test]
    fn more_conductivity_never_passes_less(conductivities in conductivities(), which in 0usize..12, more in 1.0..100.0_f64) {
        let before = solved(&patchwork(&conductivities), 3).through();
        let mut raised = conductivities.clone();
        raised[which] *= more;
        prop_assert!(solved(&patchwork(&raised), 3).through() >= before * (1.0 - 1e-12));
    }

    #[test]
    fn sizes_and_conductivities_in_one_measure_give_one_flow(conductivities in conductivities(), scale in 0.01..100.0_f64) {
        // Twice as large with twice the surface resistance: the same shape, the same flow for each metre.
        let section = patchwork(&conductivities);
        let mut large = section.clone();
        let grow = |at: &Rect| Rect { left: at.left * scale, low: at.low * scale, right: at.right * scale, high: at.high * scale };
        large.regions.iter_mut().for_each(|region| region.at = grow(&region.at));
        large.touches.iter_mut().for_each(|touch| touch.at = grow(&touch.at));
        large.films.iter_mut().for_each(|film| film.resistance *= scale);
        let (one, other) = (solved(&section, 2).through(), solved(&large, 2).through());
        prop_assert!((one / other - 1.0).abs() < 1e-9);
        // Kelvin for Celsius.
        let mut kelvin = section.clone();
        kelvin.films.iter_mut().for_each(|film| film.temperature += 273.15);
        prop_assert!((solved(&kelvin, 2).through() / one - 1.0).abs() < 1e-9);
    }
}

#[test]
fn the_flow_falls_towards_the_truth_and_settles() {
    // A stud in insulation: nothing singular, so that finer grids come closer and closer.
    let section =
        between(vec![region(rect(0.0, 0.0, 0.14, 0.2), 0.035), region(rect(0.0, 0.0, 0.14, 0.019), 0.12)], 0.14, 0.2);
    let found = settle(&section, &[(0.07, 0.1)], Effort::default()).unwrap();
    assert!(found.settled && found.flow_moved < 0.01 && found.temperature_moved < 0.05);
    let moves: Vec<f64> = found.flows.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect();
    assert!(moves.windows(2).all(|pair| pair[1] < pair[0]), "{:?}", found.flows);
    assert!(found.field.imbalance() < 1e-6);
}

#[test]
fn a_flow_that_has_no_limit_is_told_as_such() {
    // Two temperatures that meet at a point without resistance: the flow grows with every finer grid.
    let films = vec![Film { temperature: 20.0, resistance: 0.0 }, Film { temperature: 0.0, resistance: 0.0 }];
    let touches =
        vec![Touch { at: rect(0.0, 1.0, 1.0, 1.0), film: 0 }, Touch { at: rect(0.0, 0.0, 0.0, 1.0), film: 1 }];
    let section = Section { regions: vec![region(rect(0.0, 0.0, 1.0, 1.0), 1.0)], films, touches };
    let found = settle(&section, &[(0.5, 0.5)], Effort { most_cells: 5_000, ..Effort::default() }).unwrap();
    assert!(!found.settled && found.flow_moved > 0.01);
}

#[test]
fn the_later_region_is_there_and_air_needs_no_cutting_out() {
    let wall = region(rect(0.0, 0.0, 0.1, 0.5), 0.04);
    let screw = region(rect(0.0, 0.24, 0.1, 0.26), 50.0);
    let with = solved(&between(vec![wall, screw], 0.1, 0.5), 4).through();
    assert!(with > solved(&between(vec![wall], 0.1, 0.5), 4).through());
    // A room drawn over the wall hollows it out: the wall that is left is as if it had been drawn so.
    let hollow = |regions: Vec<Region>| {
        let films = between(Vec::new(), 1.0, 1.0).films;
        let room = Touch { at: rect(0.1, 0.0, 0.4, 0.5), film: 0 };
        let touches = vec![room, Touch { at: rect(0.0, 0.0, 0.0, 0.5), film: 1 }];
        solved(&Section { regions, films, touches }, 3).through()
    };
    let thick = region(rect(0.0, 0.0, 0.4, 0.5), 0.04);
    assert!((hollow(vec![thick]) / hollow(vec![wall]) - 1.0).abs() < 1e-12);
    // Lines stay where the screw was; only the last bits may differ.
    let under = solved(&between(vec![screw, wall], 0.1, 0.5), 4).through();
    assert!((under / solved(&between(vec![wall], 0.1, 0.5), 4).through() - 1.0).abs() < 1e-12);
}

#[test]
fn a_line_of_one_temperature_stands_where_it_must() {
    let section = between(vec![region(rect(0.0, 0.0, 0.1, 0.5), 0.04)], 0.1, 0.5);
    let field = solved(&section, 4);
    let resistance = 0.13 + 0.1 / 0.04 + 0.04;
    let at = 0.04 * (20.0 * resistance / 30.0 - 0.13);
    let lines = isotherm(&field, 0.0);
    assert_eq!(lines.len(), 1);
    assert!(lines[0].iter().all(|(x, _)| (x - at).abs() < 1e-9));
    let ends: Vec<f64> = [lines[0].first(), lines[0].last()].into_iter().flatten().map(|(_, y)| *y).collect();
    assert!((ends[0] - ends[1]).abs() > 0.5 - 1e-9);
    assert!(isotherm(&field, 25.0).is_empty());
    // Round a warm island the line is closed.
    let films = vec![Film { temperature: 20.0, resistance: 0.1 }, Film { temperature: 0.0, resistance: 0.1 }];
    let ring: Vec<Region> = [(0.0, 0.0, 0.9, 0.3), (0.0, 0.6, 0.9, 0.9), (0.0, 0.3, 0.3, 0.6), (0.6, 0.3, 0.9, 0.6)]
        .map(|(left, low, right, high)| region(rect(left, low, right, high), 1.0))
        .to_vec();
    let around = [(0.0, 0.0, 0.0, 0.9), (0.9, 0.0, 0.9, 0.9), (0.0, 0.0, 0.9, 0.0), (0.0, 0.9, 0.9, 0.9)];
    let outer = around.map(|(left, low, right, high)| Touch { at: rect(left, low, right, high), film: 1 });
    let mut touches = vec![Touch { at: rect(0.3, 0.3, 0.6, 0.6), film: 0 }];
    touches.extend(outer);
    let field = solved(&Section { regions: ring, films, touches }, 6);
    let lines = isotherm(&field, 10.0);
    assert_eq!(lines.len(), 1);
    assert_eq!(lines[0].first(), lines[0].last());
}

#[test]
fn coupling_and_factor_are_what_they_are_called() {
    let flanks = [Flank { transmittance: 0.25, length: 1.2 }, Flank { transmittance: 0.2, length: 0.8 }];
    let found = coupling(16.8, 20.0, -10.0, &flanks).unwrap();
    assert!((found.whole - 0.56).abs() < 1e-12 && (found.psi - 0.1).abs() < 1e-12);
    assert_eq!(coupling(1.0, 5.0, 5.0, &[]), None);
    assert!((temperature_factor(14.0, 20.0, -10.0).unwrap() - 0.8).abs() < 1e-12);
    assert_eq!(temperature_factor(14.0, 20.0, 20.0), None);
}
